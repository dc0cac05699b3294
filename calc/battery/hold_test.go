package battery

import (
	"fmt"
	"math"
	"testing"

	"duskline/calc/qty"
)

// Held at other volts, a battery is the one made for them, to the last bit.
func TestHoldAtIsTheBatteryMadeForIt(t *testing.T) {
	for _, c := range []Chemistry{LiFePO4, AGM, line(12.9, 14.9)} {
		base := must(t, spec(c))
		for _, v := range []qty.Volt{13.3, 13.5, 13.8, 14.1, 14.7, 15} {
			s := spec(c)
			s.Charge = v
			made := must(t, s)
			held := base.HoldAt(v)
			for _, amps := range []float64{-20, -1, 0.2, 3, 30} {
				for charge := qty.Fraction(0); charge <= 1; charge += 0.05 {
					bus := &draw{amps, 8}
					if got, want := held.step(charge, 5, 300, bus), made.step(charge, 5, 300, bus); got != want {
						t.Fatalf("%s held at %g V, charge %.2f, %g A: %+v, want %+v", c.Name, v, charge, amps, got, want)
					}
				}
			}
		}
		if base.Spec().Charge != 14.4 || base.top != 14.4 {
			t.Errorf("%s: the battery itself is held at %g V now", c.Name, base.top)
		}
	}
}

// Closed form: a straight line of 0.02 V/Ah behind 50 mΩ, held at 14.4 V until
// half a time constant is over and then at 13.9 V. The missing charge falls
// with R·C = 0.05/0.02 h = 2.5 h towards where each of the two rests; a battery
// that rests above takes nothing.
func TestHoldAtAgainstTwoTails(t *testing.T) {
	s := spec(line(12.9, 14.9))
	s.Capacity, s.Resistance = 100, 0.05
	high := must(t, s)
	low := high.HoldAt(13.9)
	at := func(v float64) float64 { return (v - 12.9) / 2 } // the charge that rests at v
	bus := &draw{1000, 0}
	charge := qty.Fraction(at(13.6))
	run := func(b *Battery, hours float64) (st Step) {
		for range 100 {
			st = b.step(charge, warm, hours*36, bus)
			charge = st.State.Charge
		}
		return st
	}
	tail := func(from, to, hours float64) float64 { return to + (from-to)*math.Exp(-hours/2.5) }
	near := func(what string, got, want float64) {
		if math.Abs(got-want) > 1e-5 {
			t.Errorf("%s: %.6f, want %.6f", what, got, want)
		}
	}
	run(&low, 1.25)
	first := tail(at(13.6), at(13.9), 1.25)
	near("charge after 1.25 h at 13.9 V", float64(charge), first)
	run(high, 1.25)
	second := tail(first, at(14.4), 1.25)
	near("charge after 1.25 h more at 14.4 V", float64(charge), second)
	if st := run(&low, 1.25); st.Amps != 0 || !st.Held || float64(charge) != float64(st.State.Charge) || math.Abs(float64(charge)-second) > 1e-5 {
		t.Errorf("resting at %.3f V and held at 13.9 V: %+v", high.Rest(charge), st)
	}
}

func TestHoldAtAllocatesNothing(t *testing.T) {
	b := must(t, spec(AGM))
	var held Battery
	v := qty.Volt(14)
	if n := testing.AllocsPerRun(100, func() { held = b.HoldAt(v); v += 0.001 }); n != 0 {
		t.Errorf("%g allocations", n)
	}
	if held.top < 14 {
		t.Error("not held")
	}
}

func ExampleBattery_HoldAt() {
	b, err := New(Spec{Chemistry: plain(AGM), Capacity: 100, Resistance: 0.008, Charge: 14.4, Alarm: 11.8, CutOff: 10.8, Reconnect: 12.6})
	if err != nil {
		panic(err)
	}
	float := b.HoldAt(13.6)
	panels := &draw{5, 0}
	fmt.Printf("%.1f V, then %.1f V\n", b.step(0.97, 25, 600, panels).Volts, float.step(0.97, 25, 600, panels).Volts)
	// Output: 14.4 V, then 13.6 V
}
