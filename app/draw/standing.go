package draw

import (
	"math"

	"duskline/app/words"
)

// A Standing is how long a Case bears being put away, a row for each way of
// leaving it. Days run from left to right on a scale on which each next mark
// is several times as far as the one before: a battery with its inverter left
// on is flat within a week, one with nothing on within years, and both must be
// read.
type Standing struct {
	Rows []StandingRow
	Most float64 // days of the right end; at least 10
}

// A StandingRow is one way of leaving it. Days that are not finite do not come
// within the scale.
type StandingRow struct {
	Name, Says          string
	Alarm, CutOff, Harm float64
}

// Sizes of the picture, pixels.
const (
	standingRow  = 50
	standingFoot = 22
)

// StandingHeight is how high a picture of so many rows is at a width.
func StandingHeight(rows int, width float64) float64 {
	return (standingRow+over(width))*float64(rows) + standingFoot
}

// firstDay is the left end of the scale: what is sooner stands there.
const firstDay = 0.5

// DrawStanding draws it: water until the alarm, amber to the cut-off, ember to
// the harm, and from there the night.
func DrawStanding(s Standing, f Frame) string {
	f = f.least()
	f.Height = StandingHeight(len(s.Rows), f.Width)
	more := over(f.Width)
	row := standingRow + more
	p := &pen{}
	p.open("svg", "xmlns", "http://www.w3.org/2000/svg", "viewBox", "0 0 "+figure(f.Width)+" "+figure(f.Height),
		"width", "100%", "role", "img", "data-picture", "standing", "aria-label", words.T("picture.standing"))
	const size = 13.0
	most := s.Most
	if !(most >= 10) || math.IsInf(most, 1) {
		most = 10
	}
	x := func(days float64) float64 {
		if !(days > firstDay) {
			return 0
		}
		return f.Width * math.Min(math.Log(days/firstDay)/math.Log(most/firstDay), 1)
	}
	name := func(text string, x, y float64, anchor, weight string) {
		p.text(text, "x", x, "y", y, "text-anchor", anchor, "font-size", size, "font-weight", weight, "fill", "#1d1a2b", "data-s", "standing-name")
	}
	var water, alarm, off, harm, ticks, signs path
	foot := f.Height - standingFoot
	edge := -10.0
	for _, t := range []struct {
		days float64
		key  string
	}{{1, "day"}, {7, "week"}, {30.4, "month"}, {91.3, "quarter"}, {365.25, "year"}, {3652.5, "decade"}} {
		at, text := x(t.days), words.T("standing_tick."+t.key)
		if t.days > most*1.001 {
			break
		}
		for i := range s.Rows {
			y := row*float64(i) + 21 + more + standingBand
			ticks.move(min(at, f.Width-0.6), y)
			ticks.line(min(at, f.Width-0.6), y+6)
		}
		half := width(text, size) / 2
		at = max(min(at, f.Width-half-1), half)
		if at-half < edge {
			continue
		}
		edge = at + half + 6
		name(text, at, foot+size, "middle", "400")
	}
	if !ticks.empty() {
		p.shape(&ticks, `fill="none" stroke="#1d1a2b" stroke-opacity="0.5" stroke-width="1" data-s="standing-tick"`)
	}
	for i, r := range s.Rows {
		top := row * float64(i)
		room := f.Width - 1.15*width(r.Says, size) - 10
		if more > 0 {
			room = f.Width
		}
		name(cutTo(r.Name, size, room), 0, top+14, "start", "700")
		name(r.Says, f.Width, top+14+more, "end", "400")
		y, at := top+21+more, 0.0
		for _, b := range []struct {
			p  *path
			to float64
		}{{&water, r.Alarm}, {&alarm, r.CutOff}, {&off, r.Harm}, {&harm, math.Inf(1)}} {
			to := f.Width
			if finiteDays(b.to) && b.to < most {
				to = x(b.to)
			}
			if b.p != &harm && finiteDays(r.Harm) && r.Harm < most {
				to = min(to, x(r.Harm)) // what comes after the harm does not matter any more
			}
			if to > at+0.3 {
				b.p.box(at, y, to-at, standingBand)
				at = to
			}
		}
		if finiteDays(r.Harm) && r.Harm < most { // a cross where it is ruined
			at := max(min(x(r.Harm), f.Width-8), 8)
			signs.move(at-4, y+standingBand/2-4)
			signs.line(at+4, y+standingBand/2+4)
			signs.move(at+4, y+standingBand/2-4)
			signs.line(at-4, y+standingBand/2+4)
		}
	}
	for _, k := range []struct {
		p     *path
		attrs string
	}{
		{&water, `fill="#2f7f8f" data-s="standing-water"`},
		{&alarm, `fill="#f2b04a" data-s="standing-alarm"`},
		{&off, `fill="#d9542b" data-s="standing-off"`},
		{&harm, `fill="#201d40" data-s="standing-harm"`},
		{&signs, `fill="none" stroke="#fdfcf8" stroke-width="2.4" stroke-linecap="round" data-s="standing-sign"`},
	} {
		if !k.p.empty() {
			p.shape(k.p, k.attrs)
		}
	}
	p.shut("svg")
	return p.b.String()
}

// standingBand is how high a band is, pixels.
const standingBand = 16.0

func finiteDays(d float64) bool { return !math.IsNaN(d) && !math.IsInf(d, 0) }
