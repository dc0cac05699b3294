package room

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/store"
	"duskline/calc/plan"
)

func clock() func() time.Time {
	t := time.Date(2026, 5, 14, 18, 0, 0, 0, time.UTC)
	return func() time.Time { t = t.Add(time.Second); return t }
}

// open returns a session on a drive, as a page that was just opened.
func open(t testing.TB, d store.Drive) *Session {
	t.Helper()
	shelf := store.NewShelf(d, clock())
	if err := shelf.Load(); err != nil {
		t.Fatal(err)
	}
	s := NewSession(shelf)
	s.Begin()
	return s
}

func Example() {
	s := NewSession(store.NewShelf(store.NewMemory(), clock()))
	s.Begin()
	fmt.Println(s.Example, s.Desk.Plan().Example)
	s.Desk.Enter("/trip/reserve_pct", "30")
	fmt.Println(s.ID != "", s.Desk.Plan().Example)
	// Output:
	// bird-count true
	// true false
}

func TestExamplesAreReadable(t *testing.T) {
	if len(Examples()) < 3 {
		t.Fatalf("%d examples", len(Examples()))
	}
	for _, e := range Examples() {
		p, err := plan.Read(e.Text)
		if err != nil {
			t.Errorf("%s: %v", e.Key, err)
		}
		if !p.Example || !strings.Contains(strings.ToLower(p.Note), "invented") {
			t.Errorf("%s does not say that it is invented", e.Key)
		}
	}
}

func TestFirstEditOfAnExampleMakesItOnesOwn(t *testing.T) {
	d := store.NewMemory()
	s := open(t, d)
	if len(s.Shelf.List()) != 0 {
		t.Fatal("an example lies on the shelf")
	}
	s.Desk.Enter("/case/battery/capacity_Ah", "x")
	if s.ID != "" || len(s.Shelf.List()) != 0 {
		t.Error("a refused value made a plan")
	}
	s.Desk.Enter("/case/battery/capacity_Ah", "45")
	s.Shelf.Flush()
	if s.Notice.Key != "notice_app.own_copy" {
		t.Errorf("said %q", s.Notice.Key)
	}
	again := open(t, d)
	if p := again.Desk.Plan(); p.Case.Battery.CapacityAh != 45 || p.Example || again.ID == "" {
		t.Errorf("found again: %g Ah, example %v", p.Case.Battery.CapacityAh, p.Example)
	}
	if e, _ := plan.Read(Examples()[0].Text); e.Case.Battery.CapacityAh == 45 {
		t.Error("the example changed")
	}
}

func TestTheOpenPlanIsOpenAgain(t *testing.T) {
	d := store.NewMemory()
	s := open(t, d)
	s.New()
	first := s.ID
	s.New()
	s.Open(first)
	s.Shelf.Flush()
	if again := open(t, d); again.ID != first {
		t.Errorf("%s is open, want %s", again.ID, first)
	}
	s.OpenExample("eye-clinic")
	s.Shelf.Flush()
	if again := open(t, d); again.Example != "eye-clinic" || again.ID != "" {
		t.Errorf("open: %q %q", again.Example, again.ID)
	}
}

func TestNewPlansHaveNamesOfTheirOwn(t *testing.T) {
	s := open(t, store.NewMemory())
	names := map[string]bool{}
	for range 4 {
		s.New()
		names[s.Desk.Plan().Name] = true
	}
	id, ok := s.Copy(s.ID)
	if p, err := s.Read(id); !ok || err != nil || names[p.Name] {
		t.Errorf("the copy is %q, %v", p.Name, err)
	}
	if len(names) != 4 {
		t.Errorf("names %v", names)
	}
}

func TestCopyOfALongNameStillFits(t *testing.T) {
	s := open(t, store.NewMemory())
	s.New()
	if f := s.Rename(s.ID, strings.Repeat("ä", 80)); f != nil {
		t.Fatal(f)
	}
	id, ok := s.Copy(s.ID)
	if _, err := s.Read(id); !ok || err != nil {
		t.Errorf("copy: %v %v", ok, err)
	}
}

func TestRename(t *testing.T) {
	s := open(t, store.NewMemory())
	s.New()
	other := s.ID
	s.New()
	for _, id := range []string{other, s.ID} {
		if f := s.Rename(id, ""); f == nil {
			t.Error("an empty name was taken")
		}
		if f := s.Rename(id, "Ridge"); f != nil {
			t.Error(f)
		}
		if p, _ := s.Read(id); p.Name != "Ridge" {
			t.Errorf("named %q", p.Name)
		}
	}
}

func TestDeleteAndUndo(t *testing.T) {
	d := store.NewMemory()
	s := open(t, d)
	s.New()
	s.Desk.Enter("/case/battery/capacity_Ah", "77")
	id := s.ID
	s.Delete(id)
	if _, ok := s.Shelf.Get(id); ok || s.ID == id {
		t.Fatal("still there")
	}
	if s.Desk == nil || s.Notice.Undo == nil {
		t.Fatal("no way back")
	}
	s.Notice.Undo()
	s.Shelf.Flush()
	if s.ID != id || s.Desk.Plan().Case.Battery.CapacityAh != 77 {
		t.Error("not open again")
	}
	if again := open(t, d); again.Desk.Plan().Case.Battery.CapacityAh != 77 {
		t.Error("not kept again")
	}
}

// A text that is no plan is kept to the byte, whatever else happens.
func TestUnreadablePlanIsKeptAndNotOpened(t *testing.T) {
	odd := []byte("\xef\xbb\xbf{\"duskline\": 99, \"x\":\x00}")
	d := store.NewMemory(store.Record{ID: "odd", Text: odd, Changed: clock()()})
	d.Set("current", "odd")
	s := open(t, d)
	if s.Desk == nil || s.Notice.Key != "notice_app.unreadable" {
		t.Errorf("said %q", s.Notice.Key)
	}
	var faults plan.Faults
	if _, err := s.Read("odd"); !errors.As(err, &faults) {
		t.Errorf("read: %v", err)
	}
	s.Desk.Enter("/trip/reserve_pct", "31")
	s.New()
	s.Rename("odd", "x")
	if _, ok := s.Copy("odd"); ok {
		t.Error("copied")
	}
	s.Shelf.Flush()
	r, ok := open(t, d).Shelf.Get("odd")
	if !ok || !bytes.Equal(r.Text, odd) {
		t.Errorf("now %q, %v", r.Text, ok)
	}
}

func TestImport(t *testing.T) {
	s := open(t, store.NewMemory())
	for _, text := range []string{"", "{", "[]", `{"duskline":1}`, strings.Repeat(" ", plan.MaxBytes+1)} {
		before := s.Desk
		var faults plan.Faults
		if err := s.Import([]byte(text)); !errors.As(err, &faults) || len(faults) == 0 {
			t.Errorf("%.20q: %v", text, err)
		}
		if s.Desk != before || len(s.Shelf.List()) != 0 {
			t.Errorf("%.20q changed something", text)
		}
	}
	if err := s.Import(Examples()[1].Text); err != nil {
		t.Fatal(err)
	}
	if s.ID == "" || s.Desk.Plan().Example || len(s.Shelf.List()) != 1 {
		t.Errorf("imported: %q, example %v", s.ID, s.Desk.Plan().Example)
	}
}

// Whatever is imported, the session stays whole.
func FuzzImport(f *testing.F) {
	for _, e := range Examples() {
		f.Add(e.Text)
	}
	f.Add([]byte(`{"duskline":2}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		s := NewSession(store.NewShelf(nil, clock()))
		s.Begin()
		err := s.Import(text)
		if s.Desk == nil || plan.Check(*s.Desk.Plan()) != nil {
			t.Fatal("the desk is not sound")
		}
		if (err == nil) != (len(s.Shelf.List()) == 1) {
			t.Fatalf("%v, and %d plans", err, len(s.Shelf.List()))
		}
	})
}

func TestWithoutStorageTheAppWorksAndSaysSo(t *testing.T) {
	for _, c := range []struct {
		err error
		key string
	}{
		{store.ErrBlocked, "trouble.blocked"},
		{fmt.Errorf("%w: QuotaExceededError", store.ErrFull), "trouble.full"},
		{store.ErrAbsent, "trouble.absent"},
		{store.ErrSilent, "trouble.silent"},
		{errors.New("odd"), "trouble.damaged"},
	} {
		shelf := store.NewShelf(nil, clock())
		shelf.Fail(c.err)
		s := NewSession(shelf)
		s.Begin()
		s.Desk.Enter("/trip/reserve_pct", "31")
		if s.ID == "" || len(shelf.List()) != 1 {
			t.Error("an edit is lost")
		}
		s.Notice = Notice{}
		if html := app.HTMLString(s.notice()); troubleKey(shelf.Trouble()) != c.key || !strings.Contains(html, "trouble") {
			t.Errorf("%v: %s, %s", c.err, troubleKey(shelf.Trouble()), html)
		}
	}
}

// Another tab's version is shown, and what waits in a field stays there.
func TestAnotherTabsVersionIsShown(t *testing.T) {
	d := store.NewMemory()
	one := open(t, d)
	one.New()
	one.Shelf.Flush()
	two := open(t, d)
	if two.ID != one.ID {
		t.Fatal("another plan is open")
	}
	two.Desk.Enter("/case/battery/capacity_Ah", "66")
	two.Shelf.Flush()
	one.Desk.Enter("/trip/reserve_pct", "x")
	one.hear(two.ID)
	if p := one.Desk.Plan(); p.Case.Battery.CapacityAh != 66 || one.Notice.Key != "notice_app.changed_elsewhere" {
		t.Errorf("%g Ah, said %q", p.Case.Battery.CapacityAh, one.Notice.Key)
	}
	if one.Desk.Text("/trip/reserve_pct") != "x" {
		t.Error("what was typed is gone")
	}
	two.Delete(two.ID)
	two.Shelf.Flush()
	one.hear(one.ID)
	if one.Notice.Key != "notice_app.deleted_elsewhere" || one.Desk.Plan().Case.Battery.CapacityAh != 66 {
		t.Errorf("said %q", one.Notice.Key)
	}
	id := one.ID
	one.Desk.Enter("/trip/reserve_pct", "12")
	one.Shelf.Flush()
	if _, ok := one.Shelf.Get(id); !ok {
		t.Error("the next change did not keep it again")
	}
}

func TestThemesGoRound(t *testing.T) {
	s := open(t, store.NewMemory())
	var seen []string
	for range 4 {
		seen = append(seen, s.Theme())
		s.NextTheme()
	}
	if got := strings.Join(seen, " "); got != "day glare night day" {
		t.Error(got)
	}
	s.Shelf.Set("theme", "neon")
	if s.Theme() != "day" {
		t.Error("an unknown look is not the first one")
	}
}

func TestEveryPlaceIsLinkedAndMarked(t *testing.T) {
	s := open(t, store.NewMemory())
	for _, p := range Places {
		html := app.HTMLString((&head{Session: s, Path: p.Path}).Render())
		for _, q := range Places {
			if !strings.Contains(html, `href="`+q.Path+`"`) {
				t.Errorf("%s is not linked from %s", q.Path, p.Path)
			}
		}
		if strings.Count(html, `aria-current="page"`) != 1 {
			t.Errorf("%s is not marked:\n%s", p.Path, html)
		}
	}
}

func TestRenewalOnlyWhenThereIsOne(t *testing.T) {
	for state, want := range map[string]string{"": "", "none": "", "loading": "", "failed": "", "ready": "take-over", "switched": "reload"} {
		html := app.HTMLString((&Renewal{state: state}).Render())
		if has := strings.Contains(html, "<button"); has != (want != "") || !strings.Contains(html, want) {
			t.Errorf("%q: %s", state, html)
		}
	}
}
