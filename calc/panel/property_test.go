package panel

import (
	"math"
	"math/rand/v2"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// anyModule draws a panel of any size within what Check allows and shops sell.
func anyModule(r *rand.Rand) Module {
	between := func(lo, hi float64) float64 { return math.Exp(math.Log(lo) + (math.Log(hi)-math.Log(lo))*r.Float64()) }
	il := between(0.05, 30)
	voc := between(2, 100)
	a := voc / between(12, 40)
	return Module{
		Light: qty.Ampere(il), Slope: qty.Volt(a), Cells: 1,
		Saturation: qty.Ampere(il / math.Expm1(voc/a)),
		Series:     qty.Ohm(max(leastSeries, voc/il*between(1e-5, 0.5))),
		Shunt:      qty.Ohm(voc / il * between(1.5, 1e5)),
		AlphaIsc:   il * (r.Float64()*0.004 - 0.001),
	}
}

// anyState draws light from starlight to snow glare, and heat.
func anyState(r *rand.Rand) (qty.Irradiance, qty.Celsius) {
	return qty.Irradiance(math.Pow(10, r.Float64()*9.1-6)), qty.Celsius(r.Float64()*180 - 60)
}

// bisected is the current at v straight from the single-diode equation, by
// halving: slow, and with nothing in common with Curve.amps.
func bisected(c *Curve, v float64) float64 {
	f := func(i float64) float64 {
		x := v + i*c.rs
		return c.il - c.io*math.Expm1(x/c.a) - x*c.g - i
	}
	lo, hi := -math.Abs(v)/c.rs-c.il-1, c.il*2+c.io+math.Abs(v)*c.g+1
	for range 200 {
		if m := (lo + hi) / 2; f(m) > 0 {
			lo = m
		} else {
			hi = m
		}
	}
	return (lo + hi) / 2
}

// Against the equation itself, by halving; no outside source.
func TestCurveSolvesItsEquationEverywhere(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	amps := golden.Worst{What: "current at any volts, share of light and shunt current", Limit: 1e-10}
	peak := golden.Worst{What: "what lies higher than the peak beside it, share", Limit: 1e-12}
	for n := range 4000 {
		m := anyModule(r)
		if err := m.Check(); err != nil {
			t.Fatal(err)
		}
		sun, cell := anyState(r)
		c := m.At(sun, cell)
		if !c.lit() {
			t.Fatalf("%+v is dark in %g W/m²", m, sun)
		}
		voc := float64(c.OpenCircuit())
		for _, v := range []float64{-0.5, 0, voc * r.Float64(), voc, voc * 1.01, 13.3, 400 * r.Float64()} {
			got := float64(c.Current(qty.Volt(v)))
			// The equation's terms are known to a few times 1e-16 of the
			// largest; volts over the series resistance bound that.
			scale := c.il + c.io + math.Abs(got) + math.Abs(v)*c.g
			amps.Add(n, (got-bisected(&c, v))/scale)
		}
		v, i := c.MaxPower()
		p := float64(qty.Power(v, i))
		if !(v > 0 && float64(v) < voc && i > 0 && i < c.ShortCircuit()) {
			t.Fatalf("%+v in %g W/m² peaks at %g V, %g A", m, sun, v, i)
		}
		for _, k := range []float64{0.3, 0.9, 0.99, 0.999, 1.001, 1.01, 1.1, 2} {
			u := v * qty.Volt(k)
			peak.Add(n, max(0, float64(qty.Power(u, c.Current(u)))/p-1))
		}
	}
	amps.Report(t)
	peak.Report(t)
}

func TestMoreSunNeverGivesLess(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		m := anyModule(r)
		_, cell := anyState(r)
		last := m.At(0, cell)
		for sun := 0.5; sun <= 1500; sun *= 1.3 {
			c := m.At(qty.Irradiance(sun), cell)
			v := last.voc * 0.8
			if was, is := last.Current(qty.Volt(v)), c.Current(qty.Volt(v)); is < was {
				t.Fatalf("%+v: %g A at %g W/m², %g A in less light", m, is, sun, was)
			}
			pv, pi := c.MaxPower()
			lv, li := last.MaxPower()
			if pv*qty.Volt(pi) <= lv*qty.Volt(li) {
				t.Fatalf("%+v: peak falls to %g V, %g A at %g W/m²", m, pv, pi, sun)
			}
			last = c
		}
	}
}

// swept is the best power of a fine sweep of the array's own current, for end
// to end over volts, for side by side likewise.
func swept(a *Array, n int) (best, at float64) {
	top := float64(a.OpenCircuit())
	for k := 1; k < n; k++ {
		v := top * float64(k) / float64(n)
		if p := v * float64(a.Current(qty.Volt(v))); p > best {
			best, at = p, v
		}
	}
	return best, at
}

// The highest of all peaks, against a sweep of the same curve; and the current
// of the string, against volts added panel by panel. No outside source.
func TestArrayFindsTheHighestPeak(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	missed := golden.Worst{What: "what a sweep found above MaxPower, share", Limit: 1e-10}
	short := golden.Worst{What: "what a sweep fell short of MaxPower, share", Limit: 2e-3}
	closes := golden.Worst{What: "volts of the string, share", Limit: 1e-9}
	point := golden.Worst{What: "current at the peak's volts, share", Limit: 1e-7}
	kinds := 0
	for n := range 400 {
		a := Array{Joined: Joining(n % 2), Unblocked: n%4 < 2}
		small := 10 + 40*r.Float64()
		for range 1 + r.IntN(5) {
			m := anyModule(r)
			k := qty.Volt(small/float64(m.At(1000, 25).OpenCircuit())) * qty.Volt(0.7+0.6*r.Float64())
			m.Slope *= k
			m.Series, m.Shunt = m.Series*qty.Ohm(k), m.Shunt*qty.Ohm(k)
			if m.Series > m.Shunt/30 {
				m.Series = m.Shunt / 30
			}
			sun := 1200 * r.Float64()
			if r.IntN(8) == 0 {
				sun = 0
			}
			a.Parts = append(a.Parts, Part{Curve: m.At(qty.Irradiance(sun), qty.Celsius(r.Float64()*80-10)), Count: r.IntN(4)})
		}
		v, i := a.MaxPower()
		p := float64(qty.Power(v, i))
		best, at := swept(&a, 1500)
		if best == 0 && p == 0 {
			continue
		}
		kinds++
		missed.Add(n, max(0, best/p-1))
		short.Add(n, max(0, 1-best/p))
		point.Add(n, float64(a.Current(v)/i)-1)
		if best/p-1 > 1e-10 || best/p < 0.998 {
			t.Errorf("array %d: %g W at %g V, sweep %g W at %g V of %g", n, p, v, best, at, a.OpenCircuit())
		}
		if a.Joined == EndToEnd {
			for _, u := range []float64{0, 0.2, 0.5, 0.9} {
				u *= float64(a.OpenCircuit())
				i := a.Current(qty.Volt(u))
				if i <= 0 {
					continue
				}
				sum, lit := 0.0, 0.0
				for _, p := range a.Parts {
					if p.Curve.lit() {
						sum += float64(p.Count) * max(float64(p.Curve.Volts(i)), bypass)
						lit += float64(p.Count) * p.Curve.voc
					} else {
						sum += float64(p.Count) * bypass
					}
				}
				closes.Add(n, (sum-u)/lit)
			}
		}
	}
	if kinds < 300 {
		t.Errorf("only %d arrays were lit", kinds)
	}
	missed.Report(t)
	short.Report(t)
	closes.Report(t)
	point.Report(t)
}

func TestDarkGivesNothing(t *testing.T) {
	m, err := FromWatts(50, Crystalline)
	if err != nil {
		t.Fatal(err)
	}
	for _, sun := range []qty.Irradiance{0, -5, 1e-9, qty.Irradiance(math.NaN())} {
		c := m.At(sun, 15)
		v, i := c.MaxPower()
		if v != 0 || i != 0 || c.OpenCircuit() != 0 || c.ShortCircuit() != 0 || c.Current(12.8) != 0 || c.Volts(1) != 0 {
			t.Errorf("in %g W/m²: peak %g V %g A, open %g V", sun, v, i, c.OpenCircuit())
		}
	}
	if c := (Module{}).At(1000, 25); c != (Curve{}) {
		t.Errorf("the zero Module gives %+v", c)
	}
	for _, a := range []Array{
		{}, {Joined: EndToEnd},
		{Parts: []Part{{Curve: m.At(900, 25), Count: 0}}},
		{Parts: []Part{{Curve: Curve{}, Count: 2}, {Curve: m.At(0, 9), Count: 1}}},
		{Joined: EndToEnd, Parts: []Part{{Curve: m.At(900, 25), Count: -1}, {Curve: Curve{}, Count: 2}}},
	} {
		v, i := a.MaxPower()
		if v != 0 || i != 0 || a.Current(12.8) != 0 || a.ShortCircuit() != 0 || a.OpenCircuit() != 0 {
			t.Errorf("%+v: peak %g V %g A, %g A at 12.8 V", a, v, i, a.Current(12.8))
		}
	}
}

// Blocking diodes: never negative above the open circuit, and negative there
// without them.
func TestArrayBlocks(t *testing.T) {
	m, err := FromWatts(100, Crystalline)
	if err != nil {
		t.Fatal(err)
	}
	a, b := m.At(900, 25), m.At(200, 60)
	for _, parts := range [][]Part{{{Curve: a, Count: 1}}, {{Curve: a, Count: 2}}, {{Curve: a, Count: 1}, {Curve: b, Count: 1}}, {{Curve: a, Count: 1}, {Curve: b, Count: 2}, {Curve: a, Count: 3}}} {
		for _, j := range []Joining{SideBySide, EndToEnd} {
			ar := Array{Joined: j, Parts: parts}
			last := ar.ShortCircuit()
			for u := qty.Volt(0); u < ar.OpenCircuit()*1.3; u += 0.1 {
				i := ar.Current(u)
				if i < 0 || i > last {
					t.Fatalf("%d parts joined %d: %g A at %g V after %g A", len(parts), j, i, u, last)
				}
				last = i
			}
			if last != 0 {
				t.Errorf("%d parts joined %d: %g A above the open circuit", len(parts), j, last)
			}
			ar.Unblocked = true
			if i := ar.Current(ar.OpenCircuit() * 1.1); !(i < 0) {
				t.Errorf("%d parts joined %d, unblocked: %g A above the open circuit", len(parts), j, i)
			}
		}
	}
}

func TestArraySolvesWithoutAllocating(t *testing.T) {
	m, err := FromWatts(100, Crystalline)
	if err != nil {
		t.Fatal(err)
	}
	a := Array{Parts: []Part{{Curve: m.At(900, 40), Count: 2}, {Curve: m.At(500, 30), Count: 1}}}
	for _, a.Joined = range []Joining{SideBySide, EndToEnd} {
		if n := testing.AllocsPerRun(50, func() {
			a.Parts[0].Curve = m.At(800, 41)
			a.Current(13)
			a.MaxPower()
		}); n != 0 {
			t.Errorf("joined %d: %g allocations a step", a.Joined, n)
		}
	}
}

func TestFromWattsRefuses(t *testing.T) {
	for _, w := range []qty.Watt{0, 0.99, 1000.1, -5, qty.Watt(math.NaN()), qty.Watt(math.Inf(1))} {
		if m, err := FromWatts(w, Crystalline); err == nil {
			t.Errorf("%g W gives %+v", w, m)
		}
	}
	for _, w := range []qty.Watt{1, 20, 1000} {
		m, err := FromWatts(w, Crystalline)
		if err != nil || m.Check() != nil {
			t.Errorf("%g W: %v, %v", w, err, m.Check())
		}
	}
}

func TestModuleCheckNamesTheFigure(t *testing.T) {
	for what, spoil := range map[string]func(*Module){
		"Light":      func(m *Module) { m.Light = 0 },
		"Saturation": func(m *Module) { m.Saturation = 0 },
		"Series":     func(m *Module) { m.Series = -0.1 },
		"Shunt":      func(m *Module) { m.Shunt = 0 },
		"Slope":      func(m *Module) { m.Slope = qty.Volt(math.NaN()) },
		"AlphaIsc":   func(m *Module) { m.AlphaIsc = 1 },
	} {
		m := generic
		spoil(&m)
		r, ok := m.Check().(*qty.RangeError)
		if !ok || r.What != what {
			t.Errorf("%s spoilt: %v", what, m.Check())
		}
	}
}
