package battery

import (
	"math"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// Handbook H43, 1e-4: compound self-discharge; a month is 30 days.
func TestStandingVectorH43(t *testing.T) {
	w := golden.Worst{What: "H43 share and months", Limit: 1e-4}
	checks(t, "H43", func(row int, key string, want float64) {
		switch key {
		case "after_6_months":
			w.Add(row, float64(Standing{Month: 0.03}.After(1, 180, 0, 20))-want)
		case "months_to_80":
			w.Add(row, Standing{Month: 0.03}.Days(1, 0.8, 0, 20)/30-want)
		case "months_50_to_20":
			w.Add(row, Standing{Month: 0.025}.Days(0.5, 0.2, 0, 20)/30-want)
		default:
			t.Errorf("no test knows %s", key)
		}
	})
	w.Report(t)
	// 1 to 0.6, from the same check's text.
	golden.Near(t, "H43 months to 60 %", Standing{Month: 0.03}.Days(1, 0.6, 0, 20)/30, 16.771, 5)
}

// Handbook H44, 0.01 day: meters of 12 mA on 40 Ah from 80 to 20 %.
func TestStandingVectorMetersH44(t *testing.T) {
	w := golden.Worst{What: "H44 days", Limit: 0.01}
	checks(t, "H44", func(row int, _ string, want float64) {
		w.Add(row, Standing{}.Days(0.8, 0.2, 0.012*24/40, 20)-want)
		w.Add(row, Standing{Month: 1e-13}.Days(0.8, 0.2, 0.012*24/40, 20)-want)
	})
	w.Report(t)
}

// Handbook H42, from US Army TM 5-1185, table II: acid density falls by 0.001
// a day below 27 °C, from 1.280 (full) to 1.250 (75 %) in 30 days and 1.220
// (50 %) in 60. Old antimony grids: an upper bound for every battery here.
func TestChemistriesStandLongerThanArmyManualH42(t *testing.T) {
	for _, c := range Named() {
		s := c.Standing()
		for _, row := range []struct {
			days float64
			left qty.Fraction
		}{{30, 0.75}, {60, 0.5}} {
			if got := s.After(1, row.days, 0, 20); got < row.left {
				t.Errorf("%s: %.3f left after %g days, the manual's worst has %.2f", c.Name, got, row.days, row.left)
			}
		}
	}
}

// ds/dt = -λ s - d in small steps.
func TestStandingAgainstNaiveIntegration(t *testing.T) {
	s := Standing{Month: 0.05, Doubles: 10}
	const drain, days, n = 0.004, 90.0, 900_000
	charge := 0.9
	for range n {
		charge -= (24*s.PerHour(33)*charge + drain) * days / n
	}
	got := s.After(0.9, days, drain, 33)
	if math.Abs(float64(got)-charge) > 1e-6 {
		t.Errorf("%.7f left, in small steps %.7f", got, charge)
	}
	if d := s.Days(0.9, got, drain, 33); math.Abs(d-days) > 1e-9 {
		t.Errorf("%.10f days down to where it is after %g", d, days)
	}
	// Next to nothing goes by itself beside the draw: the two still agree.
	for _, month := range []qty.Fraction{1e-3, 1e-6, 1e-9, 1e-12} {
		s := Standing{Month: month}
		if d := s.Days(0.9, s.After(0.9, days, 0.008, 20), 0.008, 20); math.Abs(d-days) > 1e-6 {
			t.Errorf("%g a month: %.9f days down to where it is after %g", month, d, days)
		}
	}
	// Heat: 10 K double the rate, not the share.
	if r := s.PerHour(30) / s.PerHour(20); math.Abs(r-2) > 1e-12 {
		t.Errorf("10 K make it %g times as fast", r)
	}
	if (Standing{Month: 0.05}).PerHour(40) != (Standing{Month: 0.05}).PerHour(0) {
		t.Error("heat counts without a figure for it")
	}
}

func TestStandingAtTheEnds(t *testing.T) {
	s := Standing{Month: 0.03, Doubles: 10}
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"there already", s.Days(0.2, 0.2, 0.01, 20), 0},
		{"below already", s.Days(0.1, 0.2, 0.01, 20), 0},
		{"nothing draws", Standing{}.Days(1, 0.2, 0, 20), math.Inf(1)},
		{"never quite empty", s.Days(1, 0, 0, 20), math.Inf(1)},
		{"empty stays empty", float64(s.After(0, 100, 0.01, 20)), 0},
		{"drained long ago", float64(s.After(0.5, 1e4, 0.01, 20)), 0},
		{"no time", float64(s.After(0.5, 0, 0.01, 20)), 0.5},
		{"nothing at all", float64(Standing{}.After(0.5, 1000, 0, 20)), 0.5},
	} {
		if c.got != c.want {
			t.Errorf("%s: %v, want %v", c.what, c.got, c.want)
		}
	}
}
