package battery

import (
	"math"
	"strings"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

const yearDays = 365.25

// conditions reads temperature, charge and years of a key of H47 or H50:
// "cal250_298.15K_50_1y".
func conditions(t *testing.T, key string) (kelvin, charge, days float64) {
	t.Helper()
	p := strings.Split(strings.TrimSuffix(strings.Replace(key, "K_", "_", 1), "y"), "_")
	key = strings.Join(p, "_")
	return number(t, key, 1), number(t, key, 2) / 100, number(t, key, 3) * yearDays
}

// Handbook H46, 1e-6 V: Safari and Delacourt 2011, as coded in NREL
// BLAST-Lite, computed there in Python.
func TestGraphiteVectorAgainstSafariH46(t *testing.T) {
	w := golden.Worst{What: "H46 graphite, V", Limit: 1e-6}
	checks(t, "H46", func(row int, key string, want float64) { w.Add(row, graphite(number(t, key, -1)/100)-want) })
	w.Report(t)
}

// Handbook H47, 0.001 points: BLAST-Lite, 250 Ah cell.
func TestCalendarVectorAgainstLargeLiFePO4H47(t *testing.T) {
	w := golden.Worst{What: "H47 loss, points", Limit: 0.001}
	checks(t, "H47", func(row int, key string, want float64) {
		kelvin, charge, days := conditions(t, key)
		w.Add(row, 100*largeIronCalendar(kelvin, charge).on(0, days)-want)
	})
	w.Report(t)
}

// Handbook H48, 0.001 points: the same model's loss by cycles.
func TestCyclingVectorAgainstLargeLiFePO4H48(t *testing.T) {
	w := golden.Worst{What: "H48 loss, points", Limit: 0.001}
	checks(t, "H48", func(row int, key string, want float64) {
		k := strings.Replace(key, "K_", "_", 1)
		w.Add(row, 100*largeIronCycling(number(t, k, 1), number(t, k, 2), number(t, k, 3)).on(0, number(t, k, 4))-want)
	})
	w.Report(t)
}

// Handbook H49, 1e-5: the sum of both, ten years and 3000 cycles at 25 °C;
// and the same in a hundred pieces, state by state as the check's text has it.
func TestWearVectorAgainstSumH49(t *testing.T) {
	w := golden.Worst{What: "H49 health", Limit: 1e-5}
	checks(t, "H49", func(row int, _ string, want float64) {
		u := Use{Years: 10, Kept: 25, KeptAt: 0.5, Cycles: 3000, Depth: 0.8, Rate: 0.2, During: 25}
		whole, err := LiFePO4.Wear(u)
		if err != nil {
			t.Fatal(err)
		}
		w.Add(row, 1-whole.models[0].sum()-want)
		u.Years, u.Cycles = u.Years/100, u.Cycles/100
		var pieces Wear
		for range 100 {
			if pieces, err = LiFePO4.Further(pieces, u); err != nil {
				t.Fatal(err)
			}
		}
		w.Add(row, 1-pieces.models[0].sum()-want)
		if d := float64(pieces.Mid() - whole.Mid()); math.Abs(d) > 1e-12 {
			t.Errorf("in pieces it differs by %g", d)
		}
		if d := pieces.Growth - whole.Growth; math.Abs(d) > 1e-12 {
			t.Errorf("in pieces the resistance differs by %g", d)
		}
	})
	w.Report(t)
}

// Changing conditions, state by state: dq = k p (q/k)^((p-1)/p) dx of handbook
// H49, in small steps, from a year at 40 °C on into a year at 10 °C.
func TestFurtherAgainstNaiveIntegrationH49(t *testing.T) {
	hot := Use{Years: 1, Kept: 40, KeptAt: 1, Cycles: 100, Depth: 1, Rate: 0.5, During: 25}
	mild := Use{Years: 1, Kept: 10, KeptAt: 0.3, Cycles: 50, Depth: 0.3, Rate: 0.1, During: 25}
	w, err := LiFePO4.Wear(hot)
	if err != nil {
		t.Fatal(err)
	}
	q := w.models[0].calendar
	l := largeIronCalendar(283.15, 0.3)
	k, p := math.Pow(l.k, l.p), l.p
	const n = 200_000
	for range n {
		q += k * p * math.Pow(q/k, (p-1)/p) * yearDays / n
	}
	if w, err = LiFePO4.Further(w, mild); err != nil {
		t.Fatal(err)
	}
	if d := w.models[0].calendar - q; math.Abs(d) > 1e-7 {
		t.Errorf("calendar loss %.8f, in small steps %.8f", w.models[0].calendar, q)
	}
}

// Handbook H50, 0.002 points: BLAST-Lite, 3 Ah cell, measurements of Naumann
// et al. 2018.
func TestCalendarVectorAgainstSmallLiFePO4H50(t *testing.T) {
	w := golden.Worst{What: "H50 loss, points", Limit: 0.002}
	checks(t, "H50", func(row int, key string, want float64) {
		kelvin, charge, days := conditions(t, key)
		w.Add(row, 100*smallIronCalendar(kelvin, charge).on(0, days)-want)
	})
	w.Report(t)
	// Coefficients of the check's text: 25 °C, 50 %.
	l := smallIronCalendar(298.15, 0.5)
	golden.Near(t, "q1", l.bound, 0.334481, 6)
	golden.Near(t, "q3", l.p, 0.483198, 6)
}

// Handbook H51, 0.001 points: the same model's loss by cycles.
func TestCyclingVectorAgainstSmallLiFePO4H51(t *testing.T) {
	w := golden.Worst{What: "H51 loss, points", Limit: 0.001}
	checks(t, "H51", func(row int, key string, want float64) {
		w.Add(row, 100*smallIronCycling(number(t, key, 1), number(t, key, 2)).on(0, number(t, key, 3))-want)
	})
	w.Report(t)
}

// wang is the cycle law of Wang et al. 2011 in percent; throughput is that of
// its 2 Ah cell, both ways counted once (handbook H52, S15).
func wang(b, rate, celsius, throughput float64) float64 {
	return b * math.Exp((-31_700+370.3*rate)/(8.314*(celsius+273.15))) * math.Pow(throughput, 0.55)
}

// Handbook H52 and H53: the law itself, 1e-3 and 1e-4; then what it is for
// here: a third published cell, whose 8347 full cycles to a loss of a fifth
// at 25 °C and a rate of 1/2 (with the time that they took) lie between those
// of our two models.
func TestCyclingVectorAgainstWangH52H53(t *testing.T) {
	w := golden.Worst{What: "H52 loss, points", Limit: 1e-3}
	factor := map[string]float64{"0.5C": 31630, "2C": 21681, "6C": 12934, "10C": 15512}
	checks(t, "H52", func(row int, key string, want float64) {
		p := strings.Split(key, "_")
		k := strings.NewReplacer("C_", "_", "K", "").Replace(key)
		w.Add(row, wang(factor[p[1]], number(t, k, 1), number(t, k, 2)-273.15, 2000)-want)
	})
	w.Report(t)
	h53 := golden.Worst{What: "H53 factor of heat", Limit: 1e-4}
	loss := wang(31630, 0.5, 35, 1) / wang(31630, 0.5, 25, 1)
	checks(t, "H53", func(row int, key string, want float64) {
		if key == "loss_factor" {
			h53.Add(row, loss-want)
		} else {
			h53.Add(row, math.Pow(loss, 1/0.55)-want)
		}
	})
	h53.Report(t)

	cycles := math.Pow(20/wang(31630, 0.5, 25, 1), 1/0.55) / 2
	golden.Near(t, "H52 full cycles to 20 %", cycles, 8347, 4)
	large := 1 / largeIronCycling(298.15, 1, 0.5).k * math.Pow(0.2, 1/0.828)
	small := 1 / smallIronCycling(1, 0.5).k * math.Pow(0.2, 1/1.12847759334355)
	t.Logf("full cycles to 20 %%: large cell %.0f, Wang %.0f, small cell %.0f", large, cycles, small)
	if !(large < cycles && cycles < small) {
		t.Errorf("Wang's %.0f cycles are not between %.0f and %.0f", cycles, large, small)
	}
}

// Handbook H54: 1.6^p for p 1.2 between half and four fifths of depth,
// computed; and more than 1000 cycles above 50 % depth for a deep-cycle type,
// a PV course's text: our better lead-acid does that, our lesser one does the
// trade's 400 cycles of 80 % depth (common practice, no source).
func TestCyclesVectorAgainstDepthH54(t *testing.T) {
	cycles := func(k int, depth qty.Fraction) float64 {
		l := LeadAcidLife.byDepth(&Use{Depth: depth, Kept: 25, During: 25}, k)
		return 0.2 / l.cycling.k / float64(depth) // discharges of that depth, not full ones
	}
	w := golden.Worst{What: "H54 ratio", Limit: 1e-9}
	checks(t, "H54", func(row int, _ string, want float64) { w.Add(row, cycles(1, 0.5)/cycles(1, 0.8)-want) })
	w.Report(t)
	golden.Near(t, "good type at half depth", cycles(1, 0.5), 1000, 3)
	golden.Near(t, "such units at 80 % depth", cycles(0, 0.8), 400, 3)
}

// The trade counts about 2000 cycles for LiFePO4 against about 400 for
// lead-acid in such units (common practice, no source). The published models
// promise no fewer: the trade's figure is the careful one.
func TestCyclesAgainstTheTradesTwoThousand(t *testing.T) {
	for k, l := range [2]law{largeIron(&Use{Kept: 25, Depth: 0.8, Rate: 0.5, During: 25}), smallIron(&Use{Kept: 25, Depth: 0.8, Rate: 0.5, During: 25})} {
		lost := l.cycling.on(0, 2000*0.8)
		t.Logf("model %d: 2000 cycles of 80 %% depth lose %.1f %%", k, 100*lost)
		if lost > 0.2 {
			t.Errorf("model %d loses %.3f in 2000 cycles", k, lost)
		}
	}
}

// Handbook H75, 1e-4: heat halves lead-acid's life every 10 K (also quoted:
// 8.3 K); common practice, no source.
func TestLifeVectorAgainstHeatRuleH75(t *testing.T) {
	w := golden.Worst{What: "H75 share of life", Limit: 1e-4}
	checks(t, "H75", func(row int, key string, want float64) {
		c := AGM
		c.Life.Halves = number(t, key, -1)
		years := func(kept qty.Celsius) float64 {
			low, _, _, err := c.YearsTo(Wear{}, 0.2, Use{Kept: kept, KeptAt: 1, Depth: 1})
			if err != nil {
				t.Fatal(err)
			}
			return low
		}
		w.Add(row, years(qty.Celsius(number(t, key, 1)))/years(25)-want)
	})
	w.Report(t)
}

// Figures: the formulas of Schmalstieg et al. 2014 and of BLAST-Lite's 75 Ah
// cell with their coefficients, worked in Python beside this code.
func TestNMCAgainstSchmalstieg2014AndBlast(t *testing.T) {
	u := Use{Years: 5, Kept: 30, KeptAt: 0.8, Cycles: 600, Depth: 0.8, Rate: 1, During: 35}
	w, err := NMC.Wear(u)
	if err != nil {
		t.Fatal(err)
	}
	golden.Near(t, "small cell, calendar", w.models[0].calendar, 0.17446, 5)
	golden.Near(t, "small cell, cycling", w.models[0].cycling, 0.20876, 5)
	golden.Near(t, "large cell, calendar", w.models[1].calendar, 0.093043, 5)
	golden.Near(t, "large cell, cycling", w.models[1].cycling, 0.040434, 5)
	golden.Near(t, "resistance, calendar", w.ohms.calendar, 0.33961, 5)
	golden.Near(t, "resistance, cycling", w.ohms.cycling, 0.53964, 5)
}

// Figures: BLAST-Lite's resistance of the 3 Ah cell, worked in Python beside
// this code.
func TestLiFePO4ResistanceAgainstBlast(t *testing.T) {
	w, err := LiFePO4.Wear(Use{Years: 5, Kept: 30, KeptAt: 0.8, Cycles: 600, Depth: 0.8, Rate: 0.4, During: 35})
	if err != nil {
		t.Fatal(err)
	}
	golden.Near(t, "resistance, calendar", w.ohms.calendar, 0.12781, 5)
	golden.Near(t, "resistance, cycling", w.ohms.cycling, 0.0086089, 5)
}
