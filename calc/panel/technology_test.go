package panel

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// The labels that FromWatts states: its five figures are the fit of them. The
// labels are invented, common practice; the crystalline one is that of
// electrical.md section 2.
func TestGenericPanelsAgainstTheirStatedLabels(t *testing.T) {
	film := Datasheet{Isc: 6.30, Imp: 5.5556, Voc: 23.5, Vmp: 18, AlphaIsc: 0.0002 * 6.30, BetaVoc: GenericFilmBetaPct / 100 * 23.5, Cells: 38}
	for tech, d := range map[Technology]Datasheet{Crystalline: label, ThinFilm: film} {
		m, err := FromDatasheet(d)
		if err != nil {
			t.Fatal(err)
		}
		g, err := FromWatts(100, tech)
		if err != nil {
			t.Fatal(err)
		}
		golden.Near(t, "IL, A", float64(g.Light), float64(m.Light), 4)
		golden.Near(t, "Rs, Ω", float64(g.Series), float64(m.Series), 4)
		golden.Near(t, "Rsh, Ω", float64(g.Shunt), float64(m.Shunt), 4)
		golden.Near(t, "a, V", float64(g.Slope), float64(m.Slope), 5)
		golden.Near(t, "ln I0", math.Log(float64(g.Saturation)), math.Log(float64(m.Saturation)), 4)
		if g.Cells != d.Cells || g.AlphaIsc/m.AlphaIsc < 0.9999 || g.AlphaIsc/m.AlphaIsc > 1.0001 {
			t.Errorf("technology %d: %+v, label %+v", tech, g, d)
		}
		c := g.At(1000, 25)
		v, i := c.MaxPower()
		golden.Near(t, "Voc, V", float64(c.OpenCircuit()), float64(d.Voc), 4)
		golden.Near(t, "Isc, A", float64(c.ShortCircuit()), float64(d.Isc), 4)
		golden.Near(t, "Vmp, V", float64(v), 18, 4)
		golden.Near(t, "Pmp, W", float64(qty.Power(v, i)), 100, 8)
	}
	for _, w := range []qty.Watt{0, 1001, qty.Watt(math.NaN())} {
		if _, err := FromWatts(w, ThinFilm); err == nil {
			t.Errorf("a film of %g W passes", w)
		}
	}
}

// Medians of the abstract of Jordan2016: crystalline 0.5 to 0.6 %, thin film
// around 1 % a year.
func TestYearlyWearAgainstJordan2016(t *testing.T) {
	if w := YearlyWear(Crystalline); w < 0.005 || w > 0.006 {
		t.Errorf("crystalline wears %g a year", w)
	}
	if w := YearlyWear(ThinFilm); w < 0.0095 || w > 0.0105 {
		t.Errorf("film wears %g a year", w)
	}
}

// An old panel is a smaller panel of the same volts: that follows from the
// equation, whose terms are all currents.
func TestAgedPanelHasLessCurrentAtTheSameVolts(t *testing.T) {
	for _, tech := range []Technology{Crystalline, ThinFilm} {
		m, err := FromWatts(80, tech)
		if err != nil {
			t.Fatal(err)
		}
		for _, years := range []float64{0, 1, 25, 40, MostYears} {
			old, err := m.Aged(years, tech)
			if err != nil || old.Check() != nil {
				t.Fatalf("%g years: %v, %v", years, err, old.Check())
			}
			left := 1 - years*float64(YearlyWear(tech))
			for _, at := range []struct {
				sun  qty.Irradiance
				cell qty.Celsius
			}{{1000, 25}, {150, 60}, {900, -20}} {
				a, b := old.At(at.sun, at.cell), m.At(at.sun, at.cell)
				va, ia := a.MaxPower()
				vb, ib := b.MaxPower()
				if math.Abs(float64(va/vb)-1) > 1e-9 || math.Abs(float64(ia/ib)/left-1) > 1e-9 ||
					math.Abs(float64(a.voc/b.voc)-1) > 1e-9 || math.Abs(float64(a.Current(12)/b.Current(12))/left-1) > 1e-9 {
					t.Errorf("technology %d after %g years at %v: %g V %g A of %g V %g A", tech, years, at, va, ia, vb, ib)
				}
			}
		}
		for _, years := range []float64{-1, 60.1, math.NaN(), math.Inf(1)} {
			_, err := m.Aged(years, tech)
			var r *qty.RangeError
			if !errors.As(err, &r) || r.What != "years" {
				t.Errorf("%g years: %v", years, err)
			}
		}
	}
}

// Whatever is written on a label: a fit, or one figure with the range in which
// it would do.
func TestFromDatasheetAlwaysNamesAFigure(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 1))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	count := map[string]int{}
	for range 500 {
		isc, voc := between(0.5, 10), between(5, 65)
		d := Datasheet{
			Isc: qty.Ampere(isc), Imp: qty.Ampere(isc * between(0.499, 1.01)),
			Voc: qty.Volt(voc), Vmp: qty.Volt(voc * between(0.499, 1.01)),
			AlphaIsc: isc * between(-0.001, 0.003), BetaVoc: -voc * between(0.001, 0.01), Cells: 36,
		}
		_, err := FromDatasheet(d)
		var e *qty.RangeError
		switch {
		case err == nil:
			count["fits"]++
		case !errors.As(err, &e):
			t.Errorf("%+v: %v", d, err)
		case !(e.Min <= e.Max) || e.Got >= e.Min && e.Got <= e.Max:
			t.Errorf("%+v: a range that does not exclude it: %v", d, err)
		default:
			count[e.What]++
		}
	}
	t.Log(count)
	if count["fits"] < 50 || len(count) < 5 {
		t.Errorf("the labels were too much alike: %v", count)
	}
}
