package draw

import (
	"math"

	"duskline/app/words"
	"duskline/calc/qty"
)

// A Lie is how a panel lies: seen from above, to tell where it faces, and
// from the side, to tell how far it leans.
type Lie struct {
	Tilt, Azimuth qty.Degree // degrees from the level; clockwise from north
	Turned        bool       // its facing follows the sun
	Leaned        bool       // and its lean, too
	OnLid         bool       // it lies on the Case
}

// lieSize is the size of the letters, pixels.
const lieSize = 14

// DrawLie draws a lie: at the left as on a map, at the right from the side.
func DrawLie(l Lie, f Frame) string {
	f = f.least()
	p := &pen{}
	p.open("svg", "xmlns", "http://www.w3.org/2000/svg", "viewBox", "0 0 "+figure(f.Width)+" "+figure(f.Height),
		"width", "100%", "role", "img", "data-picture", "lie", "aria-label", words.T("picture.lie", words.Facing(l.Azimuth), words.Angle(l.Tilt)))
	p.lieAbove(l, f.Width/4, f.Height/2, min(f.Width/4, f.Height/2)-4)
	p.lieAside(l, f.Width/2+8, f.Width-8, f.Height)
	p.shut("svg")
	return p.b.String()
}

// lieAbove is the map: the four points, the panel in the middle, and the way
// it faces.
func (p *pen) lieAbove(l Lie, cx, cy, r float64) {
	spot := func(azimuth, distance float64) (x, y float64) {
		sin, cos := math.Sincos(azimuth * math.Pi / 180)
		return cx + distance*sin, cy - distance*cos
	}
	var ring, ticks path
	inner := r - lieSize - 4
	ring.disc(cx, cy, inner)
	for k := range 8 {
		x, y := spot(45*float64(k), inner)
		ticks.move(x, y)
		x, y = spot(45*float64(k), inner-5)
		ticks.line(x, y)
	}
	p.put("path", "d", ring.String(), "fill", "#efe3cc", "stroke", "#8a8070", "stroke-width", 1.2, "data-s", "lie-ground")
	p.put("path", "d", ticks.String(), "stroke", "#8a8070", "stroke-width", 1.2, "data-s", "lie-ticks")
	for k, point := range []string{"n", "e", "s", "w"} {
		x, y := spot(90*float64(k), r-lieSize/2)
		p.text(words.T("compass_letter."+point), "x", x, "y", y+0.36*lieSize, "text-anchor", "middle",
			"font-size", float64(lieSize), "font-weight", "700", "fill", "#1d1a2b", "data-s", "lie-name")
	}
	// The panel from above is as much shorter as it leans; its lower edge is
	// the one it faces over.
	a := float64(l.Azimuth)
	wide, deep := 0.36*inner, max(0.5*inner*math.Cos(float64(l.Tilt)*math.Pi/180), 2.5)
	corner := func(side, ahead float64) (x, y float64) {
		sin, cos := math.Sincos(a * math.Pi / 180)
		return cx + ahead*sin + side*cos, cy - ahead*cos + side*sin
	}
	var panel, edge, arrow path
	for i, c := range [][2]float64{{-wide, -deep / 2}, {wide, -deep / 2}, {wide, deep / 2}, {-wide, deep / 2}} {
		if x, y := corner(c[0], c[1]); i == 0 {
			panel.move(x, y)
		} else {
			panel.line(x, y)
		}
	}
	panel.close()
	edge.move(corner(-wide, deep/2))
	edge.line(corner(wide, deep/2))
	tip := inner - 7
	if l.Tilt > 0 || l.Turned {
		arrow.move(corner(0, deep/2+3))
		arrow.line(corner(0, tip))
		for _, side := range []float64{-5, 5} {
			arrow.move(corner(side, tip-7))
			arrow.line(corner(0, tip))
		}
	}
	p.put("path", "d", panel.String(), "fill", "#23254d", "data-s", "lie-panel")
	if !arrow.empty() { // lying flat it faces nowhere
		p.put("path", "d", edge.String(), "stroke", "#d9542b", "stroke-width", 3.0, "stroke-linecap", "round", "data-s", "lie-edge")
		p.put("path", "d", arrow.String(), "fill", "none", "stroke", "#d9542b", "stroke-width", 2.6,
			"stroke-linecap", "round", "stroke-linejoin", "round", "data-s", "lie-edge")
	}
	if l.Turned {
		p.turn(cx, cy, tip, a)
	}
}

// turn hints at the arc along which a panel is turned by hand: sixty degrees
// to either side, not its true reach.
func (p *pen) turn(cx, cy, r, azimuth float64) {
	var arc path
	for i := -6; i <= 6; i++ {
		sin, cos := math.Sincos((azimuth + 10*float64(i)) * math.Pi / 180)
		if x, y := cx+r*sin, cy-r*cos; i == -6 {
			arc.move(x, y)
		} else {
			arc.line(x, y)
		}
	}
	p.put("path", "d", arc.String(), "fill", "none", "stroke", "#d9542b", "stroke-width", 2.2,
		"stroke-dasharray", "1 5", "stroke-linecap", "round", "data-s", "lie-edge")
}

// lieAside is the side view: the ground, the panel on it, the angle between
// them.
func (p *pen) lieAside(l Lie, left, right, height float64) {
	ground := height - 22
	reach := min(right-left-58, ground-12)
	lift := 0.0
	if l.OnLid {
		lift = min(26, 0.25*ground)
		reach = min(reach, ground-lift-8)
	}
	x, y := left+8, ground-lift
	rad := float64(l.Tilt) * math.Pi / 180
	var earth, angle path
	earth.move(left, ground)
	earth.line(right, ground)
	p.put("path", "d", earth.String(), "stroke", "#8a8070", "stroke-width", 2.0, "stroke-linecap", "round", "data-s", "lie-ticks")
	if l.OnLid {
		var box path
		box.box(x-4, y, reach+12, lift)
		p.put("path", "d", box.String(), "fill", "#5d3a6e", "data-s", "lie-case")
	}
	// The lower edge lies at the left: the panel faces that way.
	tx, ty := x+reach*math.Cos(rad), y-reach*math.Sin(rad)
	if arc := 0.42 * reach; l.Tilt >= 4 {
		for i := range 13 {
			sin, cos := math.Sincos(rad * float64(i) / 12)
			if i == 0 {
				angle.move(x+arc*cos, y-arc*sin)
			} else {
				angle.line(x+arc*cos, y-arc*sin)
			}
		}
		p.put("path", "d", angle.String(), "fill", "none", "stroke", "#1d1a2b", "stroke-width", 1.4, "stroke-dasharray", "3 3", "data-s", "lie-angle")
		if !l.OnLid { // the strut it leans on
			var strut path
			strut.move(tx-6*math.Cos(rad), ty+6*math.Sin(rad))
			strut.line(max(tx-4*math.Cos(rad), x)+0.16*reach*math.Sin(rad), ground)
			p.put("path", "d", strut.String(), "stroke", "#8a8070", "stroke-width", 2.2, "stroke-linecap", "round", "data-s", "lie-ticks")
		}
	}
	var panel path
	panel.move(x, y-2)
	panel.line(tx, ty-2)
	p.put("path", "d", panel.String(), "stroke", "#23254d", "stroke-width", 5.0, "stroke-linecap", "round", "data-s", "lie-side")
	if l.Tilt > 0 || l.Leaned {
		p.put("circle", "cx", x, "cy", y-2, "r", 3.2, "fill", "#d9542b", "data-s", "lie-foot")
	}
	// Behind the strut, where nothing else is drawn; words under the ground.
	label := words.Angle(l.Tilt)
	lx, ly := tx+0.16*reach*math.Sin(rad)+8, ty+0.3*(ground-ty)+0.36*lieSize
	switch {
	case l.Leaned:
		label = words.T("lie.leaned_too")
		lx, ly = x, ground+lieSize+2
	case l.OnLid:
		lx, ly = tx+10, ty+0.3*(y-ty)+0.36*lieSize
	}
	if l.Tilt < 12 && !l.Leaned {
		lx, ly = x+0.5*reach, ty-12
	}
	p.text(label, "x", min(lx, right-width(label, lieSize)), "y", max(ly, lieSize), "font-size", float64(lieSize),
		"font-weight", "700", "fill", "#1d1a2b", "stroke", "#f7efe0", "stroke-width", 3.0, "paint-order", "stroke",
		"stroke-linejoin", "round", "data-s", "lie-label")
}
