package draw

import (
	"math"

	"duskline/app/words"
)

// A Wearing is what a year of lying takes from a battery, a bar for each way
// of keeping it. Published models differ: what both take is full, what only
// one of them takes is open.
type Wearing struct {
	Bars []WearBar
}

// A WearBar is one way of keeping it; Low and High are shares of the capacity.
type WearBar struct {
	Name, Says string
	Low, High  float64
	Worst      bool // the one that is warned of
}

// wearRow is the height of one bar with its name, pixels.
const wearRow = 38

// WearingHeight is how high a picture of so many bars is at a width.
func WearingHeight(bars int, width float64) float64 { return (wearRow + over(width)) * float64(bars) }

// DrawWearing draws the bars on one scale, the longest over the whole width.
func DrawWearing(w Wearing, f Frame) string {
	f = f.least()
	f.Height = max(WearingHeight(len(w.Bars), f.Width), 24)
	more := over(f.Width)
	p := &pen{}
	p.open("svg", "xmlns", "http://www.w3.org/2000/svg", "viewBox", "0 0 "+figure(f.Width)+" "+figure(f.Height),
		"width", "100%", "role", "img", "data-picture", "wearing", "aria-label", words.T("picture.wearing"))
	const size = 13.0
	most := 0.0
	for _, b := range w.Bars {
		if b.High > most && !math.IsInf(b.High, 1) {
			most = b.High
		}
	}
	for i, b := range w.Bars {
		top := (wearRow + more) * float64(i)
		name := func(text string, x, y float64, anchor, weight string) {
			p.text(text, "x", x, "y", y, "text-anchor", anchor, "font-size", size, "font-weight", weight, "fill", "#1d1a2b", "data-s", "wear-name")
		}
		room := f.Width - 1.15*width(b.Says, size) - 10
		if more > 0 {
			room = f.Width
		}
		name(cutTo(b.Name, size, room), 0, top+14, "start", "400")
		name(b.Says, f.Width, top+14+more, "end", "700")
		low, high := (f.Width-2)*share1(b.Low/most), (f.Width-2)*share1(b.High/most)
		key, fill := "wear", "#5d3a6e"
		if b.Worst {
			key, fill = "wear-worst", "#b23c17"
		}
		var solid, open path
		open.box(1, top+21+more, max(high, 1), 10)
		p.put("path", "d", open.String(), "fill", fill, "fill-opacity", "0.25", "stroke", fill, "stroke-width", 1.4, "data-s", key+"-open")
		solid.box(1, top+21+more, max(low, 1), 10)
		p.put("path", "d", solid.String(), "fill", fill, "data-s", key)
	}
	p.shut("svg")
	return p.b.String()
}

// Gain is one bar of what a step wins, as a share of the greatest of them.
func Gain(share float64) string {
	p := &pen{}
	p.open("svg", "xmlns", "http://www.w3.org/2000/svg", "viewBox", "0 0 100 6", "preserveAspectRatio", "none",
		"width", "100%", "height", "6", "data-picture", "gain", "aria-hidden", "true", "focusable", "false")
	p.put("rect", "width", 100.0, "height", 6.0, "fill", "#e6dbc7", "data-s", "gain-track")
	p.put("rect", "width", 100*share1(share), "height", 6.0, "fill", "#2f7f8f", "data-s", "gain")
	p.shut("svg")
	return p.b.String()
}
