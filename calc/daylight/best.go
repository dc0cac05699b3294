package daylight

import (
	"errors"
	"math"
	"slices"
	"sort"
	"time"

	"duskline/calc/qty"
	"duskline/calc/sun"
)

// An Advice is how a panel would lie best on the dates of a trip.
type Advice struct {
	Best    Choice   // the best that stays as it is laid, in whole degrees
	Choices []Choice // in the order of their kinds; what makes no sense is left out
	Days    int      // how many of the trip's local days were looked at, spread evenly
}

// ErrNoLight says that no light reaches a panel on any day of the trip.
var ErrNoLight = errors.New("daylight: no light on these days")

// How closely a search looks. Its first part looks at a few days in wide steps
// of time, the last degrees and every figure told come from all of them.
const (
	mostDays = 31
	fewDays  = 6
	wideStep = 20 * time.Minute // of the few days, and of all if there are many
	fineStep = 10 * time.Minute // of all, up to manyDays
	manyDays = 10
)

// BestLie returns how panel i of the Spec would lie best on the trip's dates,
// under its sky, with its horizon and its hours of shade: by search over the
// model, in light behind the glass. The dates count whole, the trip's first and
// last one too. Of more than 31 days 31 are looked at.
//
// A coarse grid of 15° of tilt and 30° of azimuth is followed from its three
// highest points that are no neighbours in ever smaller steps, to whole degrees. What dirt keeps out
// is not counted, and neither is what a patch of shade does to the panel beyond
// the light it takes.
//
// Errors: *qty.RangeError for i, [ErrNoLight].
func (c *Scene) BestLie(i int) (Advice, error) {
	if err := qty.InRange("panel", float64(i), 0, float64(len(c.panels)-1), ""); err != nil {
		return Advice{}, err
	}
	q := c.newSearch(i)
	now := c.spec.Panels[i].Lie
	flat := q.all.sum(q, Lie{Azimuth: now.Azimuth})
	if !(flat > 0) {
		return Advice{}, ErrNoLight
	}
	a := Advice{Days: q.days}
	add := func(kind ChoiceKind, l Lie) {
		light := q.all.sum(q, l)
		a.Choices = append(a.Choices, Choice{kind, l, light, light/flat - 1})
	}
	best, upright := q.fixed(now)
	add(AsItLies, now)
	add(Flat, Lie{Azimuth: now.Azimuth})
	add(BestFixed, best)
	a.Best = a.Choices[2]
	add(Upright, upright)
	if l := best; l.Tilt >= 15 {
		l.Tilt -= 15
		add(LeanLess, l)
	}
	if l := best; l.Tilt <= 75 {
		l.Tilt += 15
		add(LeanMore, l)
	}
	if best.Tilt > 0 {
		earlier, later := best, best
		earlier.Azimuth = turn(best.Azimuth, -30*q.way())
		later.Azimuth = turn(best.Azimuth, 30*q.way())
		add(FaceEarlier, earlier)
		add(FaceLater, later)
	}
	add(TurnedTwice, q.turned(best, 2))
	add(TurnedThrice, q.turned(best, 3))
	add(TwoAxisThrice, Lie{TwoAxis, best.Tilt, best.Azimuth, 3})
	add(TwoAxisHourly, Lie{TwoAxis, best.Tilt, best.Azimuth, q.hours()})
	return a, nil
}

// A search looks for the best lie of one panel.
type search struct {
	c        *Scene
	p        *lying
	all, few lights
	days     int
}

// lights are lit instants, and what each adds to a day's mean, kWh/m² for a
// W/m².
type lights struct {
	list  []instant
	share float64
}

// instant is a sample that knows its day, and how the sky shines then: the
// model of Perez takes longer for that than for a plane.
type instant struct {
	sample
	day   *day
	glow  sun.Glow
	shade bool
}

func (c *Scene) newSearch(i int) *search {
	q := &search{c: c, p: &c.panels[i], days: min(len(c.days), mostDays)}
	step := fineStep
	if q.days > manyDays {
		step = wideStep
	}
	q.all = q.collect(q.days, step)
	q.few = q.collect(min(q.days, fewDays), wideStep)
	return q
}

// collect takes so many days, evenly from all.
func (q *search) collect(days int, step time.Duration) lights {
	out := lights{share: step.Hours() / 1000 / float64(days), list: make([]instant, 0, days*int(14*time.Hour/step))}
	var list []sample
	for j := range days {
		d := &q.c.days[(2*j+1)*len(q.c.days)/(2*days)]
		list = q.c.sampled(list[:0], d, step, func(at float64, to sun.Direction) sun.Light { return q.c.expected(d, at, to) })
		for _, s := range list {
			out.list = append(out.list, instant{s, d, q.c.spec.Model.Glow(s.light, s.d, d.extra), q.p.shaded > 0 && in(q.p.shade, s.hour)})
		}
	}
	return out
}

// sum returns what a lie gets, kWh/m² a day through the glass.
func (li *lights) sum(q *search, l Lie) (sum float64) {
	c := q.c
	l = l.plain()
	aimed := -1
	var view, even sun.View
	lay := func(tilt, azimuth qty.Degree) {
		p, _ := sun.NewPlane(tilt, azimuth) // all that comes here is in range
		view = sun.NewView(p, &c.spec.Horizon, c.spec.Model, c.spec.Glass)
		if c.hours != nil && c.spec.Model == sun.Perez {
			even = sun.NewView(p, &c.spec.Horizon, sun.Isotropic, c.spec.Glass)
		} else {
			even = view
		}
	}
	if l.Aims == 0 {
		lay(l.Tilt, l.Azimuth)
	}
	for k := range li.list {
		s := &li.list[k]
		if l.Aims > 0 {
			part := s.day.part(s.after, l.Aims)
			if to := s.day.number*l.Aims + part; to != aimed {
				aimed = to
				lay(c.aim(l, s.day, part))
			}
		}
		v := &view
		if s.d.Elevation <= 0 {
			v = &even
		}
		in := v.Through(v.LightOf(s.light, s.d, s.glow, c.spec.Albedo, false), s.d)
		if s.shade {
			dark := v.Through(v.LightOf(s.light, s.d, s.glow, c.spec.Albedo, true), s.d)
			in += qty.Irradiance(q.p.shaded) * (dark - in)
		}
		sum += float64(in)
	}
	return sum * li.share
}

// found is a lie with its light.
type found struct {
	lie   Lie
	light float64
}

// fixed returns the best lie of all, and the best of those at 90°.
func (q *search) fixed(now Lie) (best, upright Lie) {
	all := []found{{Lie{Azimuth: now.Azimuth}, 0}}
	for tilt := qty.Degree(15); tilt <= 90; tilt += 15 {
		for azimuth := qty.Degree(0); azimuth < 360; azimuth += 30 {
			all = append(all, found{Lie{Tilt: tilt, Azimuth: azimuth}, 0})
		}
	}
	if now.Kind == Fixed || now.Kind == OnLid {
		all = append(all, found{Lie{Tilt: round(now.Tilt), Azimuth: turn(round(now.Azimuth), 0)}, 0})
	}
	stand := found{light: -1}
	for k := range all {
		f := &all[k]
		f.light = q.few.sum(q, f.lie)
		if f.lie.Tilt == 90 && f.light > stand.light {
			stand = *f
		}
	}
	sort.SliceStable(all, func(i, k int) bool { return all[i].light > all[k].light })
	// Between two hills of about the same height the few days do not decide.
	var hills []found
	var starts []Lie
	most := 0.0
	for _, f := range all {
		if len(starts) == 3 {
			break
		}
		if slices.ContainsFunc(starts, func(l Lie) bool { return near(l, f.lie) }) {
			continue // the same hill
		}
		starts = append(starts, f.lie)
		f = q.few.climb(q, f, 8, true)
		f.light = q.all.sum(q, f.lie)
		hills = append(hills, f)
		most = max(most, f.light)
	}
	const close = 0.97
	top := found{light: -1}
	for _, f := range hills {
		if f.light >= close*most {
			if f = q.all.climb(q, f, 2, true); f.light > top.light {
				top = f
			}
		}
	}
	stand = q.few.climb(q, stand, 16, false)
	stand.light = q.all.sum(q, stand.lie)
	stand = q.all.climb(q, stand, 2, false)
	if top.lie.Tilt == 0 {
		top.lie.Azimuth = now.Azimuth
	}
	return top.lie, stand.lie
}

// near says whether two points of the coarse grid are neighbours.
func near(a, b Lie) bool {
	side := math.Abs(float64(a.Azimuth - b.Azimuth))
	return math.Abs(float64(a.Tilt-b.Tilt)) <= 15 && (a.Tilt == 0 || b.Tilt == 0 || min(side, 360-side) <= 30)
}

// climb goes to a better neighbour while there is one, in steps that are halved
// down to 1°. Azimuths are as far apart on the sky as tilts are.
func (li *lights) climb(q *search, at found, step qty.Degree, lean bool) found {
	for ; step >= 1; step /= 2 {
		for moved := true; moved; {
			moved = false
			side := step
			if wide := math.Sin(float64(at.lie.Tilt.Radians())); wide < 1 {
				side = min(round(step/qty.Degree(max(wide, 0.1))), 30)
			}
			for _, to := range [4]Lie{
				{Tilt: at.lie.Tilt - step, Azimuth: at.lie.Azimuth},
				{Tilt: at.lie.Tilt + step, Azimuth: at.lie.Azimuth},
				{Tilt: at.lie.Tilt, Azimuth: turn(at.lie.Azimuth, -side)},
				{Tilt: at.lie.Tilt, Azimuth: turn(at.lie.Azimuth, side)},
			} {
				if to.Tilt < 0 || to.Tilt > 90 || to.Tilt != at.lie.Tilt && !lean || to.Tilt == 0 && to.Azimuth != at.lie.Azimuth {
					continue
				}
				if light := li.sum(q, to); light > at.light {
					at, moved = found{to, light}, true
				}
			}
		}
	}
	return at
}

// turned returns the lie of a panel that is turned so many times a day, at the
// lean that is best for it, to 5°.
func (q *search) turned(best Lie, aims int) Lie {
	top := found{light: -1}
	try := func(tilt qty.Degree) {
		l := Lie{Turned, tilt, best.Azimuth, aims}
		if light := q.few.sum(q, l); light > top.light {
			top = found{l, light}
		}
	}
	for tilt := qty.Degree(0); tilt <= 90; tilt += 15 {
		try(tilt)
	}
	mid := top.lie.Tilt
	for _, by := range [4]qty.Degree{-10, -5, 5, 10} {
		if tilt := mid + by; tilt >= 0 && tilt <= 90 {
			try(tilt)
		}
	}
	return top.lie
}

// way is 1 where the sun goes by the south at noon, which makes azimuths grow
// from morning to evening, and -1 where it goes by the north.
func (q *search) way() qty.Degree {
	d := &q.c.days[len(q.c.days)/2]
	if q.c.toward(d.table.Noon.Sub(q.c.spec.Start).Seconds()).North > 0 {
		return -1
	}
	return 1
}

// hours returns the hours of daylight, as a number of aims.
func (q *search) hours() int {
	d := &q.c.days[len(q.c.days)/2]
	return max(1, min(int(math.Round((d.set-d.rise)/3600)), 24))
}

// turn adds to an azimuth, 0 up to 360.
func turn(azimuth, by qty.Degree) qty.Degree {
	a := azimuth + by
	for a < 0 {
		a += 360
	}
	for a >= 360 {
		a -= 360
	}
	return a
}

func round(d qty.Degree) qty.Degree { return qty.Degree(math.Round(float64(d))) }
