package draw

import (
	"math"

	"duskline/app/words"
	"duskline/calc/qty"
)

// An IV is what panels can give at one instant: amps over volts. The battery
// stands in it as an upright line. The point at which the panels work, and the
// best one they have, each hold up a rectangle whose area is watts.
type IV struct {
	Curves  []IVCurve // the joined one first, then each kind's own
	Work    IVPoint   // where the controller has the panels work; nothing if they give nothing
	Best    IVPoint   // most watts of the joined curve
	Battery qty.Volt  // 0: not known

	// The ends of the axes. They stay through a trip, so that an hour can be
	// compared with another.
	Volts qty.Volt
	Amps  qty.Ampere
}

// An IVCurve is one line, from no volts to no amps.
type IVCurve struct {
	Name   string // "" for the joined one
	Points []IVPoint
}

// An IVPoint is a point of a curve.
type IVPoint struct {
	V qty.Volt
	I qty.Ampere
}

// Watts of a point.
func (p IVPoint) Watts() qty.Watt { return qty.Watt(float64(p.V) * float64(p.I)) }

// ivDashes tell the kinds apart without colour.
var ivDashes = []string{"7 4", "2 4", "10 3 2 3", "4 2"}

// DrawIV draws current over voltage.
func DrawIV(c IV, f Frame) string {
	f = f.least()
	g := &iv{f: f, left: 38, right: f.Width - 10, top: 14, foot: f.Height - 40, size: 13}
	g.volts, g.amps = math.Max(float64(c.Volts), 1), math.Max(float64(c.Amps), 0.1)
	g.open("svg", "xmlns", "http://www.w3.org/2000/svg", "viewBox", "0 0 "+figure(f.Width)+" "+figure(f.Height),
		"width", "100%", "role", "img", "data-picture", "iv", "aria-label", words.T("picture.iv"))
	g.areas(c)
	g.axes()
	g.battery(c.Battery)
	g.lines(c.Curves)
	g.points(c)
	g.shut("svg")
	return g.b.String()
}

type iv struct {
	pen
	f                      Frame
	left, right, top, foot float64
	volts, amps            float64
	size                   float64
	taken                  []box
}

func (g *iv) x(v qty.Volt) float64 {
	return g.left + (g.right-g.left)*share1(float64(v)/g.volts)
}

func (g *iv) y(i qty.Ampere) float64 {
	return g.foot - (g.foot-g.top)*share1(float64(i)/g.amps)
}

// share1 keeps a share inside the picture; what is no number is nothing.
func share1(s float64) float64 {
	if !(s > 0) {
		return 0
	}
	return min(s, 1)
}

// areas are the watts of both points.
func (g *iv) areas(c IV) {
	if c.Best.Watts() > 0 {
		var d path
		d.box(g.left, g.y(c.Best.I), g.x(c.Best.V)-g.left, g.foot-g.y(c.Best.I))
		g.shape(&d, `fill="none" stroke="#7a6f60" stroke-width="1.4" stroke-dasharray="3 3" data-s="iv-best-area"`)
	}
	if c.Work.Watts() > 0 {
		var d path
		d.box(g.left, g.y(c.Work.I), g.x(c.Work.V)-g.left, g.foot-g.y(c.Work.I))
		g.shape(&d, `fill="#f2b04a" fill-opacity="0.55" data-s="iv-work-area"`)
	}
}

// axes draws and names both, with a figure at every round step.
func (g *iv) axes() {
	var grid, axis path
	put := func(text string, x, y float64, anchor string) {
		g.text(text, "x", x, "y", y, "text-anchor", anchor, "font-size", g.size, "fill", "#1d1a2b", "data-s", "iv-name")
	}
	if step := roundStep(g.volts, max((g.right-g.left)/48, 1)); step > 0 {
		for v := step; v <= g.volts*1.0001; v += step {
			x := g.x(qty.Volt(v))
			grid.move(x, g.foot)
			grid.line(x, g.top)
			if x < g.right-30 {
				put(words.Plain(v, ""), x, g.foot+g.size+4, "middle")
			}
		}
	}
	if step := roundStep(g.amps, max((g.foot-g.top)/34, 1)); step > 0 {
		for a := step; a <= g.amps*1.0001; a += step {
			y := g.y(qty.Ampere(a))
			grid.move(g.left, y)
			grid.line(g.right, y)
			if y > g.top+16 {
				put(words.Plain(a, ""), g.left-6, y+0.36*g.size, "end")
			}
		}
	}
	put("0", g.left-6, g.foot+g.size+4, "end")
	put("A", g.left-6, g.top+0.7*g.size, "end")
	put("V", g.right, g.foot+g.size+4, "end")
	axis.move(g.left, g.top)
	axis.line(g.left, g.foot)
	axis.line(g.right, g.foot)
	if !grid.empty() {
		g.shape(&grid, `fill="none" stroke="#d9cdb8" stroke-width="1" data-s="iv-grid"`)
	}
	g.shape(&axis, `fill="none" stroke="#1d1a2b" stroke-width="1.8" data-s="iv-axis"`)
}

// roundStep is 1, 2 or 5 of a power of ten, so that about so many fit.
func roundStep(end, fit float64) float64 {
	least := end / fit
	if !(least > 0) || math.IsInf(least, 0) {
		return 0
	}
	ten := math.Pow(10, math.Floor(math.Log10(least)))
	for _, n := range []float64{1, 2, 5} {
		if n*ten >= least*0.999 {
			return n * ten
		}
	}
	return 10 * ten
}

// battery is the upright line at the battery's volts.
func (g *iv) battery(v qty.Volt) {
	if !(v > 0) || float64(v) > g.volts {
		return
	}
	x := g.x(v)
	var d path
	d.move(x, g.foot)
	d.line(x, g.top)
	g.shape(&d, `stroke="#2f7f8f" stroke-width="2.4" stroke-dasharray="8 4" data-s="iv-battery"`)
	text := words.T("iv.battery", words.Volts(v))
	w := 1.05 * width(text, g.size)
	at := max(min(x, g.right-w/2), g.left+w/2-6)
	g.text(text, "x", at, "y", g.foot+2*g.size+8, "text-anchor", "middle", "font-size", g.size, "font-weight", "600",
		"fill", "#17505e", "data-s", "iv-battery-name")
}

// lines draws the kinds' curves and over them the joined one.
func (g *iv) lines(list []IVCurve) {
	for k := len(list) - 1; k >= 0; k-- {
		c := list[k]
		xs, ys := make([]float64, len(c.Points)), make([]float64, len(c.Points))
		for i, p := range c.Points {
			xs[i], ys[i] = g.x(p.V), g.y(p.I)
		}
		var d path
		for n, i := range thin(xs, ys, 0.2) {
			if n == 0 {
				d.move(xs[i], ys[i])
			} else {
				d.line(xs[i], ys[i])
			}
		}
		switch {
		case d.empty():
		case k == 0:
			g.shape(&d, `fill="none" stroke="#1d1a2b" stroke-width="3" stroke-linejoin="round" data-s="iv-joined"`)
		default:
			g.put("path", "d", d.String(), "fill", "none", "stroke", "#5d3a6e", "stroke-width", 1.8,
				"stroke-dasharray", ivDashes[(k-1)%len(ivDashes)], "data-s", "iv-kind")
			g.kindName(c, xs, ys)
		}
	}
}

// kindName writes a kind's name over the level part of its curve.
func (g *iv) kindName(c IVCurve, xs, ys []float64) {
	if c.Name == "" || len(ys) == 0 || ys[0] > g.foot-6 {
		return
	}
	text, r := c.Name, []rune(c.Name)
	for len(r) > 1 && width(text, g.size) > 0.5*(g.right-g.left) {
		r = r[:len(r)-1]
		text = string(r) + "…"
	}
	w := width(text, g.size)
	for _, dy := range []float64{-5, g.size + 3} {
		b := box{g.left + 6, ys[0] + dy - g.size, w, g.size}
		if b.y < g.top-4 || !g.clear(b) {
			continue
		}
		g.taken = append(g.taken, b)
		g.text(text, "x", b.x, "y", ys[0]+dy, "font-size", g.size, "fill", "#5d3a6e",
			"stroke", "#f7efe0", "stroke-width", 3.0, "stroke-linejoin", "round", "paint-order", "stroke", "data-s", "iv-kind-name")
		return
	}
}

func (g *iv) clear(b box) bool {
	for _, t := range g.taken {
		if b.x < t.x+t.w+3 && t.x < b.x+b.w+3 && b.y < t.y+t.h+1 && t.y < b.y+b.h+1 {
			return false
		}
	}
	return true
}

// points marks the best point and the one in use.
func (g *iv) points(c IV) {
	if c.Best.Watts() > 0 {
		x, y := g.x(c.Best.V), g.y(c.Best.I)
		var d path
		d.move(x, y-9)
		d.line(x+9, y)
		d.line(x, y+9)
		d.line(x-9, y)
		d.close()
		g.shape(&d, `fill="#f7efe0" stroke="#1d1a2b" stroke-width="2" stroke-linejoin="round" data-s="iv-best"`)
	}
	if c.Work.Watts() > 0 {
		g.put("circle", "cx", g.x(c.Work.V), "cy", g.y(c.Work.I), "r", 6.0, "fill", "#d9542b", "stroke", "#1d1a2b", "stroke-width", 2.0, "data-s", "iv-work")
		text := words.Watts(c.Work.Watts())
		size := g.size + 3
		// In the corner, where no curve runs.
		if g.foot-g.y(c.Work.I) > size+8 && g.x(c.Work.V)-g.left > width(text, size)+16 {
			g.text(text, "x", g.left+9, "y", g.foot-8, "font-size", size, "font-weight", "700", "fill", "#1d1a2b", "data-s", "iv-watts")
		}
	}
}
