package pairing

import (
	"reflect"
	"testing"
	"time"

	"duskline/calc/plan"
)

// The bad days: plans with nothing to win, nothing to try or too much of it.

// sound runs a plan and looks at every figure.
func sound(t *testing.T, p plan.Plan) *Ladder {
	t.Helper()
	l := run(t, p)
	finite(t, reflect.ValueOf(*l), "ladder")
	if len(l.Rungs) != len(generic) || len(l.Refill) != len(sources) || l.Owned == nil || l.Mixes == nil {
		t.Errorf("%d rungs, %d refills", len(l.Rungs), len(l.Refill))
	}
	for _, i := range []int{l.Least, l.Most, l.Pack} {
		if i >= 0 && l.Rungs[i].Fit.Bars() {
			t.Errorf("a danger is recommended: %+v", l.Rungs[i])
		}
	}
	if i := l.OwnedPack; i >= 0 && (l.Owned[i].Fit.Bars() || !l.Owned[i].Charges) {
		t.Errorf("of one's own: %+v", l.Owned[i])
	}
	return l
}

// A full battery and no gear: nothing to put in. The smallest panel does all
// there is to do.
func TestNoBatteryRoom(t *testing.T) {
	p := camp()
	p.Gear, p.Trip.StartChargePct = []plan.Device{}, 100
	l := sound(t, p)
	if l.Least != 0 || l.Pack != 0 {
		t.Errorf("least %d, most %d, pack %d", l.Least, l.Most, l.Pack)
	}
	for _, r := range l.Rungs {
		if !r.FromNow.Ok || r.FromNow.H != 0 || r.W >= 10 && r.BackDays != l.Days { // 5 W are less than the meters take on a dull day
			t.Errorf("%g W: %+v, %d of %d days", r.W, r.FromNow, r.BackDays, l.Days)
		}
	}
	if r := l.Rungs[len(l.Rungs)-1]; !has(r, SpillsSun) {
		t.Errorf("400 W into a full battery spill: %+v", r)
	}
}

func TestNoPanels(t *testing.T) {
	p := camp()
	p.Panels.List = []plan.Panel{}
	l := sound(t, p)
	if len(l.Owned) != 0 || l.OwnedPack != -1 || !l.OwnedWhole || l.Refill[0].There || len(l.Mixes) != 0 {
		t.Errorf("owned %v, pack %d, refill %+v", l.Owned, l.OwnedPack, l.Refill[0])
	}
	g := l.Rungs[6].Panels.List[0]
	if g.TiltDeg != 45 || g.AzimuthDeg != 180 {
		t.Errorf("at 45° north it leans %g°, faces %g°", g.TiltDeg, g.AzimuthDeg)
	}
	p.Sky.LatitudeDeg = -71
	if g = genericPanels(p, 100).List[0]; g.TiltDeg != 60 || g.AzimuthDeg != 0 {
		t.Errorf("at 71° south it leans %g°, faces %g°", g.TiltDeg, g.AzimuthDeg)
	}
	if l.Pack < 0 || l.Rungs[l.Pack].W != 80 {
		t.Errorf("to pack: %d", l.Pack)
	}
}

func TestPolarNight(t *testing.T) {
	p := camp()
	p.Sky.LatitudeDeg, p.Trip.Start = 78, time.Date(2026, 12, 12, 8, 0, 0, 0, time.FixedZone("", 3600))
	p.Sky.WarmestC, p.Sky.ColdestC = -10, -20
	l := sound(t, p)
	if l.Least != -1 || l.Most != -1 || l.Pack != -1 {
		t.Errorf("least %d, most %d, pack %d", l.Least, l.Most, l.Pack)
	}
	for _, r := range l.Rungs {
		if r.HarvestWh != 0 || r.FromEmpty.Ok || r.BackDays != 0 {
			t.Errorf("%g W: %+v", r.W, r)
		}
	}
}

// Forty panels: all side by side are no matter of volts, but of fuses; end to
// end they are not to be connected.
func TestFortyPanels(t *testing.T) {
	p := camp()
	p.Case.Controller.Kind, p.Case.Controller.LimitA = plan.MPPT, 40
	p.Trip.LengthH = 24
	a, b := plan.NewPanel("a", 30, 180), plan.NewPanel("b", 30, 180)
	a.RatedW, a.Count, b.RatedW, b.Count = 20, 20, 10, 20
	p.Panels.List = []plan.Panel{a, b}
	l := sound(t, p)
	for _, r := range l.Owned {
		count := 0
		for _, x := range r.Panels.List {
			count += x.Count
		}
		if danger := r.Panels.Joined != plan.SideBySide; danger != (r.Fit == Danger) {
			t.Errorf("%d panels %s: %s, %g V", count, r.Panels.Joined, r.Fit, r.ColdV)
		}
		if r.Panels.Joined == plan.SideBySide && r.Fuse != (count >= 3) {
			t.Errorf("%d panels side by side: fuse %v", count, r.Fuse)
		}
	}
	if l.Owned[0].Strings != 40 || l.Owned[0].W != 600 {
		t.Errorf("as they stand: %d strings, %g W", l.Owned[0].Strings, l.Owned[0].W)
	}
}

// Sixteen kinds: each alone, every two both ways and all.
func TestSixteenKinds(t *testing.T) {
	p := camp()
	p.Trip.LengthH, p.Trip.StepMin = 24, 15
	p.Panels.List = nil
	for i := range 16 {
		x := plan.NewPanel("x", 30, 180)
		x.RatedW = float64(10 + i)
		p.Panels.List = append(p.Panels.List, x)
	}
	l := sound(t, p)
	if l.OwnedWhole || len(l.Owned) != 1+16+2*120+1 || len(l.Mixes) != 120+1 {
		t.Errorf("%v, %d rungs, %d mixes", l.OwnedWhole, len(l.Owned), len(l.Mixes))
	}
	p.Panels.List = p.Panels.List[:4]
	l = sound(t, p)
	if !l.OwnedWhole || len(l.Owned) != 1+4+2*(6+4)+1 || len(l.Mixes) != 6+4+1 {
		t.Errorf("%v, %d rungs, %d mixes", l.OwnedWhole, len(l.Owned), len(l.Mixes))
	}
}

// A panel of 18 cells stands under the battery: it charges nothing, and that
// is said. Two of them end to end charge.
func TestPanelVoltsUnderTheBattery(t *testing.T) {
	for _, kind := range []plan.ControllerKind{plan.PWM, plan.MPPT} {
		p := camp()
		p.Case.Controller.Kind = kind
		p.Panels.List = []plan.Panel{times(2, generic100(18, 1))}
		l := sound(t, p)
		for _, r := range l.Owned {
			two := r.Panels.Joined == plan.EndToEnd
			// A battery that is quite empty stands low enough for a little.
			if r.Charges != two || has(r, TooLow) == two || (r.HarvestWh > 6) != two || r.FromEmpty.Ok && !two {
				t.Errorf("%s, %s: charges %v, %g Wh a day, %+v", kind, r.Panels.Joined, r.Charges, r.HarvestWh, r.Reasons)
			}
		}
		if l.OwnedPack < 0 || l.Owned[l.OwnedPack].Panels.Joined != plan.EndToEnd {
			t.Errorf("%s: to pack %d", kind, l.OwnedPack)
		}
	}
}

// A controller that starts at 30 V does not wake for one panel for 12 V.
func TestControllerThatStartsHigh(t *testing.T) {
	p := camp()
	p.Case.Controller.Kind, p.Case.Controller.StartV, p.Case.Controller.InputMaxV = plan.MPPT, 30, 100
	p.Panels.List[0].Count = 2
	l := sound(t, p)
	if l.Least >= 0 && l.Rungs[l.Least].HarvestWh > 0 || l.Most != -1 {
		t.Errorf("least %d, most %d", l.Least, l.Most)
	}
	for _, r := range l.Rungs {
		if r.Charges || !has(r, TooLow) || r.LeastV != 30 {
			t.Errorf("%g W: charges %v, least %g V, %+v", r.W, r.Charges, r.LeastV, r.Reasons)
		}
	}
	if i := l.OwnedPack; i < 0 || l.Owned[i].Panels.Joined != plan.EndToEnd {
		t.Errorf("two end to end have the volts: %d", i)
	}
}

// In the cold two end to end are over the controller's limit: they are never
// packed, though they would hold.
func TestOverVoltsInTheColdIsNeverPacked(t *testing.T) {
	p := camp()
	p.Case.Controller.Kind = plan.MPPT
	p.Panels.Joined = plan.EndToEnd
	p.Panels.List[0].Count = 2
	warm := sound(t, p)
	if warm.Owned[0].Fit == Danger {
		t.Fatalf("at 10 °C %g V are under 50 V", warm.Owned[0].ColdV)
	}
	p.Sky.ColdestC = -25
	p.Case.Battery.Chemistry = plan.AGM
	marks, _ := plan.UsualMarks(plan.AGM)
	p.Case.Battery.SetMarks(marks)
	l := sound(t, p)
	if r := l.Owned[0]; r.Fit != Danger || r.Reasons[0].Code != OverVolts || r.ColdV <= 50 {
		t.Errorf("at -25 °C: %+v", r)
	}
	if i := l.OwnedPack; i < 0 || l.Owned[i].Panels.Joined != plan.SideBySide {
		t.Errorf("to pack: %d", i)
	}
}

// A trip of six hours counts as one day; its refills go on for a week.
func TestShortTrip(t *testing.T) {
	p := camp()
	p.Trip.LengthH = 6
	l := sound(t, p)
	if l.Days != 1 || l.HorizonH != 7*24 {
		t.Errorf("%d days, %g h", l.Days, l.HorizonH)
	}
	if r := rungOf(t, l, 20); !r.FromEmpty.Ok || r.FromEmpty.H < 72 {
		t.Errorf("20 W: %+v", r.FromEmpty)
	}
}

// A weather file covers its hours and no more: refills end with it.
func TestWeatherFileEnds(t *testing.T) {
	p := camp()
	p.Trip.LengthH = 30
	w := &plan.Weather{Start: p.Trip.Start.Truncate(time.Hour)}
	for h := range 50 {
		ghi := 0.0
		if hour := (8 + h) % 24; hour > 6 && hour < 19 {
			ghi = 600
		}
		w.GHI, w.DHI, w.AirC = append(w.GHI, ghi), append(w.DHI, ghi/4), append(w.AirC, float64(h%24)-9)
	}
	p.Sky.Light, p.Sky.WeatherFile = plan.ByWeatherFile, w
	l := sound(t, p)
	if l.HorizonH != 50 {
		t.Errorf("horizon %g h", l.HorizonH)
	}
	if r := rungOf(t, l, 5); r.FromEmpty.Ok {
		t.Errorf("5 W: %+v", r.FromEmpty)
	}
	// Its coldest air is -9 °C, not the Sky's 10.
	if r := rungOf(t, l, 100); r.ColdV < 23.9 {
		t.Errorf("%g V in the cold", r.ColdV)
	}
}

// The table of refills: amps over amp-hours, and what is not there.
func TestRefillTable(t *testing.T) {
	p := camp()
	p.Trip.StartChargePct = 20
	p.Case.Vehicle = &plan.VehicleCharger{CurrentA: 5, EfficiencyPct: 85, SocketA: 10}
	p.Trip.GeneratorW = 1000
	rows := func() map[Source]Refill {
		out := map[Source]Refill{}
		for _, r := range sound(t, p).Refill {
			out[r.Source] = r
		}
		return out
	}
	all := rows()
	// 40 Ah: at 10 A four hours, at 5 A eight, with up to a tenth for the tail
	// and the Case's own draw; together less than the quickest, not less than
	// the amps of wall, vehicle and a panel of 100 W.
	for s, c := range map[Source][2]float64{Wall: {4, 4.5}, Generator: {4, 4.5}, Vehicle: {8, 8.8}, All: {40.0 / 21, 4}} {
		r := all[s]
		if !r.There || !r.FromEmpty.Ok || r.FromEmpty.H < c[0] || r.FromEmpty.H > c[1] || r.FromNow.H > 0.9*r.FromEmpty.H {
			t.Errorf("%s: %+v", s, r)
		}
	}
	if all[Wall] == (Refill{}) || all[Wall].FromEmpty != all[Generator].FromEmpty {
		t.Errorf("one charger on two plugs: %+v and %+v", all[Wall], all[Generator])
	}
	if r := all[Sun]; !r.There || r.FromEmpty.H < 6 {
		t.Errorf("sun: %+v", r)
	}
	p.Trip.GeneratorW = 150 // of which 120 for hours; the charger draws 169
	p.Trip.WallV = 120
	p.Case.WallCharger.InputMinV = 200
	p.Case.Vehicle = nil
	some := rows()
	for _, s := range []Source{Wall, Generator, Vehicle} {
		if some[s].There || some[s].FromEmpty.Ok {
			t.Errorf("%s is not there: %+v", s, some[s])
		}
	}
	if some[All].FromEmpty != some[Sun].FromEmpty {
		t.Errorf("only the sun is there: %+v and %+v", some[All], some[Sun])
	}
	p.Panels.List = []plan.Panel{}
	if r := rows()[All]; r.There {
		t.Errorf("nothing is there: %+v", r)
	}
}

// A charger that ends its charge as soon as the volts are there never brings
// the last half percent: the battery is charged all the same, and more amps
// never take longer by more than what they leave out.
func TestRefillEndsWithTheCharge(t *testing.T) {
	for _, after := range []plan.AfterFull{plan.AfterHold, plan.AfterFloat, plan.AfterRest} {
		p := camp()
		p.Case.Battery = plan.Blank("", p.Trip.Start).Case.Battery
		p.Case.Battery.AfterFull = after
		p.Case.WallCharger.CurrentA = 10
		l := run(t, p)
		last := 0.0
		for i := len(l.Rungs) - 1; i >= 0; i-- {
			f := l.Rungs[i].FromEmpty
			if !f.Ok {
				break
			}
			if f.H < last-0.25 {
				t.Errorf("%s: %g W take %.2f h, the next size %.2f h", after, l.Rungs[i].W, f.H, last)
			}
			last = f.H
		}
		if f := l.Rungs[6].FromEmpty; !f.Ok { // 100 W
			t.Errorf("%s: 100 W do not fill the battery in a week", after)
		}
		// 40 Ah at 10 A, and what little is lost.
		if f := l.Refill[1].FromEmpty; !f.Ok || f.H < 3.7 || f.H > 4.6 {
			t.Errorf("%s: the wall takes %+v", after, f)
		}
		for _, r := range l.Refill {
			if r.FromEmpty.Ok && (!r.FromNow.Ok || r.FromNow.H > r.FromEmpty.H) {
				t.Errorf("%s: %s: %+v from empty, %+v from now", after, r.Source, r.FromEmpty, r.FromNow)
			}
		}
	}
}

// At the volts of the stage with a third of the charge missing, and again
// after every rest: the first end of a charge is not its end.
func TestRefillOfABatteryThatIsPushedHard(t *testing.T) {
	p := camp()
	b := &p.Case.Battery
	b.AfterFull, b.ResistanceMohm, b.ResumeV = plan.AfterRest, 100, 13.3
	p.Case.WallCharger.CurrentA = 30
	l := run(t, p)
	if f := l.Refill[1].FromEmpty; f.Ok && f.H < b.CapacityAh*0.9/30 {
		t.Errorf("%+v are less than %g Ah at 30 A take", f, b.CapacityAh)
	}
}
