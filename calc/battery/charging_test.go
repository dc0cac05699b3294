package battery

import (
	"math"
	"testing"

	"duskline/calc/qty"
)

// The volts at the end of a step that charges are those of the instant after
// it: amps and all that goes by the charge reached.
func TestEndVoltsOfAChargeAreThoseOfTheInstantAfter(t *testing.T) {
	for _, c := range Named() {
		b := must(t, marks(c))
		for _, amps := range []float64{0.5, 4} {
			for _, charge := range []qty.Fraction{0.3, 0.6, 0.78} {
				bus := &draw{amps, 0}
				st := b.Step(b.Rested(charge, warm), Around{Air: warm}, 900, bus)
				if got := b.Volts(st.State, bus); st.Held || math.Abs(float64(got-st.EndVolts)) > 1e-9 {
					t.Errorf("%s, %g A from %g: ends at %.6f V, then %.6f, held %v", c.Name, amps, charge, st.EndVolts, got, st.Held)
				}
			}
		}
	}
}

// An own table that is AGM's, of one cell that stands for six, charges at AGM's
// volts.
func TestOwnLeadAcidIsLiftedAsAGM(t *testing.T) {
	o := Own{Coulombic: 0.9, AcceptHours: 1, CyclesTo80: 400}
	for _, p := range AGM.Rest {
		if k := len(o.Rest); k == 0 || p.Charge-o.Rest[k-1].Charge >= 0.005 {
			o.Rest = append(o.Rest, Point{p.Charge, 6 * p.Volts})
		}
	}
	own, err := OwnTable(o)
	if err != nil {
		t.Fatal(err)
	}
	s := marks(AGM)
	a := must(t, s)
	s.Chemistry = own
	b := must(t, s)
	for _, charge := range []qty.Fraction{0.1, 0.5, 0.8} {
		bus := &draw{4, 0}
		if x, y := a.Volts(a.Rested(charge, warm), bus), b.Volts(b.Rested(charge, warm), bus); math.Abs(float64(x-y)) > 1e-6 {
			t.Errorf("at %g: AGM %.4f V, its table %.4f", charge, x, y)
		}
	}
	o.Lithium = true
	if own, err = OwnTable(o); err != nil || len(own.Lift) != 0 {
		t.Errorf("a lithium table is lifted: %v %v", own.Lift, err)
	}
}

// Lead-acid takes what it misses of all that it holds, an hour: at an instant,
// and over an hour the mean of what falls with it. Woodbridge1935.
func TestLeadAcidTakesWhatItMisses(t *testing.T) {
	for _, c := range []Chemistry{AGM, Gel, Flooded} {
		s := marks(c)
		s.Charge = 17
		s.Chemistry.Lift = nil
		b := must(t, s)
		st := b.Step(b.Rested(0.9, warm), Around{Air: warm}, 1, &draw{100, 0})
		if want := float64(b.Holds()) * 0.1; !st.Held || math.Abs(float64(st.Amps)/want-1) > 1e-3 {
			t.Errorf("%s takes %.3f A, misses %.3f A·h", c.Name, st.Amps, want)
		}
	}
}

// The sun warms a battery in the course of a step, and its resistance counts
// as warm as it is then on the mean.
func TestSunCountsInTheMeanOfAStep(t *testing.T) {
	for _, c := range []Chemistry{LiFePO4, AGM} {
		s := marks(c)
		s.HeatCapacity, s.Cooling = 2000, 1
		b := must(t, s)
		around, bus := Around{Air: -20, Sun: 40}, &draw{-8, 0}
		from := b.Rested(0.7, -20)
		long := b.Step(from, around, 1800, bus)
		mean, st := 0.0, from
		for range 180 {
			r := b.Step(st, around, 10, bus)
			mean, st = mean+float64(r.Volts)/180, r.State
		}
		if math.Abs(float64(st.Core-long.State.Core)) > 1 || st.Core < -5 {
			t.Errorf("%s: %.2f °C, in short steps %.2f", c.Name, long.State.Core, st.Core)
		}
		if d := float64(long.Volts) - mean; math.Abs(d) > 0.03 {
			t.Errorf("%s: mean %.4f V, in short steps %.4f", c.Name, long.Volts, mean)
		}
	}
}

// decays against the exponential, where each of its forms ends and between.
func TestDecaysAgainstTheExponential(t *testing.T) {
	for x := 1e-6; x < 800; x *= 1.003 {
		end, mean := decays(x)
		if want := math.Exp(-x); math.Abs(end-want) > 2e-8 {
			t.Fatalf("%g: %g left, want %g", x, end, want)
		}
		if want := -math.Expm1(-x) / x; math.Abs(mean/want-1) > 2e-8 {
			t.Fatalf("%g: mean %g, want %g", x, mean, want)
		}
		if x > soon && x < long {
			if want := math.Exp(-x); math.Abs(end-want) > 1e-9 {
				t.Fatalf("%g: %g left, want %g", x, end, want)
			}
		}
	}
}

// What splitting water takes up, 285.83 kJ/mol, over two electrons a molecule.
func TestThermoneutralAgainstTheEnthalpyOfWater(t *testing.T) {
	if want := 285.83e3 / (2 * 96485.33212); math.Abs(thermoneutral-want) > 0.001 {
		t.Errorf("%g V, want %.4f", thermoneutral, want)
	}
}

// Common practice, no source: what such batteries weigh in kg for each A·h, the
// heat of a kilogram in J/K, and what they lose in a month at 20 °C.
func TestHeatAndStandingAgainstPractice(t *testing.T) {
	for _, c := range []struct {
		chemistry Chemistry
		kg, heat  float64
		month     qty.Fraction
	}{{LiFePO4, 0.1, 1000, 0.02}, {NMC, 0.065, 1000, 0.02}, {AGM, 0.3, 800, 0.03}, {Gel, 0.31, 800, 0.02}, {Flooded, 0.27, 1050, 0.06}} {
		if got, want := c.chemistry.HeatPerAmpHour, c.kg*c.heat; math.Abs(got/want-1) > 0.1 {
			t.Errorf("%s: %g J/K for each A·h, practice %.0f", c.chemistry.Name, got, want)
		}
		if got := c.chemistry.SelfDischarge; math.Abs(float64(got/c.month)-1) > 0.25 {
			t.Errorf("%s loses %g a month, practice %g", c.chemistry.Name, got, c.month)
		}
	}
}
