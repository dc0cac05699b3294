package panel

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// wholeOf returns the panel of which c is one of two halves.
func wholeOf(c Curve) Curve { return newCurve(c.il, c.io, 2*c.rs, c.g/2, 2*c.a) }

// Figures: mismatch.csv, own solver of the reference vectors (see
// testdata/panel/README.md), its rows of two panels end to end: each with a
// bypass diode across it, they are two groups of one panel, the weaker one in
// the shade.
func TestPatchyAgainstMismatchVector(t *testing.T) {
	s := golden.Vectors(t, "panel", "mismatch.csv")
	pmp := golden.Worst{What: "maximum power, share", Limit: 1e-7}
	vmp := golden.Worst{What: "volts at maximum power, share", Limit: 1e-4}
	there := golden.Worst{What: "current at the volts of maximum power, share", Limit: 1e-4}
	same := golden.Worst{What: "current asked at our own maximum, share", Limit: 1e-8}
	for r := range s.Len() {
		num := func(col string) float64 { return s.Num(r, col) }
		if s.Text(r, "topology") != "series" || num("panels") != 2 {
			continue
		}
		var half [2]Curve
		for k := range half {
			of := func(name, unit string) float64 { return num(fmt.Sprintf("%s%d_%s", name, k+1, unit)) }
			half[k] = newCurve(of("i_l", "a"), of("i_o", "a"), of("r_s", "ohm"), 1/of("r_sh", "ohm"), of("n_ns_vth", "v"))
		}
		if half[0].il < half[1].il {
			half[0], half[1] = half[1], half[0]
		}
		p := Patchy{Joined: EndToEnd, Parts: []Patch{{Lit: wholeOf(half[0]), Dark: wholeOf(half[1]), Share: 0.5, Cells: 36, Count: 1}}}
		v, i := p.MaxPower()
		pmp.Add(r, float64(qty.Power(v, i))/num("p_mp_w")-1)
		vmp.Add(r, float64(v)/num("v_mp_v")-1)
		there.Add(r, float64(p.Current(qty.Volt(num("v_mp_v"))))/num("i_mp_a")-1)
		same.Add(r, float64(p.Current(v)/i)-1)
	}
	for _, w := range []*golden.Worst{&pmp, &vmp, &there, &same} {
		w.Report(t)
	}
}

// patchVolts is the volts of one panel at a current, group by group.
func patchVolts(p *Patch, i float64) (v float64) {
	groups := BypassGroups(p.Cells)
	left := p.Share * float64(groups)
	for range groups {
		share := min(left, 1)
		left -= share
		volts := func(c *Curve) float64 {
			if !c.lit() {
				return math.Inf(-1) // passes nothing
			}
			return float64(c.Volts(qty.Ampere(i)))
		}
		g := 0.0
		if share < 1 {
			g += (1 - share) * volts(&p.Lit)
		}
		if share > 0 {
			g += share * volts(&p.Dark)
		}
		v += max(g/float64(groups), bypass)
	}
	return v
}

// patchAmps is the current of one panel at v volts, by halving.
func patchAmps(p *Patch, v float64) float64 {
	if patchVolts(p, 0) <= v {
		return 0
	}
	lo, hi := 0.0, p.Lit.il+1
	for range 100 {
		if m := (lo + hi) / 2; patchVolts(p, m) > v {
			lo = m
		} else {
			hi = m
		}
	}
	return lo
}

// anyPatchy draws shaded panels. Their shade gets some of the light, and cells
// in it are cooler.
func anyPatchy(r *rand.Rand) *Patchy {
	p := &Patchy{Joined: Joining(r.IntN(2))}
	for range 1 + r.IntN(3) {
		m, err := FromWatts(qty.Watt(20+200*r.Float64()), Crystalline)
		if err != nil {
			panic(err)
		}
		sun := 50 + 1000*r.Float64()
		part := Patch{Lit: m.At(qty.Irradiance(sun), qty.Celsius(20+sun/30)), Count: 1 + r.IntN(3), Cells: 24 * (1 + r.IntN(4))}
		if r.IntN(4) > 0 {
			part.Share = r.Float64()
			dim := sun * (0.02 + 0.6*r.Float64())
			part.Dark = m.At(qty.Irradiance(dim), qty.Celsius(20+dim/30))
		}
		p.Parts = append(p.Parts, part)
	}
	return p
}

// Against the definition of the circuit, by halving and a scan; no outside
// source.
func TestPatchyAgainstItsCircuit(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 9))
	amps := golden.Worst{What: "current at any volts, share of the light's", Limit: 1e-9}
	over := golden.Worst{What: "what a scan finds above the peak, share", Limit: 1e-9}
	under := golden.Worst{What: "what a scan of 150 points misses of the peak, share", Limit: 5e-3}
	for n := range 60 {
		p := anyPatchy(r)
		ask := func(v float64) (sum float64) {
			if p.Joined == SideBySide {
				for k := range p.Parts {
					sum += float64(p.Parts[k].Count) * patchAmps(&p.Parts[k], v)
				}
				return sum
			}
			volts := func(i float64) (v float64) {
				for k := range p.Parts {
					v += float64(p.Parts[k].Count) * patchVolts(&p.Parts[k], i)
				}
				return v
			}
			lo, hi := 0.0, 60.0
			if volts(0) <= v {
				return 0
			}
			for range 100 {
				if m := (lo + hi) / 2; volts(m) > v {
					lo = m
				} else {
					hi = m
				}
			}
			return lo
		}
		light := 0.0
		top := 0.0
		for k := range p.Parts {
			light = max(light, p.Parts[k].Lit.il)
			if v := p.Parts[k].Lit.voc; p.Joined == EndToEnd {
				top += float64(p.Parts[k].Count) * v
			} else {
				top = max(top, v)
			}
		}
		scan := 0.0
		for k := range 150 {
			v := top * float64(k) / 150
			want := ask(v)
			got := float64(p.Current(qty.Volt(v)))
			amps.Add(n, (got-want)/light)
			scan = max(scan, v*want)
		}
		v, i := p.MaxPower()
		best := float64(qty.Power(v, i))
		over.Add(n, max(0, scan/best-1))
		under.Add(n, 1-scan/best)
		if got := float64(p.Current(v)); math.Abs(got/float64(i)-1) > 1e-7 {
			t.Errorf("array %d: %.9g A at the peak's volts, %.9g A at the peak", n, got, float64(i))
		}
	}
	amps.Report(t)
	over.Report(t)
	under.Report(t)
}

// No share is the lit panel, all of it the shaded one, and more is never better.
func TestMoreShadeNeverGivesMore(t *testing.T) {
	m, err := FromWatts(100, Crystalline)
	if err != nil {
		t.Fatal(err)
	}
	lit, dark := m.At(800, 50), m.At(120, 28)
	for _, cells := range []int{36, 60, 0} {
		for _, count := range []int{1, 3} {
			p := Patchy{Parts: []Patch{{Lit: lit, Dark: dark, Cells: cells, Count: count}}}
			power := func() float64 { v, i := p.MaxPower(); return float64(qty.Power(v, i)) }
			ends := func(c Curve) (float64, float64) {
				a := Array{Parts: []Part{{Curve: c, Count: count}}}
				v, i := a.MaxPower()
				return float64(qty.Power(v, i)), float64(a.Current(13.6))
			}
			lastW, lastA := math.Inf(1), math.Inf(1)
			for k := range 201 {
				p.Parts[0].Share = float64(k) / 200
				w, a := power(), float64(p.Current(13.6))
				if w > lastW*(1+1e-9) || a > lastA*(1+1e-9)+1e-12 {
					t.Errorf("%d cells, share %.3f: %.6g W after %.6g W, %.6g A after %.6g A", cells, p.Parts[0].Share, w, lastW, a, lastA)
				}
				lastW, lastA = w, a
				if k == 0 || k == 200 {
					c := lit
					if k == 200 {
						c = dark
					}
					if ww, wa := ends(c); math.Abs(w/ww-1) > 1e-9 || math.Abs(a/wa-1) > 1e-9 {
						t.Errorf("%d cells, share %g: %.9g W, %.9g A; the whole panel gives %.9g W, %.9g A", cells, p.Parts[0].Share, w, a, ww, wa)
					}
				}
			}
		}
	}
}

// A patch that gets no light at all shuts its group off.
func TestPatchyWithoutLightInThePatch(t *testing.T) {
	m, err := FromWatts(100, Crystalline)
	if err != nil {
		t.Fatal(err)
	}
	lit := m.At(800, 50)
	p := Patchy{Parts: []Patch{{Lit: lit, Share: 0.25, Cells: 36, Count: 1}}}
	if i := p.Current(13.6); i != 0 {
		t.Errorf("%g A at 13.6 V from a group of 18 cells", i)
	}
	if got, want := float64(p.Current(5)), float64(lit.Current(11)); math.Abs(got-want) > 1e-6 {
		t.Errorf("half a panel gives %g A at 5 V and half a volt in the diode, the whole one %g A at twice that", got, want)
	}
	p.Parts = []Patch{{Share: 0.5, Cells: 36, Count: 1}, {Count: 0}}
	if v, i := p.MaxPower(); v != 0 || i != 0 || p.Current(0) != 0 {
		t.Errorf("a dark panel gives %g V, %g A", v, i)
	}
}

func TestPatchySolvesWithoutAllocating(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for range 20 {
		p := anyPatchy(r)
		p.MaxPower()
		if n := testing.AllocsPerRun(10, func() { p.MaxPower(); p.Current(13) }); n != 0 {
			t.Errorf("%v allocations", n)
		}
	}
}

func TestBypassGroups(t *testing.T) {
	for cells, want := range map[int]int{0: 2, 4: 1, 24: 1, 32: 2, 36: 2, 60: 3, 72: 3, 96: 4} {
		if got := BypassGroups(cells); got != want {
			t.Errorf("%d cells: %d groups, want %d", cells, got, want)
		}
	}
}

func BenchmarkPatchyMaxPower(b *testing.B) {
	m, err := FromWatts(100, Crystalline)
	if err != nil {
		b.Fatal(err)
	}
	one := Patch{Lit: m.At(800, 50), Dark: m.At(120, 28), Share: 0.3, Cells: 36, Count: 2}
	for name, p := range map[string]*Patchy{
		"panels=alike":  {Parts: []Patch{one}},
		"panels=bank":   {Parts: []Patch{one, {Lit: m.At(600, 45), Cells: 36, Count: 1}}},
		"panels=string": {Joined: EndToEnd, Parts: []Patch{one, {Lit: m.At(600, 45), Cells: 36, Count: 1}}},
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			n := 0
			for b.Loop() {
				n++
				p.Parts[0].Share = 0.3 + 0.01*float64(n&1) // no step is like the one before
				p.MaxPower()
			}
		})
	}
}

func ExamplePatchy_MaxPower() {
	m, _ := FromWatts(100, Crystalline)
	p := Patchy{Parts: []Patch{{Lit: m.At(800, 50), Dark: m.At(120, 28), Share: 0.1, Cells: 36, Count: 1}}}
	v, i := p.MaxPower()
	fmt.Printf("a tenth of the cells in the shade: %.0f W\n", float64(qty.Power(v, i)))
	p.Parts[0].Share = 0
	v, i = p.MaxPower()
	fmt.Printf("none: %.0f W\n", float64(qty.Power(v, i)))
	// Output:
	// a tenth of the cells in the shade: 34 W
	// none: 72 W
}
