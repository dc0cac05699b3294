package draw

import (
	"math"

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
