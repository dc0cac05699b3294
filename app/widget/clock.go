package widget

import (
	"math"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/widget/hours"
	"duskline/app/words"
)

// Clock is an hour of the day, typed as "22:30", "2230" or "22". The arrows
// move it by a quarter of an hour. It is a text because the browser's own
// time field knows no 24:00.
type Clock struct {
	app.Compo

	Host    Host
	Pointer string
	Text    string
	Fault   string
}

func (c *Clock) Render() app.UI {
	return frame("clock", c.Pointer, words.FieldName(c.Pointer), "", c.Fault,
		app.Input().ID(ID(c.Pointer)).Type("text").Attr("inputmode", "numeric").Attr("enterkeyhint", "done").
			AutoComplete(false).Aria("describedby", described(c.Pointer, "")).Aria("invalid", c.Fault != "").
			Value(c.Text).OnInput(c.onInput).OnChange(c.onChange).OnFocus(c.onFocus).OnKeyDown(c.onKey))
}

func (c *Clock) onInput(ctx app.Context, e app.Event)  { c.Host.Enter(c.Pointer, value(ctx)) }
func (c *Clock) onChange(ctx app.Context, e app.Event) { c.Host.Leave(c.Pointer) }
func (c *Clock) onFocus(ctx app.Context, e app.Event)  { ctx.JSSrc().Call("select") }

func (c *Clock) onKey(ctx app.Context, e app.Event) {
	switch e.Get("key").String() {
	case "ArrowUp":
		c.step(0.25)
	case "ArrowDown":
		c.step(-0.25)
	case "Escape":
		c.Host.Drop(c.Pointer)
	case "Enter":
		ctx.JSSrc().Call("blur")
	default:
		return
	}
	e.PreventDefault()
}

// step goes on around the clock; a whole day has both its ends, 0 and 24.
func (c *Clock) step(by float64) {
	h, ok := hours.Read(c.Text)
	if !ok {
		return
	}
	h = math.Round((h+by)*4) / 4
	if h < 0 {
		h += 24
	} else if h > 24 {
		h -= 24
	}
	c.Text = words.ClockOfHours(h)
	c.Host.Enter(c.Pointer, c.Text)
	c.Host.Leave(c.Pointer)
}
