package sun

import (
	"math"
	"time"

	"duskline/calc/qty"
)

// DayState says whether the sun crosses the horizon.
type DayState uint8

// The three kinds of day.
const (
	Normal     DayState = iota // it rises or sets
	PolarDay                   // it stays up
	PolarNight                 // it stays down
)

// A Day is the sun's timetable for one local day.
//
// Rise and Set are zero on polar days and nights. On the day on which a polar
// day or night begins or ends only one of them may exist; the other is zero.
// At high latitude either may fall on the neighbouring date.
type Day struct {
	State           DayState
	Rise, Noon, Set time.Time // in the zone of the midnight handed in

	// The sun's middle passes 6° and 12° below the level, without air.
	// Zero where it does not: in a white night it stays above, in a deep
	// polar night below. Near the pole only one of a pair may exist.
	CivilDawn, CivilDusk, NauticalDawn, NauticalDusk time.Time
}

// sineOfRise belongs to -0.8333°: radius of the sun and 34 minutes of air.
var sineOfRise = math.Sin(-0.8333 * rad)

// DayAt returns the timetable of the 24 hours after a local midnight.
//
// Noon is the instant at which the sun crosses the meridian. Rise and Set are
// the crossings of -0.8333°, the middle of the sun seen without air from the
// sea's level, in the 12 hours before and after Noon (at the poles, where
// there is no noon to speak of, at any hour). Both are found by halving an
// interval until it is below a microsecond.
//
// Errors: *qty.RangeError for the place and for years outside 1900 to 2149.
//
// Source: Reda2004 for the sun's place and the -0.8333°.
func DayAt(midnight time.Time, p Place) (Day, error) {
	k, err := NewTrack(midnight, midnight.Add(24*time.Hour), p)
	if err != nil {
		return Day{}, err
	}
	return k.Day(midnight)
}

// Day is [DayAt] for a day that the track touches, without computing the
// sun's place anew. midnight may lie 24 hours before the track's start and at
// its end.
//
// Errors: *qty.RangeError for a midnight off the track.
func (k *Track) Day(midnight time.Time) (Day, error) {
	base := before + midnight.Sub(k.from).Hours()/24
	if err := qty.InRange("midnight", base-before, -1, float64(len(k.eph.cube)-before-after), "days after start"); err != nil {
		return Day{}, err
	}
	noon := k.noon(base)
	at := func(day float64) time.Time {
		return midnight.Add(time.Duration(math.Round((day - base) * float64(24*time.Hour))))
	}
	d := Day{Noon: at(noon)}

	// Near the poles the sun's height has its highest and lowest points off
	// noon and midnight, because the declination moves on meanwhile.
	top, first, last := noon, noon-0.5, noon+0.5
	if !k.up(top) {
		top = k.extreme(noon-0.25, noon+0.25, 1)
	}
	if !k.up(top) {
		// Within some 20 km of the pole the season outruns the day's swing:
		// the sun comes or goes for half a year, at any hour.
		switch was, is := k.up(first), k.up(last); {
		case is && !was:
			d.Rise = at(k.crossing(first, last))
		case was && !is:
			d.Set = at(k.crossing(last, first))
		default:
			d.State = PolarNight
		}
		return d, nil
	}
	if k.up(first) {
		first = k.extreme(first, noon-0.25, -1)
	}
	if k.up(last) {
		last = k.extreme(noon+0.25, last, -1)
	}
	d.State = PolarDay
	if !k.up(first) {
		d.State, d.Rise = Normal, at(k.crossing(first, top))
	}
	if !k.up(last) {
		d.State, d.Set = Normal, at(k.crossing(last, top))
	}
	return d, nil
}

// height returns the sine of the geometric elevation over that of rising.
func (k *Track) height(day float64) float64 {
	east, north, up := k.sea.see(k.eph.at(day))
	return up/math.Sqrt(east*east+north*north+up*up) - sineOfRise
}

func (k *Track) up(day float64) bool { return k.height(day) > 0 }

// noon returns when the geocentric sun crosses the meridian, the first time
// from base on.
func (k *Track) noon(base float64) float64 {
	hourAngle := func(day float64) float64 { // as a share of a day
		x, y, _ := k.eph.at(day)
		return math.Atan2(y*k.sea.cosLon+x*k.sea.sinLon, x*k.sea.cosLon-y*k.sea.sinLon) / (2 * math.Pi)
	}
	wait := -hourAngle(base)
	if wait < 0 {
		wait++
	}
	t := base + wait
	for range 4 { // the hour angle gains a day a day to 1 part in 3000
		t -= hourAngle(t)
	}
	return t
}

// crossing returns when the sun crosses the horizon between an instant at
// which it is down and one at which it is up, in either order.
func (k *Track) crossing(down, up float64) float64 {
	for range 38 { // half a day over 2^38 is 0.2 µs
		mid := (down + up) / 2
		if k.up(mid) {
			up = mid
		} else {
			down = mid
		}
	}
	return (down + up) / 2
}

// extreme returns where the height is greatest (sign 1) or least (sign -1)
// between two instants, by golden section.
func (k *Track) extreme(a, b, sign float64) float64 {
	const g = 0.6180339887498949
	c, d := b-g*(b-a), a+g*(b-a)
	fc, fd := sign*k.height(c), sign*k.height(d)
	for range 40 {
		if fc > fd {
			b, d, fd = d, c, fc
			c = b - g*(b-a)
			fc = sign * k.height(c)
		} else {
			a, c, fc = c, d, fd
			d = a + g*(b-a)
			fd = sign * k.height(d)
		}
	}
	return (a + b) / 2
}
