package battery

import (
	"math"

	"duskline/calc/qty"
)

// A Use is what a battery has gone through, or goes through in some time.
type Use struct {
	Years  float64      // that pass, 0 to 100
	Kept   qty.Celsius  // temperature at which it is kept, -60 to 90 °C; measured are 10 to 60 °C
	KeptAt qty.Fraction // charge at which it is kept

	Cycles float64      // full cycles: amp-hours taken out over the rated ones, 0 to 100 000
	Depth  qty.Fraction // depth of a discharge, 0.01 to 1
	Rate   float64      // mean amps of charge and discharge over the rated amp-hours, 1/h, 0 to 3
	During qty.Celsius  // temperature while it is used, -60 to 90 °C
}

// check finds the first figure out of range.
func (u *Use) check() error {
	list := [...]struct {
		what          string
		got, min, max float64
		unit          string
	}{
		{"years", u.Years, 0, 100, "years"},
		{"kept", float64(u.Kept), -60, 90, "°C"},
		{"kept at", float64(u.KeptAt), 0, 1, ""},
		{"cycles", u.Cycles, 0, 100_000, "cycles"},
		{"depth", float64(u.Depth), 0.01, 1, ""},
		{"rate", u.Rate, 0, 3, "1/h"},
		{"during", float64(u.During), -60, 90, "°C"},
	}
	for i := range list {
		c := &list[i]
		if err := qty.InRange(c.what, c.got, c.min, c.max, c.unit); err != nil {
			return err
		}
	}
	return nil
}

// A Wear is what a battery has lost of its rated amp-hours, as two models
// say it: where they disagree, both are told. A loss may come out above 1:
// then nothing is left.
//
// The zero value is a new battery. It also remembers what [Chemistry.Further]
// needs to go on from.
type Wear struct {
	Low, High         qty.Fraction // loss, the lesser and the greater of the two models
	Calendar, Cycling qty.Fraction // parts of the loss by time and by use, mean of both models
	Growth            float64      // of the resistance, over that of a new battery, less 1

	models [2]lost // state of each model
	ohms   lost    // state of the resistance
}

// lost is a sum by time and by use.
type lost struct{ calendar, cycling float64 }

func (l lost) sum() float64 { return l.calendar + l.cycling }

// Mid returns the loss in the middle of the band.
//
// Source: EnergyBalance, the mean of two figures whose sources stand with the models.
func (w Wear) Mid() qty.Fraction { return (w.Low + w.High) / 2 }

// Wear returns what a use does to a new battery.
//
// Conditions are those of the whole time; for changing ones, add with
// Further.
//
// Errors: *qty.RangeError for the first figure of u out of its range.
//
// Source: Blast2023, Schmalstieg2014, CommonPractice: see [Life].
func (c *Chemistry) Wear(u Use) (Wear, error) { return c.Further(Wear{}, u) }

// Further returns what a use does to a battery that has the wear it has: each
// part of each model goes on, under the new conditions, from the loss it had.
// A week late in life so costs less than the first one.
//
// Errors: as Wear.
//
// Source: Blast2023, as Wear; the addition state by state is theirs, too.
func (c *Chemistry) Further(from Wear, u Use) (Wear, error) {
	if err := u.check(); err != nil {
		return Wear{}, err
	}
	w := from
	laws, ohms := c.Life.laws(&u)
	days := u.Years * 365.25
	for k, l := range laws {
		w.models[k].calendar = l.calendar.on(from.models[k].calendar, days)
		w.models[k].cycling = l.cycling.on(from.models[k].cycling, u.Cycles)
	}
	a, b := w.models[0], w.models[1]
	w.Low, w.High = qty.Fraction(math.Min(a.sum(), b.sum())), qty.Fraction(math.Max(a.sum(), b.sum()))
	w.Calendar, w.Cycling = qty.Fraction((a.calendar+b.calendar)/2), qty.Fraction((a.cycling+b.cycling)/2)
	w.ohms.calendar = ohms.calendar.on(from.ohms.calendar, days)
	w.ohms.cycling = ohms.cycling.on(from.ohms.cycling, u.Cycles)
	w.Growth = w.ohms.sum() + c.Life.OhmsPerLoss*float64(w.Mid())
	return w, nil
}

// longest is how far ahead YearsTo and MostYears look, in years.
const longest = 100

// YearsTo returns in how many more years a battery with some wear has lost so
// much in all, by the quicker and by the slower model, if yearly is what each
// year is like: its Years count as 1. loss is above 0 to 0.9; one that is
// there already gives 0.
//
// The measurements behind the models lasted three years or less: what comes
// out above 20 years is best told as more than 20. A model that has not lost
// so much in a hundred years gives +Inf, and so does a chemistry without
// ageing; ok is false if both do.
//
// Errors: as Wear, and for loss.
//
// Source: Blast2023, Schmalstieg2014, CommonPractice: see [Life].
func (c *Chemistry) YearsTo(from Wear, loss qty.Fraction, yearly Use) (low, high float64, ok bool, err error) {
	if err := qty.InRange("loss", float64(loss), 1e-6, 0.9, ""); err != nil {
		return 0, 0, false, err
	}
	yearly.Years = 1
	if err := yearly.check(); err != nil {
		return 0, 0, false, err
	}
	laws, _ := c.Life.laws(&yearly)
	var years [2]float64
	for k, l := range laws {
		had := from.models[k]
		years[k] = first(func(y float64) bool {
			return l.calendar.on(had.calendar, 365.25*y)+l.cycling.on(had.cycling, yearly.Cycles*y) >= float64(loss)
		})
	}
	low, high = math.Min(years[0], years[1]), math.Max(years[0], years[1])
	return low, high, !math.IsInf(low, 1), nil
}

// first returns the years at which reached turns from false to true, +Inf if
// it does not within the longest time looked at.
func first(reached func(years float64) bool) float64 {
	lo, hi := 0.0, float64(longest)
	if reached(lo) {
		return lo
	}
	if !reached(hi) {
		return math.Inf(1)
	}
	for range 60 {
		if mid := (lo + hi) / 2; reached(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

// Worn returns the wear of a battery whose loss was measured, 0 to 0.9: both
// models stand at that loss. How it divides into time and use, and how the
// resistance grew with it, is taken from its past in proportion; without a
// past all of it is time's, and the resistance has grown by the same share, or
// by what Life says.
//
// Errors: as Wear, and for loss.
//
// Source: EnergyBalance, proportion; what the past does: see [Life].
func (c *Chemistry) Worn(loss qty.Fraction, past Use) (Wear, error) {
	if err := qty.InRange("loss", float64(loss), 0, 0.9, ""); err != nil {
		return Wear{}, err
	}
	w, err := c.Wear(past)
	if err != nil {
		return Wear{}, err
	}
	q := float64(loss)
	byTime, grown := 1.0, q*math.Max(1, c.Life.OhmsPerLoss)
	if mid := float64(w.Mid()); mid > 0 {
		byTime, grown = float64(w.Calendar)/mid, w.Growth*q/mid
	}
	had := lost{byTime * q, (1 - byTime) * q}
	share := 1.0
	if all := w.ohms.sum(); all > 0 {
		share = w.ohms.calendar / all
	}
	own := grown - c.Life.OhmsPerLoss*q // what is not in proportion to the loss anyway
	return Wear{
		Low: loss, High: loss, Calendar: qty.Fraction(had.calendar), Cycling: qty.Fraction(had.cycling),
		Growth: grown, models: [2]lost{had, had}, ohms: lost{share * own, (1 - share) * own},
	}, nil
}

// Health returns what is left of the rated amp-hours, in the middle of the
// band, and how many times its value when new the resistance is.
//
// Errors: as Wear; and *qty.RangeError for "health" if less than a tenth is
// left: no model here reaches so far, and [Chemistry.MostYears] tells how old
// it may be.
//
// Source: Blast2023, Schmalstieg2014, CommonPractice: see [Life].
func (c *Chemistry) Health(u Use) (health qty.Fraction, growth float64, err error) {
	w, err := c.Wear(u)
	if err != nil {
		return 0, 0, err
	}
	health = 1 - w.Mid()
	return health, 1 + w.Growth, qty.InRange("health", float64(health), leastHealth, 1, "")
}

// leastHealth is the share of the amp-hours under which there is no battery
// to speak of.
const leastHealth = 0.1

// MostYears returns how old a battery may be, with the cycles of u, for
// Health to have an answer: 0 if the cycles alone are too many, at most 100.
// The Years of u do not matter; its other figures are in their ranges.
//
// Source: Blast2023, Schmalstieg2014, CommonPractice: see [Life].
func (c *Chemistry) MostYears(u Use) float64 {
	y := first(func(y float64) bool {
		u.Years = y
		w, err := c.Wear(u)
		return err != nil || 1-w.Mid() < leastHealth
	})
	return math.Min(y, longest)
}

// MostCycles returns how many full cycles a battery may have, with the years
// of u, for Health to have an answer: 0 if the years alone are too many, at
// most 100 000.
//
// Source: Blast2023, Schmalstieg2014, CommonPractice: see [Life].
func (c *Chemistry) MostCycles(u Use) float64 {
	const most = 100_000
	n := first(func(x float64) bool {
		u.Cycles = x / longest * most
		w, err := c.Wear(u)
		return err != nil || 1-w.Mid() < leastHealth
	})
	return math.Min(n/longest, 1) * most
}
