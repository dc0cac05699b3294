package draw

import (
	"math"
	"slices"
	"time"

	"duskline/app/words"
	"duskline/calc/outlook"
	"duskline/calc/plan"
)

// Strip draws the dusk strip: the sky through the days, and under it the
// battery's charge as a water line with the alarm and the cut-off as tide
// marks. A frame under 100 pixels high gets the small one, without labels but
// for the lowest charge.
//
// The marks are volts and the strip is charge: they stand at the charge at
// which the battery, giving the plan's mean draw, shows those volts. Stretches
// in which the alarm sounds or the outlets are off are drawn along the foot,
// from the events themselves.
func Strip(o *outlook.Outlook, p plan.Plan, f Frame) string {
	f = f.least()
	s := &strip{f: f, o: o, rows: rows(&o.Series), small: f.Height < 100}
	s.up = finite(o.Series.Elevation[:s.rows], -90, 90)
	s.cloud = finite(o.Series.Cloud[:s.rows], 0, 1)
	s.size = 12
	if f.Width >= 560 {
		s.size = 14
	}
	s.top, s.floor = 0.29*f.Height, f.Height-28
	if s.small {
		s.top, s.floor = 0.16*f.Height, f.Height-4
	}
	lowest := words.Percent(o.Figures.Lowest)
	s.open("svg", "xmlns", "http://www.w3.org/2000/svg", "viewBox", "0 0 "+figure(f.Width)+" "+figure(f.Height),
		"width", "100%", "role", "img", "data-picture", "strip",
		"aria-label", words.T("picture.strip", lowest, words.Moment(o.Figures.LowestAt, p.Trip.Start)))
	s.defs()
	if s.rows > 0 {
		if s.rows > 1 {
			s.sky()
			s.veil()
			s.stars()
			s.sun()
		}
		s.level()
		s.feet()
		s.marks()
		s.drops()
		flags := s.flags()
		if !s.small {
			s.days()
			s.names()
		}
		for _, write := range flags {
			write()
		}
	}
	s.shut("svg")
	return s.b.String()
}

// rows is how many rows all of the drawn columns have.
func rows(s *outlook.Series) int {
	return min(len(s.Charge), len(s.Elevation), len(s.Cloud))
}

func (s *strip) defs() {
	s.open("defs")
	s.open("linearGradient", "id", s.f.ID+"dusk")
	span := dayAbove - nightBelow
	for _, d := range dusk {
		s.put("stop", "offset", share((dayAbove-d.above)/span), "stop-color", d.colour, "data-e", d.key)
	}
	s.shut("linearGradient")
	s.put("linearGradient", "id", s.f.ID+"dawn", "href", "#"+s.f.ID+"dusk", "x1", "1", "x2", "0")
	s.open("linearGradient", "id", s.f.ID+"veil")
	for _, v := range []struct{ at, opaque float64 }{{0, 0}, {0.16, 1}, {0.84, 1}, {1, 0}} {
		s.put("stop", "offset", share(v.at), "stop-color", "#93a2a8", "stop-opacity", share(v.opaque), "data-e", "veil")
	}
	s.shut("linearGradient")
	s.open("linearGradient", "id", s.f.ID+"water", "x2", "0", "y1", share(0.2), "y2", "1")
	s.put("stop", "stop-color", "#2f7f8f", "data-e", "water")
	s.put("stop", "offset", "1", "stop-color", "#17505e", "data-e", "deep")
	s.shut("linearGradient")
	s.shut("defs")
}

// y returns where a charge stands.
func (s *strip) y(charge float64) float64 {
	if math.IsNaN(charge) {
		charge = 0
	}
	return s.floor - (s.floor-s.top)*min(max(charge, 0), 1)
}

// water returns the water line's y at a place between rows.
func (s *strip) water(i float64) float64 {
	k := min(max(int(i), 0), s.rows-1)
	n := min(k+1, s.rows-1)
	a, b := float64(s.o.Series.Charge[k]), float64(s.o.Series.Charge[n])
	return s.y(a + (b-a)*(i-float64(k)))
}

// level draws the water. Its edge runs on outside the frame, so that one path
// is both the water and its line.
func (s *strip) level() {
	xs, ys := make([]float64, s.rows), make([]float64, s.rows)
	for i := range xs {
		xs[i], ys[i] = s.x(float64(i)), s.water(float64(i))
	}
	if s.rows == 1 {
		xs, ys = append(xs, s.f.Width), append(ys, ys[0])
	}
	var d path
	d.move(-6, s.f.Height+6)
	d.line(-6, ys[0])
	for _, i := range thin(xs, ys, 0.35) {
		d.line(xs[i], ys[i])
	}
	d.line(s.f.Width+6, ys[len(ys)-1])
	d.line(s.f.Width+6, s.f.Height+6)
	d.close()
	wide := 2.2
	if s.small {
		wide = 1.6
	}
	s.put("path", "d", d.String(), "fill", "url(#"+s.f.ID+"water)", "fill-opacity", "0.9",
		"stroke", "#fdfcf8", "stroke-width", wide, "stroke-linejoin", "round", "data-s", "water")
}

// feet draws along the foot when the alarm sounds and when the outlets are off.
func (s *strip) feet() {
	var alarm, off path
	draw := func(p *path, on, over outlook.EventKind) {
		from := -1.0
		for _, e := range s.o.Events {
			switch {
			case e.Kind == on && from < 0:
				from = s.at(e.At)
			case e.Kind == over && from >= 0:
				p.box(from, s.f.Height-4, max(s.at(e.At)-from, 1.5), 4)
				from = -1
			}
		}
		if from >= 0 {
			p.box(from, s.f.Height-4, max(s.f.Width-from, 1.5), 4)
		}
	}
	draw(&alarm, outlook.AlarmOn, outlook.AlarmOff)
	draw(&off, outlook.CutOff, outlook.Reconnect)
	if !alarm.empty() {
		s.put("path", "d", alarm.String(), "fill", "#f2b04a", "data-s", "alarm-foot")
	}
	if !off.empty() {
		s.put("path", "d", off.String(), "fill", "#d9542b", "data-s", "off-foot")
	}
}

// markY returns where the two tide marks stand.
func (s *strip) markY() (alarm, cut float64) {
	return s.y(float64(s.o.Figures.AlarmCharge)), s.y(float64(s.o.Figures.CutOffCharge))
}

// marks draws the tide marks with their names, which keep clear of each other.
func (s *strip) marks() {
	alarm, cut := s.markY()
	for _, m := range []struct {
		y                  float64
		name, colour, dash string
	}{{cut, "cut-off", "#f0835c", ""}, {alarm, "alarm", "#f2b04a", "7 5"}} {
		var d path
		d.move(0, m.y)
		d.line(s.f.Width, m.y)
		s.put("path", "d", d.String(), "stroke", "#1d1a2b", "stroke-opacity", "0.45", "stroke-width", 3.4, "data-s", "casing")
		attrs := []any{"d", d.String(), "stroke", m.colour, "stroke-width", 1.8, "data-s", m.name}
		if m.dash != "" {
			attrs = append(attrs, "stroke-dasharray", m.dash)
		}
		s.put("path", attrs...)
	}
}

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
		x := 6 + at*(s.f.Width-12-w)
		if b := (box{x, y - s.size + 1, w, s.size}); s.free(b) {
			s.taken = append(s.taken, b)
			s.label(text, x, y, "start", colour, name)
			return true
		}
	}
	return false
}

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

// drops marks the events on the water line: full as a ring, alarm as a
// diamond, cut-off and overload as a square.
func (s *strip) drops() {
	var full, alarm, off path
	r := 4.2
	if s.small {
		r = 2.6
	}
	last := math.Inf(-1)
	crowded := s.perDay() < 40 // then the first of a kind stands for all
	for _, e := range s.o.Events {
		x := s.at(e.At)
		y := s.y(float64(e.Charge))
		switch e.Kind {
		case outlook.Full:
			if x-last >= 2*r && (!crowded || full.empty()) { // a full battery says so again and again
				full.disc(x, y, 0.8*r)
				last = x
			}
		case outlook.AlarmOn:
			if crowded && !alarm.empty() {
				continue
			}
			alarm.move(x, y-1.3*r)
			alarm.line(x+1.3*r, y)
			alarm.line(x, y+1.3*r)
			alarm.line(x-1.3*r, y)
			alarm.close()
		case outlook.CutOff, outlook.Overload:
			if crowded && !off.empty() {
				continue
			}
			off.box(x-r, y-r, 2*r, 2*r)
		}
	}
	for _, k := range []struct {
		p          *path
		fill, name string
	}{{&full, "#2f7f8f", "full"}, {&alarm, "#f2b04a", "alarm-drop"}, {&off, "#d9542b", "off-drop"}} {
		if !k.p.empty() {
			s.put("path", "d", k.p.String(), "fill", k.fill, "stroke", "#fdfcf8", "stroke-width", 1.6, "data-s", k.name)
		}
	}
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
	name := words.Weekday
	switch {
	case perDay >= 8*s.size:
	case perDay >= 3*s.size:
		name = words.ShortWeekday
	default:
		name = words.Date
		every = int(math.Ceil(6.5 * s.size / perDay))
	}
	edge := 0.0 // right end of the last label
	for k, day := 0, midnight; day.Before(end); k, day = k+1, day.AddDate(0, 0, 1) {
		if k%every != 0 {
			continue
		}
		from, to := max(s.at(day), 0), min(s.at(day.AddDate(0, 0, 1)), s.f.Width)
		text := name(day)
		w := width(text, s.size)
		x := s.at(day.Add(12 * time.Hour))
		if every > 1 {
			from, to = 0, s.f.Width
		}
		// Near an end of the trip the name moves into what is seen of the day.
		x = min(max(x, from+w/2+4), to-w/2-4)
		if x-w/2 < from || x-w/2 < edge {
			continue
		}
		b := box{x - w/2, s.f.Height - 8 - s.size, w, s.size}
		if !s.free(b) {
			continue
		}
		s.taken = append(s.taken, b)
		edge = x + w/2 + 6
		s.label(text, x, s.f.Height-8, "middle", "#ffffff", "day-name")
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
	flag := func(text string, at time.Time, charge float64, name, fill, ink string, below bool) {
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
			if top < 2 || top+h > s.f.Height-2 || !s.small && top+h > s.floor+2 || !s.free(b) {
				continue
			}
			s.taken = append(s.taken, b)
			write = append(write, func() {
				s.put("rect", "x", left, "y", top, "width", w, "height", h, "rx", 4.0, "fill", fill, "data-s", name)
				s.text(text, "x", left+w/2, "y", top+h/2+0.36*size, "text-anchor", "middle", "font-size", size, "font-weight", "700",
					"fill", ink, "data-s", name+"-name")
			})
			return
		}
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
	text := words.T("mark.flag", words.EventName(kind), words.ShortWeekday(at), words.Clock(at))
	if kind == outlook.CutOff {
		flag(text, first, float64(s.o.Events[i].Charge), "off-flag", "#b23c17", "#ffffff", false)
	} else {
		flag(text, first, float64(s.o.Events[i].Charge), "alarm-flag", "#f2b04a", "#1d1a2b", false)
	}
	return write
}
