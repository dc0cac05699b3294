package power

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// Figures: electrical.md C45's curve at full and half load, P0 6 W, eta 0.94,
// k 1e-4 1/W: with both efficiencies the label gives all of it back.
func TestSpecWithHalfLoadAgainstElectricalC45(t *testing.T) {
	want := Inverter{Rated: 600, Surge: 1200, Standby: 6, Linear: 1/0.94 - 1, Quadratic: 1e-4}
	got, err := InverterSpec{
		Rated: 600, Surge: 1200, Standby: 6, AtRated: want.Efficiency(600), AtHalf: want.Efficiency(300),
	}.Inverter()
	if err != nil {
		t.Fatal(err)
	}
	golden.Near(t, "linear", got.Linear, want.Linear, 10)
	golden.Near(t, "quadratic, 1/W", got.Quadratic, want.Quadratic, 10)
	golden.Check(t, "C45.dc50 = 59.441 W ± 0.01 %", float64(got.Draw(50)))
	golden.Check(t, "C45.pbest = 244.95 W ± 0.01 %", float64(got.Best()))
}

// Whatever curve an inverter has, its label gives it back; between the ends of
// atHalf's range no part of the loss is negative; without atHalf the curve is
// the one by halves, which lies in the middle.
func TestSpecGivesTheCurveBack(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for range 3000 {
		rated := 30 + 3000*r.Float64()
		loss := rated * (0.02 + 0.4*r.Float64())
		standby := r.Float64() * loss
		linear := r.Float64() * (loss - standby)
		want := Inverter{Rated: qty.Watt(rated), Standby: qty.Watt(standby), Linear: linear / rated, Quadratic: (loss - standby - linear) / (rated * rated)}
		s := InverterSpec{
			Rated: want.Rated, Surge: 2 * want.Rated, Standby: want.Standby,
			AtRated: want.Efficiency(want.Rated), AtHalf: want.Efficiency(want.Rated / 2),
		}
		got, err := s.Inverter()
		if err != nil {
			t.Fatalf("%+v: %v", s, err)
		}
		for _, p := range []float64{0, 0.1, 0.5, 0.9, 1} {
			if a, b := got.Draw(qty.Watt(p*rated)), want.Draw(qty.Watt(p*rated)); math.Abs(float64(a-b)) > 1e-9*rated {
				t.Fatalf("%+v: %g W at %g of rated, want %g W", s, a, p, b)
			}
		}
		if got.Linear < 0 || got.Quadratic < 0 {
			t.Fatalf("%+v: %+v", s, got)
		}

		plain, err := NewInverter(s.Rated, s.Surge, s.Standby, s.AtRated)
		if err != nil {
			t.Fatal(err)
		}
		var e *qty.RangeError
		s.AtHalf = 1
		if _, err := s.Inverter(); !errors.As(err, &e) || e.What != "atHalf" {
			t.Fatalf("%+v: %v", s, err)
		}
		for _, end := range []float64{e.Min, e.Max} {
			s.AtHalf = qty.Fraction(end)
			edge, err := s.Inverter()
			if err != nil || math.Min(edge.Linear*rated, edge.Quadratic*rated*rated) > 1e-9*rated ||
				math.Abs(float64(edge.Efficiency(s.Rated/2))-end) > 1e-9 || math.Abs(float64(edge.Efficiency(s.Rated)-s.AtRated)) > 1e-9 {
				t.Fatalf("%+v: %+v, %v", s, edge, err)
			}
		}
		if half := float64(plain.Efficiency(s.Rated / 2)); half < e.Min || half > e.Max {
			t.Fatalf("%+v: by halves %g, outside %g to %g", s, half, e.Min, e.Max)
		}
	}
}

func TestGivesIsTheInverseOfDraw(t *testing.T) {
	for _, i := range []Inverter{
		{Standby: 6, Linear: 0.05, Quadratic: 1e-4}, {Standby: 6, Linear: 0.05}, {Quadratic: 1e-3}, {Linear: 1/0.9 - 1}, {},
	} {
		for p := qty.Watt(0); p < 1000; p += 7 {
			if back := i.Gives(i.Draw(p)); math.Abs(float64(back-p)) > 1e-9 {
				t.Errorf("%+v: %g W became %g W", i, p, back)
			}
		}
		if i.Gives(i.Standby/2) != 0 || i.Gives(-5) != 0 || i.Gives(qty.Watt(math.NaN())) != 0 {
			t.Errorf("%+v makes watts of nothing", i)
		}
	}
}

// Figures: electrical.md C56, volt-amperes: the battery pays for watts, and for
// the loss of the current that the volt-amperes make.
func TestDrawVA(t *testing.T) {
	i := Inverter{Rated: 600, Surge: 1200, Standby: 6, Linear: 0.05, Quadratic: 1e-4}
	golden.Near(t, "60 W at 100 VA, W", float64(i.DrawVA(60, 100)), 6+60+5+1, 12)
	if i.DrawVA(60, 60) != i.Draw(60) {
		t.Error("a power factor of 1 is another draw")
	}
	if i.DrawVA(60, 100) <= i.Draw(60) || i.DrawVA(60, 100) >= i.Draw(100) {
		t.Error("60 W at 100 VA are not between 60 W and 100 W")
	}
	i.Sleep, i.Wake = 1, 80
	if i.DrawVA(60, 100) != 1 {
		t.Error("it wakes for volt-amperes")
	}
	i.Wake = 60
	golden.Near(t, "just awake, W", float64(i.DrawVA(60, 100)), 72, 12)
	if (Inverter{}).Efficiency(0) != 0 {
		t.Error("one that loses nothing gives a share of nothing")
	}
}

// Asleep it draws its sleep and gives nothing; from its wake watts on it is the
// same inverter as one that never sleeps.
func TestSleep(t *testing.T) {
	s := InverterSpec{Rated: 300, Surge: 600, Standby: 8, AtRated: 0.88, Wake: 6, Sleep: 0.5}
	i, err := s.Inverter()
	if err != nil {
		t.Fatal(err)
	}
	always, err := NewInverter(300, 600, 8, 0.88)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range []qty.Watt{0, 1, 5.999} {
		if !i.Sleeps(p) || i.Draw(p) != 0.5 || i.Efficiency(p) != 0 {
			t.Errorf("%g W: draws %g W", p, i.Draw(p))
		}
	}
	for p := qty.Watt(6); p <= 300; p++ {
		if i.Sleeps(p) || i.Draw(p) != always.Draw(p) || i.Efficiency(p) != always.Efficiency(p) {
			t.Errorf("%g W: draws %g W, not %g W", p, i.Draw(p), always.Draw(p))
		}
	}
	if always.Sleeps(0) {
		t.Error("one without wake watts sleeps")
	}
	s.Standby, s.Sleep, s.Wake = 0, 0, 10
	if i, err = s.Inverter(); err != nil || i.Best() != 10 {
		t.Errorf("without standby it is best at %g W, %v", i.Best(), err)
	}
}

// Rated for any time; Surge for as long as the label says; more never.
func TestStartsForItsSeconds(t *testing.T) {
	for _, c := range []struct {
		ac              qty.Watt
		lasts, surgeFor float64
		starts          bool
	}{
		{600, 0, 0, true}, {601, 0, 5, false}, {600, 5, 5, true}, {600, 5.01, 5, false}, {600, 0.1, 0, false},
		{300, 60, 0, true}, {301, 60, 0, false}, {qty.Watt(math.NaN()), 0, 5, false}, {500, math.NaN(), 5, false},
	} {
		i := Inverter{Rated: 300, Surge: 600, SurgeSeconds: c.surgeFor}
		if i.Starts(c.ac, c.lasts) != c.starts {
			t.Errorf("%g W for %g s of %g s: not %v", c.ac, c.lasts, c.surgeFor, c.starts)
		}
	}
}

// Figures: electrical.md C57, sag to the inverter's own cut-off.
func TestLowCutOffAgainstElectricalC57(t *testing.T) {
	i := Inverter{Rated: 1000, Surge: 2000, Linear: 1/0.9 - 1, LowCutOff: 10.5, LowReconnect: 12}
	dc := i.HoldsTo(12, 0.020)
	golden.Check(t, "C57.imax = 75 A ± 0.01 %", float64(dc)/10.5)
	golden.Check(t, "C57.pdc = 787.5 W ± 0.01 %", float64(dc))
	golden.Check(t, "C57.pac = 708.75 W ± 0.01 %", float64(i.Gives(dc)))
	if i.HoldsTo(10.4, 0.02) != 0 {
		t.Error("a battery under the cut-off holds it")
	}
	i.LowCutOff = 0
	golden.Near(t, "without a cut-off, W", float64(i.HoldsTo(12, 0.020)), 12*12/(4*0.020), 12)

	// A band: what it did before, it does between the two.
	i.LowCutOff = 10.5
	for _, c := range []struct {
		v         qty.Volt
		ran, runs bool
	}{{13, false, true}, {12, false, true}, {11.99, false, false}, {11.99, true, true}, {10.5, true, true}, {10.49, true, false},
		{qty.Volt(math.NaN()), true, false}, {qty.Volt(math.NaN()), false, false}} {
		if i.Runs(c.v, c.ran) != c.runs {
			t.Errorf("%g V, ran %v: not %v", c.v, c.ran, c.runs)
		}
	}
	if n := (Inverter{}); !n.Runs(9, false) || !n.Runs(0, true) {
		t.Error("one without a cut-off stops")
	}
}

func TestSpecNamesTheFigure(t *testing.T) {
	nan := math.NaN()
	fine := InverterSpec{Rated: 300, Surge: 600, Standby: 8, AtRated: 0.88}
	for _, c := range []struct {
		spoil func(*InverterSpec)
		what  string
	}{
		{func(s *InverterSpec) { s.AtHalf = 0.5 }, "atHalf"},
		{func(s *InverterSpec) { s.AtHalf = 0.95 }, "atHalf"},
		{func(s *InverterSpec) { s.AtHalf = qty.Fraction(nan) }, "atHalf"},
		{func(s *InverterSpec) { s.SurgeSeconds = 61 }, "surgeSeconds"},
		{func(s *InverterSpec) { s.SurgeSeconds = nan }, "surgeSeconds"},
		{func(s *InverterSpec) { s.Wake = 301 }, "wake"},
		{func(s *InverterSpec) { s.Wake = qty.Watt(nan) }, "wake"},
		{func(s *InverterSpec) { s.Wake, s.Sleep = 5, 8.1 }, "sleep"},
		{func(s *InverterSpec) { s.Sleep = -1 }, "sleep"},
		{func(s *InverterSpec) { s.LowCutOff, s.LowReconnect = 8, 12 }, "lowCutOff"},
		{func(s *InverterSpec) { s.LowReconnect = 12 }, "lowCutOff"},
		{func(s *InverterSpec) { s.LowCutOff, s.LowReconnect = qty.Volt(nan), 12 }, "lowCutOff"},
		{func(s *InverterSpec) { s.LowCutOff = 10.5 }, "lowReconnect"},
		{func(s *InverterSpec) { s.LowCutOff, s.LowReconnect = 10.5, 10.5 }, "lowReconnect"},
		{func(s *InverterSpec) { s.LowCutOff, s.LowReconnect = 10.5, 15 }, "lowReconnect"},
	} {
		s := fine
		c.spoil(&s)
		i, err := s.Inverter()
		var r *qty.RangeError
		if !errors.As(err, &r) || r.What != c.what || i != (Inverter{}) {
			t.Errorf("%+v: got %+v, %v", s, i, err)
		}
	}
	for _, c := range []struct {
		spoil    func(*InverterSpec)
		what     string
		min, max float64
	}{
		{func(s *InverterSpec) { s.Rated = 29 }, "rated", 30, 5000},
		{func(s *InverterSpec) { s.Rated = 5001 }, "rated", 30, 5000},
		{func(s *InverterSpec) { s.Surge = 15001 }, "surge", 300, 15000},
		{func(s *InverterSpec) { s.AtRated = 1 }, "atRated", 0.5, 0.99},
		{func(s *InverterSpec) { s.AtRated = 0.49 }, "atRated", 0.5, 0.99},
		{func(s *InverterSpec) { s.SurgeSeconds = -1 }, "surgeSeconds", 0, 60},
		{func(s *InverterSpec) { s.Wake = -1 }, "wake", 0, 300},
		{func(s *InverterSpec) { s.Sleep = 9 }, "sleep", 0, 8},
		{func(s *InverterSpec) { s.LowCutOff, s.LowReconnect = 13.1, 14 }, "lowCutOff", 9, 13},
	} {
		s := fine
		c.spoil(&s)
		_, err := s.Inverter()
		var r *qty.RangeError
		if !errors.As(err, &r) || r.What != c.what || r.Min != c.min || r.Max != c.max {
			t.Errorf("want %s %g to %g, got %v", c.what, c.min, c.max, err)
		}
	}
	for _, s := range []InverterSpec{
		{Rated: 30, Surge: 30, AtRated: 0.5, SurgeSeconds: 60, Wake: 30, LowCutOff: 9, LowReconnect: 14.5},
		{Rated: 5000, Surge: 15000, AtRated: 0.99, LowCutOff: 13, LowReconnect: 13.001},
		{Rated: 300, Surge: 600, Standby: 8, AtRated: 0.88, Wake: 1, Sleep: 8},
	} {
		if _, err := s.Inverter(); err != nil {
			t.Errorf("%+v: %v", s, err)
		}
	}
	s := fine
	s.LowCutOff, s.LowReconnect, s.Wake, s.Sleep, s.SurgeSeconds, s.AtHalf = 10.5, 12.4, 5, 0.4, 3, 0.89
	i, err := s.Inverter()
	if err != nil || i.LowCutOff != 10.5 || i.LowReconnect != 12.4 || i.Wake != 5 || i.Sleep != 0.4 || i.SurgeSeconds != 3 {
		t.Errorf("%+v: %+v, %v", s, i, err)
	}
}
