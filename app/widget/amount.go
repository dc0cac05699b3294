package widget

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/words"
)

// Amount is one number with its unit, and the fault below it. It never
// rewrites what is being typed: "12," is on its way to "12,5".
type Amount struct {
	app.Compo

	ID    string                     // unique on the page
	Label string                     // catalogue key
	Unit  string                     // "Ah"; shown as written
	Value float64                    // in Unit
	Fault string                     // worded fault from plan.Check, or ""
	Set   func(app.Context, float64) // takes each good number

	typed  string // the person's own text, kept while Value is still base
	base   float64
	typing bool
	wrong  bool // typed is no number
}

func (a *Amount) Render() app.UI {
	text, fault := strconv.FormatFloat(a.Value, 'g', 6, 64), a.Fault
	if a.typing && a.Value == a.base {
		text = a.typed
		if a.wrong {
			fault = words.T("fault.number")
		}
	}
	return app.Div().Class("amount").Body(
		app.Label().For(a.ID).Text(words.T(a.Label)),
		app.Input().ID(a.ID).Type("text").Attr("inputmode", "decimal").
			Aria("describedby", a.ID+"-fault").Aria("invalid", fault != "").
			Value(text).OnInput(a.onInput),
		app.Span().Class("unit").Text(a.Unit),
		app.P().ID(a.ID+"-fault").Class("fault").Text(fault),
	)
}

// onInput hands on a good number and keeps the text as it is.
func (a *Amount) onInput(ctx app.Context, e app.Event) {
	a.typed, a.typing = ctx.JSSrc().Get("value").String(), true
	v, ok := words.Number(a.typed)
	a.wrong, a.base = !ok, a.Value
	if ok {
		a.base = v
		a.Set(ctx, v)
	}
}
