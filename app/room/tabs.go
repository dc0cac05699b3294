package room

import (
	"bytes"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/calc/plan"
)

// Two tabs may have the same plan open. The last write wins, and the other
// tab is told at once and shows it: nobody edits a plan that is no longer
// there. What waits in a field stays in its field.

// tellTabs says that a plan was written or dropped.
func (s *Session) tellTabs(id string) {
	if s.tabs != nil {
		s.tabs.Call("postMessage", id)
	}
}

func (s *Session) listenToTabs() {
	make := app.Window().Get("BroadcastChannel")
	if !make.Truthy() {
		return // an old browser; the last write wins all the same
	}
	s.tabs = make.New("duskline" + Href("/"))
	s.tabs.Set("onmessage", app.FuncOf(func(this app.Value, args []app.Value) any {
		id := args[0].Get("data").String()
		go s.hear(id)
		return nil
	}))
}

// hear reads again what another tab wrote. It runs beside the page.
func (s *Session) hear(id string) {
	before, _ := s.Shelf.Get(id)
	r, gone, err := s.Shelf.Refresh(id)
	if err != nil {
		return
	}
	if id != s.ID || !gone && bytes.Equal(before.Text, r.Text) {
		s.draw()
		return
	}
	if gone {
		s.Notice = Notice{Key: "notice_app.deleted_elsewhere"}
	} else if p, err := plan.Read(r.Text); err == nil {
		s.Desk.Replace(p)
		s.Notice = Notice{Key: "notice_app.changed_elsewhere"}
	}
	s.draw()
}
