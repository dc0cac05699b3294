package pairing

import (
	"math"
	"strconv"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/draw"
	"duskline/app/room"
	"duskline/app/words"
	core "duskline/calc/pairing"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// The curves: what the panels can give, and where they work, by the hour of
// the trip. They are those of the rung that is open, else of the plan.

func (v *view) curves() app.UI {
	found, r := v.s.Pairing.Found(), v.r
	// The same plan is handed on by the same pointer: then the picture is left alone.
	if now := r.open + "/" + strconv.Itoa(found); r.lit == nil || r.litKey != now {
		p := *v.p
		r.litKey, r.lit, r.litName = now, &p, words.PanelSet(p.Panels)
		if rung, owned, ok := v.rung(r.open); ok {
			p.Panels, r.litName = v.named(rung), words.RungName(rung, owned)
			if v.l.Sky != nil {
				p.Sky = *v.l.Sky
			}
		}
	}
	inside := help(words.T("iv.none"))
	if len(r.lit.Panels.List) > 0 {
		inside = &curves{Plan: r.lit, Of: r.litName, Width: min(r.inner(), ladderMost)}
	}
	return section("curves", "pairing.curves", inside)
}

// curves is the picture with its slider. It is a component of its own: moving
// the slider redraws nothing else.
type curves struct {
	app.Compo

	Plan  *plan.Plan
	Of    string
	Width float64

	made  *plan.Plan // that view is of
	view  *core.View
	ends  core.Point // of the axes
	after float64    // s after the trip's start
	moved bool       // the person has chosen the hour
	shown bool       // the figures
}

// slide is the slider's step, s.
const slide = 1800

// OnMount and OnUpdate prepare the curves after the page has been painted: a
// long trip takes a moment.
func (c *curves) OnMount(ctx app.Context)  { c.want(ctx) }
func (c *curves) OnUpdate(ctx app.Context) { c.want(ctx) }

func (c *curves) want(ctx app.Context) {
	if c.Plan == c.made {
		return
	}
	ctx.After(settle, func(app.Context) { c.make() })
}

// settle lets what was tapped be painted first.
const settle = 40 * time.Millisecond

func (c *curves) make() {
	if c.Plan == c.made {
		return
	}
	c.made = c.Plan
	p := coarse(*c.Plan)
	var err error
	if c.view, err = core.NewView(p); err != nil {
		c.view = nil
		return
	}
	// The axes end at the most of all days; the first look is at the hour with
	// the most power.
	c.ends = core.Point{}
	most, at := 0.0, 0.0
	for _, after := range middays(p.Trip) {
		iv := c.view.At(after)
		for _, t := range append(iv.Kinds, iv.Joined) {
			for _, p := range t.Points {
				c.ends.V, c.ends.A = math.Max(c.ends.V, p.V), math.Max(c.ends.A, p.A)
			}
		}
		if iv.BestW > most {
			most, at = iv.BestW, after
		}
	}
	if !c.moved || c.after > c.view.Length() {
		c.after = at
	}
}

// coarse is a plan whose run of a long trip in fine steps takes no longer than
// one of a week: the picture needs of it no more than the battery's volts.
func coarse(p plan.Plan) plan.Plan {
	const most = 3000 // steps
	if p.Trip.LengthH*60 > most*float64(p.Trip.StepMin) {
		p.Trip.StepMin = 15
		p.Trip.LengthH = math.Floor(4*p.Trip.LengthH) / 4
	}
	return p
}

// middays lists hours about the noons of a trip, s after its start: where the
// most of its sun is.
func middays(t plan.Trip) (list []float64) {
	hours := []int{8, 10, 12, 14, 16}
	if t.LengthH > 7*24 {
		hours = hours[1:4]
	}
	end := t.Start.Add(time.Duration(t.LengthH * float64(time.Hour)))
	for day := t.Start; !day.After(end.AddDate(0, 0, 1)); day = day.AddDate(0, 0, 1) {
		for _, h := range hours {
			at := time.Date(day.Year(), day.Month(), day.Day(), h, 0, 0, 0, t.Start.Location())
			if !at.Before(t.Start) && !at.After(end) {
				list = append(list, slide*math.Round(at.Sub(t.Start).Seconds()/slide))
			}
		}
	}
	return list
}

func (c *curves) Render() app.UI {
	what := help(words.T("pairing.curves_help", c.Of))
	if c.view == nil {
		return div("iv", "", what)
	}
	iv := c.view.At(c.after)
	when := words.Moment(c.Plan.Trip.Start.Add(time.Duration(c.after)*time.Second), c.Plan.Trip.Start)
	key := words.T("iv.key")
	if len(iv.Kinds) > 0 {
		key += " " + words.T("iv.key_kinds")
	}
	f := draw.Frame{ID: "v", Width: c.Width, Height: min(max(0.62*c.Width, 230), 380)}
	return div("iv", "",
		what,
		div("iv-picture", "iv-picture", app.Raw(draw.DrawIV(c.drawn(&iv), f))),
		app.Label().Class("label").For("iv-hour").Text(words.T("iv.hour")),
		app.Input().ID("iv-hour").Class("iv-hour").Type("range").Min(0).Max(int(c.view.Length())).Step(slide).
			Attr("value", strconv.Itoa(int(c.after))).Aria("valuetext", when).OnInput(c.onHour),
		app.P().ID("iv-now").Class("iv-now").Aria("live", "polite").Text(c.says(&iv, when)),
		para("", "iv-key", key),
		numbers("iv-numbers", "show_numbers.iv", c.shown, func() { c.shown = !c.shown }, room.Table("table-iv", c.table(&iv), c.shown)),
	)
}

func (c *curves) onHour(ctx app.Context, e app.Event) {
	if at, ok := words.Number(ctx.JSSrc().Get("value").String()); ok && c.view != nil {
		c.after, c.moved = min(max(at, 0), c.view.Length()), true
	}
}

// says is the hour in a sentence.
func (c *curves) says(iv *core.IV, when string) string {
	key := "iv.now"
	switch {
	case !iv.Lit:
		return words.T("iv.dark", when)
	case !iv.Charging:
		return words.T("iv.now_nothing", when)
	case iv.Clipped:
		key = "iv.now_clipped"
	}
	return words.T(key, when, watts(iv.WorkW), watts(iv.IntoW))
}

func points(t core.Trace) []draw.IVPoint {
	list := make([]draw.IVPoint, len(t.Points))
	for i, p := range t.Points {
		list[i] = draw.IVPoint{V: qty.Volt(p.V), I: qty.Ampere(p.A)}
	}
	return list
}

// drawn is the picture's input.
func (c *curves) drawn(iv *core.IV) draw.IV {
	d := draw.IV{
		Curves:  []draw.IVCurve{{Points: points(iv.Joined)}},
		Battery: qty.Volt(iv.BatteryV), Volts: qty.Volt(1.06 * math.Max(c.ends.V, iv.BatteryV)), Amps: qty.Ampere(1.12 * math.Max(c.ends.A, 0.5)),
	}
	for _, t := range iv.Kinds {
		d.Curves = append(d.Curves, draw.IVCurve{Name: c.name(t.Kind), Points: points(t)})
	}
	if iv.Lit {
		d.Best = draw.IVPoint{V: qty.Volt(iv.Best.V), I: qty.Ampere(iv.Best.A)}
	}
	if iv.Charging {
		d.Work = draw.IVPoint{V: qty.Volt(iv.Work.V), I: qty.Ampere(iv.Work.A)}
	}
	return d
}

func (c *curves) name(kind int) string {
	if kind < 0 || kind >= len(c.Plan.Panels.List) {
		return ""
	}
	return c.Plan.Panels.List[kind].Name
}

// table is the hour in figures.
func (c *curves) table(iv *core.IV) draw.Table {
	t := draw.Table{Caption: words.T("table.iv"), Head: []string{words.T("column.figure"), words.T("column.value")}}
	row := func(name, value string) { t.Rows = append(t.Rows, []string{name, value}) }
	put := func(key, value string) { row(words.T("iv_row."+key), value) }
	put("light", words.Amount(iv.Light, 0, "W/m²"))
	put("air", words.Temperature(qty.Celsius(iv.AirC)))
	for i, heat := range iv.CellC {
		name := words.T("iv_row.cell")
		if len(iv.CellC) > 1 {
			name += ", " + c.name(i)
		}
		row(name, words.Temperature(qty.Celsius(heat)))
	}
	put("battery", volts(iv.BatteryV))
	if !iv.Lit {
		return t
	}
	put("work", words.IVPoint(iv.Work.V, iv.Work.A))
	put("into", watts(iv.IntoW))
	put("best", words.IVPoint(iv.Best.V, iv.Best.A))
	curve := iv.Joined.Points
	if n := len(curve); n > 0 {
		put("short", amps(curve[0].A))
		put("open", volts(curve[n-1].V))
		for k := 1; k <= 8; k++ {
			p := curve[k*(n-1)/9]
			row(words.T("iv_row.curve", volts(p.V)), amps(p.A))
		}
	}
	return t
}
