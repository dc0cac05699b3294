package planning

import (
	"math"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"golang.org/x/text/language"

	"duskline/app/draw"
	"duskline/app/room/desk"
	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/daylight"
	"duskline/calc/pairing"
	"duskline/calc/panel"
	"duskline/calc/plan"
	"duskline/calc/qty"
	"duskline/calc/wire"
)

// wiring is how the panels are joined: the picture, what it comes to, and the
// table. It is redrawn with a new plan, not at each key.
type wiring struct {
	app.Compo

	Desk    *desk.Desk
	Version int
	Width   float64
	Tongue  language.Tag

	open bool
}

func (w *wiring) Render() app.UI {
	j, err := joinedOf(w.Desk.Plan())
	if err != nil || len(j.drawn.Strings) == 0 {
		return app.Div() // of a plan that was checked there is no error
	}
	body := []app.UI{
		app.Div().Class("picture").Body(app.Raw(draw.DrawJoined(j.drawn, draw.Frame{ID: "j", Width: min(w.Width, wiringMost)}))),
		app.P().Class("help").Text(words.T("wiring.sun")),
	}
	if line := j.nothing(w.Desk.Plan().Case); line != "" {
		body = append(body, app.P().ID("wiring-nothing").Class("fault").Text(line))
	}
	for _, line := range []string{j.cost(), j.apart(), j.fuses()} {
		if line != "" {
			body = append(body, app.P().Class("reading").Text(line))
		}
	}
	return app.Div().ID("wiring").Class("wiring").Body(append(body,
		beside("wiring-numbers", "wiring", w.open, w.onTurn, tableAs{"table-wiring", draw.JoinedTable(j.drawn)}))...)
}

func (w *wiring) onTurn(ctx app.Context, e app.Event) { w.open = !w.open }

// wiringMost is how wide the picture gets, CSS pixels; web/css has the same.
const wiringMost = 420

// A joint is the panels as they are joined, in full sun with cells at 25 °C,
// as labels count.
type joint struct {
	drawn draw.Joined
	run   wire.Run
	lost  qty.Watt // by the joining alone
	open  qty.Volt // of the whole, without any current
	volts [2]qty.Volt

	fusing pairing.Fusing
}

// fullSun and labelHeat are the light and the heat of cells of a label.
const (
	fullSun   qty.Irradiance = 1000
	labelHeat qty.Celsius    = 25
)

// joinedOf asks the core how a plan's panels work together.
func joinedOf(p *plan.Plan) (joint, error) {
	spec, err := p.Daylight()
	if err != nil {
		return joint{}, err
	}
	j := joint{run: p.Panels.Cable()}
	if j.fusing, err = pairing.Fuses(*p); err != nil {
		return joint{}, err
	}
	all := array(spec, func(int) bool { return true })
	d := &j.drawn
	d.Diode = p.Panels.BlockingV > 0
	d.Alone, j.lost = all.Alone(), all.MismatchLoss()
	d.Volts, d.Amps = all.MaxPower()
	j.open = all.OpenCircuit()
	j.volts[0] = qty.Volt(math.Inf(1))
	for _, s := range stringsOf(p) {
		one := panel.Array{Joined: panel.EndToEnd, Drop: all.Drop}
		drawn := draw.String{Number: s.number}
		for _, k := range s.kinds {
			l := p.Panels.List[k.index]
			c := all.Parts[k.index].Curve
			v, i := c.MaxPower()
			drawn.Wired = append(drawn.Wired, draw.Wired{Name: l.Name, Count: k.count, Rated: qty.Watt(l.RatedW), Volts: v, Amps: i})
			one.Parts = append(one.Parts, panel.Part{Curve: c, Count: k.count})
		}
		drawn.Volts, drawn.Amps = one.MaxPower()
		j.volts[0], j.volts[1] = min(j.volts[0], drawn.Volts), max(j.volts[1], drawn.Volts)
		d.Strings = append(d.Strings, drawn)
	}
	if p.Panels.CableM > 0 {
		d.Cable = words.T("wiring.cable", words.Plain(p.Panels.CableM, "m"), words.Gauge(p.Panels.CableGauge), words.Volts(j.run.Drop(d.Amps)))
	}
	return j, nil
}

// array joins panels of a plan in full sun.
func array(spec daylight.Spec, take func(i int) bool) panel.Array {
	a := panel.Array{Joined: spec.Joined, Drop: spec.Drop, Series: spec.Series}
	for i, l := range spec.Panels {
		if take(i) {
			a.Parts = append(a.Parts, panel.Part{Curve: l.Module.At(fullSun, labelHeat), Count: l.Count, String: l.String})
		}
	}
	return a
}

// A wiredString is one string of a plan: so many panels of each kind, end to
// end.
type wiredString struct {
	number int
	kinds  []wiredKind
}

type wiredKind struct{ index, count int }

// stringsOf lists the strings of a plan in the order in which their panels
// stand there. Side by side each panel is one.
func stringsOf(p *plan.Plan) (list []wiredString) {
	byNumber := map[int]int{} // number of a string to its place in the list
	for i, l := range p.Panels.List {
		switch p.Panels.Joined {
		case plan.EndToEnd:
			if len(list) == 0 {
				list = []wiredString{{number: 1}}
			}
			list[0].kinds = append(list[0].kinds, wiredKind{i, l.Count})
		case plan.InStrings:
			at, ok := byNumber[l.String]
			if !ok {
				at = len(list)
				byNumber[l.String] = at
				list = append(list, wiredString{number: l.String})
			}
			list[at].kinds = append(list[at].kinds, wiredKind{i, l.Count})
		default:
			for range l.Count {
				list = append(list, wiredString{number: len(list) + 1, kinds: []wiredKind{{i, 1}}})
			}
		}
	}
	return list
}

// nothing says that the panels cannot charge at all: their volts, even without
// any current, do not reach what the core says that a battery needs, or what
// the controller starts at.
func (j *joint) nothing(c plan.Case) string {
	need, err := pairing.LeastVolts(c)
	if err != nil {
		return ""
	}
	start := qty.Volt(c.Controller.StartV)
	switch {
	case j.open < need:
		return words.T("wiring.nothing", words.Volts(j.open), words.Volts(need-j.open))
	case j.open < start:
		return words.T("wiring.no_start", words.Volts(j.open), words.Volts(start))
	}
	return ""
}

// cost says what the joining costs, if it is worth a word.
func (j *joint) cost() string {
	if j.lost < 1 {
		return ""
	}
	return words.T("wiring.cost", words.Watts(j.drawn.Alone), words.Watts(j.lost))
}

// apart says that strings of unlike volts are side by side: a tenth apart and
// more. Common practice, no source.
func (j *joint) apart() string {
	if len(j.drawn.Strings) < 2 || j.volts[1] < 1.1*j.volts[0] {
		return ""
	}
	return words.T("wiring.apart", words.Volts(j.volts[0]), words.Volts(j.volts[1]))
}

// fuses says that strings side by side need fuses.
func (j *joint) fuses() string {
	f := &j.fusing
	back, least := words.Amps(f.Back), words.Amps(f.Least)
	switch {
	case !f.Need:
		return ""
	case f.Label > 0 && f.Least > f.Label:
		return words.T("wiring.no_fuse", f.Strings, back, least, words.Plain(float64(f.Label), "A"))
	case f.Label > 0:
		return words.T("wiring.fuse_label", f.Strings, back, least, words.Plain(float64(f.Label), "A"))
	}
	return words.T("wiring.fuse", f.Strings, back, least)
}

// mostDrop is the share of the volts from which a cable is called thin.
// Common practice, no source.
const mostDrop = 0.03

// cableSaid says what the cable costs in full sun, and which one would do.
func cableSaid(p *plan.Plan) app.UI {
	if p.Panels.CableM == 0 || len(p.Panels.List) == 0 {
		return widget.Nothing()
	}
	j, err := joinedOf(p)
	if err != nil || !(j.drawn.Volts > 0) {
		return widget.Nothing()
	}
	i, v := j.drawn.Amps, j.drawn.Volts
	drop := j.run.Drop(i)
	// The volts before the cable are those behind it and the drop.
	share := j.run.Share(i, v+drop)
	text := words.T("wiring.drop", words.Amps(i), words.Plain(math.Round(100*float64(drop))/100, "V"),
		words.Watts(j.run.Heat(i)), words.Plain(math.Round(1000*float64(share))/10, "%"))
	if share > mostDrop {
		among := wire.Metric()
		if j.run.Gauge >= wire.AWG18 {
			among = wire.American()
		}
		best, err := wire.Smallest(among, j.run.Length, j.run.Copper, wire.Limit{Volts: v + drop, Amps: i, Share: mostDrop})
		if err == nil {
			text += " " + words.T("wiring.thicker", words.Gauge(best.String()))
		} else {
			text += " " + words.T("wiring.shorter")
		}
	}
	return app.P().ID("cable-said").Class("reading").Text(text)
}
