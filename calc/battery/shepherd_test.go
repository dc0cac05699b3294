package battery

import (
	"errors"
	"math"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// sheet is the invented datasheet of handbook H26.
var sheet = Shepherd{
	Full: 13.6, Knee: 12.9, Nominal: 12.2, KneeAt: 4, NominalAt: 36, Capacity: 40, Resistance: 0.02, Amps: 4,
}

// Handbook H26, 1e-5: Tremblay and Dessaint in the form with K in volts;
// formulas partly opened, rest from memory, numbers invented, values computed.
func TestVoltsVectorAgainstTremblayH26(t *testing.T) {
	w := golden.Worst{What: "H26 coefficients and volts", Limit: 1e-5}
	a, b, k, e0 := sheet.fit()
	checks(t, "H26", func(row int, key string, want float64) {
		switch key {
		case "tremblay_A":
			w.Add(row, a-want)
		case "tremblay_B":
			w.Add(row, b-want)
		case "tremblay_K":
			w.Add(row, k-want)
		case "tremblay_E0":
			w.Add(row, e0-want)
		default:
			var out float64
			for _, r := range key[2:] { // "V_20Ah"
				if r >= '0' && r <= '9' {
					out = 10*out + float64(r-'0')
				}
			}
			v, err := sheet.Volts(qty.AmpHour(out), 4)
			if err != nil {
				t.Error(err)
			}
			w.Add(row, float64(v)-want)
		}
	})
	w.Report(t)
	// The two identities of the check's text, exact.
	if v, _ := sheet.Volts(0, 4); math.Abs(float64(v)-13.6) > 1e-12 {
		t.Errorf("full it has %v V", v)
	}
	if v, _ := sheet.Volts(36, 4); math.Abs(float64(v)-12.2) > 1e-12 {
		t.Errorf("at the nominal point it has %v V", v)
	}
	at4, _ := sheet.Volts(10, 4)
	at20, _ := sheet.Volts(10, 20)
	if d := float64(at4-at20) - 0.32; math.Abs(d) > 1e-12 {
		t.Errorf("16 A more at 20 mΩ are off by %g V", d)
	}
}

// Handbook H27: the form of 2009 with K in ohms (from memory). Only its
// identity is checked, that at no current charging and discharging give the
// same volts: here, that ours at no current is theirs with K/Q for K, up to
// the constant K by which the two forms define E0.
func TestVoltsAgainstTremblayIdentityH27(t *testing.T) {
	a, b, k, e0 := sheet.fit()
	q := 40.0
	theirs := func(it, i, filtered float64, charging bool) float64 {
		polar := q / (q - it)
		if charging {
			polar = q / (it + 0.1*q)
		}
		return (e0 - k) - 0.02*i - k/q*polar*filtered - k/q*q/(q-it)*it + a*math.Exp(-b*it)
	}
	for it := 0.0; it < 39.9; it += 0.3 {
		charge, discharge := theirs(it, 0, 0, true), theirs(it, 0, 0, false)
		ours, err := sheet.Volts(qty.AmpHour(it), 0)
		if err != nil || charge != discharge || math.Abs(float64(ours)-discharge) > 1e-12 {
			t.Fatalf("%g Ah out: ours %v, theirs %v and %v, %v", it, ours, charge, discharge, err)
		}
	}
}

func TestVoltsRefusesPointsOutOfOrder(t *testing.T) {
	for what, wrong := range map[string]func(s *Shepherd) qty.AmpHour{
		"capacity":   func(s *Shepherd) qty.AmpHour { s.Capacity = 0; return 1 },
		"knee at":    func(s *Shepherd) qty.AmpHour { s.KneeAt = 37; return 1 },
		"nominal at": func(s *Shepherd) qty.AmpHour { s.NominalAt = 40; return 1 },
		"knee":       func(s *Shepherd) qty.AmpHour { s.Knee = 12.1; return 1 },
		"out":        func(s *Shepherd) qty.AmpHour { return 40 },
	} {
		s := sheet
		_, err := s.Volts(wrong(&s), 4)
		if r := (*qty.RangeError)(nil); !errors.As(err, &r) || r.What != what {
			t.Errorf("wrong %s: %v", what, err)
		}
	}
}
