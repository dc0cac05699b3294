package room

import (
	"testing"
	"time"

	"duskline/app/store"
	"duskline/calc/plan"
)

// What is mine and what is the example: an edited example has a name of its
// own, and undoing gives the example back with nothing of mine left, except
// behind one more undo.
func TestOwnCopyIsToldFromItsExample(t *testing.T) {
	s := open(t, store.NewMemory())
	s.OpenExample("eye-clinic")
	example := s.Desk.Plan().Name
	s.Desk.Enter("/case/battery/capacity_Ah", "45")
	own := s.Desk.Plan().Name
	if own == example || s.Desk.Plan().Example {
		t.Fatalf("the copy is called %q, as the example", own)
	}
	s.OpenExample("eye-clinic")
	s.Desk.Enter("/case/battery/capacity_Ah", "46")
	if second := s.Desk.Plan().Name; second == own || second == example {
		t.Errorf("a second copy is called %q too", second)
	}

	s.Notice.Undo()
	if s.ID != "" || s.Example != "eye-clinic" || s.Desk.Plan().Name != example || s.Desk.Plan().Case.Battery.CapacityAh == 46 {
		t.Errorf("undone: %q, %q, %+v", s.ID, s.Desk.Plan().Name, s.Desk.Plan().Case.Battery)
	}
	if n := len(s.Shelf.List()); n != 1 {
		t.Errorf("%d plans on the shelf, want the first copy alone", n)
	}
	s.Notice.Undo()
	if s.Desk.Plan().Case.Battery.CapacityAh != 46 || len(s.Shelf.List()) != 2 {
		t.Error("the undo of the undo does not bring the copy back")
	}

	s.OpenExample("bird-count")
	s.Desk.Enter("/name", "Lake of mine")
	if got := s.Desk.Plan().Name; got != "Lake of mine" {
		t.Errorf("a name that was typed became %q", got)
	}
}

// One's own plan starts today by the device's clock, at a full hour to come.
func TestOwnPlanStartsToday(t *testing.T) {
	for _, c := range []struct{ clock, want string }{
		{"2026-11-25T10:31:20+05:30", "2026-11-25T11:00:00+05:30"},
		{"2026-11-25T00:00:00-09:30", "2026-11-25T01:00:00-09:30"},
		{"2026-12-31T23:59:59+14:00", "2026-12-31T23:00:00+14:00"},
	} {
		at, err := time.Parse(time.RFC3339, c.clock)
		if err != nil {
			t.Fatal(err)
		}
		if got := plan.Blank("x", soon(at)).Trip.Start.Format(time.RFC3339); got != c.want {
			t.Errorf("%s: starts %s, want %s", c.clock, got, c.want)
		}
	}
	s := open(t, store.NewMemory())
	s.New()
	if start, now := s.Desk.Plan().Trip.Start, time.Now(); start.Format(time.DateOnly) != now.Format(time.DateOnly) {
		t.Errorf("starts %s, now is %s", start, now)
	}
	for _, e := range Examples() {
		s.OpenExample(e.Key)
		if p, _ := plan.Read(e.Text); !s.Desk.Plan().Trip.Start.Equal(p.Trip.Start) {
			t.Errorf("%s starts on another day", e.Key)
		}
	}
}
