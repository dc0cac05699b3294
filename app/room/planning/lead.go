package planning

import (
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/widget"
)

// The ways from the answer to the place in the plan that it speaks of.

// leadTo opens what the field at a pointer lies in and goes there.
func (r *Room) leadTo(ctx app.Context, pointer string) {
	fold, list, row := foldOf(pointer)
	if list != "" {
		r.session().Rows[list] = row
	}
	if id := finerOf(pointer); id != "" {
		r.session().Folds["finer-"+id] = true
	}
	r.lead(ctx, fold, widget.ID(pointer))
}

// foldOf says in which fold a field lies, and in which row of which list.
func foldOf(pointer string) (fold, list string, row int) {
	parts := strings.Split(pointer, "/")
	switch {
	case strings.HasPrefix(pointer, gearAt+"/") && len(parts) > 2:
		row, _ = strconv.Atoi(parts[2])
		return "gear", gearAt, row
	case strings.HasPrefix(pointer, panelsAt+"/") && len(parts) > 3:
		row, _ = strconv.Atoi(parts[3])
		return "panels", panelsAt, row
	}
	for _, f := range folds {
		if len(parts) > 1 && parts[1] == f.id {
			return f.id, "", 0
		}
	}
	return "trip", "", 0 // the plan's own name and note stand there
}

// doubleTap is how long after a tap another one on the same spot belongs to it.
const doubleTap = 600 * time.Millisecond

// lead unfolds a part of the plan and goes to an element in it. The second tap
// of a double one on “Start my own” falls on the button that comes there: it
// leads nowhere.
func (r *Room) lead(ctx app.Context, fold, id string) {
	if time.Since(r.began) < doubleTap {
		return
	}
	r.session().Folds[fold] = true
	r.led++
	ctx.Dispatcher().Dispatch(app.Dispatch{Mode: app.Defer, Source: r, Function: func(app.Context) { show(id) }})
}

// show scrolls to an element and gives it the keyboard. The hours of a list
// are a bar.
func show(id string) {
	for _, id := range []string{id, id + "-bar"} {
		if e := app.Window().GetElementByID(id); e.Truthy() {
			e.Call("scrollIntoView", map[string]any{"block": "center"})
			e.Call("focus", map[string]any{"preventScroll": true})
			return
		}
	}
}
