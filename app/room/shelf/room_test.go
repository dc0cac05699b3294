package shelf

import (
	"bytes"
	"fmt"
	stdhtml "html"
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/app/store"
	"duskline/app/words"
	"duskline/calc/plan"
)

func session(records ...store.Record) *room.Session {
	shelf := store.NewShelf(store.NewMemory(records...), time.Now)
	shelf.Load()
	s := room.NewSession(shelf)
	s.Begin()
	return s
}

func page(r *Room) string { return app.HTMLString(r.Render()) }

func Example() {
	s := session()
	s.New()
	r := &Room{Session: s}
	r.renaming, r.name = s.ID, "Ridge walk"
	r.keepName()
	fmt.Println(strings.Contains(page(r), "Ridge walk"))
	// Output: true
}

func TestPlansAreListedWithTheirButtons(t *testing.T) {
	s := session()
	s.New()
	s.New()
	html := page(&Room{Session: s})
	for _, r := range s.Shelf.List() {
		for _, what := range []string{"open", "copy", "rename", "download", "delete"} {
			if !strings.Contains(html, `id="plan-`+r.ID+`-`+what+`"`) {
				t.Errorf("no button to %s", what)
			}
		}
	}
	for _, want := range []string{`id="plan-new"`, `id="plan-import"`, `id="example-bird-count"`, words.T("plans.is_open"), words.T("plans.kept")} {
		if !strings.Contains(html, want) {
			t.Errorf("%s is missing", want)
		}
	}
	if strings.Contains(html, "style=") || strings.Contains(html, "%!") {
		t.Error("a style attribute, or words without their numbers")
	}
}

func TestUnreadablePlanIsShownWithItsReasons(t *testing.T) {
	odd := []byte(`{"duskline":1,"name":"","extra":<script>}`)
	s := session(store.Record{ID: "odd", Text: odd})
	html := page(&Room{Session: s})
	_, err := plan.Read(odd)
	for _, want := range []string{
		words.T("plans.unreadable"), `id="plan-odd-download"`, `id="plan-odd-delete"`, `id="plan-odd-faults"`,
		stdhtml.EscapeString(words.FaultLine(err.(plan.Faults)[0])),
	} {
		if !strings.Contains(html, want) {
			t.Errorf("%s is missing", want)
		}
	}
	if strings.Contains(html, `id="plan-odd-open"`) || strings.Contains(html, "<script") {
		t.Error("it can be opened, or speaks for itself")
	}
	if r, _ := s.Shelf.Get("odd"); !bytes.Equal(r.Text, odd) {
		t.Errorf("it became %q", r.Text)
	}
}

func TestManyFaultsAreFoldedNotDropped(t *testing.T) {
	var faults plan.Faults
	for i := range 30 {
		faults = append(faults, plan.Fault{Pointer: fmt.Sprintf("/gear/%d/name", i), Kind: plan.Missing})
	}
	html := app.HTMLString(reasons("x", faults))
	if n := strings.Count(html, "<li>"); n != 30 {
		t.Errorf("%d of 30 lines", n)
	}
	if !strings.Contains(html, "<details") {
		t.Error("nothing is folded")
	}
}

func TestRenameIsRefusedInWords(t *testing.T) {
	s := session()
	s.New()
	was := s.Desk.Plan().Name
	r := &Room{Session: s, renaming: s.ID, name: strings.Repeat("x", 81)}
	r.keepName()
	if r.fault == "" || r.renaming == "" || s.Desk.Plan().Name != was {
		t.Errorf("fault %q, name %q", r.fault, s.Desk.Plan().Name)
	}
	html := page(r)
	if !strings.Contains(html, r.fault) || !strings.Contains(html, r.name) {
		t.Error("the fault or what was typed is not shown")
	}
}

func TestRefusedFileIsNamed(t *testing.T) {
	r := &Room{Session: session()}
	r.take(nil, "notes.json", []byte("{"))
	html := page(r)
	for _, want := range []string{`id="import-refused"`, "notes.json", `id="import-faults"`} {
		if !strings.Contains(html, want) {
			t.Errorf("%s is missing", want)
		}
	}
	r.take(nil, "good.json", room.Examples()[0].Text)
	if strings.Contains(page(r), "import-refused") {
		t.Error("a good file is refused")
	}
}

// A double tap on Delete takes one plan, not the next one too.
func TestDoubleTapDeletesOnePlan(t *testing.T) {
	s := session()
	s.New()
	s.New()
	r := &Room{Session: s}
	for _, rec := range s.Shelf.List() {
		r.delete(rec.ID)(nil, app.Event{})
	}
	if n := len(s.Shelf.List()); n != 1 {
		t.Errorf("%d plans are left of two", n)
	}
	r.deleted = time.Now().Add(-time.Minute)
	r.delete(s.Shelf.List()[0].ID)(nil, app.Event{})
	if n := len(s.Shelf.List()); n != 0 {
		t.Errorf("%d plans are left", n)
	}
}
