package care

import (
	"math"

	"duskline/calc/battery"
	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// A Life is what the battery has left and what this trip takes of it. Two
// models span a band: low and high are its edges, whichever model is which.
type Life struct {
	Health qty.Fraction // of the rated amp-hours, now; the middle of the band
	Growth float64      // of the resistance, now, over that of a new battery

	Cycles    float64      // full cycles of this trip: amp-hours taken out over the rated ones
	Deepest   qty.Fraction // greatest fall of the charge on this trip
	Low, High qty.Fraction // of the rated amp-hours, lost by this trip
	Share     Span         // Low and High, of what is left to lose down to 80 % of the rated amp-hours; 0 if Worn

	UsesAYear float64 // the plan's own
	Years     Span    // to 80 % of the rated amp-hours, at so many uses a year and kept as the plan says between them
	Worn      bool    // Health is under that already: Years are 0

	Keeping  []Keep // half and full, each at 20 and 40 °C
	Practice bool   // the law of this chemistry is common practice, not a published model
	Beyond   bool   // the trip's battery is hotter in the mean than any model goes, [HottestUse]: it is counted as that hot, and loses more
}

// A Span is a figure between two models.
type Span struct {
	Low, High float64
	Endless   bool // High has no end within [LongestLife]; it is that
}

// LongestLife is how far years are followed.
const LongestLife = 100.0

// A Keep is what the first year of lying costs a new battery.
type Keep struct {
	Charge    qty.Fraction
	At        qty.Celsius
	Low, High qty.Fraction // of the rated amp-hours
}

// HottestUse is how hot a battery the laws of wear are asked about: the end of
// what [battery.Use] takes. Measured were 60 °C at most.
const HottestUse qty.Celsius = 90

// worn is the loss at which a battery's life counts as over.
const worn = 0.2

// NewLife tells what the trip of an Outlook costs its battery, for a Plan that
// plan.Check finds no fault with and the Outlook that outlook.Run made of it.
//
// The trip wears by its amp-hours, its greatest depth, its mean rate and its
// mean temperature, after all that the battery went through before. A year is
// so many trips as the plan says, and in between it is kept as the plan says;
// temperature and charge of the year are means by time.
//
// Both laws were measured for three years at most: what a battery of many years
// comes to is an extrapolation, as [plan.Battery.Health] says.
//
// Errors: those of the models for a Plan that was not checked.
//
// Source: Blast2023, Schmalstieg2014, CommonPractice: see [battery.Life].
func NewLife(p plan.Plan, o *outlook.Outlook) (*Life, error) {
	kind, err := p.Case.Battery.Kind()
	if err != nil {
		return nil, err
	}
	b := &p.Case.Battery
	now, err := wearOf(b, &kind)
	if err != nil {
		return nil, err
	}
	trip := useOf(b, &o.Series)
	beyond := trip.During > HottestUse
	trip.During, trip.Kept = min(trip.During, HottestUse), min(trip.Kept, HottestUse)
	after, err := kind.Further(now, trip)
	if err != nil {
		return nil, err
	}
	l := &Life{
		Health: 1 - now.Mid(), Growth: 1 + now.Growth,
		Cycles: trip.Cycles, Deepest: trip.Depth, UsesAYear: b.UsesPerYear,
		Practice: kind.Life.Law == battery.ByDepth, Beyond: beyond,
	}
	one, other := max(after.Low-now.Low, 0), max(after.High-now.High, 0)
	l.Low, l.High = min(one, other), max(one, other)
	if l.Worn = now.Mid() >= worn-1e-9; !l.Worn {
		left := float64(worn - now.Mid())
		l.Share = Span{Low: float64(l.Low) / left, High: float64(l.High) / left}
		if l.Years, err = years(&kind, now, yearly(b, trip)); err != nil {
			return nil, err
		}
	}
	for _, s := range []qty.Fraction{0.5, 1} {
		for _, at := range []qty.Celsius{20, 40} {
			w, err := kind.Wear(battery.Use{Years: 1, Kept: at, KeptAt: s, Depth: 1, During: at})
			if err != nil {
				return nil, err
			}
			l.Keeping = append(l.Keeping, Keep{Charge: s, At: at, Low: w.Low, High: w.High})
		}
	}
	return l, nil
}

// wearOf is what the battery has gone through: what was measured, or else
// what its past would make of it.
func wearOf(b *plan.Battery, kind *battery.Chemistry) (battery.Wear, error) {
	past := b.Use()
	if b.HealthPct != nil {
		return kind.Worn(qty.Fraction(1-*b.HealthPct/100), past)
	}
	return kind.Wear(past)
}

// leastDepth is the least that counts as the depth of a discharge.
const leastDepth = 0.01

// useOf is a trip as the laws of wear take it.
func useOf(b *plan.Battery, s *outlook.Series) battery.Use {
	hours := s.Step.Hours()
	var out, moved, flowing, heat, charge, deepest float64
	top := float64(s.Charge[0])
	for i := 1; i < len(s.Charge); i++ {
		c := float64(s.Charge[i])
		top = max(top, c)
		deepest = max(deepest, top-c)
		net := float64(s.AmpsOut[i] - s.AmpsIn[i])
		out += max(net, 0) * hours
		moved += math.Abs(net) * hours
		if math.Abs(net) > 0.01*b.CapacityAh/20 {
			flowing += hours
		}
		heat += float64(s.Core[i])
		charge += c
	}
	n := float64(len(s.Charge) - 1)
	u := battery.Use{
		Years: n * hours / (24 * 365.25), KeptAt: qty.Fraction(charge / n), Kept: qty.Celsius(heat / n), During: qty.Celsius(heat / n),
		Cycles: out / b.CapacityAh, Depth: qty.Fraction(max(deepest, leastDepth)),
	}
	if flowing > 0 {
		u.Rate = min(moved/flowing/b.CapacityAh, 3)
	}
	return u
}

// yearly is a year of such trips, and of lying between them.
func yearly(b *plan.Battery, trip battery.Use) battery.Use {
	u := trip
	u.Years = 1
	u.Cycles = min(trip.Cycles*b.UsesPerYear, 100_000)
	share := min(trip.Years*b.UsesPerYear, 1) // of the year, on trips
	u.Kept = qty.Celsius(share)*trip.Kept + qty.Celsius((1-share)*b.KeptC)
	u.KeptAt = qty.Fraction(share)*trip.KeptAt + qty.Fraction((1-share)*b.KeptPct/100)
	return u
}

// years is how long such years are good for.
func years(kind *battery.Chemistry, now battery.Wear, each battery.Use) (Span, error) {
	low, high, _, err := kind.YearsTo(now, worn, each)
	if err != nil {
		return Span{}, err
	}
	s := Span{Low: min(low, LongestLife), High: min(high, LongestLife)}
	s.Endless = s.High == LongestLife
	return s, nil
}
