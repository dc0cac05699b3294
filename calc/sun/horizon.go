package sun

import (
	"math"
	"slices"
	"sort"

	"duskline/calc/qty"
)

// A HorizonPoint is one point of what stands around a place.
type HorizonPoint struct {
	Azimuth qty.Degree // 0 to 360, clockwise from north
	Height  qty.Degree // 0 to 90, above the level
}

// A Horizon is the line of what stands around a place: straight, in azimuth
// and height, from each point to the next one clockwise, and closed over
// north. The zero value is open.
//
// Decision: a vertical step, as at the edge of a wall, is two points at one
// azimuth: the first is the line's end that comes from the left, the second
// where it goes on. All of it is far away: the same for every panel, and the
// sun is hidden or not by its middle.
type Horizon struct {
	at       []corner // by azimuth from north
	low, top float64  // °, the line's lowest and highest point
	strips   []strip
	level    float64 // share of an even sky that level ground still sees, with strips
}

// corner is a point of the line and its slope to the next one.
type corner struct{ azimuth, height, slope float64 }

// NewHorizon lays a line through points. One point: the same height all round.
// None: open.
//
// The points may come in any order, if no two share an azimuth. With a step the
// order says which way it goes, so then they must run clockwise, once round,
// from anywhere. 0 and 360 are the same azimuth; of a step at north 360 is the
// end that comes from the left.
//
// Errors: *qty.RangeError, What "horizon azimuth" outside 0 to 360, "horizon
// height" outside 0 to 90, "horizon points at one azimuth" more than 2, or 2 at
// the same height (0 and 360 may close the ring), "horizon turns" more than
// once round with a step in it.
func NewHorizon(points []HorizonPoint) (Horizon, error) {
	for _, p := range points {
		if err := qty.InRange("horizon azimuth", float64(p.Azimuth), 0, 360, "°"); err != nil {
			return Horizon{}, err
		}
		if err := qty.InRange("horizon height", float64(p.Height), 0, 90, "°"); err != nil {
			return Horizon{}, err
		}
	}
	if len(points) == 0 {
		return Horizon{}, nil
	}
	ring, err := clockwise(points)
	if err != nil {
		return Horizon{}, err
	}
	var h Horizon
	h.low, h.top = 90, 0
	h.strips = slices.Grow(h.strips, 3*(360/stripWidth+len(ring)))
	for i, p := range ring {
		next := ring[(i+1)%len(ring)]
		wide := float64(next.Azimuth - p.Azimuth)
		if i == len(ring)-1 {
			wide += 360
		}
		c := corner{azimuth: float64(p.Azimuth), height: float64(p.Height)}
		if wide > 0 {
			c.slope = float64(next.Height-p.Height) / wide
			h.addStrips(c.azimuth, wide, c.height, c.slope)
		}
		h.at = append(h.at, c)
		h.low, h.top = min(h.low, c.height), max(h.top, c.height)
	}
	h.level = h.leavesLevel()
	return h, nil
}

// clockwise returns the points by azimuth, from north on.
func clockwise(points []HorizonPoint) ([]HorizonPoint, error) {
	start, turns := 0, 0
	for i, p := range points {
		if last := points[(i+len(points)-1)%len(points)]; p.Azimuth < last.Azimuth {
			start, turns = i, turns+1
		}
	}
	for i, p := range points {
		same := 1
		for _, q := range points[:i] {
			if math.Mod(float64(p.Azimuth-q.Azimuth), 360) != 0 {
				continue
			}
			same++
			switch one := p.Azimuth == q.Azimuth; {
			case same > 2:
				return nil, &qty.RangeError{What: "horizon points at one azimuth", Got: 3, Min: 0, Max: 2}
			case one && p.Height == q.Height:
				return nil, &qty.RangeError{What: "horizon points at one azimuth", Got: 2, Min: 0, Max: 1}
			case one && turns > 1:
				return nil, &qty.RangeError{What: "horizon turns", Got: float64(turns), Min: 0, Max: 1}
			}
		}
	}
	ring := slices.Concat(points[start:], points[:start])
	if turns > 1 {
		sort.SliceStable(ring, func(i, k int) bool { return ring[i].Azimuth < ring[k].Azimuth })
	}
	return ring, nil
}

// Height returns the line's height at an azimuth, 0 to 360. At a step it is
// that of the side that goes on clockwise.
//
// Source: Geometry; a straight line between two points.
func (h *Horizon) Height(azimuth qty.Degree) qty.Degree {
	if h == nil || len(h.at) == 0 {
		return 0
	}
	return qty.Degree(h.height(float64(azimuth)))
}

func (h *Horizon) height(azimuth float64) float64 {
	// the last corner at or before the azimuth; before the first one, the last of all
	lo, hi := 0, len(h.at)
	for lo < hi {
		mid := (lo + hi) / 2
		if h.at[mid].azimuth <= azimuth {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	if lo == 0 {
		lo, azimuth = len(h.at), azimuth+360
	}
	c := &h.at[lo-1]
	return c.height + c.slope*(azimuth-c.azimuth)
}

// Hides reports whether the line stands before a direction. An open horizon
// hides nothing.
func (h *Horizon) Hides(d Direction) bool {
	if h == nil || len(h.at) == 0 || float64(d.Elevation) >= h.top {
		return false
	}
	if float64(d.Elevation) < h.low {
		return true
	}
	azimuth := math.Atan2(d.East, d.North) / rad
	if azimuth < 0 {
		azimuth += 360
	}
	return float64(d.Elevation) < h.height(azimuth)
}
