package pairing

import (
	"math"
	"testing"

	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/power"
)

func TestAdviceByHand(t *testing.T) {
	for name, c := range map[string]struct {
		side, end  float64
		fits, fite Fit
		best, sum  float64
		want       Advice
	}{
		"like volts":             {80, 40, Fits, Fits, 60, 80, JoinSideBySide},
		"like amps":              {60, 80, Fits, Fits, 60, 80, JoinEndToEnd},
		"the same either way":    {79, 80, Fits, Fits, 60, 80, JoinEither},
		"hardly the same":        {78, 80, Fits, Fits, 60, 80, JoinEndToEnd},
		"the best alone":         {61, 40, Fits, Fits, 60, 80, UseBest},
		"volts too far apart":    {71, 40, Fits, Fits, 60, 80, UnlikeVolts},
		"just near enough":       {72.5, 40, Fits, Fits, 60, 80, JoinSideBySide},
		"end to end is a danger": {72.5, 80, Fits, Danger, 60, 80, JoinSideBySide},
		"both are":               {80, 80, Danger, Danger, 60, 80, DoNotJoin},
		"nothing":                {0, 0, Caution, Caution, 0, 0, NothingCharges},
	} {
		m := Mix{SumW: c.sum, SideBySide: Joint{W: c.side, Fit: c.fits}, EndToEnd: Joint{W: c.end, Fit: c.fite}}
		unlike := math.Max(m.SideBySide.safe(), m.EndToEnd.safe()) < (1-loses)*c.sum
		if got := m.advise(c.best, unlike); got != c.want {
			t.Errorf("%s: %s, want %s", name, got, c.want)
		}
	}
}

// What the controller's limit or the cable holds back of panels of like volts
// is no reason to call their volts unlike: 100 W and 80 W on 10 A, and common
// practice's 20 W and 60 W behind thirty metres of 1.5 mm².
func TestLikeVoltsBehindALimitAndACable(t *testing.T) {
	for name, spoil := range map[string]func(p *plan.Plan){
		"limit": func(p *plan.Plan) {
			p.Panels = joined(plan.SideBySide, generic100(36, 1), generic100(36, 0.8))
		},
		"cable": func(p *plan.Plan) {
			p.Case.Controller.LimitA = 30
			p.Panels = joined(plan.SideBySide, generic100(36, 0.2), generic100(36, 0.6))
			p.Panels.CableM, p.Panels.CableGauge = 30, "1.5_mm2"
		},
	} {
		p := camp()
		p.Case.Controller.Kind, p.Case.Controller.InputMaxV = plan.MPPT, 60
		spoil(&p)
		m := run(t, p).Mixes[0]
		if m.SideBySide.W > 0.9*m.SumW {
			t.Errorf("%s: nothing is held back: %+v", name, m)
		}
		if m.Advice != JoinSideBySide && m.Advice != JoinEither {
			t.Errorf("%s: %s: %+v", name, m.Advice, m)
		}
	}
}

// A joint is a danger over the controller's volts and, by PWM alone, over its
// amps.
func TestJointsThatAreADanger(t *testing.T) {
	a, b := generic100(36, 1), generic100(36, 0.6)
	for _, c := range []struct {
		kind      plan.ControllerKind
		limit     float64
		side, end Fit
	}{
		{plan.MPPT, 60, Fits, Fits}, {plan.MPPT, 48, Fits, Caution}, {plan.MPPT, 40, Fits, Danger},
		{plan.PWM, 60, Warning, Fits}, // 1.25 · 9.52 A on 10 A
	} {
		p := camp()
		p.Case.Controller.Kind, p.Case.Controller.InputMaxV = c.kind, c.limit
		p.Panels = joined(plan.SideBySide, a, b)
		m := run(t, p).Mixes[0]
		if m.SideBySide.Fit != c.side || m.EndToEnd.Fit != c.end {
			t.Errorf("%s, %g V: %s and %s", c.kind, c.limit, m.SideBySide.Fit, m.EndToEnd.Fit)
		}
	}
	// Two of 18 cells charge end to end, and so count alone; with one of 36 side
	// by side they give nothing, and one of 18 by itself is of no use.
	p := camp()
	p.Panels = joined(plan.SideBySide, times(2, generic100(18, 1)), b)
	if m := run(t, p).Mixes[0]; m.AloneW[0] < 50 || m.SideBySide.W > 1.01*m.AloneW[1] {
		t.Errorf("%+v", m)
	}
	p.Panels = joined(plan.SideBySide, generic100(18, 1), generic100(18, 0.3))
	if m := run(t, p).Mixes[0]; m.SideBySide.Fit != Caution || m.SideBySide.W != 0 || m.EndToEnd.W == 0 {
		t.Errorf("%+v", m)
	}
}

// A converter whose panels stand too low works at its headroom.
func TestWorksAtTheHeadroom(t *testing.T) {
	a := at(t, joined(plan.SideBySide, generic100(36, 1)), 25)
	tr := trial{control: power.Controller{Kind: power.MPPT}}
	if v, i := tr.works(&a, 13.3, 18, 5.5); v != 18 || i != 5.5 {
		t.Errorf("%g V, %g A", v, i)
	}
	if v, i := tr.works(&a, 13.3, 14, 5.5); math.Abs(v-14.3) > 1e-9 || math.Abs(i-5.865) > 0.01 { // C21.i144 = 5.8640 A
		t.Errorf("%g V, %g A", v, i)
	}
}

// So much sun on the panels that no index of the document says it: the light
// is kept as hours on the level.
func TestBrightSkyStaysAsHours(t *testing.T) {
	p := camp()
	p.Trip.LengthH, p.Case.Battery.CapacityAh = 24, 1000
	p.Sky.Light, p.Sky.PeakSunOn = plan.ByPeakSun, plan.OnPanels
	for h := 12.0; h > 5; h -= 0.05 {
		if p.Sky.PeakSunHours = []float64{h}; plan.Check(p) == nil {
			break
		}
	}
	o, err := outlook.Run(p)
	if err != nil {
		t.Fatal(err)
	}
	if o.Days[0].ClearSkyIndex <= brightest {
		t.Skipf("the brightest day has an index of %g", o.Days[0].ClearSkyIndex)
	}
	l := run(t, p)
	if l.Sky == nil || l.Sky.Light != plan.ByPeakSun || l.Sky.PeakSunOn != plan.OnLevel {
		t.Fatalf("%+v", l.Sky)
	}
	if same := rungOf(t, l, 100); math.Abs(same.HarvestWh/l.Owned[0].HarvestWh-1) > 0.01 {
		t.Errorf("%g Wh a day as it stands, %g as a rung", l.Owned[0].HarvestWh, same.HarvestWh)
	}
}

// Two panels of one kind are drawn each by itself, too; light and volts are
// those of the plan's own run.
func TestViewShowsTheRun(t *testing.T) {
	p := camp()
	p.Panels.List[0].Count = 2
	o, err := outlook.Run(p)
	if err != nil {
		t.Fatal(err)
	}
	w := viewOf(t, p)
	for _, row := range []int{40, 60, 80} {
		iv := w.At((float64(row) - 0.5) * 300)
		if len(iv.Kinds) != 1 || iv.BatteryV != float64(o.Series.Volts[row]) || math.Abs(iv.Light-float64(o.Series.Light[row])) > 1e-6 || iv.AirC != float64(o.Series.Air[row]) {
			t.Errorf("row %d: %d kinds, %g V, %g W/m², the run has %g V, %g W/m²", row, len(iv.Kinds), iv.BatteryV, iv.Light, o.Series.Volts[row], o.Series.Light[row])
		}
	}
}

// Days are whole ones.
func TestDaysAreWhole(t *testing.T) {
	for hours, want := range map[float64]int{6: 1, 24: 1, 47: 1, 48: 2, 7 * 24: 7} {
		p := camp()
		p.Trip.LengthH = hours
		if tr, err := newTrial(p); err != nil || tr.days != want {
			t.Errorf("%g h: %d days, %v", hours, tr.days, err)
		}
	}
}
