package pairing

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/words"
)

// The few parts that the room is made of, each written once: every call of
// go-app's builders is code in the program that each phone loads.

// para is a paragraph; an empty class or id is none.
func para(id, class, says string) app.UI {
	p := app.P().Text(says)
	if id != "" {
		p = p.ID(id)
	}
	if class != "" {
		p = p.Class(class)
	}
	return p
}

func help(says string) app.UI { return para("", "help", says) }

func div(id, class string, body ...app.UI) app.UI {
	d := app.Div().Class(class).Body(body...)
	if id != "" {
		d = d.ID(id)
	}
	return d
}

func span(class, says string) app.UI { return app.Span().Class(class).Text(says) }

// section is a part of the page under its title, a catalogue key.
func section(id, title string, body ...app.UI) app.UI {
	return app.Section().ID(id).Aria("labelledby", id+"-title").Body(
		append([]app.UI{app.H2().ID(id + "-title").Text(words.T(title))}, body...)...)
}

// signal is a line behind its signal word.
func signal(word, says string) []app.UI {
	return []app.UI{app.Strong().Class("signal").Text(word), app.Text(" " + says)}
}

// tap is a small button. Its id is the handler's scope: another one that takes
// its place gets its own. While the scope stays, so does the first handler: it
// must hold nothing that another drawing may change, or name that in about.
func tap(id, class, says string, do func(app.Context), about ...any) app.HTMLButton {
	return app.Button().ID(id).Class(class).Type("button").Text(says).
		OnClick(func(ctx app.Context, e app.Event) { do(ctx) }, append(about, id)...)
}

// numbers is what a button unfolds: there for a screen reader at once.
func numbers(id, show string, open bool, turn func(), inside app.UI) app.UI {
	class, says := "numbers unseen", words.T(show)
	if open {
		class, says = "numbers", words.T("numbers.hide")
	}
	return div("", "below",
		tap(id+"-fold", "small", says, func(app.Context) { turn() }).Aria("expanded", open).Aria("controls", id),
		div(id, class, inside))
}
