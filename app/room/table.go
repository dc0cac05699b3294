package room

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/draw"
)

// Table is a table that scrolls sideways when it must; only one that is seen
// takes the keyboard for that.
func Table(id string, t draw.Table, seen bool) app.UI {
	head := make([]app.UI, len(t.Head))
	for i, h := range t.Head {
		head[i] = app.Th().Scope("col").Text(h)
	}
	rows := make([]app.UI, len(t.Rows))
	for i, r := range t.Rows {
		cells := make([]app.UI, len(r))
		for k, c := range r {
			if k == 0 {
				cells[k] = app.Th().Scope("row").Text(c)
			} else {
				cells[k] = app.Td().Text(c)
			}
		}
		rows[i] = app.Tr().Body(cells...)
	}
	box := app.Div().Class("table").Role("region").Aria("label", t.Caption)
	if seen {
		box = box.TabIndex(0)
	}
	return box.Body(
		app.Table().ID(id).Body(
			app.Caption().Text(t.Caption),
			app.THead().Body(app.Tr().Body(head...)),
			app.TBody().Body(rows...),
		))
}
