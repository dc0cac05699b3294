package sun

import (
	"math"
	"time"

	"duskline/calc/qty"
)

// A Track is the sun's path over one place for the length of a trip.
//
// Decision: the sun's place is computed once a day and interpolated, as a
// vector, in a frame that turns evenly once in 24 hours. In that frame it
// creeps, so a cubic through four days is good to 2.2e-7°, and a call needs one
// sine instead of 260.
type Track struct {
	from time.Time
	eph  ephemeris
	here observer // at its altitude
	sea  observer // the same place at the sea's level, for rising and setting
	lens float64
}

// Days of path kept before and after the trip, so that the rising and setting
// of its first and last local day are on it.
const before, after = 2, 2

// NewTrack prepares positions from one instant to another, at most 400 days
// apart, in the standard air of the place and 12 °C. It costs about 3 µs a
// day; DeltaT is that of the start.
//
// Errors: *qty.RangeError for the place, for years outside 1900 to 2149 and
// for a length outside 0 to 400 days.
func NewTrack(from, to time.Time, p Place) (*Track, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	if err := checkTime(from); err != nil {
		return nil, err
	}
	if err := checkTime(to); err != nil {
		return nil, err
	}
	days := to.Sub(from).Hours() / 24
	if err := qty.InRange("length", days, 0, 400, "days"); err != nil {
		return nil, err
	}
	return &Track{
		from: from,
		eph:  newEphemeris(daysFrom2000(from)-before, before+int(math.Ceil(days))+after, DeltaT(from)),
		here: observerAt(p),
		sea:  observerAt(Place{Latitude: p.Latitude, Longitude: p.Longitude}),
		lens: airLens(p.StandardAir(from)),
	}, nil
}

// At returns the apparent direction of the sun. t counts from the start of the
// track, 0 to its length. It allocates nothing and agrees with [PositionAt]
// to 1e-6°.
func (k *Track) At(t time.Duration) Direction {
	x, y, z := k.eph.at(before + float64(t)/float64(24*time.Hour))
	east, north, up := k.here.see(x, y, z)

	flat := math.Sqrt(east*east + north*north)
	e0 := math.Atan(up/flat) / rad // flat 0, straight up: atan of infinity is right
	scale := 1 / math.Sqrt(flat*flat+up*up)
	east, north, up, flat = east*scale, north*scale, up*scale, flat*scale
	if e0 < horizonSwitch {
		return Direction{east, north, up, qty.Degree(e0)}
	}
	lift := k.lens * refraction(e0)
	r := lift * rad // under 0.012, where these two short series are exact to 1e-12
	sinR := r * (1 - r*r/6)
	cosR := 1 - r*r/2*(1-r*r/12)
	if flat > 0 {
		turn := cosR - up*sinR/flat
		east, north = east*turn, north*turn
	}
	return Direction{east, north, up*cosR + flat*sinR, qty.Degree(e0 + lift)}
}

// An ephemeris holds the sun's geocentric place as cubics, one for each day.
type ephemeris struct {
	turn float64 // angle of the even frame at the start, radians westward of Greenwich
	cube []cubic
}

// cubic are the coefficients of x, y and z in the even frame, au, by powers of
// the day's fraction.
type cubic struct{ x, y, z [4]float64 }

// newEphemeris computes so many days from a start in days from 2000.
func newEphemeris(start float64, days int, deltaT float64) ephemeris {
	e := ephemeris{cube: make([]cubic, days)}
	var last [4][3]float64 // the nodes of the day before, the day, and two after
	for k := -1; k <= days+1; k++ {
		g := sunFromEarth(start+float64(k), deltaT)
		hour := (g.sidereal - g.ascension) * rad
		if k == -1 {
			e.turn = math.Remainder(hour, 2*math.Pi)
		}
		sinH, cosH := math.Sincos(hour - e.turn)
		sinD, cosD := math.Sincos(g.declination * rad)
		copy(last[:], last[1:])
		last[3] = [3]float64{g.distance * cosD * cosH, g.distance * cosD * sinH, g.distance * sinD}
		if k >= 2 {
			c := &e.cube[k-2]
			c.x, c.y, c.z = through(&last, 0), through(&last, 1), through(&last, 2)
		}
	}
	return e
}

// through returns the cubic through four values at -1, 0, 1 and 2.
func through(v *[4][3]float64, i int) [4]float64 {
	a, b, c, d := v[0][i], v[1][i], v[2][i], v[3][i]
	return [4]float64{
		b,
		c - b/2 - a/3 - d/6,
		(a+c)/2 - b,
		(d-a)/6 + (b-c)/2,
	}
}

// at returns the sun's place, in au in the frame of the Greenwich meridian (x
// on it, y west of it, z north). day counts from the start.
func (e *ephemeris) at(day float64) (x, y, z float64) {
	i := int(day)
	if i == len(e.cube) { // the last instant
		i--
	}
	u := day - float64(i)
	c := &e.cube[i]
	x = c.x[0] + u*(c.x[1]+u*(c.x[2]+u*c.x[3]))
	y = c.y[0] + u*(c.y[1]+u*(c.y[2]+u*c.y[3]))
	z = c.z[0] + u*(c.z[1]+u*(c.z[2]+u*c.z[3]))
	sin, cos := math.Sincos(e.turn + 2*math.Pi*u)
	return x*cos - y*sin, y*cos + x*sin, z
}
