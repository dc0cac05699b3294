package draw

import (
	"math"

	"duskline/app/words"
)

// What is left when the alarm sounds stands right under the tide gauge, on its
// scale of charge: a bar for each line, so that the eye goes straight down from
// where the line dives.

// remainders draws for each line where it dives under the alarm, and below it
// what is left from there: to the cut-off, and under that, which no load of
// that size gets.
func (g *tide) remainders() {
	var leads, lasts, out, rest path
	rows := g.t.rows()
	more := over(g.f.Width)
	base := func(i int) float64 { return g.foot + 24 + (tideRow+more)*float64(i) }
	for i, l := range rows {
		y := base(i) + 20 + more
		rest.box(g.left, y, g.right-g.left, 10)
		alarm, cut := g.x(l.AtAlarm), g.x(l.AtCutOff)
		if math.IsNaN(float64(l.AtCutOff)) {
			cut = g.right
		}
		if !math.IsNaN(float64(l.AtAlarm)) {
			if cut > alarm {
				lasts.box(alarm, y, cut-alarm, 10)
			}
			leads.move(alarm, g.y(g.t.Alarm))
			leads.line(alarm, g.foot)
			r := 5.0
			g.drops.move(alarm, g.y(g.t.Alarm)-r)
			g.drops.line(alarm+r, g.y(g.t.Alarm))
			g.drops.line(alarm, g.y(g.t.Alarm)+r)
			g.drops.line(alarm-r, g.y(g.t.Alarm))
			g.drops.close()
		}
		if g.right-cut > 0.5 {
			out.box(cut, y, g.right-cut, 10)
		}
	}
	g.shape(&rest, `fill="#e6dbc7" data-s="tide-track"`)
	for _, k := range []struct {
		p     *path
		attrs string
	}{
		{&lasts, `fill="#f2b04a" data-s="tide-lasts"`},
		{&out, `fill="#b23c17" data-s="tide-out"`},
		{&leads, `fill="none" stroke="#1d1a2b" stroke-width="1" stroke-opacity="0.55" data-s="tide-lead"`},
		{&g.drops, `fill="#f2b04a" stroke="#fdfcf8" stroke-width="1.6" data-s="alarm-drop"`},
	} {
		if !k.p.empty() {
			g.shape(k.p, k.attrs)
		}
	}
	for i, l := range rows {
		y := base(i) + 14
		g.sample(l.Kind, 1, y-5)
		says := words.T("tide.never")
		if !math.IsNaN(float64(l.AtAlarm)) {
			says = words.Percent(l.AtAlarm)
		}
		room := g.right - g.left - 1.15*width(says, g.size) - 10
		if more > 0 {
			room = g.right - g.left
		}
		g.name(cutTo(l.Name, g.size, room), g.left, y, "start", "tide-name", "400")
		g.name(says, g.right, y+more, "end", "tide-name", "700")
	}
}

// sample is a piece of a line on water, to be known again.
func (g *tide) sample(k TideKind, x, y float64) {
	const wide, high = 27.0, 13.0
	var ground, d path
	ground.box(x, y-high/2, wide, high)
	g.shape(&ground, `fill="#1f6170" data-s="tide-sample"`)
	d.move(x+2, y)
	d.line(x+wide-2, y)
	attrs := []any{"d", d.String(), "fill", "none", "stroke", tideColours[k], "stroke-width", tideWide(k), "data-s", "tide-" + string(k)}
	if dash := tideDashes[k]; dash != "" {
		attrs = append(attrs, "stroke-dasharray", dash)
	}
	g.put("path", attrs...)
}
