package panel

import (
	"math"
	"testing"

	"duskline/calc/qty"
)

// Panels of any light and heat in any joining: an answer that is a number, not
// below 0, that the curve at the peak's volts agrees with, and no more than the
// panels have alone.
func FuzzJoined(f *testing.F) {
	f.Add(900.0, 45.0, 300.0, 20.0, 0.3, 0.4, 0.1, uint8(2), uint8(3), uint8(36))
	f.Add(1e-5, 120.0, 1e-6, -60.0, 0.18, 0.0, 1e-6, uint8(1), uint8(6), uint8(24))
	f.Add(1500.0, 90.0, 0.0, 25.0, 1.0, 2.0, 100.0, uint8(0), uint8(40), uint8(72))
	// Found by fuzzing: most of the volts lost in the cable; a knee as sharp as a
	// patch of a hundredth of a cell makes it.
	f.Add(111.3, -1.13, 3.7, 66.25, 0.5, 4.0, 209.5, uint8(6), uint8(164), uint8(89))
	f.Add(10.000020000000006, -20.0, 1e-6, -43.0, 0.0028125, 15.0, 23.000001, uint8(33), uint8(7), uint8(172))
	f.Fuzz(func(t *testing.T, sun, cell, other, warm, share, drop, ohms float64, joined, count, cells uint8) {
		for _, x := range []struct{ got, min, max float64 }{
			{sun, 0, 1500}, {other, 0, 1500}, {cell, -60, 120}, {warm, -60, 120}, {share, 0, 1}, {drop, 0, 60}, {ohms, 0, 1000},
		} {
			if !(x.got >= x.min && x.got <= x.max) {
				t.Skip()
			}
		}
		lit, weak := generic.At(qty.Irradiance(sun), qty.Celsius(cell)), genericFilm.At(qty.Irradiance(other), qty.Celsius(warm))
		dark := generic.At(qty.Irradiance(sun*0.2), qty.Celsius(min(cell, 25)))
		j, n := Joining(joined%3), int(count%41)
		a := Array{Joined: j, Drop: qty.Volt(drop), Series: qty.Ohm(ohms), Parts: []Part{{Curve: lit, Count: n, String: 1}, {Curve: weak, Count: 2, String: 1 + n%2}}}
		p := Patchy{Joined: j, Drop: qty.Volt(drop), Series: qty.Ohm(ohms), Parts: []Patch{
			{Lit: lit, Dark: dark, Share: share, Cells: int(cells), Count: n, String: 1}, {Lit: weak, Cells: 38, Count: 2, String: 1 + n%2},
		}}
		for name, c := range map[string]joinedCurve{"array": &a, "patchy": &p} {
			v, i := c.MaxPower()
			w := float64(qty.Power(v, i))
			alone := float64(a.Alone()) + max(0, float64(p.Alone())) // the shaded cells are cooler than the lit ones: a bound for both
			if !(w >= 0 && w <= alone*(1+1e-9)) || math.IsInf(w, 0) {
				t.Fatalf("%s: %g V, %g A of panels that have %g W alone", name, v, i, alone)
			}
			if w > 1e-3 && math.Abs(float64(c.Current(v)/i)-1) > 1e-6 {
				t.Fatalf("%s: %g A at the peak's %g V, %g A at the peak", name, c.Current(v), v, i)
			}
			last := math.Inf(1)
			for _, u := range []qty.Volt{0, 5, 12, 13.3, 30, 400, 4000} {
				got := float64(c.Current(u))
				if !(got >= 0 && got <= last*(1+1e-9)+1e-12) {
					t.Fatalf("%s: %g A at %g V after %g A", name, got, u, last)
				}
				last = got
			}
		}
	})
}
