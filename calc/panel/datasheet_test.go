package panel

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// label is the invented panel of the tests, figures of electrical.md section 2.
var label = Datasheet{Isc: 5.95, Imp: 5.5556, Voc: 22, Vmp: 18, AlphaIsc: 0.002975, BetaVoc: -0.077, Cells: 36}

// Figures: electrical.md section 2, five figures fitted to the same label there.
func TestFromDatasheetAgainstGenericPanelOfSection2(t *testing.T) {
	m, err := FromDatasheet(label)
	if err != nil {
		t.Fatal(err)
	}
	golden.Near(t, "IL, A", float64(m.Light), 5.95783, 5)
	golden.Near(t, "Rs, Ω", float64(m.Series), 0.236238, 4)
	golden.Near(t, "Rsh, Ω", float64(m.Shunt), 179.4933, 4)
	golden.Near(t, "a, V", float64(m.Slope), 0.9000736, 5)
	golden.Near(t, "I0, A", float64(m.Saturation), 1.415276e-10, 3)
}

// The label of an invented panel, computed from its five figures without
// rounding, leads back to the five figures. No outside source: a round trip.
func TestFromDatasheetFindsThePanelBehindALabel(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	worst := golden.Worst{What: "five parameters of 3000 panels, share", Limit: 1e-7}
	for n := range 3000 {
		cells := 10 + r.IntN(110)
		il := math.Exp(between(math.Log(0.2), math.Log(14)))
		a := float64(cells) * cellSlope * between(0.75, 1.9)
		voc := float64(cells) * between(0.52, 0.72)
		m := Module{
			Light: qty.Ampere(il), Slope: qty.Volt(a), Cells: cells,
			Saturation: qty.Ampere(il / math.Expm1(voc/a)),
			Series:     qty.Ohm(voc / il * between(0.003, 0.07)),
			Shunt:      qty.Ohm(voc / il * math.Exp(between(math.Log(10), math.Log(2000)))),
			AlphaIsc:   il * between(-0.0005, 0.001),
		}
		d := labelOf(m)
		got, err := FromDatasheet(d)
		if err != nil {
			var out *qty.RangeError
			if errors.As(err, &out) && (out.What == "Voc" || out.What == "BetaVoc") && !errors.Is(err, ErrNoFit) {
				continue // a panel off the ranges stated, rightly refused
			}
			t.Fatalf("panel %d, %+v of %+v: %v", n, d, m, err)
		}
		worst.Add(n, float64(got.Light/m.Light)-1)
		worst.Add(n, math.Log(float64(got.Saturation/m.Saturation)))
		worst.Add(n, float64(got.Series/m.Series)-1)
		worst.Add(n, float64(m.Shunt/got.Shunt)-1)
		worst.Add(n, float64(got.Slope/m.Slope)-1)
	}
	worst.Report(t)
}

// labelOf reads the label off a panel.
func labelOf(m Module) Datasheet {
	c, warm := m.At(1000, 25), m.At(1000, 27)
	// Voc at 27 °C keeps the light current of the label's Isc slope.
	v, i := c.MaxPower()
	return Datasheet{
		Isc: c.ShortCircuit(), Voc: c.OpenCircuit(), Imp: i, Vmp: v,
		AlphaIsc: m.AlphaIsc, BetaVoc: float64(warm.OpenCircuit()-c.OpenCircuit()) / 2, Cells: m.Cells,
	}
}

func TestFromDatasheetNamesTheBadFigure(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(*Datasheet)
		what  string
		noFit bool
	}{
		{"short circuit 0", func(d *Datasheet) { d.Isc = 0 }, "Isc", false},
		{"no number", func(d *Datasheet) { d.Voc = qty.Volt(math.NaN()) }, "Voc", false},
		{"endless", func(d *Datasheet) { d.Voc = qty.Volt(math.Inf(1)) }, "Voc", false},
		{"Imp above Isc", func(d *Datasheet) { d.Isc, d.Imp = d.Imp, d.Isc }, "Imp", false},
		{"Vmp above Voc", func(d *Datasheet) { d.Voc, d.Vmp = d.Vmp, d.Voc }, "Vmp", false},
		{"Vmp of a 12 V battery", func(d *Datasheet) { d.Vmp = 10.5 }, "Vmp", false},
		{"beta with the wrong sign", func(d *Datasheet) { d.BetaVoc = 0.077 }, "BetaVoc", false},
		{"beta in percent", func(d *Datasheet) { d.BetaVoc = -0.35 }, "BetaVoc", false},
		{"alpha in percent", func(d *Datasheet) { d.AlphaIsc = 0.05 }, "AlphaIsc", false},
		{"no cells", func(d *Datasheet) { d.Cells = 0 }, "Cells", false},
		{"half cells counted", func(d *Datasheet) { d.Cells = 72 }, "Cells", false},
		{"cells of a smaller panel", func(d *Datasheet) { d.Cells = 10 }, "Cells", false},
		{"too many watts for its ends", func(d *Datasheet) { d.Imp, d.Vmp = 5.9, 21 }, "Imp·Vmp", true},
		{"Imp as Isc", func(d *Datasheet) { d.Imp = d.Isc }, "Imp", true},
		{"Vmp as Voc", func(d *Datasheet) { d.Vmp = d.Voc }, "Vmp", true},
		{"low volts at nearly full current", func(d *Datasheet) { d.Imp, d.Vmp = 5.85, 15 }, "Imp", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := label
			c.spoil(&d)
			m, err := FromDatasheet(d)
			var r *qty.RangeError
			if !errors.As(err, &r) || r.What != c.what || errors.Is(err, ErrNoFit) != c.noFit {
				t.Fatalf("got %+v, %v; want a range for %s, no fit %v", m, err, c.what, c.noFit)
			}
			t.Log(err)
			if !c.noFit || c.what == "Imp·Vmp" {
				return
			}
			// The range named is true: inside it there is a fit, outside none.
			for _, at := range []struct {
				v    float64
				fits bool
			}{{r.Min, true}, {r.Max, true}, {(r.Min + r.Max) / 2, true}, {r.Min * 0.998, false}, {r.Max * 1.002, false}} {
				switch r.What {
				case "Imp":
					d.Imp = qty.Ampere(at.v)
				case "Vmp":
					d.Vmp = qty.Volt(at.v)
				}
				if _, err := FromDatasheet(d); (err == nil) != at.fits {
					t.Errorf("%s %g: %v", r.What, at.v, err)
				}
			}
		})
	}
}

func FuzzFromDatasheet(f *testing.F) {
	f.Add(5.95, 5.5556, 22.0, 18.0, 0.002975, -0.077, 36)
	f.Add(30.0, 15.0, 2.0, 1.0, 0.0, -0.0021, 4)
	f.Add(0.05, 0.0499, 100.0, 99.0, 0.00015, -0.9, 200)
	f.Add(1.0, 0.500001, 20.0, 10.00001, 0.003, -0.02, 36)
	f.Fuzz(func(t *testing.T, isc, imp, voc, vmp, alpha, beta float64, cells int) {
		d := Datasheet{qty.Ampere(isc), qty.Ampere(imp), qty.Volt(voc), qty.Volt(vmp), alpha, beta, cells}
		m, err := FromDatasheet(d)
		if err != nil {
			var r *qty.RangeError
			if !errors.As(err, &r) && !errors.Is(err, ErrNoFit) {
				t.Fatalf("%+v: %v names no figure", d, err)
			}
			return
		}
		if err := m.Check(); err != nil {
			t.Fatalf("%+v gives %+v: %v", d, m, err)
		}
		for _, e := range missed(d, m) {
			if !(math.Abs(e) < 1e-9*max(1, isc)) {
				t.Fatalf("%+v misses a condition by %g A", d, e)
			}
		}
		v, i := m.At(1000, 25).MaxPower()
		if math.Abs(float64(v*qty.Volt(i))/(imp*vmp)-1) > 1e-7 {
			t.Fatalf("%+v peaks at %g V, %g A", d, v, i)
		}
	})
}
