package widget

import "github.com/maxence-charriere/go-app/v9/pkg/app"

// Fold is a section that opens: a heading that is a button, a line that says
// what is inside, and the inside, which is not there while it is closed. A
// page of closed folds costs next to nothing to redraw.
func Fold(id, title, summary string, open bool, turn app.EventHandler, inside ...app.UI) app.UI {
	sign := "+"
	if open {
		sign = "−"
	}
	body := []app.UI{
		app.H2().Class("fold-head").Body(
			app.Button().ID(id+"-fold").Class("fold-button").Type("button").
				Aria("expanded", open).Aria("controls", id+"-body").
				OnClick(turn, id).Body(
				app.Span().Class("fold-title").Text(title),
				app.Span().Class("fold-summary").Text(summary),
				app.Span().Class("fold-sign").Aria("hidden", "true").Text(sign),
			),
		),
	}
	if open {
		body = append(body, app.Div().ID(id+"-body").Class("fold-body").Body(inside...))
	}
	return app.Section().ID(id).Class("fold").Attr("data-open", open).Body(body...)
}
