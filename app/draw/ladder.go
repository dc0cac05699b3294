package draw

import (
	"duskline/app/words"
	"duskline/calc/outlook"
	"duskline/calc/qty"
)

// A Ladder is what the rungs of one ladder have in common: panels of rising
// size hang between two rails. The left rail stands at nothing, the right one
// at what is used a day. A rung is as long as what its panels bring a day: one
// that reaches the right rail puts back what is used.
//
// Every rung is a picture of its own, since each is a button of the page; the
// rails run from the top of a picture to its foot, so that rungs laid one
// under the other are one ladder.
type Ladder struct {
	Used  qty.WattHour // a day; 0: nothing is used, and there is no right rail
	Most  qty.WattHour // the longest rung; counts where nothing is used
	Frame Frame        // of one rung
}

// A Rung is one size of panel, or panels that somebody owns.
type Rung struct {
	Name    string
	Brings  qty.WattHour // what reaches the battery, a day
	Left    qty.WattHour // what the panels could have given besides: clipped, or turned away by a full battery
	Verdict outlook.Verdict
	Danger  bool     // must not be connected; the verdict does not count then
	Marks   []string // short words beside the name
	Open    bool     // its reasons are shown
}

// Places in a rung's picture, pixels.
const (
	rungHeight = 58 // usual height of its frame
	leftRail   = 15 // middle of the rail
	railWidth  = 5
	barAt      = 41 // middle of the rung
	barHigh    = 12
	signRadius = 11
)

// RungHeight is the height of a rung's frame: a thumb finds it.
const RungHeight = rungHeight

// useAt is where the right rail stands, as a share of the room for rungs.
const useAt = 0.62

// at returns where so much a day ends, and whether the frame cuts it.
func (l Ladder) at(e qty.WattHour) (x float64, cut bool) {
	room := l.Frame.Width - leftRail - 8
	scale := 0.0
	switch {
	case l.Used > 0:
		scale = useAt * room / float64(l.Used)
	case l.Most > 0:
		scale = room / float64(l.Most)
	}
	long := max(float64(e), 0) * scale
	if !(long <= room) {
		return leftRail + room, long > room
	}
	return leftRail + long, false
}

// rail returns where the right rail stands; ok is false if there is none.
func (l Ladder) rail() (x float64, ok bool) {
	x, _ = l.at(l.Used)
	return x, l.Used > 0
}

func (l Ladder) begin(p *pen, f Frame) {
	p.open("svg", "xmlns", "http://www.w3.org/2000/svg", "viewBox", "0 0 "+figure(f.Width)+" "+figure(f.Height),
		"width", "100%", "data-picture", "ladder", "aria-hidden", "true", "focusable", "false")
}

// rails draws both from one height to another.
func (l Ladder) rails(p *pen, from, to float64) {
	var d path
	d.box(leftRail-railWidth/2, from, railWidth, to-from)
	if x, ok := l.rail(); ok {
		d.box(x-railWidth/2, from, railWidth, to-from)
	}
	p.shape(&d, `fill="#8a6a3a" data-s="rail"`)
}

// Rung draws one rung. What it says stands in words on its button, so the
// picture is hidden from a screen reader.
func (l Ladder) Rung(r Rung) string {
	l.Frame = l.Frame.least()
	f, p := l.Frame, &pen{}
	l.begin(p, f)
	l.rails(p, 0, f.Height)
	key, fill := rungLook(r)
	end, cut := l.at(r.Brings)
	// What the panels could give besides, as an empty bar behind the rung.
	if past, over := l.at(r.Brings + r.Left); past > end+2 {
		var d path
		d.box(leftRail, barAt-barHigh/2+1.5, past-leftRail, barHigh-3)
		p.shape(&d, `fill="#f7efe0" stroke="#7a6f60" stroke-width="1.4" stroke-dasharray="3 2.5" data-s="rung-left"`)
		cut = cut || over
	}
	var bar path
	bar.box(leftRail, barAt-barHigh/2, max(end-leftRail, 1), barHigh)
	p.put("path", "d", bar.String(), "fill", fill, "data-s", key)
	if cut { // it goes on beyond the picture
		x := f.Width - 7
		var d path
		d.move(x-6, barAt-10)
		d.line(x, barAt)
		d.line(x-6, barAt+10)
		p.shape(&d, `fill="none" stroke="#1d1a2b" stroke-width="2.6" stroke-linecap="round" stroke-linejoin="round" data-s="rung-on"`)
	}
	p.sign(key, fill, leftRail, barAt)
	l.names(p, r)
	p.shut("svg")
	return p.b.String()
}

// rungLook is the colour of a rung, by its part and by Day.
func rungLook(r Rung) (key, fill string) {
	switch {
	case r.Danger:
		return "rung-danger", "#a3230f"
	case r.Verdict == outlook.Holds:
		return "rung-holds", "#17505e"
	case r.Verdict == outlook.Tight:
		return "rung-tight", "#f2b04a"
	}
	return "rung-short", "#b8401a"
}

// signs of a rung: a tick, a wave, a bar across, an exclamation mark. They say
// what the colour says.
var rungSigns = map[string]string{
	"rung-holds":  "M-5 0l3.6 4 6.6-7.6",
	"rung-tight":  "M-6 1q3-5 6-1t6-1",
	"rung-short":  "M-5 0h10",
	"rung-danger": "M0-6.5v7M0 5v.1",
}

// sign is the bolt of a rung on its left rail.
func (p *pen) sign(key, fill string, x, y float64) {
	p.put("circle", "cx", x, "cy", y, "r", float64(signRadius), "fill", fill, "stroke", "#f7efe0", "stroke-width", 2.0, "data-s", key)
	ink := "#ffffff"
	if key == "rung-tight" {
		ink = "#1d1a2b"
	}
	p.put("path", "transform", "translate("+figure(x)+" "+figure(y)+")", "d", rungSigns[key], "fill", "none", "stroke", ink,
		"stroke-width", 2.6, "stroke-linecap", "round", "stroke-linejoin", "round", "data-s", key+"-sign")
}

// names writes what the rung is at the left, its marks beside it, and what it
// brings at the right. The name is cut where it would meet what is beside it;
// the button has it whole.
func (l Ladder) names(p *pen, r Rung) {
	const size, small, y = 16.0, 13.0, 21.0
	left, right := leftRail+9.0, l.Frame.Width-2
	brings := words.Energy(r.Brings)
	p.text(brings, "x", right, "y", y, "text-anchor", "end", "font-size", size, "font-weight", "600",
		"fill", "#1d1a2b", "stroke", "#f7efe0", "stroke-width", 4.0, "stroke-linejoin", "round", "paint-order", "stroke", "data-s", "rung-name")
	room := right - 1.1*width(brings, size) - 10 - left
	for _, m := range r.Marks {
		room -= width(m, small) + 20
	}
	name := []rune(r.Name)
	text := r.Name
	for len(name) > 1 && 1.05*width(text, size) > room {
		name = name[:len(name)-1]
		text = string(name) + "…"
	}
	p.text(text, "x", left, "y", y, "font-size", size, "font-weight", "700",
		"fill", "#1d1a2b", "stroke", "#f7efe0", "stroke-width", 4.0, "stroke-linejoin", "round", "paint-order", "stroke", "data-s", "rung-name")
	x := left + 1.05*width(text, size) + 6
	for _, m := range r.Marks {
		w := width(m, small) + 14
		p.put("rect", "x", x, "y", y-15, "width", w, "height", 20.0, "rx", 10.0, "fill", "#23254d", "data-s", "rung-mark")
		p.text(m, "x", x+w/2, "y", y-0.5, "text-anchor", "middle", "font-size", small, "font-weight", "600", "fill", "#ffffff", "data-s", "rung-mark-name")
		x += w + 6
	}
}

// Head draws the top of the ladder: the ends of the rails, and what the right
// one stands for.
func (l Ladder) Head() string {
	const high, size = 34.0, 14.0
	f, p := l.Frame.least(), &pen{}
	f.Height = high
	l.Frame = f
	l.begin(p, f)
	l.rails(p, high-10, high)
	if x, ok := l.rail(); ok {
		text := words.T("ladder.used", words.Energy(l.Used))
		w := 1.05 * width(text, size)
		at := max(min(x, f.Width-2-w/2), 2+w/2)
		p.text(text, "x", at, "y", high-16, "text-anchor", "middle", "font-size", size, "font-weight", "600", "fill", "#1d1a2b", "data-s", "rung-name")
	}
	p.shut("svg")
	return p.b.String()
}

// Foot draws the ground that the ladder stands on.
func (l Ladder) Foot() string {
	const high = 14.0
	f, p := l.Frame.least(), &pen{}
	f.Height = high
	l.Frame = f
	l.begin(p, f)
	l.rails(p, 0, 6)
	var d path
	d.move(0, 7)
	d.line(f.Width, 7)
	p.shape(&d, `stroke="#1d1a2b" stroke-width="2.5" data-s="ladder-ground"`)
	p.shut("svg")
	return p.b.String()
}

// RungSign is the bolt of a rung alone, for a key beside the ladder.
func RungSign(r Rung) string {
	p := &pen{}
	p.open("svg", "xmlns", "http://www.w3.org/2000/svg", "viewBox", "0 0 26 26", "width", "24", "height", "24",
		"data-picture", "ladder", "aria-hidden", "true", "focusable", "false")
	key, fill := rungLook(r)
	p.sign(key, fill, 13, 13)
	p.shut("svg")
	return p.b.String()
}
