package widget

import (
	"math"
	"strconv"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/words"
	"duskline/calc/plan"
)

// Amount is one number with its unit, stepper buttons and the fault below it.
// It never rewrites what is being typed: "12," is on its way to "12,5".
//
// Keys: up and down step, page up and page down step ten times, escape goes
// back to the Plan's own value, enter puts the keyboard of a phone away.
type Amount struct {
	app.Compo

	Host    Host
	Pointer string // JSON Pointer of the number
	Label   string // "" for the field's own name
	Text    string // what the field shows
	Fault   string // worded, or ""
	HelpAt  string // id of a help text that stands elsewhere for several fields, "" for the field's own
	Bare    bool   // a cell of a table: no buttons, its label is read out only
}

func (a *Amount) Render() app.UI {
	limit, _ := plan.LimitOf(a.Pointer)
	id, label, help := ID(a.Pointer), a.Label, Help(a.Pointer)
	if label == "" {
		label = words.FieldName(a.Pointer)
	}
	about := described(a.Pointer, help)
	if a.HelpAt != "" {
		help, about = "", id+"-fault "+a.HelpAt
	}
	mode := "decimal"
	if limit.Decimals == 0 && limit.Min >= 0 {
		mode = "numeric"
	}
	input := app.Input().ID(id).Type("text").Attr("inputmode", mode).Attr("enterkeyhint", "done").
		AutoComplete(false).Spellcheck(false).
		Aria("describedby", about).Aria("invalid", a.Fault != "").
		Value(a.Text).
		OnInput(a.onInput).OnChange(a.onChange).OnFocus(a.onFocus).OnKeyDown(a.onKey)
	box := app.Span().Class("box").Body(input, app.Span().Class("unit").Text(unitName(limit.Unit)))
	if a.Bare {
		input.Aria("label", label)
		return app.Div().Class("bare").Attr("data-bad", a.Fault != "").Body(box,
			app.P().ID(id+"-fault").Class("fault").Aria("live", "polite").Text(a.Fault))
	}
	kind := "amount"
	var sign app.UI
	if limit.Min < 0 {
		kind = "amount signed"
		// Keypads of some phones have no minus.
		sign = app.Button().ID(id+"-sign").Class("step sign").Type("button").TabIndex(-1).
			Aria("label", words.T("step.sign", label)).Text("±").OnClick(a.onSign)
	}
	if len([]rune(limit.Unit)) > longUnit {
		kind += " wide" // the number needs its room beside it
	}
	return frame(kind, a.Pointer, label, help, a.Fault,
		app.Div().Class("steps").Body(
			app.Button().ID(id+"-less").Class("step").Type("button").TabIndex(-1).
				Aria("label", words.T("step.less", label)).Text("−").OnClick(a.onLess),
			box,
			sign,
			app.Button().ID(id+"-more").Class("step").Type("button").TabIndex(-1).
				Aria("label", words.T("step.more", label)).Text("+").OnClick(a.onMore),
		),
	)
}

// longUnit is how many letters of a unit stand in a box of the usual width.
const longUnit = 3

func (a *Amount) onInput(ctx app.Context, e app.Event) { a.Host.Enter(a.Pointer, value(ctx)) }

func (a *Amount) onChange(ctx app.Context, e app.Event) { a.Host.Leave(a.Pointer) }

// onFocus selects the number: typing replaces it, a second tap edits it.
func (a *Amount) onFocus(ctx app.Context, e app.Event) { ctx.JSSrc().Call("select") }

func (a *Amount) onKey(ctx app.Context, e app.Event) {
	switch e.Get("key").String() {
	case "ArrowUp":
		a.step(1)
	case "ArrowDown":
		a.step(-1)
	case "PageUp":
		a.step(10)
	case "PageDown":
		a.step(-10)
	case "Escape":
		a.Host.Drop(a.Pointer)
	case "Enter":
		ctx.JSSrc().Call("blur")
	default:
		return
	}
	e.PreventDefault()
}

func (a *Amount) onLess(ctx app.Context, e app.Event) { a.step(-1) }
func (a *Amount) onMore(ctx app.Context, e app.Event) { a.step(1) }

func (a *Amount) onSign(ctx app.Context, e app.Event) {
	if v, ok := words.Number(a.Text); ok {
		a.enter(-v)
	}
}

func (a *Amount) step(presses float64) {
	limit, ok := plan.LimitOf(a.Pointer)
	v, number := words.Number(a.Text)
	if ok && number {
		a.enter(Stepped(v, presses, limit))
	}
}

// enter hands the number on and shows it at once: a key that is held down
// steps faster than the page is redrawn.
func (a *Amount) enter(v float64) {
	a.Text = strconv.FormatFloat(v, 'f', -1, 64)
	a.Host.Enter(a.Pointer, a.Text)
	a.Host.Leave(a.Pointer)
}

// Stepped returns the number that so many presses of a stepper lead to: the
// next multiple of the step. It stops at the ends of the range, and where 0
// means "none" it goes on from the lower end to 0 and back. A number outside
// comes back as it is: a press never makes a bad value worse or hides it.
func Stepped(v, presses float64, limit plan.Limit) float64 {
	step := limit.Step
	if step == 0 {
		step = 1
	}
	if limit.OrZero && v == 0 && presses > 0 {
		return limit.Min
	}
	if !(v >= limit.Min && v <= limit.Max) {
		return v
	}
	if limit.OrZero && v == limit.Min && presses < 0 {
		return 0
	}
	n := v / step
	// Half a thousandth of a step decides that v already is a multiple.
	const near = 5e-4
	if presses > 0 {
		n = math.Floor(n+near) + presses
	} else {
		n = math.Ceil(n-near) + presses
	}
	// Powers of ten below 1 are no binary fractions: round them off.
	scaled := math.Round(n*step*1e6) / 1e6
	return max(limit.Min, min(limit.Max, scaled))
}
