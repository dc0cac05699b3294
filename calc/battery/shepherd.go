package battery

import (
	"math"

	"duskline/calc/qty"
)

// A Shepherd is a discharge curve through the three points that a datasheet
// prints. It is for reading a datasheet into a table of one's own; the step
// goes by tables, since near both ends the form is a guess.
type Shepherd struct {
	Full, Knee, Nominal qty.Volt    // when full, after the first steep part, where the last one begins; falling
	KneeAt, NominalAt   qty.AmpHour // taken out at the last two; rising, below Capacity
	Capacity            qty.AmpHour // above 0
	Resistance          qty.Ohm     // 0 or more
	Amps                qty.Ampere  // at which the curve was taken
}

// fit returns the four coefficients of the form with K in volts.
//
//	A = Full - Knee, B = 3/KneeAt
//	K = (Full - Nominal + A (exp(-B NominalAt) - 1)) (Q - NominalAt)/NominalAt
//	E0 = Full + K + R i - A
func (s *Shepherd) fit() (a, b, k, e0 float64) {
	a, b = float64(s.Full-s.Knee), 3/float64(s.KneeAt)
	n, q := float64(s.NominalAt), float64(s.Capacity)
	k = (float64(s.Full-s.Nominal) + a*math.Expm1(-b*n)) * (q - n) / n
	return a, b, k, float64(s.Full) + k + float64(s.Resistance)*float64(s.Amps) - a
}

// Volts returns the volts after so many amp-hours out at so many amps.
//
//	E0 - K Q/(Q - out) + A exp(-B out) - R amps
//
// At the amps of the datasheet it meets Full and Nominal exactly, and Knee to
// the twentieth of the first steep part that is left there. out is from 0 to
// below Capacity, amps 0 or more.
//
// Errors: *qty.RangeError for out, and for points that do not fall or do not
// follow each other.
//
// Source: Tremblay2009, the form of 2007 with K in volts.
func (s *Shepherd) Volts(out qty.AmpHour, amps qty.Ampere) (qty.Volt, error) {
	for _, c := range [...]struct {
		what          string
		got, min, max float64
		unit          string
	}{
		{"capacity", float64(s.Capacity), 1e-3, 1e6, "Ah"},
		{"knee at", float64(s.KneeAt), 1e-6, float64(s.NominalAt), "Ah"},
		{"nominal at", float64(s.NominalAt), 1e-6, 0.9999 * float64(s.Capacity), "Ah"},
		{"knee", float64(s.Knee), float64(s.Nominal), float64(s.Full), "V"},
		{"out", float64(out), 0, 0.9999 * float64(s.Capacity), "Ah"},
	} {
		if err := qty.InRange(c.what, c.got, c.min, c.max, c.unit); err != nil {
			return 0, err
		}
	}
	a, b, k, e0 := s.fit()
	q, it := float64(s.Capacity), float64(out)
	return qty.Volt(e0 - k*q/(q-it) + a*math.Exp(-b*it) - float64(s.Resistance)*float64(amps)), nil
}
