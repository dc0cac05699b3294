package draw

import (
	"math"

	"duskline/app/words"
	"duskline/calc/qty"
)

// A Tide is what a battery's meter shows as it is emptied: volts over charge,
// full at the left and empty at the right, as an ebbing tide.
//
// The surface of the water is the volts at rest. What a load pulls them down
// to runs under it. Alarm and cut-off are volts, so they stand level: where a
// line dives under one of them, that one sounds. Under the picture, on the same
// scale, lies what each line has left then, which is why volts mislead.
type Tide struct {
	Lines         []TideLine // the one at rest first
	Alarm, CutOff qty.Volt
}

// A TideLine is the volts under one load.
type TideLine struct {
	Kind   TideKind
	Name   string
	Points []TidePoint // from full to empty or the other way

	// What is left when the alarm sounds and when the power is shut off; NaN:
	// it never does.
	AtAlarm, AtCutOff qty.Fraction
}

// A TidePoint is a point of a line.
type TidePoint struct {
	Charge qty.Fraction
	V      qty.Volt
}

// A TideKind is how a line is drawn.
type TideKind string

// The kinds of lines. Charging has no row of its own: no mark is passed there.
const (
	TideRest     TideKind = "rest"
	TideUsual    TideKind = "usual"
	TideLargest  TideKind = "largest"
	TideCold     TideKind = "cold"
	TideCharging TideKind = "charging"
)

// tideDashes tell the lines apart without colour.
var tideDashes = map[TideKind]string{TideUsual: "8 3", TideCold: "2 3.5", TideCharging: "1 4"}

// Sizes of the picture, pixels.
const (
	tideStaff = 38 // room for the staff and its figures
	tideRow   = 37 // of one line's remainder
	tideHigh  = 208
)

// narrow is the width below which names and figures do not share a line, and
// line is how much higher a row is then. With letters twice as large a phone's
// pictures are drawn for half of its width.
const (
	narrow = 220
	line   = 17
)

// over is how much higher a row is at a width.
func over(width float64) float64 {
	if width < narrow {
		return line
	}
	return 0
}

// TideHeight is how high a picture of that width is.
func TideHeight(t Tide, width float64) float64 {
	return tideHigh + 24 + (tideRow+over(width))*float64(len(t.rows()))
}

// rows are the lines that have a remainder.
func (t Tide) rows() (list []TideLine) {
	for _, l := range t.Lines {
		if l.Kind != TideCharging {
			list = append(list, l)
		}
	}
	return list
}

// DrawTide draws it.
func DrawTide(t Tide, f Frame) string {
	f = f.least()
	f.Height = TideHeight(t, f.Width)
	g := &tide{f: f, t: t, left: tideStaff, right: f.Width - 1, top: 4, foot: tideHigh - 4, size: 13}
	g.scale()
	g.open("svg", "xmlns", "http://www.w3.org/2000/svg", "viewBox", "0 0 "+figure(f.Width)+" "+figure(f.Height),
		"width", "100%", "role", "img", "data-picture", "tide", "aria-label", words.T("picture.tide"))
	if len(t.Lines) > 0 && g.high > g.low {
		g.sky()
		g.lines()
		g.marks()
		g.staff()
		g.charges()
		g.remainders()
	}
	g.shut("svg")
	return g.b.String()
}

type tide struct {
	pen
	f                      Frame
	t                      Tide
	left, right, top, foot float64
	low, high              float64 // volts at the foot and at the top
	size                   float64
	drops                  path // where a line dives under the alarm
}

// scale is from a little under the cut-off to a little over the highest volts.
// A load that pulls them lower runs out of the picture.
func (g *tide) scale() {
	low, high := float64(g.t.CutOff), float64(g.t.Alarm)
	for _, l := range g.t.Lines {
		for _, p := range l.Points {
			if v := float64(p.V); v > high && !math.IsInf(v, 1) {
				high = v
			}
		}
	}
	over := 0.04 * (high - low)
	g.low, g.high = low-max(6*over, 0.25), high+max(over, 0.05)
}

func (g *tide) x(charge qty.Fraction) float64 {
	return g.right - (g.right-g.left)*share1(float64(charge))
}

func (g *tide) y(v qty.Volt) float64 {
	return g.foot - (g.foot-g.top)*(float64(v)-g.low)/(g.high-g.low)
}

// sky runs from the day of a full battery to the night of an empty one.
func (g *tide) sky() {
	id := g.f.ID
	g.open("defs")
	g.open("linearGradient", "id", id+"sky")
	for i, at := range []float64{0, 0.3, 0.52, 0.66, 0.78, 0.87, 0.94, 1} {
		g.put("stop", "offset", share(at), "stop-color", dusk[i].colour, "data-e", dusk[i].key)
	}
	g.shut("linearGradient")
	g.open("linearGradient", "id", id+"sea", "x2", "0", "y1", share(0), "y2", "1")
	g.put("stop", "stop-color", "#2f7f8f", "data-e", "water")
	g.put("stop", "offset", "1", "stop-color", "#17505e", "data-e", "deep")
	g.shut("linearGradient")
	g.open("clipPath", "id", id+"in")
	g.put("rect", "x", g.left, "y", g.top, "width", g.right-g.left, "height", g.foot-g.top, "rx", 3.0)
	g.shut("clipPath")
	g.shut("defs")
	g.open("g", "clip-path", "url(#"+id+"in)")
	g.put("rect", "x", g.left, "y", g.top, "width", g.right-g.left, "height", g.foot-g.top, "fill", "url(#"+id+"sky)", "data-s", "tide-sky")
	if l := g.t.Lines[0]; len(l.Points) > 1 {
		xs, ys := g.run(l)
		var d path
		d.move(xs[0], g.foot+6)
		for _, i := range thin(xs, ys, 0.3) {
			d.line(xs[i], ys[i])
		}
		d.line(xs[len(xs)-1], g.foot+6)
		d.close()
		g.put("path", "d", d.String(), "fill", "url(#"+id+"sea)", "fill-opacity", "0.94", "data-s", "tide-sea")
	}
	g.shut("g")
}

// run is a line in pixels. What is no number lies at the foot; what lies far
// under it is not drawn any deeper.
func (g *tide) run(l TideLine) (xs, ys []float64) {
	for _, p := range l.Points {
		y := g.y(p.V)
		if !(y < g.foot+40) {
			y = g.foot + 40
		}
		xs, ys = append(xs, g.x(p.Charge)), append(ys, max(y, g.top-40))
	}
	return xs, ys
}

func (g *tide) lines() {
	g.open("g", "clip-path", "url(#"+g.f.ID+"in)", "fill", "none", "stroke-linejoin", "round")
	for k := len(g.t.Lines) - 1; k >= 0; k-- {
		l := g.t.Lines[k]
		if len(l.Points) < 2 {
			continue
		}
		xs, ys := g.run(l)
		var d path
		for n, i := range thin(xs, ys, 0.3) {
			if n == 0 {
				d.move(xs[i], ys[i])
			} else {
				d.line(xs[i], ys[i])
			}
		}
		attrs := []any{"d", d.String(), "stroke", tideColours[l.Kind], "stroke-width", tideWide(l.Kind), "data-s", "tide-" + string(l.Kind)}
		if dash := tideDashes[l.Kind]; dash != "" {
			attrs = append(attrs, "stroke-dasharray", dash)
		}
		g.put("path", attrs...)
	}
	g.shut("g")
}

// tideColours are those of Day.
var tideColours = map[TideKind]string{
	TideRest: "#fdfcf8", TideUsual: "#e9c6f2", TideLargest: "#ffd68f", TideCold: "#bfe3f2", TideCharging: "#1d1a2b",
}

func tideWide(k TideKind) float64 {
	if k == TideRest {
		return 2.6
	}
	return 2.2
}

// marks draws alarm and cut-off, level, with their names where the water is
// deepest over them: at the full end.
func (g *tide) marks() {
	alarm, cut := g.y(g.t.Alarm), g.y(g.t.CutOff)
	for _, m := range []struct {
		y                        float64
		name, colour, dash, text string
		ink                      string
	}{
		{cut, "cut-off", "#f0835c", "", words.T("tide.cut_off", words.Plain(float64(g.t.CutOff), "V")), "#ffc9b0"},
		{alarm, "alarm", "#f2b04a", "7 5", words.T("tide.alarm", words.Plain(float64(g.t.Alarm), "V")), "#ffd68f"},
	} {
		var d path
		d.move(g.left, m.y)
		d.line(g.right, m.y)
		g.put("path", "d", d.String(), "stroke", "#1d1a2b", "stroke-opacity", "0.45", "stroke-width", 3.4, "data-s", "casing")
		attrs := []any{"d", d.String(), "stroke", m.colour, "stroke-width", 1.8, "data-s", m.name}
		if m.dash != "" {
			attrs = append(attrs, "stroke-dasharray", m.dash)
		}
		g.put("path", attrs...)
		over, under := m.y-5, m.y+g.size+2
		y := over
		// Where fewer lines run, and not between marks that lie close.
		switch between := cut - alarm; {
		case m.name == "cut-off" && between < g.size+6:
			y = under
		case m.name == "alarm" && between > 2*g.size+12 && g.runs(under, m.text) < g.runs(over, m.text):
			y = under
		}
		g.text(m.text, "x", g.left+6, "y", y, "font-size", g.size, "font-weight", "700", "fill", m.ink, "stroke", "#1d1a2b",
			"stroke-width", 3.0, "stroke-linejoin", "round", "stroke-opacity", "0.75", "paint-order", "stroke", "data-s", m.name+"-name")
	}
}

// runs counts the points of lines that a name at the full end would hide.
func (g *tide) runs(y float64, text string) (n int) {
	to := g.left + 6 + width(text, g.size)
	for _, l := range g.t.Lines {
		xs, ys := g.run(l)
		for i := range xs {
			if xs[i] > g.left+4 && xs[i] < to && ys[i] > y-g.size && ys[i] < y+3 {
				n++
			}
		}
	}
	return n
}

// staff is the upright board with a block for every half volt, and its figures.
func (g *tide) staff() {
	const wide = 9.0
	x := g.left - wide - 2
	var board, blocks path
	board.box(x, g.top, wide, g.foot-g.top)
	g.shape(&board, `fill="#fffaf0" stroke="#1d1a2b" stroke-width="1" data-s="tide-staff"`)
	every := 0.5
	if g.high-g.low < 1.6 {
		every = 0.1
	}
	for n := math.Ceil(g.low/every - 1); n*every < g.high; n++ {
		if math.Mod(n, 2) != 0 {
			continue
		}
		from, to := min(g.y(qty.Volt(n*every)), g.foot), max(g.y(qty.Volt((n+1)*every)), g.top)
		if from > to {
			blocks.box(x, to, wide, from-to)
		}
	}
	g.shape(&blocks, `fill="#1d1a2b" data-s="tide-block"`)
	last := math.Inf(1)
	for v := math.Ceil(g.low); v <= g.high; v++ {
		y := g.y(qty.Volt(v))
		if y < g.top+9+0.8*g.size || y > g.foot-4 || last-y < g.size+3 {
			continue
		}
		last = y
		g.name(words.Plain(v, ""), x-4, y+0.36*g.size, "end", "tide-name", "400")
	}
	g.name("V", x-4, g.top+9, "end", "tide-name", "400")
}

// name writes over the page, with the ground around its letters.
func (g *tide) name(text string, x, y float64, anchor, key, weight string) {
	g.text(text, "x", x, "y", y, "text-anchor", anchor, "font-size", g.size, "font-weight", weight, "fill", "#1d1a2b",
		"stroke", "#f7efe0", "stroke-width", 4.0, "stroke-linejoin", "round", "paint-order", "stroke", "data-s", key)
}

// charges names the ends and the quarters of the scale of charge.
func (g *tide) charges() {
	var ticks path
	for _, c := range []qty.Fraction{1, 0.75, 0.5, 0.25, 0} {
		x, anchor := g.x(c), "middle"
		ticks.move(x, g.foot)
		ticks.line(x, g.foot+5)
		text := words.Amount(100*float64(c), 0, "")
		if f := float64(c); g.f.Width < narrow && (f == 0.25 || f == 0.75) {
			continue
		}
		switch c {
		case 1:
			text, anchor = words.T("tide.full"), "start"
		case 0:
			text, anchor = words.T("tide.empty"), "end"
		case 0.5:
			text = words.Amount(50, 0, "%")
		}
		g.name(text, x, g.foot+6+g.size, anchor, "tide-name", "400")
	}
	g.shape(&ticks, `stroke="#1d1a2b" stroke-width="1.2" data-s="tide-tick"`)
}
