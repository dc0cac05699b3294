package draw

import (
	"math"
	"strconv"
	"time"

	"duskline/calc/outlook"
)

// The colours of the sky by the sun's height, from day to night. Between them
// the colour fades. They hang on the heights by which twilight is told: at 6°
// under the horizon civil twilight is over and the glow with it, at 12°
// nautical twilight and the first small stars are there, at 18° it is night.
// Which colours stand for them is our own choice, after the order in which a
// clear dusk runs through its colours.
var dusk = []struct {
	above  float64 // degrees over the horizon
	key    string  // data-e, coloured by the style sheet
	colour string  // Day theme
}{
	{20, "day", "#bcdde2"},
	{11, "late", "#d3e2d8"},
	{6, "cream", "#f3e3b8"},
	{1, "amber", "#f2b04a"},
	{-3, "ember", "#d9542b"},
	{civil, "plum", "#7d3d68"},
	{nautical, "dim", "#3f2f63"},
	{-18, "night", "#201d40"},
}

// Ends of twilight: heights of the sun, degrees.
const (
	civil    = -6.0
	nautical = -12.0
)

var (
	dayAbove   = dusk[0].above
	nightBelow = dusk[len(dusk)-1].above
)

// A strip is a dusk strip being drawn.
type strip struct {
	pen
	f Frame
	o *outlook.Outlook

	rows       int
	up, cloud  []float64 // the sun's height, degrees; share of cloud
	top, floor float64   // y of full and of empty
	small      bool
	size       float64 // of labels
	bands      int     // gradients of their own so far
	taken      []box   // by words
}

// x returns where row i stands; i may lie between rows or outside.
func (s *strip) x(i float64) float64 {
	if s.rows < 2 {
		return 0
	}
	return s.f.Width * i / float64(s.rows-1)
}

func (s *strip) at(t time.Time) float64 {
	series := &s.o.Series
	if series.Step <= 0 {
		return 0
	}
	return s.x(float64(t.Sub(series.Start)) / float64(series.Step))
}

// perDay is how many pixels a day has.
func (s *strip) perDay() float64 {
	if hours := float64(s.rows-1) * s.o.Series.Step.Hours(); hours > 0 {
		return s.f.Width * 24 / hours
	}
	return s.f.Width
}

func (s *strip) elevation(i int) float64 { return s.up[i] }

// finite copies a column and holds it in its range. A figure that is none
// stands for the one before it: the picture is never lost to one row.
func finite[T ~float64](column []T, least, most float64) []float64 {
	out, last := make([]float64, len(column)), 0.0
	for i, v := range column {
		if v == v {
			last = min(max(float64(v), least), most)
		}
		out[i] = last
	}
	return out
}

// sky draws night, day and the dusks between.
func (s *strip) sky() {
	s.put("rect", "width", s.f.Width, "height", s.f.Height, "fill", dusk[len(dusk)-1].colour, "data-s", "night")
	var day path
	for i := 0; i < s.rows-1; {
		if s.elevation(i) < dayAbove && s.elevation(i+1) < dayAbove {
			i++
			continue
		}
		from := s.crossing(i, dayAbove)
		j := i + 1
		for j < s.rows-1 && s.elevation(j+1) >= dayAbove {
			j++
		}
		to := float64(j)
		if j < s.rows-1 {
			to = s.crossing(j, dayAbove)
		}
		// Half a pixel over the edge of the dusk beside it: no seam.
		day.box(s.x(from)-0.5, 0, s.x(to)-s.x(from)+1, s.f.Height)
		i = max(j, i+1)
	}
	if !day.empty() {
		s.put("path", "d", day.String(), "fill", dusk[0].colour, "data-s", "day")
	}
	for i := 0; i < s.rows-1; {
		j := i + 1
		up := s.elevation(j) >= s.elevation(i)
		for j < s.rows-1 && (s.elevation(j+1) >= s.elevation(j)) == up {
			j++
		}
		s.dusk(i, j, up)
		i = j
	}
}

// crossing returns the place between rows i and i+1 where the sun stands at
// height h; i itself if it does not pass there.
func (s *strip) crossing(i int, h float64) float64 {
	a, b := s.elevation(i), s.elevation(i+1)
	if (a < h) == (b < h) || a == b {
		return float64(i)
	}
	return float64(i) + (h-a)/(b-a)
}

// dusk draws the part between day and night of a stretch of rows in which the
// sun only climbs or only sinks.
//
// Most dusks run straight from day to night: those share one gradient, laid
// over a box from the one to the other. Where the sun turns before, or moves
// so flat that straight is off by a pixel and a half, the stretch gets its own.
func (s *strip) dusk(i, j int, up bool) {
	first, last := s.elevation(i), s.elevation(j)
	lo, hi := min(first, last), max(first, last)
	if hi <= nightBelow || lo >= dayAbove {
		return
	}
	// places of the heights inside, by walking once
	place := func(h float64) (float64, bool) {
		for k := i; k < j; k++ {
			a, b := s.elevation(k), s.elevation(k+1)
			if (a <= h && h <= b || b <= h && h <= a) && a != b {
				return float64(k) + (h-a)/(b-a), true
			}
		}
		return 0, false
	}
	from, to := float64(i), float64(j)
	if x, ok := place(dayAbove); ok && up {
		to = x
	} else if ok {
		from = x
	}
	if x, ok := place(nightBelow); ok && up {
		from = x
	} else if ok {
		to = x
	}
	if to <= from {
		return
	}
	// An end inside the zone is a turn of the sun, or the trip's own end: what
	// is beyond that is outside the frame, so straight on will do.
	e0, e1 := s.height(from), s.height(to)
	ends := func(at, e float64) bool {
		return e >= dayAbove-0.01 || e <= nightBelow+0.01 || at <= 0 || at >= float64(s.rows-1)
	}
	if ends(from, e0) && ends(to, e1) && s.straight(from, to, e0, e1) {
		slope := (e1 - e0) / (to - from)
		a, b, key := s.x(from+(dayAbove-e0)/slope), s.x(from+(nightBelow-e0)/slope), "dusk"
		if up {
			a, b, key = b, a, "dawn"
		}
		if b-a < 4*s.f.Width {
			s.put("rect", "x", a, "width", b-a, "height", s.f.Height, "fill", "url(#"+s.f.ID+key+")")
			return
		}
	}
	s.ownDusk(from, to, e0, e1, place)
}

// height is the sun's height at a place between rows.
func (s *strip) height(i float64) float64 {
	k := min(int(i), s.rows-2)
	a, b := s.elevation(k), s.elevation(k+1)
	return a + (b-a)*(i-float64(k))
}

func (s *strip) straight(from, to, e0, e1 float64) bool {
	if e0 == e1 {
		return false
	}
	for k := int(math.Ceil(from)); float64(k) <= to; k++ {
		line := from + (s.elevation(k)-e0)/(e1-e0)*(to-from)
		if math.Abs(s.x(line)-s.x(float64(k))) > 1.5 {
			return false
		}
	}
	return true
}

// ownDusk draws a stretch with a gradient of its own, its colours where the
// sun really passes them.
func (s *strip) ownDusk(from, to, e0, e1 float64, place func(float64) (float64, bool)) {
	s.bands++
	id := s.f.ID + "own" + figure(float64(s.bands))
	s.open("linearGradient", "id", id)
	stop := func(at, e float64) {
		key, colour := skyColour(e)
		s.put("stop", "offset", share((at-from)/(to-from)), "stop-color", colour, "data-e", key)
	}
	stop(from, e0)
	for k := range dusk {
		h := dusk[k]
		if e1 > e0 {
			h = dusk[len(dusk)-1-k]
		}
		if x, ok := place(h.above); ok && x > from && x < to {
			stop(x, h.above)
		}
	}
	stop(to, e1)
	s.shut("linearGradient")
	s.put("rect", "x", s.x(from)-0.3, "width", s.x(to)-s.x(from)+0.6, "height", s.f.Height, "fill", "url(#"+id+")")
}

// skyColour returns the colour of the sky in the Day theme, and the key of the
// nearest named one for the other themes.
func skyColour(e float64) (key, colour string) {
	k := 0
	for k < len(dusk)-2 && dusk[k+1].above >= e {
		k++
	}
	a, b := dusk[k], dusk[k+1]
	f := min(max((a.above-e)/(a.above-b.above), 0), 1)
	key = a.key
	if f > 0.5 {
		key = b.key
	}
	return key, mix(a.colour, b.colour, f)
}

// mix blends two colours, #rrggbb.
func mix(a, b string, f float64) string {
	out := []byte("#000000")
	const digits = "0123456789abcdef"
	for i := 1; i < 7; i += 2 {
		x, _ := strconv.ParseUint(a[i:i+2], 16, 8)
		y, _ := strconv.ParseUint(b[i:i+2], 16, 8)
		v := int(math.Round(float64(x) + f*(float64(y)-float64(x))))
		out[i], out[i+1] = digits[v>>4], digits[v&15]
	}
	return string(out)
}

// spans lists the stretches of rows, from and to, that satisfy test.
func (s *strip) spans(test func(i int) bool) [][2]int {
	var list [][2]int
	for i := 0; i < s.rows; i++ {
		if !test(i) {
			continue
		}
		j := i
		for j+1 < s.rows && test(j+1) {
			j++
		}
		list = append(list, [2]int{i, j})
		i = j
	}
	return list
}

// veil dims the days by their clouds.
func (s *strip) veil() {
	cloud := s.cloud
	for _, d := range s.spans(func(i int) bool { return s.elevation(i) > -2 }) {
		// Under a sun that does not set the clouds still change by the day.
		for i := d[0]; i < d[1]; {
			j := i + 1
			for j < d[1] && cloud[min(j+1, s.rows-1)] == cloud[i+1] {
				j++
			}
			if c := cloud[i+1]; c > 0.05 {
				fill := "url(#" + s.f.ID + "veil)"
				if i != d[0] || j != d[1] {
					fill = "#93a2a8"
				}
				s.put("rect", "x", s.x(float64(i)), "width", s.x(float64(j))-s.x(float64(i)), "height", s.f.Height,
					"fill", fill, "opacity", share(0.75*c), "data-s", "veil")
			}
			i = j
		}
	}
}
