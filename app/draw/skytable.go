package draw

import (
	"time"

	"duskline/app/words"
	"duskline/calc/qty"
)

// WaysTable is the sun's ways in figures: when it is first and last seen over
// what stands in the way, how long it is hidden while up, and how high it
// climbs.
func WaysTable(h Ring) Table {
	t := Table{
		Caption: words.T("table.ways"),
		Head: []string{words.Column("day"), words.Column("sun_comes"), words.Column("sun_goes"),
			words.Column("hidden"), words.Column("highest")},
	}
	g := ring{Ring: h}
	for _, w := range h.Ways {
		row := []string{words.Day(w.Day), "–", "–", "–", "–"}
		if top, ok := w.noon(); ok {
			row[4] = words.High(top.Elevation, top.Azimuth)
			var behind time.Duration
			seen := false
			for _, s := range stretches(w, g.height) {
				switch {
				case s.hidden:
					behind += s.to().Sub(s.from())
				case !seen:
					seen = true
					row[1], row[2] = words.Clock(s.from()), words.Clock(s.to())
				default:
					row[2] = words.Clock(s.to())
				}
			}
			if !seen {
				row[1], row[2] = words.T("ways.never"), words.T("ways.never")
			}
			row[3] = words.Duration(behind.Round(time.Minute))
		} else {
			row[1], row[2] = words.T("ways.no_rise"), words.T("ways.no_rise")
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// A Peak is one point of the horizon as it was measured, degrees.
type Peak struct{ Azimuth, Height float64 }

// HorizonTable lists the points of the horizon.
func HorizonTable(peaks []Peak) Table {
	t := Table{
		Caption: words.T("table.horizon"),
		Head:    []string{words.Column("direction"), words.Column("fists"), words.Column("degrees")},
	}
	for _, p := range peaks {
		t.Rows = append(t.Rows, []string{words.Bearing(qty.Degree(p.Azimuth)), words.Fists(p.Height), words.Plain(p.Height, "°")})
	}
	if len(t.Rows) == 0 {
		t.Rows = [][]string{{words.T("horizon.open"), words.Fists(0), words.Plain(0, "°")}}
	}
	return t
}

// LightTable is the light of each day in figures.
func LightTable(days []Bright) Table {
	t := Table{
		Caption: words.T("table.light"),
		Head:    []string{words.Column("day"), words.Column("on_panels"), words.Column("ceiling"), words.Column("share")},
	}
	for _, d := range days {
		part := "–"
		if d.Ceiling > 0.005 {
			part = words.Percent(qty.Fraction(d.Light / d.Ceiling))
		}
		t.Rows = append(t.Rows, []string{words.Day(d.Day),
			words.Insolation(d.Light), words.Insolation(d.Ceiling), part})
	}
	return t
}
