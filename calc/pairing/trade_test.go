package pairing

import (
	"testing"

	"duskline/calc/plan"
)

// What the trade says of panels and small units. All of it is common practice,
// no source: the tests hold the ladder against the sentences, and say where it
// knows better.

// unit is the unit that the sentences are about: 40 Ah, 10 A, in fair June
// weather, empty in the morning, its panel turned to the noon sun.
func unit(kind plan.ControllerKind) plan.Plan {
	p := camp()
	p.Gear = []plan.Device{}
	p.Case.Controller.Kind = kind
	p.Trip.StartChargePct = 20
	p.Sky.ClearSkyIndex = []float64{0.9}
	return p
}

func rungOf(t *testing.T, l *Ladder, watts float64) Rung {
	t.Helper()
	for _, r := range l.Rungs {
		if r.W == watts {
			return r
		}
	}
	t.Fatalf("no rung of %g W", watts)
	return Rung{}
}

// "10 A at 12 V go with about 120 W." By PWM 120 W are the last rung whose amps
// the rating holds. By MPPT they lose nothing to the limit on the brightest
// and coldest of days, and 160 W do (electrical.md C30).
func TestTradeTenAmperesGoWith120W(t *testing.T) {
	l := run(t, unit(plan.PWM))
	for _, r := range l.Rungs {
		if r.Fit.Bars() != (r.W > 120) {
			t.Errorf("%g W on 10 A, PWM: %v, %.1f A", r.W, r.Fit, r.RatingA)
		}
	}
	if l.Rungs[l.Most].W > 120 {
		t.Errorf("the most it can use is %g W", l.Rungs[l.Most].W)
	}
	p := unit(plan.MPPT)
	p.Case.Battery.CapacityAh = 1000 // takes all, so that nothing but the limit holds back
	p.Sky.ClearSkyIndex, p.Sky.WarmestC, p.Sky.ColdestC = []float64{1}, 0, -10
	p.Case.Battery.Chemistry = plan.AGM // and in the cold
	marks, _ := plan.UsualMarks(plan.AGM)
	p.Case.Battery.SetMarks(marks)
	for _, r := range run(t, p).Rungs {
		if clips := r.ClippedWh > 0; clips != (r.W > 120) {
			t.Errorf("%g W on 10 A, MPPT: clipped %.1f of %.1f Wh a day", r.W, r.ClippedWh, r.HarvestWh)
		}
	}
}

// "20 W is about the least for 40 Ah." Of the rungs it is the smallest that
// fills it from empty within a week.
func TestTradeTwentyWattsAreTheLeastFor40Ah(t *testing.T) {
	for _, kind := range []plan.ControllerKind{plan.PWM, plan.MPPT} {
		l := run(t, unit(kind))
		for _, r := range l.Rungs {
			if r.FromEmpty.Ok != (r.W >= 20) {
				t.Errorf("%s, %g W: from empty %+v of %g h", kind, r.W, r.FromEmpty, l.HorizonH)
			}
		}
	}
}

// "About 100 W refill it in a day, or in some four to five full-sun hours."
// From a fifth, where the alarm sounds, they do it between one morning and the
// next; from quite empty it takes 6 to 8 hours of full sun, for heat, dirt and
// the controller take their part of 100 W: the sentence leaves them out.
func TestTradeHundredWattsRefillInADay(t *testing.T) {
	for _, kind := range []plan.ControllerKind{plan.PWM, plan.MPPT} {
		r := rungOf(t, run(t, unit(kind)), 100)
		if !r.FromNow.Ok || r.FromNow.H > 24 {
			t.Errorf("%s: from a fifth in %+v", kind, r.FromNow)
		}
		if !r.FromEmpty.Ok || r.FromEmpty.H > 34 {
			t.Errorf("%s: from empty in %+v", kind, r.FromEmpty)
		}
		if r.FullSunH < 512/100 || r.FullSunH > 8 {
			t.Errorf("%s: %.1f h of full sun; 512 Wh over 100 W are 5.1", kind, r.FullSunH)
		}
	}
}

// "Adding a 60 W to a 20 W side by side is sound."
func TestTradeSixtyBesideTwentyIsSound(t *testing.T) {
	for _, kind := range []plan.ControllerKind{plan.PWM, plan.MPPT} {
		p := unit(kind)
		p.Panels.List = []plan.Panel{plan.NewPanel("twenty", 30, 180), plan.NewPanel("sixty", 30, 180)}
		p.Panels.List[0].RatedW, p.Panels.List[1].RatedW = 20, 60
		l := run(t, p)
		both := l.Owned[0]
		if both.Fit != Fits || both.MismatchW != 0 || both.Strings != 2 || both.Fuse {
			t.Errorf("%s: %v, %.2f W lost, fuse %v: %+v", kind, both.Fit, both.MismatchW, both.Fuse, both.Reasons)
		}
		m := l.Mixes[0]
		if len(l.Mixes) != 1 || m.Advice != JoinSideBySide || m.SideBySide.W < 0.999*m.SumW || m.EndToEnd.W > 0.8*m.SumW {
			t.Errorf("%s: %+v", kind, m)
		}
	}
}
