package draw

import (
	"math"
	"slices"
	"time"

	"duskline/app/words"
	"duskline/calc/outlook"
)

// names writes the names of the tide marks: the cut-off's at the left, the
// alarm's at the right, each over its line. Where the other line runs through
// there, the name stands under its own, and where the days are named, over
// both. A flag in the way moves it along.
func (s *strip) names() {
	alarm, cut := s.markY()
	for _, m := range []struct {
		y, other           float64
		text, colour, name string
		places             []float64 // shares of the width
	}{
		{cut, alarm, words.T("mark.cut_off"), "#ffc9b0", "cut-off-name", []float64{0, 0.2, 0.4, 0.6, 0.8, 1}},
		{alarm, cut, words.T("mark.alarm"), "#ffd68f", "alarm-name", []float64{1, 0.8, 0.6, 0.4, 0.2, 0}},
	} {
		w := width(m.text, s.size)
		over, under, both := m.y-5, m.y+s.size+2, min(m.y, m.other)-5
		crossed := m.other > over-s.size-1 && m.other < over+3
		_ = !crossed && s.name(m.text, m.places, w, over, m.colour, m.name) ||
			crossed && s.name(m.text, m.places[:1], w, under, m.colour, m.name) ||
			s.name(m.text, m.places, w, both, m.colour, m.name)
	}
}

// name writes one at the first place that is clear, and reports whether there
// was one.
func (s *strip) name(text string, places []float64, w, y float64, colour, name string) bool {
	for _, at := range places {
		x := inset + at*(s.f.Width-2*inset-w)
		if b := (box{x, y - s.size + 1, w, s.size}); s.free(b) {
			s.taken = append(s.taken, b)
			s.label(text, x, y, "start", colour, name)
			return true
		}
	}
	return false
}

// inset is how far words stay from the sides of the picture, pixels.
const inset = 6

// A box is taken up by words.
type box struct{ x, y, w, h float64 }

// free says whether a box is clear of all that is taken.
func (s *strip) free(b box) bool {
	for _, t := range s.taken {
		if b.x < t.x+t.w+3 && t.x < b.x+b.w+3 && b.y < t.y+t.h+1 && t.y < b.y+b.h+1 {
			return false
		}
	}
	return true
}

// label writes words over the picture, dark round the edges, so that they
// read on any sky.
func (s *strip) label(text string, x, y float64, anchor, colour, name string) {
	s.text(text, "x", x, "y", y, "text-anchor", anchor, "font-size", s.size, "font-weight", "700",
		"fill", colour, "stroke", "#1d1a2b", "stroke-width", 3.0, "stroke-linejoin", "round", "stroke-opacity", "0.75",
		"paint-order", "stroke", "data-s", name)
}

// days names the days along the foot. What does not fit is left out: long
// names, then names, then all but every so many days, by date.
func (s *strip) days() {
	if s.rows < 2 {
		return
	}
	series := &s.o.Series
	end := series.Time(s.rows - 1)
	first := series.Start
	midnight := time.Date(first.Year(), first.Month(), first.Day(), 0, 0, 0, 0, first.Location())
	perDay := s.perDay()
	every := 1
	names := []func(time.Time) string{words.Weekday, words.ShortWeekday}
	switch {
	case perDay >= 8*s.size:
	case perDay >= 3*s.size:
		names = names[1:]
	default:
		names = []func(time.Time) string{words.Date}
		every = int(math.Ceil(6.5 * s.size / perDay))
	}
	edge := 0.0 // right end of the last label
	for k, day := 0, midnight; day.Before(end); k, day = k+1, day.AddDate(0, 0, 1) {
		if k%every != 0 {
			continue
		}
		// Clear of the picture's own edges.
		from, to := max(s.at(day)+2, inset), min(s.at(day.AddDate(0, 0, 1))-2, s.f.Width-inset)
		if every > 1 {
			from, to = inset, s.f.Width-inset
		}
		for _, name := range names {
			text := name(day)
			w := 1.1 * width(text, s.size) // bold; “Wednesday” measured in a browser
			// Near an end of the trip the name moves into what is seen of the day.
			x := max(min(s.at(day.Add(12*time.Hour)), to-w/2), from+w/2)
			b := box{x - w/2, s.f.Height - 8 - s.size, w, s.size}
			if w > to-from || b.x < edge || !s.free(b) {
				continue
			}
			s.taken = append(s.taken, b)
			edge = x + w/2 + 6
			s.label(text, x, s.f.Height-8, "middle", "#ffffff", "day-name")
			break
		}
	}
}

// flags places the lowest charge on the water line, and where the plan runs
// out the clock of that: the two things that the verdict is about. It returns
// what draws them, last and over all.
func (s *strip) flags() (write []func()) {
	f := &s.o.Figures
	size := s.size
	if s.small {
		size = 11
	}
	h, pad := size+9, 12.0
	if s.small {
		h, pad = size+5, 9
	}
	flag := func(text string, at time.Time, charge float64, name, fill, ink string, below bool) bool {
		w := width(text, size) + pad
		x, y := s.at(at), s.y(charge)
		left := min(max(x-w/2, 3), max(s.f.Width-w-3, 3))
		under, over := y+8, y-8-h
		if s.small {
			under, over = y+4, y-4-h
		}
		places := []float64{over, over - h - 4, under}
		if below {
			places = []float64{under, over, over - h - 4}
		}
		for _, top := range places {
			b := box{left, top, w, h}
			if w > s.f.Width-6 || top < 2 || top+h > s.f.Height-2 || !s.small && top+h > s.floor+2 || !s.free(b) {
				continue
			}
			s.taken = append(s.taken, b)
			write = append(write, func() {
				s.put("rect", "x", left, "y", top, "width", w, "height", h, "rx", 4.0, "fill", fill, "data-s", name)
				s.text(text, "x", left+w/2, "y", top+h/2+0.36*size, "text-anchor", "middle", "font-size", size, "font-weight", "700",
					"fill", ink, "data-s", name+"-name")
			})
			return true
		}
		return false
	}
	first, kind := f.FirstCutOff, outlook.CutOff
	if first.IsZero() {
		first, kind = f.FirstAlarm, outlook.AlarmOn
	}
	flag(words.TightPercent(f.Lowest), f.LowestAt, float64(f.Lowest), "flag", "#1d1a2b", "#ffffff", true)
	i := slices.IndexFunc(s.o.Events, func(e outlook.Event) bool { return e.Kind == kind && e.At.Equal(first) })
	if s.small || first.IsZero() || i < 0 {
		return write
	}
	at := first.In(s.o.Series.Start.Location())
	e := &s.o.Events[i]
	key, fill, ink := "alarm-flag", "#f2b04a", "#1d1a2b"
	if kind == outlook.CutOff {
		key, fill, ink = "off-flag", "#b23c17", "#ffffff"
	}
	for _, name := range []string{words.EventMark(*e), words.EventName(kind)} { // the short one if the long one finds no room
		if flag(words.T("mark.flag", name, words.ShortWeekday(at), words.Clock(at)), first, float64(e.Charge), key, fill, ink, false) {
			break
		}
	}
	return write
}
