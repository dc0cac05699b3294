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

	// When the sun's middle passes 6° and 12° below the level, without air.
	// Zero where it does not: in a white night it stays above, in a deep
	// polar night below. Now and then only one of a pair exists.
	CivilDawn, CivilDusk, NauticalDawn, NauticalDusk time.Time
}

// Sines of the elevations that a Day tells of: -0.8333°, the radius of the
// sun and 34 minutes of air, and the two twilights.
var (
	sineOfRise     = math.Sin(-0.8333 * rad)
	sineOfCivil    = math.Sin(-6 * rad)
	sineOfNautical = math.Sin(-12 * rad)
)

// DayAt returns the timetable of the 24 hours after a local midnight.
//
// Noon is the instant at which the sun crosses the meridian. Rise and Set are
// the crossings of -0.8333°, the middle of the sun seen without air from the
// sea's level, in the 12 hours before and after Noon (at the poles, where
// there is no noon to speak of, at any hour); dawn and dusk are those of -6°
// and -12°. Each is good to a microsecond of its own path.
//
// In a polar night there may be dawn and dusk, in a white night there is
// neither.
//
// Errors: *qty.RangeError for the place and for years outside 1900 to 2149.
//
// Source: Reda2004 for the sun's place and the -0.8333°.
//
// Source: Twilight for the other two.
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
		if math.IsNaN(day) {
			return time.Time{}
		}
		return midnight.Add(time.Duration(math.Round((day - base) * float64(24*time.Hour))))
	}
	d := Day{Noon: at(noon)}
	up, down, state := k.passage(noon, sineOfRise)
	d.Rise, d.Set, d.State = at(up), at(down), state
	up, down, _ = k.passage(noon, sineOfCivil)
	d.CivilDawn, d.CivilDusk = at(up), at(down)
	up, down, _ = k.passage(noon, sineOfNautical)
	d.NauticalDawn, d.NauticalDusk = at(up), at(down)
	return d, nil
}

// passage returns when the sun comes up through an elevation before noon and
// goes down through it after, NaN where it does not, and whether it stays
// above or below.
func (k *Track) passage(noon, sine float64) (up, down float64, state DayState) {
	above := func(day float64) bool { return k.height(day) > sine }
	up, down = nan, nan
	// Near the poles the sun's height has its highest and lowest points off
	// noon and midnight, because the declination moves on meanwhile.
	top, first, last := noon, noon-0.5, noon+0.5
	if !above(top) {
		top = k.extreme(noon-0.25, noon+0.25, 1)
	}
	if !above(top) {
		// Within some 20 km of the pole the season outruns the day's swing:
		// the sun comes or goes for half a year, at any hour.
		switch was, is := above(first), above(last); {
		case is && !was:
			up = k.crossing(first, last, sine)
		case was && !is:
			down = k.crossing(last, first, sine)
		default:
			state = PolarNight
		}
		return up, down, state
	}
	if above(first) {
		first = k.extreme(first, noon-0.25, -1)
	}
	if above(last) {
		last = k.extreme(noon+0.25, last, -1)
	}
	state = PolarDay
	if !above(first) {
		state, up = Normal, k.crossing(first, top, sine)
	}
	if !above(last) {
		state, down = Normal, k.crossing(last, top, sine)
	}
	return up, down, state
}

// height returns the sine of the geometric elevation, seen from the sea's level.
func (k *Track) height(day float64) float64 {
	east, north, up := k.sea.see(k.eph.at(day))
	return up / math.Sqrt(east*east+north*north+up*up)
}

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

// crossing returns when the sun crosses an elevation between an instant at
// which it is below and one at which it is above, in either order.
//
// Regula falsi, with the end that stays put weighed less each time; halving
// where the root is not bracketed to a microsecond after that.
func (k *Track) crossing(below, above, sine float64) float64 {
	const microsecond = 1e-6 / daysSeconds
	low, high := k.height(below)-sine, k.height(above)-sine
	kept := 0
	for round := range 90 {
		if math.Abs(above-below) < microsecond {
			break
		}
		mid := (below + above) / 2
		if round < 40 {
			mid = (below*high - above*low) / (high - low)
			// a step past the root closes the bracket from the other side
			if edge := microsecond / 4; math.Abs(mid-below) < edge {
				mid = below + math.Copysign(edge, above-below)
			} else if math.Abs(mid-above) < edge {
				mid = above + math.Copysign(edge, below-above)
			}
		}
		if h := k.height(mid) - sine; h > 0 {
			above, high = mid, h
			if kept == 1 {
				low /= 2
			}
			kept = 1
		} else {
			below, low = mid, h
			if kept == -1 {
				high /= 2
			}
			kept = -1
		}
	}
	return (below + above) / 2
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
