package power

import (
	"errors"
	"math"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// Figures: electrical.md C45.
func TestInverterAgainstElectricalC45(t *testing.T) {
	i := Inverter{Rated: 600, Surge: 1200, Standby: 6, Linear: 1/0.94 - 1, Quadratic: 1e-4}
	golden.Check(t, "C45.dc0 = 6 W ± 0.01 %", float64(i.Draw(0)))
	golden.Check(t, "C45.dc50 = 59.441 W ± 0.01 %", float64(i.Draw(50)))
	golden.Check(t, "C45.dc300 = 334.149 W ± 0.01 %", float64(i.Draw(300)))
	golden.Check(t, "C45.dc600 = 680.298 W ± 0.01 %", float64(i.Draw(600)))
	golden.Check(t, "C45.eff50 = 84.12 % ± 0.02 %", 100*float64(i.Efficiency(50)))
	golden.Check(t, "C45.eff300 = 89.78 % ± 0.02 %", 100*float64(i.Efficiency(300)))
	golden.Check(t, "C45.eff600 = 88.20 % ± 0.02 %", 100*float64(i.Efficiency(600)))
	golden.Check(t, "C45.pbest = 244.95 W ± 0.01 %", float64(i.Best()))
	golden.Check(t, "C45.best = 89.862 % ± 0.01 %", 100*float64(i.Efficiency(i.Best())))
	if i.Efficiency(0) != 0 {
		t.Errorf("efficiency of nothing: %g", i.Efficiency(0))
	}
}

// Figures: electrical.md C46, a standby of 1 A at 12.8 V for a day, and C47,
// 20 W for 5 h with the inverter left on or not.
func TestStandbyAgainstElectricalC46AndC47(t *testing.T) {
	idle, err := NewInverter(600, 1200, 12.8, 0.9)
	if err != nil {
		t.Fatal(err)
	}
	golden.Check(t, "C46.wh10 = 307.2 Wh ± 0.01 %", 24*float64(idle.Draw(0)))
	golden.Check(t, "C46.ah10 = 24 Ah ± 0.01 %", 24*float64(idle.Draw(0))/12.8)

	i := Inverter{Rated: 300, Surge: 600, Standby: 10, Linear: 1/0.94 - 1}
	on, off := float64(i.Draw(20)), float64(i.Draw(0))
	golden.Check(t, "C47.load = 106.38 Wh ± 0.01 %", 5*(on-off))
	golden.Check(t, "C47.left_on = 346.38 Wh ± 0.01 %", 5*on+19*off)
	golden.Check(t, "C47.on_when_used = 156.38 Wh ± 0.01 %", 5*on)
	golden.Check(t, "C47.share = 69.29 % ± 0.05 %", 100*24*off/(5*on+19*off))
}

// Figures: electrical.md C48 and C57, an efficiency of 0.90 at any watts.
func TestInverterAgainstElectricalC48AndC57(t *testing.T) {
	i := Inverter{Rated: 1000, Surge: 2000, Linear: 1/0.9 - 1}
	golden.Check(t, "C48.i128 = 52.08 A ± 0.05 %", float64(i.Draw(600))/12.8)
	golden.Check(t, "C48.i115 = 57.97 A ± 0.05 %", float64(i.Draw(600))/11.5)
	golden.Check(t, "C48.i105 = 63.49 A ± 0.05 %", float64(i.Draw(600))/10.5)
	golden.Check(t, "C57.pdc = 787.5 W ± 0.01 %", float64(i.Draw(708.75)))
	golden.Check(t, "C57.imax = 75 A ± 0.01 %", float64(i.Draw(708.75))/10.5)
}

// The label's own figures come back: standby at nothing, efficiency at rated
// watts, and what is left of the loss is shared by halves.
func TestNewInverterMeetsItsLabel(t *testing.T) {
	for _, c := range []struct {
		rated, standby qty.Watt
		eff            qty.Fraction
	}{{600, 6, 0.88}, {150, 2, 0.85}, {3000, 0, 0.93}, {300, 300 * (1/0.9 - 1), 0.9}} {
		i, err := NewInverter(c.rated, 2*c.rated, c.standby, c.eff)
		if err != nil {
			t.Fatal(err)
		}
		golden.Near(t, "standby, W", float64(i.Draw(0)), float64(c.standby), 10)
		golden.Near(t, "efficiency at rated watts", float64(i.Efficiency(c.rated)), float64(c.eff), 10)
		if lin, quad := i.Linear*float64(c.rated), i.Quadratic*float64(c.rated*c.rated); math.Abs(lin-quad) > 1e-9 || lin < 0 {
			t.Errorf("%g W: losses %g W and %g W are not halves", c.rated, lin, quad)
		}
		best := i.Best()
		for p := qty.Watt(1); p <= c.rated; p += c.rated / 100 {
			if c.standby == 0 {
				if best != 0 || i.Efficiency(p) <= i.Efficiency(p+1) {
					t.Errorf("without standby: best %g W, %g at %g W", best, i.Efficiency(p), p)
				}
			} else if i.Efficiency(p) > i.Efficiency(best)+1e-12 {
				t.Errorf("%g W inverter: %g at %g W beats %g at %g W", c.rated, i.Efficiency(p), p, i.Efficiency(best), best)
			}
			if i.Draw(p) < p+c.standby {
				t.Errorf("%g W inverter draws %g W for %g W", c.rated, i.Draw(p), p)
			}
		}
		if i.Trips(c.rated) || !i.Trips(c.rated*1.001) {
			t.Error("trips at rated watts, or not above")
		}
		if !i.Starts(2*c.rated, 0) || i.Starts(2*c.rated*1.001, 0) {
			t.Error("does not start its surge, or more")
		}
	}
}

func TestNewInverterNamesTheFigure(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		rated, surge, standby qty.Watt
		eff                   qty.Fraction
		what                  string
	}{
		{0, 100, 1, 0.9, "rated"},
		{6000, 7000, 1, 0.9, "rated"},
		{qty.Watt(nan), 100, 1, 0.9, "rated"},
		{300, 299, 1, 0.9, "surge"},
		{300, 600, 1, 90, "atRated"},
		{300, 600, 1, qty.Fraction(nan), "atRated"},
		{300, 600, -1, 0.9, "standby"},
		{300, 600, 34, 0.9, "standby"}, // 300 W at 0.9 loses 33.3 W in all
	} {
		i, err := NewInverter(c.rated, c.surge, c.standby, c.eff)
		var r *qty.RangeError
		if !errors.As(err, &r) || r.What != c.what {
			t.Errorf("%+v: got %+v, %v", c, i, err)
		}
	}
}
