package panel

import (
	"math"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// Figures: electrical.md C33 and C34, what joining costs.
func TestMismatchLossAgainstElectricalC33AndC34(t *testing.T) {
	full := generic.At(1000, 25)
	a := Array{Parts: []Part{{Curve: full, Count: 1}, {Curve: scaled(36, 0.5).At(1000, 25), Count: 1}}}
	golden.Check(t, "C33.sum = 150.00 W ± 0.02 %", float64(a.Alone()))
	golden.Check(t, "C33.none = 0 W ± 0.001", float64(a.MismatchLoss()))
	a.Joined = EndToEnd
	golden.Check(t, "C33.lost = 41.40 W ± 0.3 %", float64(a.MismatchLoss())) // 150.00 less 108.60

	a = Array{Parts: []Part{{Curve: full, Count: 1}, {Curve: scaled(33, 1).At(1000, 25), Count: 1}}}
	golden.Check(t, "C34.sum = 191.67 W ± 0.02 %", float64(a.Alone()))
	golden.Check(t, "C34.loss = 1.63 % ± 1 %", 100*float64(a.MismatchLoss()/a.Alone()))
	// Neither diodes nor cable are mismatch.
	bare := a.MismatchLoss()
	a.Drop, a.Series = 0.5, 0.2
	if got := a.MismatchLoss(); got != bare {
		t.Errorf("mismatch %g W behind diodes and cable, %g W without", got, bare)
	}
	// The same two as strings of one panel, and as one string.
	a.Joined = Strings
	a.Parts[0].String, a.Parts[1].String = 1, 2
	golden.Near(t, "two strings of one, W", float64(a.MismatchLoss()), float64(bare), 6)
	a.Parts[1].String = 1
	golden.Check(t, "C34.end = 0 W ± 0.001", float64(a.MismatchLoss()))
}

// Figures: electrical.md C35, 0.4 V and 0.7 V at Imp, and a PWM controller's
// battery of 13.3 V behind 0.4 V.
func TestBlockingDiodeAgainstElectricalC35(t *testing.T) {
	c := generic.At(1000, 25)
	v, i := c.MaxPower()
	for drop, check := range map[qty.Volt]string{0.4: "C35.schottky = 2.222 W ± 0.1 %", 0.7: "C35.si = 3.889 W ± 0.1 %"} {
		a := Array{Parts: []Part{{Curve: c, Count: 1}}, Drop: drop}
		at := v - drop
		golden.Check(t, check, float64(qty.Power(v, i)-qty.Power(at, a.Current(at))))
		// The best point moves a little up, and is better than that by a hair.
		bv, bi := a.MaxPower()
		if gain := float64(qty.Power(bv, bi) - qty.Power(at, i)); gain < 0 || gain > 0.02 || bv < at {
			t.Errorf("behind %g V the best is %g V %g A", drop, bv, bi)
		}
	}
	a := Array{Parts: []Part{{Curve: c, Count: 1}}, Drop: 0.4}
	golden.Check(t, "C35.mppt_pct = 2.222 % ± 0.1 %", 100*float64(a.Drop/v))
	golden.Check(t, "C35.pwm_i = 5.8711 A ± 0.02 %", float64(a.Current(13.3)))
	golden.Check(t, "C35.pwm_pct = 0.0543 % ± 2 %", 100*float64(1-a.Current(13.3)/c.Current(13.3)))
}

// Equal panels are answered by one of them: the long way gives the same. No
// outside source.
func TestEqualPanelsAgainstTheLongWay(t *testing.T) {
	c := generic.At(700, 40)
	for name, a := range map[string]Array{
		"side by side":           {Parts: []Part{{Curve: c, Count: 2}, {Curve: c, Count: 1}}},
		"end to end":             {Joined: EndToEnd, Parts: []Part{{Curve: c, Count: 3}}},
		"two strings of three":   {Joined: Strings, Parts: []Part{{Curve: c, Count: 2, String: 4}, {Curve: c, Count: 3, String: 1}, {Curve: c, Count: 1, String: 4}, {Count: 0, String: 7}}},
		"three strings of two":   {Joined: Strings, Parts: []Part{{Curve: c, Count: 2, String: 1}, {Curve: c, Count: 2, String: 2}, {Curve: c, Count: 2, String: 3}}},
		"strings of one":         {Joined: Strings, Parts: []Part{{Curve: c, Count: 1, String: 1}, {Curve: c, Count: 1, String: 2}}},
		"strings of two and one": {Joined: Strings, Parts: []Part{{Curve: c, Count: 2, String: 1}, {Curve: c, Count: 1, String: 2}}},
	} {
		for _, drop := range []qty.Volt{0, 0.35, 30} {
			for _, ohms := range []qty.Ohm{0, 0.05, 3} {
				a.Drop, a.Series = drop, ohms
				long := a.patchy()
				v, i := a.MaxPower()
				lv, li := long.MaxPower()
				if p, lp := float64(qty.Power(v, i)), float64(qty.Power(lv, li)); math.Abs(p-lp) > 1e-9*lp {
					t.Errorf("%s, %g V, %g Ω: %g V %g A, the long way %g V %g A", name, drop, ohms, v, i, lv, li)
				}
				for u := qty.Volt(0); u < 80; u += 3.7 {
					if g, w := float64(a.Current(u)), float64(long.Current(u)); math.Abs(g-w) > 1e-9*6*c.il {
						t.Errorf("%s, %g V, %g Ω: %g A at %g V, the long way %g A", name, drop, ohms, g, u, w)
					}
				}
				if g, w := float64(a.OpenCircuit()), float64(long.OpenCircuit()); math.Abs(g-w) > 1e-9*w {
					t.Errorf("%s: open circuit %g V, the long way %g V", name, g, w)
				}
			}
		}
	}
}

// A dark string gives nothing and takes nothing; a dark panel in a string lets
// the others through its bypass diode.
func TestDarkStringsAndPanels(t *testing.T) {
	c := generic.At(900, 45)
	lone := Array{Joined: EndToEnd, Parts: []Part{{Curve: c, Count: 2}}, Drop: 0.4, Series: 0.1}
	beside := Array{Joined: Strings, Parts: []Part{{Curve: c, Count: 2, String: 1}, {Count: 2, String: 2}}, Drop: 0.4, Series: 0.1}
	for v := qty.Volt(0); v < 40; v += 1.3 {
		if g, w := float64(beside.Current(v)), float64(lone.Current(v)); math.Abs(g-w) > 1e-9 {
			t.Errorf("beside a dark string %g A at %g V, alone %g A", g, v, w)
		}
	}
	through := Array{Joined: Strings, Parts: []Part{{Curve: c, Count: 2, String: 1}, {Count: 1, String: 1}}}
	lone.Drop, lone.Series = 0, 0
	for v := qty.Volt(0); v < 35; v += 1.3 {
		if g, w := float64(through.Current(v)), float64(lone.Current(v-BypassVolts)); math.Abs(g-w) > 1e-9 {
			t.Errorf("with a dark panel in the string %g A at %g V, want %g A", g, v, w)
		}
	}
	for _, j := range []Joining{SideBySide, EndToEnd, Strings} {
		dark := Array{Joined: j, Parts: []Part{{Count: 3, String: 1}, {Count: 1, String: 2}}, Drop: 0.4, Series: 0.1}
		v, i := dark.MaxPower()
		if v != 0 || i != 0 || dark.Current(0) != 0 || dark.Current(13) != 0 || dark.OpenCircuit() != 0 || dark.MismatchLoss() != 0 {
			t.Errorf("joined %d: %g V %g A in the dark", j, v, i)
		}
		none := Array{Joined: j, Drop: 0.4, Series: 0.1}
		if v, i := none.MaxPower(); v != 0 || i != 0 || none.Current(0) != 0 || none.OpenCircuit() != 0 {
			t.Errorf("joined %d: no panels give %g V %g A", j, v, i)
		}
	}
}

// Forty panels, in any joining: what one gives forty times, less what the one
// cable takes.
func TestFortyPanels(t *testing.T) {
	c := generic.At(1000, 25)
	v1, i1 := c.MaxPower()
	for _, a := range []Array{
		{Parts: []Part{{Curve: c, Count: 40}}},
		{Joined: EndToEnd, Parts: []Part{{Curve: c, Count: 40}}},
		{Joined: Strings, Parts: []Part{{Curve: c, Count: 20, String: 1}, {Curve: c, Count: 20, String: 16}}},
	} {
		v, i := a.MaxPower()
		if p := float64(qty.Power(v, i)) / 40; math.Abs(p/float64(qty.Power(v1, i1))-1) > 1e-9 {
			t.Errorf("joined %d: %g W a panel", a.Joined, p)
		}
		a.Series = 0.01
		v, i = a.MaxPower()
		if p := float64(qty.Power(v, i)); !(p > 0 && p < 40*float64(qty.Power(v1, i1))) || math.IsNaN(p) {
			t.Errorf("joined %d behind a cable: %g W", a.Joined, p)
		}
	}
	// Forty kinds, no two alike, and a cable.
	for _, j := range []Joining{SideBySide, EndToEnd, Strings} {
		a := Array{Joined: j, Series: 0.02, Drop: 0.3}
		for k := range 40 {
			a.Parts = append(a.Parts, Part{Curve: generic.At(qty.Irradiance(300+20*k), qty.Celsius(20+k)), Count: 1, String: k % 16})
		}
		v, i := a.MaxPower()
		if p, alone := qty.Power(v, i), a.Alone(); !(p > 0 && p < alone) {
			t.Errorf("joined %d: forty kinds give %g W of %g W", j, p, alone)
		}
		if got := float64(a.Current(v) / i); math.Abs(got-1) > 1e-7 {
			t.Errorf("joined %d: %g of the peak's amps at its volts", j, got)
		}
	}
}

// The same panels joined in another way are answered anew.
func TestJoinedAnewIsAskedAnew(t *testing.T) {
	lit, dark := generic.At(900, 45), generic.At(90, 30)
	parts := []Patch{{Lit: lit, Dark: dark, Share: 0.4, Cells: 36, Count: 2, String: 1}, {Lit: lit, Cells: 36, Count: 1, String: 2}}
	one := Patchy{Parts: parts}
	a := Array{Series: 0.1, Parts: []Part{{Curve: lit, Count: 2, String: 1}, {Curve: dark, Count: 1, String: 2}}}
	for _, j := range []Joining{Strings, SideBySide, EndToEnd, Strings} {
		one.Joined, a.Joined = j, j
		fresh, freshArray := Patchy{Joined: j, Parts: parts}, Array{Joined: j, Series: 0.1, Parts: a.Parts}
		for _, v := range []qty.Volt{3, 13, 30} {
			if g, w := one.Current(v), fresh.Current(v); g != w {
				t.Errorf("joined %d: %g A at %g V, a fresh one %g A", j, g, v, w)
			}
			if g, w := a.Current(v), freshArray.Current(v); g != w {
				t.Errorf("joined %d: array of %g A at %g V, a fresh one %g A", j, g, v, w)
			}
		}
		// What joining costs: the panels one by one, less the joined ones.
		v, i := fresh.MaxPower()
		half := Patchy{Parts: parts[:1]}
		hv, hi := half.MaxPower()
		lv, li := lit.MaxPower()
		if got, want := float64(one.MismatchLoss()), float64(qty.Power(hv, hi)+qty.Power(lv, li)-qty.Power(v, i)); math.Abs(got-want) > 1e-9 {
			t.Errorf("joined %d: joining costs %g W, want %g W", j, got, want)
		}
	}
}

// Copies of an Array that are changed and asked in turn do not answer for each
// other.
func TestCopiesAnswerForThemselves(t *testing.T) {
	a := Array{Series: 0.1, Parts: []Part{{Curve: generic.At(900, 45), Count: 2, String: 1}, {Curve: generic.At(300, 30), Count: 1, String: 2}}}
	a.MaxPower()
	for _, j := range []Joining{EndToEnd, Strings, SideBySide} {
		b := a
		b.Joined = j
		more := append(b.Parts[:2:2], Part{Curve: generic.At(500, 20), Count: 3, String: 1})
		for k, parts := range [][]Part{a.Parts, more, a.Parts[1:]} {
			b.Parts = parts
			fresh := Array{Joined: j, Series: 0.1, Parts: parts}
			old := Array{Series: 0.1, Parts: a.Parts}
			for range 2 {
				if g, w := b.Current(12), fresh.Current(12); g != w {
					t.Errorf("joined %d, parts %d: the copy gives %g A, want %g A", j, k, g, w)
				}
				if g, w := a.Current(12), old.Current(12); g != w {
					t.Errorf("joined %d, parts %d: the first gives %g A, want %g A", j, k, g, w)
				}
			}
		}
	}
}

// A thicker cable or a better diode never gives less.
func TestLessInTheWayNeverGivesLess(t *testing.T) {
	for _, j := range []Joining{SideBySide, EndToEnd, Strings} {
		a := Array{Joined: j, Parts: []Part{
			{Curve: generic.At(900, 50), Count: 2, String: 1}, {Curve: genericFilm.At(500, 40), Count: 1, String: 1}, {Curve: scaled(60, 0.7).At(800, 50), Count: 2, String: 2},
		}}
		last, lastA := math.Inf(1), math.Inf(1)
		for k := range 60 {
			a.Series = qty.Ohm(k*k) * 0.003
			v, i := a.MaxPower()
			p, at := float64(qty.Power(v, i)), float64(a.Current(13))
			if p > last*(1+1e-9) || at > lastA*(1+1e-9) {
				t.Errorf("joined %d, %g Ω: %g W after %g W, %g A after %g A", j, a.Series, p, last, at, lastA)
			}
			last, lastA = p, at
		}
		a.Series, last = 0.1, math.Inf(1)
		for a.Drop = 0; a.Drop < 60; a.Drop += 0.5 {
			v, i := a.MaxPower()
			if p := float64(qty.Power(v, i)); p > last*(1+1e-9) {
				t.Errorf("joined %d behind %g V: %g W after %g W", j, a.Drop, p, last)
			} else {
				last = p
			}
		}
		if j == SideBySide && last != 0 {
			t.Errorf("side by side behind 59.5 V: %g W", last)
		}
	}
}

// No number, no light, no sense: an answer all the same, and never an endless
// loop.
func TestNoNumbersEndAllTheSame(t *testing.T) {
	nan := qty.Volt(math.NaN())
	c := generic.At(900, 45)
	for _, bad := range []Curve{generic.At(qty.Irradiance(math.NaN()), 25), generic.At(900, qty.Celsius(math.NaN())), generic.At(0, 25), {}} {
		if bad.lit() {
			t.Errorf("%+v carries current", bad)
		}
	}
	for _, j := range []Joining{SideBySide, EndToEnd, Strings} {
		for _, series := range []qty.Ohm{0, 0.1} {
			a := Array{Joined: j, Series: series, Parts: []Part{{Curve: c, Count: 1, String: 1}, {Curve: generic.At(300, 45), Count: 1, String: 2}}}
			if i := a.Current(nan); i != 0 {
				t.Errorf("joined %d: %g A at no number of volts", j, i)
			}
		}
	}
}

func TestFurtherJoiningsSolveWithoutAllocating(t *testing.T) {
	a := Array{Drop: 0.35, Series: 0.1, Parts: []Part{{Curve: generic.At(900, 40), Count: 2, String: 1}, {Curve: generic.At(500, 30), Count: 1, String: 2}}}
	for _, a.Joined = range []Joining{SideBySide, EndToEnd, Strings} {
		a.MaxPower()
		if n := testing.AllocsPerRun(50, func() {
			a.Parts[0].Curve = generic.At(800, 41)
			a.Current(13)
			a.MaxPower()
		}); n != 0 {
			t.Errorf("joined %d: %g allocations a step", a.Joined, n)
		}
	}
}

func BenchmarkFurtherJoinings(b *testing.B) {
	one, other := generic.At(900, 45), generic.At(500, 35)
	for _, c := range []struct {
		name string
		Array
	}{
		{"alike/cable", Array{Series: 0.1, Drop: 0.35, Parts: []Part{{Curve: one, Count: 2}}}},
		{"alike/strings", Array{Joined: Strings, Parts: []Part{{Curve: one, Count: 2, String: 1}, {Curve: one, Count: 2, String: 2}}}},
		{"unequal/side_by_side/cable", Array{Series: 0.1, Drop: 0.35, Parts: []Part{{Curve: one, Count: 1}, {Curve: other, Count: 1}}}},
		{"unequal/end_to_end/cable", Array{Joined: EndToEnd, Series: 0.1, Drop: 0.35, Parts: []Part{{Curve: one, Count: 1}, {Curve: other, Count: 1}}}},
		{"unequal/strings/cable", Array{Joined: Strings, Series: 0.1, Drop: 0.35, Parts: []Part{{Curve: one, Count: 2, String: 1}, {Curve: other, Count: 2, String: 2}}}},
	} {
		for k, ask := range map[string]func(*Array, int){
			"ask=amps": func(a *Array, n int) { a.Current(battery(n)) },
			"ask=peak": func(a *Array, _ int) { a.MaxPower() },
		} {
			b.Run(c.name+"/"+k, func(b *testing.B) {
				b.ReportAllocs()
				n := 0
				for b.Loop() {
					n++
					c.Parts[0].Curve.il = one.il * (1 - 1e-3*float64(n&1)) // no step is like the one before
					c.Parts[0].Curve.voc, _, _ = c.Parts[0].Curve.diode(0)
					if len(c.Parts) > 1 && c.name[0] == 'a' {
						c.Parts[1].Curve = c.Parts[0].Curve
					}
					ask(&c.Array, n)
				}
			})
		}
	}
}

// In starlight the diode of a hot panel leaks more than the light makes. The
// volts at any current solve the equation there, too, and a group of cells with
// a patch of shade on it has its amps.
func TestHotPanelsInStarlight(t *testing.T) {
	for sun := qty.Irradiance(2e-6); sun < 10; sun *= 3 {
		for _, cell := range []qty.Celsius{-40, 25, 60, 90, 120} {
			c := generic.At(sun, cell)
			for _, share := range []float64{-1, 0.3, 0.99, 1, 1.01, 1.5} {
				for _, more := range []float64{0, 0.3, 0.999} {
					i := share*c.il + more*c.io
					x := float64(c.Volts(qty.Ampere(i))) + c.rs*i
					// What the equation leaves, of its largest term.
					rest := c.il - c.io*math.Expm1(x/c.a) - x*c.g - i
					if size := c.il + c.io + math.Abs(x)*c.g; !(math.Abs(rest) < 1e-9*size) {
						t.Errorf("%g W/m², %g °C: %g V at %g A of %g A leave %g A", sun, cell, x, i, c.il, rest)
					}
				}
			}
			p := Patchy{Joined: EndToEnd, Series: 0.1, Parts: []Patch{{Lit: c, Dark: generic.At(sun*0.8, 10), Share: 0.3, Cells: 24, Count: 1}, {Lit: generic.At(500, 30), Cells: 36, Count: 1}}}
			for _, p.Joined = range []Joining{SideBySide, EndToEnd, Strings} {
				v, i := p.MaxPower()
				if w := float64(qty.Power(v, i)); math.IsNaN(w) || w < 0 || math.IsNaN(float64(p.Current(5))) {
					t.Errorf("%g W/m², %g °C, joined %d: %g W", sun, cell, p.Joined, w)
				}
			}
		}
	}
}
