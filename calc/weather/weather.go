// Package weather reads a year of hourly weather from a file of the user's
// own, and cuts from it the hours of a trip.
//
// The file is an EPW file (EnergyPlus weather, an open format): eight header
// lines, then 8760 or 8784 lines, one for each hour of a year in the
// standard time of the place. Hour 1 of a day is the hour that ends at 1:00,
// and its figures are means over the hour before that. Year numbers are not
// looked at: such files are put together from several years.
//
//	bytes -> Read -> Year -> Cut -> hourly W/m², °C, m/s of a trip
//	                 Year <-> Pack, Unpack: what is kept on the device
//
// Decision: the reader judges only what it uses: place, time zone, month, day,
// hour, air, the three kinds of light, wind. What a file leaves out is counted
// in [Missing] and never made up in silence.
//
// Not done: files with more than one record an hour or of several years;
// humidity, pressure, snow and all else a file may hold.
//
// Columns, limits and codes for missing values are the format's.
//
// Source: EnergyPlusAux, the EPW data dictionary.
package weather

import (
	"math"
	"time"

	"duskline/calc/sun"
)

// A Year is the hourly weather of one place, measured or typical.
type Year struct {
	Name     string        // of the place, as the file has it; "" to 80 characters, what is longer is cut
	Country  string        // likewise
	Place    sun.Place     // where the file's weather was
	Standard time.Duration // the file's time ahead of UTC, -12 h to 14 h, whole minutes; a file knows no summer time
	Rows     int           // 8760 or 8784
	Missing  Missing

	hours []hour // from 1 January, 0 to 1 o'clock
}

// Missing counts the hours of a [Year] for which its file lacks something.
type Missing struct {
	Light   int // nothing to tell the light from: [Year.Cut] refuses such an hour
	Global  int // all light is made up from beam and sky light
	Diffuse int // sky light is made up from the other two, or by [sun.Erbs]
	Trimmed int // sky light was above all light, by 20 W/m² at most, and is set equal to it
	Air     int // temperature of the air
	Wind    int // wind speed
}

// An hour is kept in tenths of W/m² and hundredths of °C and m/s, as no file
// is finer.
type hour struct {
	ghi, dhi uint16
	air      int16
	wind     uint16
}

const (
	noLight, noWind = math.MaxUint16, math.MaxUint16
	noAir           = math.MaxInt16
)

// Limits of the values. Air, wind and the codes for missing ones are the
// format's; more light than maxLight is above any sun.
const (
	minAir, maxAir = -70, 70 // °C
	maxWind        = 40      // m/s
	maxLight       = 2000    // W/m²

	minZone, maxZone = -12, 14 // h; the format has 12, the earth 14
	maxName          = 80      // characters
)

// slack is how far light may stand above what can be, W/m²: rounding, a sun
// that stood a little otherwise in the file's year, clocks. Our own choice,
// practice.
const slack = 20

const (
	commonRows = 365 * 24
	leapRows   = 366 * 24
	leapDay    = (31 + 28) * 24 // the row of 29 February, 0 to 1 o'clock
	headLines  = 8
)

// Line returns the file's line for a row, which are numbered from 0.
func line(row int) int { return headLines + 1 + row }
