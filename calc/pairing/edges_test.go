package pairing

import (
	"math"
	"testing"

	"duskline/calc/daylight"
	"duskline/calc/outlook"
	"duskline/calc/panel"
	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// Where a mark lies, to the figure: planted faults lived there.

// Two metres of wire or twenty: the cable's own resistance is in the curve, and
// what it takes is no mismatch.
func TestCableIsInTheCurveAndNoMismatch(t *testing.T) {
	panels := joined(plan.SideBySide, generic100(36, 1))
	panels.CableM, panels.CableGauge = 20, "1.5_mm2"
	a := at(t, panels, 25)
	v, i := a.MaxPower()
	// 2 · 20 m of 13.3 Ω/km (flexible copper of 1.5 mm², IEC 60228, at 20 °C) with
	// 5.56 A: 16.4 W; more in warm copper, less where the panel moves its volts.
	if lost := 100 - float64(qty.Power(v, i)); lost < 15 || lost > 19 {
		t.Errorf("the cable takes %.2f W", lost)
	}
	if r := labelled(t, camp(), panels); r.MismatchW != 0 {
		t.Errorf("mismatch of one panel: %g W", r.MismatchW)
	}
}

// The heat of a panel: in the open the mount of daylight's zero value.
func TestHeatOfPanels(t *testing.T) {
	tr := trial{p: camp(), hottest: 30}
	tr.p.Sky.WindMs = 2
	for mount, as := range map[panel.Mount]panel.Mount{{}: panel.OpenRack, panel.Covered: panel.Covered} {
		if got, want := tr.inHeat(&daylight.Panel{Mount: mount}), as.Cell(30, 1000, 2); got != want {
			t.Errorf("%+v: %g °C, want %g", mount, got, want)
		}
	}
	// 22 V at 25 °C are under 21 V on a warm day.
	if r := labelled(t, camp(), joined(plan.SideBySide, generic100(36, 1))); r.OpenV > 21 || r.OpenV < 19 {
		t.Errorf("open circuit in the heat: %g V", r.OpenV)
	}
}

// What a controller needs above the battery.
func TestNeedOfVolts(t *testing.T) {
	for kind, over := range map[plan.ControllerKind]qty.Volt{plan.PWM: power.SwitchDrop, plan.MPPT: power.Headroom} {
		p := camp()
		p.Case.Controller.Kind = kind
		r := labelled(t, p, p.Panels)
		if math.Abs(r.NeedV-p.Case.Battery.ChargeV-float64(over)) > 1e-9 || math.Abs(r.LeastV-13.11-float64(over)) > 0.01 {
			t.Errorf("%s: %g V to fill, %g V for anything", kind, r.NeedV, r.LeastV)
		}
	}
}

// A string is as strong as its strongest panel and its label as weak as the
// weakest of it.
func TestStringOfUnlikePanels(t *testing.T) {
	big, small := generic100(36, 1), generic100(36, 0.5)
	big.SeriesFuseA, small.SeriesFuseA = 15, 4
	small.String, big.String = 1, 1
	other := generic100(36, 1)
	other.SeriesFuseA, other.String = 15, 2
	for _, list := range [][]plan.Panel{{small, big, other}, {big, small, other}} {
		r := labelled(t, camp(), joined(plan.InStrings, list...))
		if r.Strings != 2 || math.Abs(r.BackA-7.4375) > 1e-3 || !r.Fuse || r.FuseA != 0 {
			t.Errorf("%+v", r)
		}
	}
}

// When a volt is near the limit, and a loss worth a line.
func TestReasonsToTheFigure(t *testing.T) {
	tr := trial{p: camp(), days: 4, control: power.Controller{Kind: power.MPPT}}
	reserve := tr.p.Trip.ReservePct
	base := Rung{HarvestWh: 100, BackDays: 3, Charges: true, WorkV: 18, NeedV: 15, ColdV: 40, LimitV: 50, SumW: 100}
	for name, c := range map[string]struct {
		code Code
		near func(*Rung)
		over func(*Rung)
	}{
		"near volts":  {NearVolts, func(r *Rung) { r.ColdV = 47.4 }, func(r *Rung) { r.ColdV = 47.6 }},
		"over volts":  {OverVolts, func(r *Rung) { r.ColdV = 50 }, func(r *Rung) { r.ColdV = 50.01 }},
		"low":         {Low, func(r *Rung) { r.WorkV = 15 }, func(r *Rung) { r.WorkV = 14.99 }},
		"mismatch":    {Mismatch, func(r *Rung) { r.MismatchW = 4.9 }, func(r *Rung) { r.MismatchW = 5.1 }},
		"thrown away": {ThrownAway, func(r *Rung) { r.PWMLossWh = 4.9 }, func(r *Rung) { r.PWMLossWh = 5.1 }},
		"clips":       {ClipsSun, func(r *Rung) { r.ClippedWh = 4.9 }, func(r *Rung) { r.ClippedWh = 5.1 }},
		"spills":      {SpillsSun, func(r *Rung) { r.SpilledWh = 4.9 }, func(r *Rung) { r.SpilledWh = 5.1 }},
		"not back":    {NotBack, func(r *Rung) { r.BackDays = 3 }, func(r *Rung) { r.BackDays = 2 }},
		"tight":       {TightFit, func(r *Rung) { r.Verdict = 0 }, func(r *Rung) { r.Verdict = Verdict(outlook.Tight) }},
		"unserved": {Unserved, func(r *Rung) { r.Verdict, r.LowestPct = Verdict(outlook.Tight), reserve-0.1 },
			func(r *Rung) { r.Verdict, r.LowestPct = Verdict(outlook.Tight), reserve }},
		"with little to spare": {TightFit, func(r *Rung) { r.Verdict, r.LowestPct = Verdict(outlook.Tight), reserve },
			func(r *Rung) { r.Verdict, r.LowestPct = Verdict(outlook.Tight), reserve-0.1 }},
		"runs out": {RunsOut, func(r *Rung) { r.Verdict = 0 }, func(r *Rung) { r.Verdict = Verdict(outlook.RunsOut) }},
	} {
		a, b := base, base
		c.near(&a)
		c.over(&b)
		tr.reasons(&a)
		tr.reasons(&b)
		if has(a, c.code) || !has(b, c.code) {
			t.Errorf("%s: under the mark %+v, over it %+v", name, a.Reasons, b.Reasons)
		}
	}
}

// What is plugged in during the trip does not fill a rung's battery: it is the
// sun's own time.
func TestRefillOfARungIsBySunAlone(t *testing.T) {
	p := camp()
	p.Case.Vehicle = &plan.VehicleCharger{CurrentA: 20, EfficiencyPct: 90}
	l := run(t, p)
	p.Trip.WallHours = []plan.Window{{FromH: 9, ToH: 18}}
	p.Trip.EngineHours = []plan.Window{{FromH: 9, ToH: 18}}
	m := run(t, p)
	for i := range l.Rungs {
		if l.Rungs[i].FromEmpty != m.Rungs[i].FromEmpty || l.Rungs[i].FromNow != m.Rungs[i].FromNow {
			t.Errorf("%g W: %+v, with a charger in the trip %+v", l.Rungs[i].W, l.Rungs[i].FromEmpty, m.Rungs[i].FromEmpty)
		}
	}
	for i := range l.Refill {
		if l.Refill[i] != m.Refill[i] {
			t.Errorf("%+v and %+v", l.Refill[i], m.Refill[i])
		}
	}
}

// Which ways to join are left out because the plan has them, by hand.
func TestJoiningsByHand(t *testing.T) {
	two := func(number int) plan.Panel {
		x := times(2, plan.NewPanel("x", 0, 0))
		x.String = number
		return x
	}
	for name, c := range map[string]struct {
		panels plan.Panels
		want   int
	}{
		"one panel":                      {joined(plan.SideBySide, times(1, two(1))), 1},
		"one panel, end to end":          {joined(plan.EndToEnd, times(1, two(1))), 1},
		"two of a kind":                  {joined(plan.SideBySide, two(1)), 3}, // one, and end to end
		"two of a kind, in strings":      {joined(plan.InStrings, two(1)), 4},
		"two kinds":                      {joined(plan.SideBySide, times(1, two(1)), times(1, two(1))), 4},
		"two of each":                    {joined(plan.SideBySide, two(1), two(1)), 1 + 3 + 3 + 2},
		"two of each, in one string":     {joined(plan.InStrings, two(1), two(1)), 1 + 3 + 3 + 3},
		"two of each, each a string":     {joined(plan.InStrings, two(1), two(2)), 1 + 3 + 3 + 2},
		"the same, numbered another way": {joined(plan.InStrings, two(9), two(4)), 1 + 3 + 3 + 2},
	} {
		list, whole := joinings(c.panels)
		if len(list) != c.want || !whole || !list[0].asIs {
			t.Errorf("%s: %d rungs, want %d", name, len(list), c.want)
		}
		for i, x := range list[1:] {
			if x.asIs || alike(x.panels, c.panels) && len(x.kinds) == len(c.panels.List) {
				t.Errorf("%s: rung %d is the plan again", name, i+1)
			}
		}
	}
	// Each kind is a string of its own.
	list, _ := joinings(joined(plan.SideBySide, two(1), two(1)))
	last := list[len(list)-1].panels
	if r := labelled(t, camp(), last); last.Joined != plan.InStrings || r.Strings != 2 || r.ColdV > 50 {
		t.Errorf("%s: %d strings, %g V", last.Joined, r.Strings, r.ColdV)
	}
}

// What makes two entries unlike: the panel, not how it lies.
func TestUnlikeByHand(t *testing.T) {
	a := plan.NewPanel("a", 30, 180)
	lies, film, sheet, other, watts := a, a, generic100(36, 1), generic100(60, 0.6), a
	lies.Name, lies.TiltDeg, lies.Count = "b", 60, 3
	film.Technology = plan.ThinFilm
	watts.RatedW = 60
	other.RatedW = sheet.RatedW
	for name, c := range map[string]struct {
		a, b plan.Panel
		want int
	}{
		"another lie": {a, lies, 0}, "a film": {a, film, 1}, "a datasheet": {a, sheet, 1},
		"another datasheet": {sheet, other, 1}, "the same datasheet": {sheet, generic100(36, 1), 0}, "other watts": {a, watts, 1},
	} {
		if got := mixtures(joined(plan.SideBySide, c.a, c.b)); len(got) != c.want {
			t.Errorf("%s: %d mixes", name, len(got))
		}
	}
}
