package wire

import (
	"math"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// Figures: awg-astm-b258.csv, five digits, own script (Python) from ASTM B258's
// progression and 1/58 Ω·mm²/m.
func TestAmericanGaugesAgainstAstmB258Vector(t *testing.T) {
	s := golden.Vectors(t, "wire", "awg-astm-b258.csv")
	d := golden.Worst{What: "diameter, share", Limit: 6e-5}
	a := golden.Worst{What: "cross-section, share", Limit: 6e-5}
	r := golden.Worst{What: "Ω/km, share", Limit: 6e-5}
	seen := 0
	for i := range s.Len() {
		d.Add(i, Diameter(int(s.Num(i, "n")))/s.Num(i, "diameter_mm")-1)
		g, ok := Named(s.Text(i, "awg") + "_AWG")
		if !ok {
			continue
		}
		seen++
		a.Add(i, g.Area()/s.Num(i, "area_mm2")-1)
		r.Add(i, g.PerKm()/s.Num(i, "r_ohm_per_km_20C")-1)
	}
	d.Report(t)
	a.Report(t)
	r.Report(t)
	if seen != len(American()) {
		t.Errorf("%d of %d American gauges stand in the file", seen, len(American()))
	}
}

// Figures: iec60228-class5.csv, IEC 60228:2004, table 3, plain copper, class 5,
// from reproductions that agree.
func TestMetricGaugesAgainstIec60228Vector(t *testing.T) {
	s := golden.Vectors(t, "wire", "iec60228-class5.csv")
	r := golden.Worst{What: "Ω/km, share", Limit: 1e-12}
	seen := 0
	for i := range s.Len() {
		g, ok := Named(s.Text(i, "area_mm2") + "_mm2")
		if !ok {
			continue
		}
		seen++
		r.Add(i, g.PerKm()/s.Num(i, "r_max_ohm_per_km_20C")-1)
		if g.Area() != s.Num(i, "area_mm2") {
			t.Errorf("%s has %g mm²", g, g.Area())
		}
	}
	r.Report(t)
	if seen != len(Metric()) {
		t.Errorf("%d of %d metric gauges stand in the file", seen, len(Metric()))
	}
}

// Figures: adiabatic-k.csv, IEC 60364-5-54, table A.54.4, read in its national
// adoption; the formula by own script. C13: the two are within 0.3 %.
func TestInsulationAgainstIec60364Vector(t *testing.T) {
	s := golden.Vectors(t, "wire", "adiabatic-k.csv")
	table := golden.Worst{What: "k of the table", Limit: 0}
	derived := golden.Worst{What: "k derived, share", Limit: 6e-5}
	apart := golden.Worst{What: "table and formula, share", Limit: 0.003}
	seen := 0
	for i := range s.Len() {
		for n := PVC; n <= Silicone; n++ {
			if heats[n].before != s.Num(i, "initial_c") || heats[n].after != s.Num(i, "final_c") {
				continue
			}
			seen++
			table.Add(i, n.K()-s.Num(i, "k_table"))
			derived.Add(i, n.Derived()/s.Num(i, "k_formula")-1)
			apart.Add(i, n.Derived()/n.K()-1)
		}
	}
	table.Report(t)
	derived.Report(t)
	apart.Report(t)
	if seen != len(heats) {
		t.Errorf("%d of %d insulations stand in the file", seen, len(heats))
	}
}

// Figures: electrical.md C01 to C03, copper.
func TestCopperAgainstElectricalC01ToC03(t *testing.T) {
	golden.Check(t, "C01.rho20 = 0.01724138 ohm·mm2/m ± 0.001 %", Resistivity(20))
	golden.Check(t, "C01.from_mass = 0.0172418 ohm·mm2/m ± 0.01 %", Resistivity(20))
	golden.Check(t, "C02.a0 = 0.004265 1/K ± 0.02 %", Coefficient(0))
	golden.Check(t, "C02.a25 = 0.003854 1/K ± 0.02 %", Coefficient(25))
	golden.Check(t, "C02.r50 = 1.1179 ± 0.01 %", Growth(50))
	golden.Check(t, "C02.r75 = 1.21615 ± 0.01 %", Growth(75))
	golden.Check(t, "C02.rm20 = 0.8428 ± 0.01 %", Growth(-20))
	// The straight line meets nothing at t0.
	golden.Check(t, "C02.t0 = -234.45 °C ± 0.01", 20-1/Coefficient(20))
	if g := Growth(-234.45); math.Abs(g) > 1e-4 {
		t.Errorf("at -234.45 °C copper still has %g of its resistance", g)
	}

	golden.Check(t, "C03.kt0 = 1.0853 ± 0.01 %", To20(0))
	golden.Check(t, "C03.kt25 = 0.9807 ± 0.01 %", To20(25))
	golden.Check(t, "C03.kt75 = 0.8223 ± 0.01 %", To20(75))
	worst := golden.Worst{What: "To20 against Growth, share", Limit: 1e-4}
	for c := qty.Celsius(-40); c <= 105; c += 5 {
		worst.Add(int(c), To20(c)*Growth(c)-1)
	}
	worst.Report(t)
	// The printed factors go by 250/(230 + t), up to 0.3 % off: not "corrected".
	for _, c := range []struct {
		at      qty.Celsius
		printed float64
	}{{25, 0.9804}, {75, 0.8197}} {
		if off := math.Abs(c.printed/To20(c.at) - 1); off < 2e-4 || off > 0.0035 {
			t.Errorf("%g °C: the printed factor is %.2g off", c.at, off)
		}
	}
}
