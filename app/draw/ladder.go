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
	How     string       // how they are joined; a tall rung has room for it
	Brings  qty.WattHour // what reaches the battery, a day
	Left    qty.WattHour // what the panels could have given besides: clipped, or turned away by a full battery
	Verdict outlook.Verdict
	Danger  bool     // must not be connected; the verdict does not count then
	Marks   []string // short words beside the name
	Open    bool     // its reasons are shown
}

// Places in a rung's picture, pixels.
const (
	leftRail   = 15 // middle of the rail
	railWidth  = 5
	barOver    = 17 // middle of the rung over the foot of its frame
	barHigh    = 12
	signRadius = 11
)

// The heights of a rung's frame: a thumb finds it. A tall one has a line for
// its name alone.
const (
	RungHeight     = 58
	TallRungHeight = 80
)

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
	key, fill := rungLook(r)
	barAt := f.Height - barOver
	end, cut := l.at(r.Brings)
	// What the panels could give besides, as an empty bar behind the rung.
	if past, over := l.at(r.Brings + r.Left); past > end+2 {
		var d path
		d.box(leftRail, barAt-barHigh/2+1.5, past-leftRail, barHigh-3)
		p.shape(&d, `fill="#f7efe0" stroke="#7a6f60" stroke-width="1.4" stroke-dasharray="3 2.5" data-s="rung-left"`)
		cut = cut || over
	}
	l.rails(p, 0, f.Height)
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
// brings at the right; in a tall one the name has a line of its own. A name is
// cut where it would meet what is beside it; the button has it whole.
func (l Ladder) names(p *pen, r Rung) {
	const size, small = 16.0, 13.0
	left, right := leftRail+11.0, l.Frame.Width-2
	tall := l.Frame.Height >= TallRungHeight
	y := l.Frame.Height - 37
	brings := words.Energy(r.Brings)
	p.rungText(brings, right, y, size, "end", "600")
	room := right - 1.1*width(brings, size) - 10 - left
	least, how := 3*size, "" // a name cut shorter says nothing
	if tall {
		least, how = 0, cutTo(r.How, small+1, room)
		room -= width(how, small+1) + 8
	}
	marks := 0 // those that there is room for
	for _, m := range r.Marks {
		if w := width(m, small) + 20; room-w >= least {
			room -= w
			marks++
		}
	}
	x := left
	if tall {
		p.rungText(cutTo(r.Name, size, right-left), left, y-22, size, "start", "700")
		p.rungText(how, left, y, small+1, "start", "400")
		x += width(how, small+1) + 8
	} else {
		name := cutTo(r.Name, size, room)
		p.rungText(name, left, y, size, "start", "700")
		x += 1.05*width(name, size) + 8
	}
	for _, m := range r.Marks[:marks] {
		w := width(m, small) + 14
		p.put("rect", "x", x, "y", y-15, "width", w, "height", 20.0, "rx", 10.0, "fill", "#23254d", "data-s", "rung-mark")
		p.text(m, "x", x+w/2, "y", y-0.5, "text-anchor", "middle", "font-size", small, "font-weight", "600", "fill", "#ffffff", "data-s", "rung-mark-name")
		x += w + 6
	}
}

// rungText writes over the rails, with the ground around its letters.
func (p *pen) rungText(text string, x, y, size float64, anchor, weight string) {
	p.text(text, "x", x, "y", y, "text-anchor", anchor, "font-size", size, "font-weight", weight, "fill", "#1d1a2b",
		"stroke", "#f7efe0", "stroke-width", 6.0, "stroke-linejoin", "round", "paint-order", "stroke", "data-s", "rung-name")
}

// cutTo cuts a text to a room.
func cutTo(text string, size, room float64) string {
	r, whole := []rune(text), text
	for len(r) > 1 && 1.05*width(text, size) > room {
		r = r[:len(r)-1]
		text = string(r) + "…"
	}
	if len(r) <= 1 && text != whole {
		return ""
	}
	return text
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
		p.rungText(text, at, high-16, size, "middle", "600")
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
