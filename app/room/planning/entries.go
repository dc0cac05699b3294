package planning

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/widget"
	"duskline/app/words"
)

// What all lists of entries share: one entry open at a time, buttons to copy,
// move and remove it, and a way back.

func (s *sheet) rowOpen(list string, i int) bool {
	open, ok := s.Session.Rows[list]
	return ok && open == i
}

func (s *sheet) turnRow(list string, i int) app.EventHandler {
	return func(ctx app.Context, e app.Event) {
		if s.rowOpen(list, i) {
			delete(s.Session.Rows, list)
			return
		}
		s.Session.Rows[list] = i
	}
}

// entryButtons stand below the fields of an open entry. They act on the entry
// that is open, whatever place it has by then.
func (s *sheet) entryButtons(list, at string, n int) app.UI {
	id := widget.ID(at)
	button := func(what string, can bool, do app.EventHandler) app.UI {
		return app.Button().ID(id+"-"+what).Class("small").Type("button").Disabled(!can).
			Text(words.T("entry."+what)).OnClick(do, at, what)
	}
	i := s.Session.Rows[list]
	return app.Div().Class("row").Body(
		button("copy", true, s.copyEntry(list)),
		button("up", i > 0, s.moveEntry(list, -1)),
		button("down", i < n-1, s.moveEntry(list, 1)),
		button("remove", true, s.removeEntry(list)),
	)
}

func (s *sheet) copyEntry(list string) app.EventHandler {
	return func(ctx app.Context, e app.Event) {
		if i, ok := s.Session.Rows[list]; ok && s.Desk.Copy(list, i) == nil {
			s.Session.Rows[list] = i + 1
			s.focus(ctx, widget.ID(entryAt(list, i+1))+"-name")
		}
	}
}

func (s *sheet) moveEntry(list string, by int) app.EventHandler {
	return func(ctx app.Context, e app.Event) {
		i, ok := s.Session.Rows[list]
		if !ok || s.Desk.Move(list, i, i+by) != nil {
			return
		}
		s.Session.Rows[list] = i + by
		what := "-down"
		if by < 0 {
			what = "-up"
		}
		id := widget.ID(entryAt(list, i+by))
		s.after(ctx, func() {
			// At the end of the list the button is off: stay with the entry.
			if b := app.Window().GetElementByID(id + what); b.Truthy() && !b.Get("disabled").Truthy() {
				b.Call("focus")
			} else if row := app.Window().GetElementByID(id + "-row"); row.Truthy() {
				row.Call("focus")
			}
		})
	}
}

func (s *sheet) removeEntry(list string) app.EventHandler {
	return func(ctx app.Context, e app.Event) {
		if i, ok := s.Session.Rows[list]; ok && s.Desk.Remove(list, i) == nil {
			delete(s.Session.Rows, list)
			s.focus(ctx, widget.ID(list)+"-undo")
		}
	}
}

// undo offers the entry that was removed last.
func (s *sheet) undo(list string) app.UI {
	if of, _, ok := s.Desk.Undoable(); !ok || of != list {
		return widget.Nothing()
	}
	return app.Div().Class("undo").Role("status").Body(
		app.P().Text(words.T("entry.removed")),
		app.Button().ID(widget.ID(list)+"-undo").Class("small strong").Type("button").Text(words.T("frame.undo")).
			OnClick(func(ctx app.Context, e app.Event) {
				if _, i, ok := s.Desk.Undoable(); ok && s.Desk.Undo() == nil {
					s.focus(ctx, widget.ID(entryAt(list, i))+"-row")
				}
			}, list),
	)
}

// focus moves the keyboard to an element after the page is redrawn.
func (s *sheet) focus(ctx app.Context, id string) {
	s.after(ctx, func() {
		if e := app.Window().GetElementByID(id); e.Truthy() {
			e.Call("focus")
		}
	})
}

// after does something once the page is redrawn. It is the sheet that asks for
// it: what is asked by a button that the redrawing takes away is not done.
func (s *sheet) after(ctx app.Context, do func()) {
	ctx.Dispatcher().Dispatch(app.Dispatch{Mode: app.Defer, Source: s, Function: func(app.Context) { do() }})
}
