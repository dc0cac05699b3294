package widget

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/words"
)

// Text is a line of text, or with Long a few of them.
type Text struct {
	app.Compo

	Host    Host
	Pointer string
	Label   string
	Text    string
	Fault   string
	Long    bool

	spelling spelling
}

// A spelling is what a text element holds, seen from the program. go-app cuts
// the spaces around a value before it writes it: the space that was just typed
// behind a word would go, and the next letter stand against the word. A text
// with such a space that was typed here is in its element already, and is left
// alone.
type spelling struct {
	typed string // by the last key
	shown string // written by the program last
	held  bool   // the element holds typed, not shown
}

// show returns what to write for a text. reset is true if go-app would take
// the element for one that shows it already.
func (s *spelling) show(text string) (value string, reset bool) {
	if text == s.typed && text != strings.TrimSpace(text) {
		s.held = true
		return s.shown, false
	}
	reset = s.held && text == s.shown
	s.held, s.shown = false, text
	return text, reset
}

func (t *Text) Render() app.UI {
	text, reset := t.spelling.show(t.Text)
	if reset {
		if e := app.Window().GetElementByID(ID(t.Pointer)); e.Truthy() {
			e.Set("value", text)
		}
	}
	label, help := t.Label, Help(t.Pointer)
	if label == "" {
		label = words.FieldName(t.Pointer)
	}
	var control app.UI
	if t.Long {
		control = app.Textarea().ID(ID(t.Pointer)).Rows(3).
			Aria("describedby", described(t.Pointer, help)).Aria("invalid", t.Fault != "").
			Attr("value", text).OnInput(t.onInput)
	} else {
		control = app.Input().ID(ID(t.Pointer)).Type("text").Attr("enterkeyhint", "done").AutoComplete(false).
			Aria("describedby", described(t.Pointer, help)).Aria("invalid", t.Fault != "").
			Value(text).OnInput(t.onInput).OnKeyDown(t.onKey)
	}
	return frame("text", t.Pointer, label, help, t.Fault, control)
}

func (t *Text) onInput(ctx app.Context, e app.Event) {
	t.spelling.typed = value(ctx)
	t.Host.Enter(t.Pointer, t.spelling.typed)
}

func (t *Text) onKey(ctx app.Context, e app.Event) {
	switch e.Get("key").String() {
	case "Enter":
		ctx.JSSrc().Call("blur")
	case "Escape":
		t.Host.Drop(t.Pointer)
	}
}

// Toggle is a yes or no.
type Toggle struct {
	app.Compo

	Host    Host
	Pointer string
	Label   string
	On      bool
	Fault   string
}

func (t *Toggle) Render() app.UI {
	id, help, label := ID(t.Pointer), Help(t.Pointer), t.Label
	if label == "" {
		label = words.FieldName(t.Pointer)
	}
	body := []app.UI{
		app.Label().Class("check").For(id).Body(
			app.Input().ID(id).Type("checkbox").Checked(t.On).
				Aria("describedby", described(t.Pointer, help)).OnChange(t.onChange),
			app.Span().Text(label),
		),
	}
	if help != "" {
		body = append(body, app.P().ID(id+"-help").Class("help").Text(help))
	}
	body = append(body, app.P().ID(id+"-fault").Class("fault").Aria("live", "polite").Text(t.Fault))
	return app.Div().Class("field toggle").Attr("data-bad", t.Fault != "").Body(body...)
}

func (t *Toggle) onChange(ctx app.Context, e app.Event) {
	text := "false"
	if ctx.JSSrc().Get("checked").Bool() {
		text = "true"
	}
	t.Host.Enter(t.Pointer, text)
	t.Host.Leave(t.Pointer)
}

// Picker is a date or a time of day in the browser's own picker. A date that
// is half typed reads as "": then the element is left alone, or what is typed
// would vanish.
type Picker struct {
	app.Compo

	Host    Host
	Pointer string
	Label   string
	Input   string // "date" or "time"
	At      string // pointer that its elements are named by where the field stands a second time, or ""
	Text    string
	Fault   string

	shown string
}

func (p *Picker) Render() app.UI {
	if p.Text != "" {
		p.shown = p.Text
	}
	at, help := p.Pointer, Help(p.Pointer)
	if p.At != "" {
		at = p.At
	}
	return frame("picker", at, p.Label, help, p.Fault,
		app.Input().ID(ID(at)).Type(p.Input).
			Aria("describedby", described(at, help)).Aria("invalid", p.Fault != "").
			Value(p.shown).OnInput(p.onInput).OnChange(p.onChange))
}

func (p *Picker) onInput(ctx app.Context, e app.Event) { p.Host.Enter(p.Pointer, value(ctx)) }

func (p *Picker) onChange(ctx app.Context, e app.Event) { p.Host.Leave(p.Pointer) }
