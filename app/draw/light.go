package draw

import (
	"math"
	"time"

	"duskline/app/words"
)

// A Bright is the light of one local day on the panels, kWh/m², and what the
// same panels would get under a clear sky.
type Bright struct {
	Day            time.Time
	Light, Ceiling float64
}

// Light draws the light of each day as a hill, as the sun's power climbs and
// falls over a day, under the thin line of the same day with a clear sky. All
// hills are equally wide, so that a hill's height is as good as its area.
// Where there is no room for hills the days are columns.
func Light(days []Bright, f Frame) string {
	f = f.least()
	g := &light{f: f, days: days, size: 13}
	if f.Width >= 560 {
		g.size = 14
	}
	g.floor = f.Height - 2*g.size - 10
	g.open("svg", "xmlns", "http://www.w3.org/2000/svg", "viewBox", "0 0 "+figure(f.Width)+" "+figure(f.Height),
		"width", "100%", "role", "img", "data-picture", "light", "aria-label", words.T("picture.light"))
	if len(days) > 0 {
		g.hills()
		g.names()
	}
	g.shut("svg")
	return g.b.String()
}

// light is a picture of light being drawn.
type light struct {
	pen
	f     Frame
	days  []Bright
	size  float64
	floor float64
}

// most is what the highest hill stands for.
func (g *light) most() float64 {
	most := 0.1
	for _, d := range g.days {
		for _, v := range []float64{d.Light, d.Ceiling} {
			if v > most && !math.IsInf(v, 1) {
				most = v
			}
		}
	}
	return most
}

func (g *light) wide() float64 {
	return min((g.f.Width-2*inset)/float64(len(g.days)), 120)
}

// middle is where a day's hill has its top.
func (g *light) middle(i int) float64 {
	w := g.wide()
	return g.f.Width/2 + w*(float64(i)-float64(len(g.days)-1)/2)
}

// height is where so much light stands.
func (g *light) height(v, most, head float64) float64 {
	if !(v > 0) {
		return g.floor
	}
	return g.floor - (g.floor-head)*min(v/most, 1)
}

func (g *light) hills() {
	const head = 6.0 // room over the highest, pixels
	most, half := g.most(), 0.5*g.wide()
	var light, ceiling, ground path
	hill := func(p *path, x, v float64) {
		y := g.height(v, most, head)
		if !(y < g.floor) {
			return
		}
		p.move(x-half, g.floor)
		p.curve(x, y)
		p.curve(x+half, g.floor)
	}
	narrow := g.wide() < 20
	for i, d := range g.days {
		x := g.middle(i)
		if !narrow {
			hill(&light, x, d.Light)
			hill(&ceiling, x, d.Ceiling)
			continue
		}
		if y := g.height(d.Light, most, head); y < g.floor {
			light.box(x-0.8*half, y, 1.6*half, g.floor-y)
		}
		y := g.height(d.Ceiling, most, head)
		if i == 0 {
			ceiling.move(x-half, y)
		} else {
			ceiling.line(x-half, y)
		}
		ceiling.line(x+half, y)
	}
	if !light.empty() {
		g.shape(&light, `fill="#f2b04a" data-s="light"`)
	}
	if !ceiling.empty() {
		g.shape(&ceiling, `fill="none" stroke="#1d1a2b" stroke-width="1.4" stroke-linejoin="round" data-s="ceiling"`)
	}
	ground.move(0, g.floor)
	ground.line(g.f.Width, g.floor)
	g.shape(&ground, `stroke="#1d1a2b" stroke-width="1.4" data-s="light-ground"`)
}

// names writes under each hill its day and how much it is. Where days are too
// narrow only every so many are named, by their date.
func (g *light) names() {
	w := g.wide()
	every := 1
	name := words.ShortWeekday
	switch {
	case w >= 8*g.size:
		name = words.Weekday
	case w < 2.4*g.size:
		name = words.Date
		longest := 0.0
		for _, d := range g.days {
			longest = max(longest, 1.1*width(name(d.Day), g.size))
		}
		every = int(math.Ceil((longest + 6) / w))
	}
	edge := 0.0 // right end of the last name
	for i := (every - 1) / 2; i < len(g.days); i += every {
		d, x := g.days[i], g.middle(i)
		top, under := name(d.Day), words.Amount(d.Light, 1, "")
		half := 1.1 * max(width(top, g.size), width(under, g.size)) / 2
		x = max(min(x, g.f.Width-2-half), 2+half)
		if x-half < edge {
			continue // the last one, moved in from the side
		}
		edge = x + half
		g.text(top, "x", x, "y", g.floor+g.size+2, "text-anchor", "middle", "font-size", g.size, "fill", "#1d1a2b", "data-s", "light-day")
		g.text(under, "x", x, "y", g.floor+2*g.size+5, "text-anchor", "middle", "font-size", g.size, "font-weight", "700",
			"fill", "#1d1a2b", "data-s", "light-name")
	}
}
