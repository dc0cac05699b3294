package weather

import (
	"time"

	"duskline/calc/qty"
)

// A Cut is the weather of a trip, hour by hour.
type Cut struct {
	Start    time.Time // the file's hour at or before the instant asked for, in the file's standard time
	GHI, DHI []float64 // W/m², DHI 0 to GHI; entry i is the mean of the hour that begins at Start + i h
	Air      []float64 // °C; nil if any is missing
	Wind     []float64 // m/s; nil if any is missing
	Leap     int       // how many of the hours are of a 29 February and took the weather of the 28th, as the file has none
}

// Cut returns the weather from an instant on for so many hours, 1 to 8784.
//
// The instant may be of any year: month, day and hour in the file's standard
// time are looked up, and after 31 December comes 1 January. Where the instant
// is not on the hour there (zones of half hours), the cut begins before it and
// has one hour more, so that all asked for is in it. 29 February of a file
// without it has the weather of the 28th, counted in Leap; that of a file with
// it is passed over in other years.
//
// Errors: *qty.RangeError for hours; [Errors] of kind NoLight, one for each
// line (20 at most) that has no light.
func (y *Year) Cut(from time.Time, hours int) (Cut, error) {
	if err := qty.InRange("hours", float64(hours), 1, leapRows, "h"); err != nil {
		return Cut{}, err
	}
	// from here on UTC stands for the file's standard time
	shown := from.UTC().Add(y.Standard)
	start := shown.Truncate(time.Hour)
	if start.Before(shown) {
		hours++
	}
	c := Cut{
		Start: start.Add(-y.Standard).In(time.FixedZone("", int(y.Standard/time.Second))),
		GHI:   make([]float64, hours),
		DHI:   make([]float64, hours),
		Air:   make([]float64, hours),
		Wind:  make([]float64, hours),
	}
	var errs Errors
	for i := range hours {
		row, borrowed := y.row(start.Add(time.Duration(i) * time.Hour))
		if borrowed {
			c.Leap++
		}
		h := y.hours[row]
		if h.ghi == noLight {
			errs.add(Error{Kind: NoLight, Line: line(row), Column: colGHI, Field: "ghi"})
			continue
		}
		c.GHI[i], c.DHI[i] = float64(h.ghi)/10, float64(h.dhi)/10
		if h.air == noAir {
			c.Air = nil
		} else if c.Air != nil {
			c.Air[i] = float64(h.air) / 100
		}
		if h.wind == noWind {
			c.Wind = nil
		} else if c.Wind != nil {
			c.Wind[i] = float64(h.wind) / 100
		}
	}
	if len(errs) > 0 {
		return Cut{}, errs
	}
	return c, nil
}

// row returns where the hour that begins at t is kept, and whether it is that
// of the day before.
func (y *Year) row(t time.Time) (row int, borrowed bool) {
	_, month, day := t.Date()
	row = (daysBefore[month-1]+day-1)*24 + t.Hour()
	if y.Rows == commonRows && row >= leapDay {
		row -= 24
		borrowed = row < leapDay
	}
	return row, borrowed
}
