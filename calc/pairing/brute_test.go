package pairing

import (
	"math"
	"testing"
	"time"

	"duskline/calc/daylight"
	"duskline/calc/outlook"
	"duskline/calc/panel"
	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// What Pairing says is held against the plan run by itself, step by step where
// Pairing takes samples, and against scans of curves where it solves.

// A rung is the Outlook of the plan with its panels in it.
func TestRungIsTheOutlookOfItsPanels(t *testing.T) {
	p := mixed()
	l := run(t, p)
	for _, r := range append(l.Rungs[:len(l.Rungs):len(l.Rungs)], l.Owned...) {
		q := p
		q.Panels = r.Panels
		o, err := outlook.Run(q)
		if err != nil {
			t.Fatal(err)
		}
		if outlook.Verdict(r.Verdict) != o.Verdict || r.LowestPct != float64(o.Figures.Lowest)*100 ||
			r.HarvestWh != float64(o.Figures.SunADay) || r.DrawWh != float64(o.Figures.DrawADay) {
			t.Errorf("%g W %s: %+v, its outlook %v %+v", r.W, r.Panels.Joined, r, o.Verdict, o.Figures)
		}
		left := float64(o.Ledger.NotTaken) / (p.Trip.LengthH / 24)
		if math.Abs(r.ClippedWh+r.SpilledWh-left) > 1e-9*(1+left) || r.ClippedWh < 0 || r.SpilledWh < 0 {
			t.Errorf("%g W: clipped %g and spilled %g of %g Wh a day", r.W, r.ClippedWh, r.SpilledWh, left)
		}
	}
}

// The generic rungs lie as the plan's first panel does.
func TestGenericPanelsLieAsTheFirst(t *testing.T) {
	p := mixed()
	first := &p.Panels.List[0]
	first.Lie, first.AimsPerDay, first.TiltDeg, first.LossPct, first.AgeYears, first.Back = plan.LieTurned, 3, 41, 7, 12, plan.BackCovered
	p.Panels.CableM, p.Panels.Joined = 12, plan.EndToEnd
	for _, r := range run(t, p).Rungs {
		q := p
		q.Panels = r.Panels
		if faults := plan.Check(q); faults != nil {
			t.Fatal(faults)
		}
		g := r.Panels.List[0]
		if g.Lie != first.Lie || g.AimsPerDay != 3 || g.TiltDeg != 41 || g.LossPct != 7 || g.Back != first.Back || r.Panels.CableM != 12 ||
			r.Panels.Joined != plan.SideBySide || g.AgeYears != 0 || g.Datasheet != nil || g.Count != 1 || g.RatedW != r.W {
			t.Errorf("%+v", g)
		}
	}
}

// minutes runs a refill the plain way: the plan's own step, one run of a week.
func minutes(t *testing.T, p plan.Plan, panels plan.Panels, pct float64) Hours {
	t.Helper()
	p.Panels, p.Gear, p.Trip.LengthH, p.Trip.StepMin, p.Trip.StartChargePct = panels, []plan.Device{}, longest, 1, pct
	p.Trip.WallHours = []plan.Window{}
	o, err := outlook.Run(p)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range o.Events {
		if e.Kind == outlook.Full {
			return Hours{e.At.Sub(p.Trip.Start).Hours(), true}
		}
	}
	return Hours{}
}

// A refill agrees with a run in steps of a minute within two of its own steps,
// though it takes the bigger panel's from the smaller one's and leaves out what
// is hopeless.
func TestRefillAgainstRunByMinutes(t *testing.T) {
	for _, kind := range []plan.ControllerKind{plan.PWM, plan.MPPT} {
		p := camp()
		p.Case.Controller.Kind = kind
		for i, r := range run(t, p).Rungs {
			if i%2 == 0 {
				continue
			}
			for pct, got := range map[float64]Hours{0: r.FromEmpty, 60: r.FromNow} {
				want := minutes(t, p, r.Panels, pct)
				if got.Ok != want.Ok || math.Abs(got.H-want.H) > 2*refillStep/60 {
					t.Errorf("%s, %g W from %g %%: %+v, by minutes %+v", kind, r.W, pct, got, want)
				}
			}
		}
	}
}

// With a battery that takes all, everything left in the panels was clipped:
// the samples every half hour must find it within a fiftieth.
func TestClippedAgainstTheLedger(t *testing.T) {
	p := camp()
	p.Case.Controller.Kind = plan.MPPT
	p.Case.Battery.CapacityAh, p.Trip.StartChargePct = 1000, 30
	for _, r := range run(t, p).Rungs {
		left := r.ClippedWh + r.SpilledWh
		if left > 0.01*r.HarvestWh && math.Abs(r.SpilledWh) > 0.02*left {
			t.Errorf("%g W: clipped %.2f Wh a day, and %.2f laid to a battery that is never full", r.W, r.ClippedWh, r.SpilledWh)
		}
	}
}

// What a PWM controller throws away, against every step of the run and a scan
// of the curve at each.
func TestThrownAwayAgainstEveryStep(t *testing.T) {
	p := camp()
	p.Case.Controller.LimitA = 30
	for _, watts := range []float64{50, 200} {
		q := p
		q.Panels = genericPanels(p, watts)
		q.Trip.LengthH = 72
		got := run(t, q).Owned[0]
		o, err := outlook.Run(q)
		if err != nil {
			t.Fatal(err)
		}
		s, err := q.Daylight()
		if err != nil {
			t.Fatal(err)
		}
		scene, err := daylight.New(s)
		if err != nil {
			t.Fatal(err)
		}
		var lost, taken float64
		for i := 1; i < len(o.Series.Charge); i++ {
			c := scene.Curve((float64(i) - 0.5) * 300)
			v := o.Series.Volts[i] + power.SwitchDrop
			offered := float64(c.Current(v))
			if !(offered > 0) {
				continue
			}
			share := math.Min(1, float64(o.Series.AmpsIn[i])/offered)
			best := 0.0
			for u := 5.0; u < 25; u += 0.1 {
				best = math.Max(best, u*float64(c.Current(qty.Volt(u))))
			}
			taken += share * offered * float64(v) / 12 / 3
			lost += share * (best - offered*float64(v)) / 12 / 3
		}
		if math.Abs(taken-got.HarvestWh) > 0.01*taken {
			t.Errorf("%g W: the steps take %.2f Wh a day, the rung %.2f", watts, taken, got.HarvestWh)
		}
		if math.Abs(lost-got.PWMLossWh) > 0.03*lost || lost < 0.05*taken {
			t.Errorf("%g W: thrown away %.2f Wh a day, the rung says %.2f", watts, lost, got.PWMLossWh)
		}
	}
}

// Joined unlike panels against a scan of the currents and volts of each alone,
// added up by Kirchhoff's laws.
func TestMixAgainstAScan(t *testing.T) {
	for _, kind := range []plan.ControllerKind{plan.PWM, plan.MPPT} {
		p := mixed()
		p.Case.Controller.Kind, p.Case.Controller.LimitA = kind, 50
		p.Panels.List = p.Panels.List[:2]
		p.Panels.List[1].ShadeHours = []plan.Window{}
		m := run(t, p).Mixes[0]
		tr, err := newTrial(p)
		if err != nil {
			t.Fatal(err)
		}
		s, err := p.Daylight()
		if err != nil {
			t.Fatal(err)
		}
		var curves []panel.Curve
		for i := range s.Panels {
			curves = append(curves, s.Panels[i].Module.At(1000, tr.inHeat(&s.Panels[i])))
		}
		side := func(v float64) (i float64) {
			for k := range curves {
				i += math.Max(0, float64(curves[k].Current(qty.Volt(v))))
			}
			return i
		}
		end := func(v float64) float64 { // the amps at which the volts add up to v
			lo, hi := 0.0, 10.0
			for range 60 {
				i, sum := (lo+hi)/2, 0.0
				for k := range curves {
					sum += math.Max(-0.5, float64(curves[k].Volts(qty.Ampere(i))))
				}
				if sum > v {
					lo = i
				} else {
					hi = i
				}
			}
			return lo
		}
		for name, c := range map[string]struct {
			joint Joint
			amps  func(float64) float64
		}{"side by side": {m.SideBySide, side}, "end to end": {m.EndToEnd, end}} {
			want, best := 0.0, 0.0
			for v := 1.0; v < 50; v += 0.01 {
				best = math.Max(best, v*c.amps(v))
			}
			v := float64(tr.half())
			if kind == plan.PWM {
				want = v * c.amps(v+float64(power.SwitchDrop))
			} else {
				want = 0.96 * best
			}
			if math.Abs(c.joint.W-want) > 2e-4*want || math.Abs(c.joint.PanelW-best) > 2e-4*best {
				t.Errorf("%s, %s: %.3f W of %.3f W, by the scan %.3f of %.3f", kind, name, c.joint.W, c.joint.PanelW, want, best)
			}
		}
	}
}

// A sky that hangs on the panels is kept when they change: the rung that has
// the plan's own panels ends as the plan does, and others find the same light.
func TestSkyStaysWhenPanelsChange(t *testing.T) {
	meter := camp()
	meter.Sky.Light, meter.Sky.LastThreeDays = plan.ByLastThreeDays, []float64{310, 280, 350}
	onPanels := camp()
	onPanels.Sky.Light, onPanels.Sky.PeakSunOn, onPanels.Sky.PeakSunHours = plan.ByPeakSun, plan.OnPanels, []float64{5, 4}
	for name, p := range map[string]plan.Plan{"meter": meter, "peak sun": onPanels} {
		p.Case.Battery.CapacityAh, p.Trip.StartChargePct = 1000, 30
		l := run(t, p)
		own := l.Owned[0]
		same := rungOf(t, l, 100) // the plan's panel is of 100 W
		if l.Sky == nil || math.Abs(same.HarvestWh-own.HarvestWh) > 1e-3*own.HarvestWh {
			t.Errorf("%s: as it stands %.2f Wh a day, the same panel as a rung %.2f", name, own.HarvestWh, same.HarvestWh)
		}
		if twice := rungOf(t, l, 200); math.Abs(twice.HarvestWh/same.HarvestWh-2) > 0.02 {
			t.Errorf("%s: 200 W bring %.2f Wh a day, 100 W %.2f", name, twice.HarvestWh, same.HarvestWh)
		}
		// Who uses the rung takes the sky, too, and gets what the rung says.
		q := p
		q.Panels, q.Sky = rungOf(t, l, 200).Panels, *l.Sky
		if faults := plan.Check(q); faults != nil {
			t.Fatal(faults)
		}
		o, err := outlook.Run(q)
		if err != nil {
			t.Fatal(err)
		}
		if got := float64(o.Figures.SunADay); got != rungOf(t, l, 200).HarvestWh {
			t.Errorf("%s: taken over it brings %.2f Wh a day", name, got)
		}
	}
	if l := run(t, camp()); l.Sky != nil {
		t.Error("a sky of indexes hangs on no panel")
	}
}

// The days are counted against the charge at their ends, by hand.
func TestDaysPutBackByHand(t *testing.T) {
	const day = 4
	s := outlook.Series{
		Start: time.Unix(0, 0), Step: 6 * time.Hour,
		Charge: []qty.Fraction{
			0.6, 0.5, 0.7, 0.6, 0.6, // back where it was
			0.5, 0.6, 0.6, 0.55, // lower
			0.7, 1, 1, 0.5, // full in between: charged
			0.6, 0.9, 0.7, 0.6, // more, but dark for a while
			0.99, 0.998, 0.9, 0.5, // as high, but not charged then
			0.6, 0.7, 0.99, 0.45, // charged to nearly full
		},
	}
	s.AmpsIn = make([]qty.Ampere, len(s.Charge))
	for i := range s.AmpsIn {
		if i <= 4*day || i > 5*day {
			s.AmpsIn[i] = 3
		}
	}
	o := &outlook.Outlook{Series: s, Events: []outlook.Event{
		{Kind: outlook.CutOff, At: s.Time(13).Add(time.Hour)}, {Kind: outlook.Reconnect, At: s.Time(14)},
	}}
	tr := trial{days: 6, perDay: day}
	if got := tr.back(o); got != 2 {
		t.Errorf("%d of 6 days put back, by hand 2", got)
	}
	o.Events = o.Events[:0]
	if got := tr.back(o); got != 3 {
		t.Errorf("%d of 6 days put back without the cut-off, by hand 3", got)
	}
}
