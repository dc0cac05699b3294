package sun

import (
	"time"

	"duskline/calc/qty"
)

// IndexForPeakSunHours returns the clear-sky index that makes the GHI of a day
// add up to so many peak sun hours (kWh/m² on the level). The day's shape stays
// that of the clear sky. midnight is the local one.
//
// An index above 1.2 is handed back as found: a day brighter than any clear
// sky can only be explained by cleaner air than the turbidity says. Zero hours
// give index 0, on a day without sun too.
//
// Errors: *qty.RangeError for the place, the year and for hours, which cannot
// be below 0 nor above [DailyExtraterrestrial] (or the clear day itself, where
// at the edge of the polar night refraction brings light that the bound, which
// knows no air, denies).
//
// Source: Ineichen2002 for the clear day.
func IndexForPeakSunHours(p Place, a Atmosphere, midnight time.Time, hours float64) (float64, error) {
	k, err := NewTrack(midnight, midnight.Add(24*time.Hour), p)
	if err != nil {
		return 0, err
	}
	clear := k.clearHours(a, midnight)
	limit := max(clear, DailyExtraterrestrial(p.Latitude, DayOfYear(midnight))/1000)
	if clear == 0 {
		limit = 0
	}
	if err := qty.InRange("hours", hours, 0, limit, "kWh/m²"); err != nil {
		return 0, err
	}
	if hours == 0 {
		return 0, nil
	}
	return hours / clear, nil
}

// clearHours returns the day's sum of clear-sky GHI, kWh/m², from the middles
// of 5-minute steps.
func (k *Track) clearHours(a Atmosphere, midnight time.Time) (sum float64) {
	extra := Extraterrestrial(DayOfYear(midnight))
	const step = 5 * time.Minute
	start := midnight.Sub(k.from) + step/2
	for t := start; t < start+24*time.Hour; t += step {
		sum += float64(a.ClearSky(k.At(t), extra).GHI)
	}
	return sum * step.Hours() / 1000
}
