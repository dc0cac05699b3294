package draw

import (
	"hash/fnv"
	"time"
)

// sun draws its dotted way, a disc at its height of each day, and bars over
// the disc where there are clouds.
func (s *strip) sun() {
	base, top := 0.30*s.f.Height, 0.066*s.f.Height
	perDay := s.perDay()
	r := min(max(0.046*s.f.Height, 3.5), 0.2*perDay)
	roomy := perDay >= 34 // else the clouds of one day reach into the next
	highest := 35.0       // a low winter sun stays low in the picture
	for i := range s.rows {
		highest = max(highest, s.elevation(i))
	}
	y := func(e float64) float64 { return base - (base-top)*e/highest }

	var way, discs, bars path
	for _, d := range s.spans(func(i int) bool { return s.elevation(i) > 0 }) {
		var xs, ys []float64
		for i := d[0]; i <= d[1]; i++ {
			xs, ys = append(xs, s.x(float64(i))), append(ys, y(s.elevation(i)))
			// A top of the curve, not an end of the trip.
			if i > 0 && i < s.rows-1 && s.elevation(i) >= s.elevation(i-1) && s.elevation(i) > s.elevation(i+1) {
				x, h := s.x(float64(i)), y(s.elevation(i))
				discs.disc(x, h, r)
				if c := s.cloud[i]; c > 0.15 && roomy {
					long := r * (0.9 + 0.9*c)
					bars.move(x-long, h+0.45*r)
					bars.line(x+0.75*long, h+0.45*r)
					bars.move(x-0.6*long, h+1.05*r)
					bars.line(x+long, h+1.05*r)
					if c > 0.6 {
						bars.move(x-0.75*long, h-0.15*r)
						bars.line(x+0.55*long, h-0.15*r)
					}
				}
			}
		}
		for k, i := range thin(xs, ys, 0.3) {
			if k == 0 {
				way.move(xs[i], ys[i])
			} else {
				way.line(xs[i], ys[i])
			}
		}
	}
	if !way.empty() && !s.small && roomy {
		s.put("path", "d", way.String(), "fill", "none", "stroke", "#fff6dc", "stroke-width", 1.8,
			"stroke-linecap", "round", "stroke-dasharray", "0 5", "data-s", "way")
	}
	if !discs.empty() {
		s.put("path", "d", discs.String(), "fill", "#fdf0bf", "data-s", "sun")
	}
	if !bars.empty() {
		s.put("path", "d", bars.String(), "fill", "none", "stroke", "#f3f1ea", "stroke-width", max(0.38*r, 1.6),
			"stroke-linecap", "round", "data-s", "bars")
	}
}

// stars strews the nights, from the end of nautical twilight on: a summer
// night that never gets so dark has none. A star belongs to its date and hour: it stays
// where it is while the plan is edited.
func (s *strip) stars() {
	series := &s.o.Series
	if series.Step <= 0 {
		return
	}
	n := int(min(max(0.42*s.perDay(), 3), 70))
	if s.small {
		n /= 3
	}
	var faint, bright path
	first := series.Start
	midnight := time.Date(first.Year(), first.Month(), first.Day(), 0, 0, 0, 0, first.Location())
	for day := midnight; !day.After(series.Time(s.rows - 1)); day = day.AddDate(0, 0, 1) {
		h := fnv.New64a()
		h.Write([]byte(day.Format("2006-01-02")))
		seed := h.Sum64()
		for range n {
			seed = seed*6364136223846793005 + 1442695040888963407
			u := float64(seed>>40) / (1 << 24)
			seed = seed*6364136223846793005 + 1442695040888963407
			v := float64(seed>>40) / (1 << 24)
			i := float64(day.Add(time.Duration(u*float64(24*time.Hour))).Sub(first)) / float64(series.Step)
			if i < 0 || i > float64(s.rows-1) || s.height(i) > nautical {
				continue
			}
			x, y := s.x(i), s.f.Height*(0.02+0.4*v*v+0.2*v)
			if y > s.water(i)-5 {
				continue
			}
			if seed>>33&3 == 0 {
				bright.dot(x, y)
			} else {
				faint.dot(x, y)
			}
		}
	}
	for _, k := range []struct {
		p             *path
		width, opaque float64
	}{{&faint, 1.5, 0.6}, {&bright, 2.3, 0.95}} {
		if !k.p.empty() {
			s.put("path", "d", k.p.String(), "fill", "none", "stroke", "#ece6ff", "stroke-opacity", share(k.opaque),
				"stroke-width", k.width, "stroke-linecap", "round", "data-s", "stars")
		}
	}
}
