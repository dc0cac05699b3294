package draw

import (
	"math"
	"time"

	"duskline/app/words"
	"duskline/calc/qty"
)

// A stretch is a part of a way that is all seen or all hidden. Its ends lie
// where the sun passes the edge of what stands in the way.
type stretch struct {
	points []WayPoint
	hidden bool
}

func (s stretch) from() time.Time { return s.points[0].At }
func (s stretch) to() time.Time   { return s.points[len(s.points)-1].At }

// stretches cuts a way where the sun goes behind something or comes out. The
// edge lies between two points: where the line between them meets the height
// of what stands there.
func stretches(w Way, height func(float64) float64) (list []stretch) {
	for i, p := range w.Points {
		if i == 0 {
			list = append(list, stretch{[]WayPoint{p}, p.Hidden})
			continue
		}
		last := &list[len(list)-1]
		if p.Hidden == last.hidden {
			last.points = append(last.points, p)
			continue
		}
		before := w.Points[i-1]
		a := float64(before.Elevation) - height(float64(before.Azimuth))
		b := float64(p.Elevation) - height(float64(p.Azimuth))
		t := 0.5
		if (a > 0) != (b > 0) {
			t = a / (a - b)
		}
		edge := between(before, p, t)
		last.points = append(last.points, edge)
		list = append(list, stretch{[]WayPoint{edge, p}, p.Hidden})
	}
	return list
}

// between returns the point at a share of the way from a to b.
func between(a, b WayPoint, t float64) WayPoint {
	turn := math.Mod(float64(b.Azimuth-a.Azimuth)+540, 360) - 180
	return WayPoint{
		At:        a.At.Add(time.Duration(t * float64(b.At.Sub(a.At)))),
		Azimuth:   a.Azimuth + qty.Degree(t*turn),
		Elevation: a.Elevation + qty.Degree(t)*(b.Elevation-a.Elevation),
	}
}

// noon returns the highest point of a way; ok is false if it has none.
func (w Way) noon() (top WayPoint, ok bool) {
	for i, p := range w.Points {
		if i == 0 || p.Elevation > top.Elevation {
			top = p
		}
	}
	return top, len(w.Points) > 0
}

// drawn picks the ways that can be told apart: the first and the last, and
// the middle one where there is room between them.
func (g *ring) drawn() []Way {
	var list []Way
	for _, w := range g.Ways {
		top, ok := w.noon()
		if !ok {
			continue
		}
		if n := len(list); n > 0 {
			before, _ := list[n-1].noon()
			x0, y0 := g.at(float64(before.Azimuth), float64(before.Elevation))
			x1, y1 := g.at(float64(top.Azimuth), float64(top.Elevation))
			if math.Hypot(x1-x0, y1-y0) < 5 {
				continue
			}
		}
		list = append(list, w)
	}
	if n := len(list); n > 3 {
		list = []Way{list[0], list[n/2], list[n-1]}
	}
	return list
}

// ways draws the sun's ways: full where the sun is seen, dashed before what
// hides it, with the hours on the highest one.
func (g *ring) ways() {
	list := g.drawn()
	if len(list) == 0 {
		return
	}
	var seen, hidden path
	high, top := 0, qty.Degree(-90)
	for i, w := range list {
		if noon, _ := w.noon(); noon.Elevation > top {
			high, top = i, noon.Elevation
		}
		for _, s := range stretches(w, g.height) {
			d := &seen
			if s.hidden {
				d = &hidden
			}
			g.trace(d, s.points)
		}
	}
	if !hidden.empty() {
		g.shape(&hidden, `fill="none" stroke="#f2b04a" stroke-width="1.8" stroke-dasharray="4 4" data-s="way-hidden"`)
	}
	if !seen.empty() {
		g.shape(&seen, `fill="none" stroke="#a3330f" stroke-width="2.2" stroke-linecap="round" data-s="way-seen"`)
	}
	if n := len(list); n > 1 && g.f.Width >= leastNamed {
		// What lies between the first and the last needs no name.
		g.date(list[0], high == 0)
		g.date(list[n-1], high != 0)
	}
	g.hours(list[high])
}

func (g *ring) trace(d *path, points []WayPoint) {
	xs, ys := make([]float64, len(points)), make([]float64, len(points))
	for i, p := range points {
		xs[i], ys[i] = g.at(float64(p.Azimuth), float64(p.Elevation))
	}
	for k, i := range thin(xs, ys, 0.3) {
		if k == 0 {
			d.move(xs[i], ys[i])
		} else {
			d.line(xs[i], ys[i])
		}
	}
}

// hours sets a disc at every full hour of the clock, and writes as many of
// them as there is room for, those of every sixth and third hour first.
func (g *ring) hours(w Way) {
	var full []WayPoint
	for i := 1; i < len(w.Points); i++ {
		a, b := w.Points[i-1], w.Points[i]
		// The clock's hours, not those of UTC: some zones keep quarters.
		for t := nextHour(a.At); !t.After(b.At) && b.At.After(a.At); t = nextHour(t) {
			p := between(a, b, float64(t.Sub(a.At))/float64(b.At.Sub(a.At)))
			p.At, p.Hidden = t, a.Hidden && b.Hidden
			full = append(full, p)
		}
	}
	var seen, hidden path
	for _, p := range full {
		x, y := g.at(float64(p.Azimuth), float64(p.Elevation))
		if p.Hidden {
			hidden.disc(x, y, 1.8)
		} else {
			seen.disc(x, y, 2.6)
		}
	}
	if !hidden.empty() {
		g.shape(&hidden, `fill="#f2b04a" data-s="hour-hidden"`)
	}
	if !seen.empty() {
		g.shape(&seen, `fill="#f2b04a" stroke="#a3330f" stroke-width="1.4" data-s="hour-seen"`)
	}
	if g.f.Width < leastNamed {
		return
	}
	for _, every := range []int{6, 3, 1} {
		for _, p := range full {
			if p.At.Hour()%every != 0 || p.Hidden {
				continue
			}
			text := words.Amount(float64(p.At.Hour()), 0, "")
			x, y := g.at(float64(p.Azimuth), float64(p.Elevation))
			// On the inner side, where nothing is drawn; near the middle beside it.
			away := g.size * 0.95
			d := math.Hypot(x-g.cx, y-g.cy)
			lx, ly := x, y+away
			if d > 2*away {
				lx, ly = x+(g.cx-x)*away/d, y+(g.cy-y)*away/d
			}
			wide := width(text, g.size)
			b := box{lx - wide/2, ly - g.size/2, wide, g.size}
			if every == 1 {
				b = box{b.x - 5, b.y - 2, b.w + 10, b.h + 4} // not one beside the other
			}
			if g.clear(b) && !g.writtenNear(p, full, every) {
				g.taken = append(g.taken, box{lx - wide/2, ly - g.size/2, wide, g.size})
				g.label(text, lx, ly+0.35*g.size, "hour-name")
			}
		}
	}
}

// writtenNear keeps single hours off where they would stand between others
// that are too near: hours are written one by one only where they lie wide.
func (g *ring) writtenNear(p WayPoint, full []WayPoint, every int) bool {
	if every != 1 {
		return false
	}
	x, y := g.at(float64(p.Azimuth), float64(p.Elevation))
	for _, q := range full {
		if d := q.At.Sub(p.At); d == time.Hour || d == -time.Hour {
			qx, qy := g.at(float64(q.Azimuth), float64(q.Elevation))
			if math.Hypot(qx-x, qy-y) < 2.2*g.size {
				return true
			}
		}
	}
	return false
}

// nextHour is the first full hour of the clock after t.
func nextHour(t time.Time) time.Time {
	past := time.Duration(t.Minute())*time.Minute + time.Duration(t.Second())*time.Second + time.Duration(t.Nanosecond())
	return t.Add(time.Hour - past)
}

// date writes a way's date at its noon: the higher one's towards the middle,
// leaving room for the hours, the lower one's towards the rim.
func (g *ring) date(w Way, inner bool) {
	text := words.Date(w.Day)
	wide := width(text, g.size)
	top, _ := w.noon()
	away := []float64{2.3 * g.size, 3.4 * g.size}
	if !inner {
		away = []float64{-0.95 * g.size, -2 * g.size}
	}
	// Where there is no room at noon, along the way.
	n := len(w.Points)
	for _, p := range []WayPoint{top, w.Points[n/3], w.Points[2*n/3], w.Points[n/5], w.Points[4*n/5]} {
		x, y := g.at(float64(p.Azimuth), float64(p.Elevation))
		d := max(math.Hypot(x-g.cx, y-g.cy), 1)
		for _, away := range away {
			lx, ly := x+(g.cx-x)*away/d, y+(g.cy-y)*away/d
			b := box{lx - wide/2, ly - g.size/2, wide, g.size}
			if g.clear(b) {
				g.taken = append(g.taken, b)
				g.label(text, lx, ly+0.35*g.size, "way-name")
				return
			}
		}
	}
}
