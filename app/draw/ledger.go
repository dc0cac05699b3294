package draw

import (
	"math"
	"slices"
	"sort"

	"duskline/app/words"
	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// A band is one flow of the picture, on its way to having a place.
type band struct {
	name  string
	wh    float64
	fill  string // Day theme
	key   string // data-s
	light bool   // words on it are light
	keep  bool   // never folded

	height, slot float64 // of the band; of the band with a name below it
	outside      bool    // the name stands below
}

// Ledger draws where the energy came from and where it went: one band from
// sources, on the left, through the Case, to uses on the right.
//
// A name stands in its band where the band is thick enough, else below it,
// and every band has room for its name: names cannot meet. Small flows fold
// into "other gear" and "lost on the way" until all is in the frame.
func Ledger(o *outlook.Outlook, p plan.Plan, f Frame) string {
	f = f.least()
	var s pen
	in, out := sources(o, p), uses(o, p)
	var total float64
	for _, b := range in {
		total += b.wh
	}
	s.open("svg", "xmlns", "http://www.w3.org/2000/svg", "viewBox", "0 0 "+figure(f.Width)+" "+figure(f.Height),
		"width", "100%", "role", "img", "data-picture", "ledger",
		"aria-label", words.T("picture.ledger", words.Energy(qty.WattHour(total))))
	if total <= 0 || len(out) == 0 {
		s.text(words.T("picture.nothing"), "x", f.Width/2, "y", f.Height/2, "text-anchor", "middle",
			"font-size", 14.0, "fill", "#1d1a2b", "data-s", "ledger-name")
		s.shut("svg")
		return s.b.String()
	}
	l := flow{pen: &s, f: f, size: 13, gap: 9}
	if f.Width < 400 {
		l.size = 12
	}
	in, out = l.fit(in, out)
	l.draw(in, out)
	s.shut("svg")
	return s.b.String()
}

// sources lists what came in, the largest first.
func sources(o *outlook.Outlook, p plan.Plan) []band {
	var list []band
	for _, f := range o.Ledger.Sources {
		b := band{name: words.Flow(f, p), wh: float64(f.Energy), fill: "#f2b04a", key: "from-sun"}
		if f.Name != outlook.SunFlow {
			b.fill, b.key, b.light = "#5d3a6e", "from-wall", true
		}
		list = append(list, b)
	}
	if c := float64(o.Ledger.Change); c < 0 {
		list = append(list, band{name: words.T("flow.from_battery"), wh: -c, fill: "#17505e", key: "from-battery", light: true})
	}
	return sorted(list)
}

// uses lists where it went: gear, the largest first, then the idle inverter,
// then what was lost, then what stayed in the battery.
func uses(o *outlook.Outlook, p plan.Plan) []band {
	var gear []band
	for _, f := range o.Ledger.Uses {
		gear = append(gear, band{name: words.Flow(f, p), wh: float64(f.Energy), fill: "#5d3a6e", key: "to-gear", light: true})
	}
	list := sorted(gear)
	var lost float64
	for _, f := range o.Ledger.Losses {
		if f.Name == outlook.InverterIdle && f.Energy >= 0.015*o.Ledger.Turnover {
			list = append(list, sorted([]band{{name: words.Flow(f, p), wh: float64(f.Energy), fill: "#b23c17", key: "to-idle", light: true}})...)
			continue
		}
		lost += float64(f.Energy)
	}
	rest := []band{
		{name: words.T("flow.lost"), wh: lost, fill: "#b9ab8e", key: "to-lost", keep: true},
		{name: words.T("flow.into_battery"), wh: float64(o.Ledger.Change), fill: "#17505e", key: "to-battery", light: true, keep: true},
	}
	for _, b := range rest {
		if b.wh > 0 {
			list = append(list, b)
		}
	}
	return list
}

// sorted drops what is nothing and puts the largest first.
func sorted(list []band) []band {
	list = slices.DeleteFunc(list, func(b band) bool { return !(b.wh > 0) })
	sort.SliceStable(list, func(i, k int) bool { return list[i].wh > list[k].wh })
	return list
}

type flow struct {
	*pen
	f         Frame
	size, gap float64
}

// fit folds the smallest gear until both sides have room for their names and
// the bands take at least half of the height.
func (l *flow) fit(in, out []band) ([]band, []band) {
	var sum float64
	for _, b := range out {
		sum += b.wh
	}
	for i := range out {
		out[i].keep = out[i].keep || out[i].wh >= 0.035*sum
	}
	fold := func() bool {
		// The smallest device that may still go, and whatever is folded.
		worst, into := -1, -1
		for i, b := range out {
			switch b.key {
			case "to-other":
				into = i
			case "to-gear":
				if worst < 0 || b.wh <= out[worst].wh {
					worst = i
				}
			}
		}
		if worst < 0 {
			return false
		}
		if into < 0 {
			out[worst].name, out[worst].key, out[worst].fill = words.T("flow.other_gear"), "to-other", "#8a5a85"
			out[worst].keep = true
			return true
		}
		out[into].wh += out[worst].wh
		out = slices.Delete(out, worst, worst+1)
		return true
	}
	small := 0
	for _, b := range out {
		if b.key == "to-gear" && !b.keep {
			small++
		}
	}
	if small > 1 { // one alone keeps its own name
		for ; small > 0; small-- {
			fold()
		}
	}
	for {
		scale := min(l.scale(in), l.scale(out))
		if sum*scale >= 0.5*l.f.Height || !fold() {
			l.place(in, scale)
			l.place(out, scale)
			return in, out
		}
	}
}

// scale returns the pixels a watt-hour at which a side fills the frame.
func (l *flow) scale(side []band) float64 {
	lo, hi := 0.0, l.f.Height/side[0].wh
	for range 30 {
		mid := (lo + hi) / 2
		if l.place(side, mid) <= l.f.Height {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// place gives each band its height and slot, and returns the height of all.
func (l *flow) place(side []band, scale float64) float64 {
	total := -l.gap
	for i := range side {
		b := &side[i]
		b.height = max(b.wh*scale, 1)
		b.outside = b.height < l.size+7
		b.slot = b.height
		if b.outside {
			b.slot += l.size + 4
		}
		total += b.slot + l.gap
	}
	return total
}

// draw lays the bands. The bar in the middle is the Case: what comes in is as
// thick there as what goes out.
func (l *flow) draw(in, out []band) {
	mid := math.Round(0.42 * l.f.Width)
	const bar = 6.0
	thick := func(side []band) (h float64) {
		for _, b := range side {
			h += b.height
		}
		return h
	}
	h := max(thick(in), thick(out))
	top := max((l.f.Height-h)/2, 0)

	l.side(in, 0, mid, top, true)
	l.side(out, l.f.Width, mid+bar, top, false)
	l.put("rect", "x", mid, "y", top-1, "width", bar, "height", h+2, "fill", "#1d1a2b", "data-s", "ledger-bar")
}

// side draws the bands of one side between the frame's edge and the bar.
func (l *flow) side(side []band, edge, mid, top float64, left bool) {
	total := -l.gap
	for _, b := range side {
		total += b.slot + l.gap
	}
	y, at := max((l.f.Height-total)/2, 0), top
	anchor, pad, turn := "end", -8.0, 0.56*l.f.Width
	room := 0.5 * l.f.Width
	if left {
		anchor, pad, turn = "start", 8.0, 0.28*l.f.Width
		room = 0.41 * l.f.Width
	}
	var names []func()
	for _, b := range side {
		// Level from the edge to the turn: names stand on that stretch.
		var d path
		d.move(edge, y)
		d.line(turn, y)
		d.curve(mid, at)
		d.line(mid, at+b.height)
		d.curve(turn, y+b.height)
		d.line(edge, y+b.height)
		d.close()
		l.put("path", "d", d.String(), "fill", b.fill, "data-s", b.key)

		colour, name, ty := "#1d1a2b", "ledger-name", y+b.height+l.size
		x, room := edge+pad/4, room
		if !b.outside {
			ty, x, name = y+b.height/2+0.36*l.size, edge+pad, b.key+"-name"
			room -= math.Abs(pad)
			if b.light {
				colour = "#ffffff"
			}
		}
		text := short(b.name, words.Energy(qty.WattHour(b.wh)), l.size, room)
		names = append(names, func() {
			l.text(text, "x", x, "y", ty, "text-anchor", anchor, "font-size", l.size, "fill", colour, "data-s", name)
		})
		y += b.slot + l.gap
		at += b.height
	}
	for _, write := range names {
		write() // over all bands
	}
}

// short joins a name and its energy, and cuts the name where both are wider
// than the room.
func short(name, energy string, size, room float64) string {
	text := name + " " + energy
	r := []rune(name)
	for len(r) > 1 && width(text, size) > room {
		r = r[:len(r)-1]
		text = string(r) + "… " + energy
	}
	return text
}
