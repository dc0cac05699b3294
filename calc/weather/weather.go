// Package weather reads a year of hourly weather from a file of the user's
// own, and cuts from it the hours of a trip.
package weather

import (
	"time"

	"duskline/calc/sun"
)

// A Year is the hourly weather of one place, measured or typical.
type Year struct {
	Name     string        // of the place, as the file has it; "" to 80 characters
	Country  string        // as the file has it; "" to 80 characters
	Place    sun.Place     // where the file's weather was
	Standard time.Duration // the file's time ahead of UTC; a file knows no summer time
	Rows     int           // 8760 or 8784
	Missing  Missing

	hours []hour // from 1 January, 0 to 1 o'clock
}

// Missing counts the hours for which a file lacks something.
type Missing struct {
	Light   int // nothing to tell the light from: [Year.Cut] refuses such an hour
	Global  int // global light made up from beam and sky light
	Diffuse int // sky light made up from the other two, or parted by [sun.Erbs]
	Air     int // temperature of the air
	Wind    int // wind speed
}

type hour struct{ ghi, dhi, air, wind uint16 }

// Read reads an EPW file.
//
// Errors: [Errors], each an *[Error]: the first 20.
func Read(data []byte) (*Year, error) { return nil, Errors{{Kind: Empty}} }

// A Cut is the weather of a trip, hour by hour.
type Cut struct {
	Start    time.Time // the file's hour at or before the instant asked for
	GHI, DHI []float64 // W/m²; entry i is the mean of the hour that begins at Start + i h
	Air      []float64 // °C; nil if any is missing
	Wind     []float64 // m/s; nil if any is missing
	Leap     int       // hours of 29 February that took their weather from the 28th
}

// Cut returns the weather of whole hours from an instant.
func (y *Year) Cut(from time.Time, hours int) (Cut, error) { return Cut{}, nil }

// Pack returns the year as bytes to be kept on the device.
func (y *Year) Pack() []byte { return nil }

// Unpack reads what [Year.Pack] wrote.
func Unpack(data []byte) (*Year, error) { return nil, Errors{{Kind: Damaged}} }
