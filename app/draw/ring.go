package draw

import (
	"math"
	"slices"
	"time"

	"duskline/app/words"
	"duskline/calc/qty"
)

// A Ring is the horizon as one sees it turning around once: the person stands
// in the middle, north is up and east to the right as on a map, and what
// stands in the way grows from the rim towards the middle, which is straight
// overhead.
//
// Heights are drawn by the stereographic projection: it gives the first few
// fists over the horizon, where trees and hills stand, twice the room of those
// overhead, and keeps shapes as they are.
type Ring struct {
	Height func(azimuth qty.Degree) qty.Degree // of what stands in the way there
	Ways   []Way                               // of the sun, in the order of their dates
	Looks  []qty.Degree                        // where panels look
}

// A Way is the sun's way of one date.
type Way struct {
	Day    time.Time
	Points []WayPoint // in the order of time, from rise to set
}

// A WayPoint is where the sun stands at an instant.
type WayPoint struct {
	At                 time.Time
	Azimuth, Elevation qty.Degree
	Hidden             bool // behind what stands in the way
}

// ring is a Ring being drawn.
type ring struct {
	pen
	Ring
	f      Frame
	cx, cy float64
	r      float64 // of the level horizon
	size   float64 // of labels
	taken  []box
}

// Widths around the level horizon: the ground with the compass on it, and the
// rim where the panels' looks stand. Pixels.
const (
	ground = 21
	rim    = 11
)

// leastNamed is the width from which there is room for words in the sky, pixels.
const leastNamed = 180

// DrawRing draws the horizon as a ring. The frame is as high as it is wide;
// under leastNamed it carries no words but the compass.
func DrawRing(h Ring, f Frame) string {
	f = f.least()
	g := &ring{Ring: h, f: f, cx: f.Width / 2, cy: f.Height / 2, size: 12}
	g.r = max(min(f.Width, f.Height)/2-ground-rim, 4)
	if f.Width >= 480 {
		g.size = 14
	}
	g.open("svg", "xmlns", "http://www.w3.org/2000/svg", "viewBox", "0 0 "+figure(f.Width)+" "+figure(f.Height),
		"width", "100%", "role", "img", "data-picture", "ring", "aria-label", words.T("picture.ring"))
	g.sky()
	g.fists()
	g.land()
	g.compass()
	g.looks()
	g.ways()
	if f.Width >= leastNamed {
		g.fistNames()
	}
	g.shut("svg")
	return g.b.String()
}

// at returns where a direction stands. Under the horizon is on it.
func (g *ring) at(azimuth, elevation float64) (x, y float64) {
	return g.spot(azimuth, g.r*math.Tan((90-min(max(elevation, 0), 90))*math.Pi/360))
}

// spot returns the place at a distance from the middle.
func (g *ring) spot(azimuth, distance float64) (x, y float64) {
	sin, cos := math.Sincos(azimuth * math.Pi / 180)
	return g.cx + distance*sin, g.cy - distance*cos
}

// sky is the disc over the horizon: light overhead, dusk at the rim.
func (g *ring) sky() {
	id := g.f.ID + "sky"
	g.open("defs")
	g.open("radialGradient", "id", id)
	for _, s := range []struct {
		at          float64
		key, colour string
	}{{0.3, "day", "#bcdde2"}, {0.72, "late", "#d3e2d8"}, {0.9, "cream", "#f3e3b8"}, {1, "amber", "#f2b04a"}} {
		g.put("stop", "offset", share(s.at), "stop-color", s.colour, "data-e", s.key)
	}
	g.shut("radialGradient")
	g.shut("defs")
	g.put("circle", "cx", g.cx, "cy", g.cy, "r", g.r, "fill", "url(#"+id+")")
}

// fistRings are the heights that are drawn, in fists of ten degrees.
var fistRings = []float64{1, 3, 6}

func (g *ring) fists() {
	var p path
	for _, n := range fistRings {
		_, y := g.at(0, 10*n)
		p.disc(g.cx, g.cy, g.cy-y)
	}
	g.shape(&p, `fill="none" stroke="#4b6e78" stroke-width="1" stroke-dasharray="1 4" stroke-linecap="round" data-s="fists"`)
}

// fistNames says what the rings are, on the side that the sun leaves free.
func (g *ring) fistNames() {
	for _, n := range fistRings {
		text := words.Fists(10 * n)
		w := width(text, g.size)
		for _, azimuth := range []float64{0, 180, 45, 315, 135, 225, 90, 270} {
			x, y := g.at(azimuth, 10*n)
			if float64(g.height(azimuth)) > 10*n-3 {
				continue // it would stand before a tree
			}
			b := box{x - w/2, y - g.size/2, w, g.size}
			if g.clear(b) {
				g.taken = append(g.taken, b)
				g.label(text, x, y+0.35*g.size, "fist-name")
				break
			}
		}
	}
}

func (g *ring) height(azimuth float64) float64 {
	if g.Height == nil {
		return 0
	}
	h := float64(g.Height(qty.Degree(azimuth)))
	if h != h {
		return 0
	}
	return min(max(h, 0), 90)
}

// land is the ground and what stands on it, in one path with a hole.
func (g *ring) land() {
	const step = 2
	var xs, ys []float64
	for a := 0.0; a <= 360; a += step {
		x, y := g.at(a, g.height(a))
		xs, ys = append(xs, x), append(ys, y)
	}
	var d path
	d.disc(g.cx, g.cy, g.r+ground)
	// In four parts: thin keeps the ends of what it is given.
	d.move(xs[0], ys[0])
	for q := 0; q+1 < len(xs); q += len(xs) / 4 {
		end := min(q+len(xs)/4, len(xs)-1)
		for _, i := range thin(xs[q:end+1], ys[q:end+1], 0.25)[1:] {
			d.line(xs[q+i], ys[q+i])
		}
	}
	d.close()
	g.shape(&d, `fill="#23254d" fill-rule="evenodd" data-s="land"`)
}

// compass writes the four points on the ground.
func (g *ring) compass() {
	for k, point := range []string{"n", "e", "s", "w"} {
		x, y := g.spot(90*float64(k), g.r+ground/2)
		g.text(words.T("compass_letter."+point), "x", x, "y", y+0.36*14, "text-anchor", "middle",
			"font-size", 14.0, "font-weight", "700", "fill", "#ffffff", "data-s", "compass")
	}
	var d path
	for k := range 4 {
		d.dot(g.spot(90*float64(k)+45, g.r+ground/2))
	}
	g.shape(&d, `stroke="#c9c6e0" stroke-width="3.5" stroke-linecap="round" data-s="points"`)
}

// looks marks outside of the ground where the panels look.
func (g *ring) looks() {
	var d path
	for i, a := range g.Looks {
		if slices.Contains(g.Looks[:i], a) || a != a {
			continue
		}
		from := g.r + ground + 1.5
		for k, c := range [][2]float64{{-3.2, from}, {3.2, from}, {0, from + rim - 3}} {
			x, y := g.spot(float64(a)+c[0]*140/max(g.r, 1), c[1])
			if k == 0 {
				d.move(x, y)
			} else {
				d.line(x, y)
			}
		}
		d.close()
	}
	if !d.empty() {
		g.shape(&d, `fill="#f2b04a" stroke="#1d1a2b" stroke-width="1" stroke-linejoin="round" data-s="looks"`)
	}
}

func (g *ring) label(text string, x, y float64, name string) {
	g.text(text, "x", x, "y", y, "text-anchor", "middle", "font-size", g.size, "font-weight", "600",
		"fill", "#1d1a2b", "stroke", "#eaf1e6", "stroke-width", 3.0, "stroke-linejoin", "round", "stroke-opacity", "0.85",
		"paint-order", "stroke", "data-s", name)
}

// clear says whether a box is free of words and inside the sky.
func (g *ring) clear(b box) bool {
	for _, x := range []float64{b.x, b.x + b.w} {
		for _, y := range []float64{b.y, b.y + b.h} {
			if math.Hypot(x-g.cx, y-g.cy) > g.r-2 {
				return false
			}
		}
	}
	for _, t := range g.taken {
		if b.x < t.x+t.w+3 && t.x < b.x+b.w+3 && b.y < t.y+t.h+1 && t.y < b.y+b.h+1 {
			return false
		}
	}
	return true
}
