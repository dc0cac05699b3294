package room

import (
	"errors"
	"reflect"
	"testing"

	"duskline/app/work"
	core "duskline/calc/pairing"
	"duskline/calc/plan"
)

// paired is an example on the desk with its ladder.
func paired(t *testing.T) (*Session, chan func()) {
	t.Helper()
	s, queue := page(t, nil)
	if !s.OpenExample("bird-count") {
		t.Fatal("no example")
	}
	s.Pairing.Want()
	settle(t, queue, func() bool { return state(s) != PairingRunning })
	if state(s) != PairingDone || !s.Pairing.Fresh() {
		t.Fatalf("%s", state(s))
	}
	return s, queue
}

func state(s *Session) PairingState {
	x, _ := s.Pairing.State()
	return x
}

// What was found stays while the plan does, is found anew for another one, and
// is there at once for a plan that is back at what it was.
func TestPairingIsKeptWhileThePlanStays(t *testing.T) {
	s, queue := paired(t)
	first, of := s.Pairing.Ladder()
	if len(first.Rungs) < 12 || of.Name != s.Desk.Plan().Name {
		t.Fatalf("%d rungs for %q", len(first.Rungs), of.Name)
	}
	s.Pairing.Want()
	s.Desk.Change(func(p *plan.Plan) { p.Name, p.Note = "Other", "Another note" })
	s.Pairing.Want()
	if state(s) != PairingDone || s.Pairing.Found() != 1 || !s.Pairing.Fresh() {
		t.Error("another name makes it stale")
	}
	full := s.Desk.Plan().Trip.StartChargePct
	s.Desk.Change(func(p *plan.Plan) { p.Trip.StartChargePct = 40 })
	s.Pairing.Want()
	if state(s) != PairingRunning || s.Pairing.Fresh() {
		t.Error("another charge leaves it fresh")
	}
	if l, _ := s.Pairing.Ladder(); l != first {
		t.Error("what was found before is gone while it is found anew")
	}
	s.Desk.Change(func(p *plan.Plan) { p.Trip.StartChargePct = full })
	s.Pairing.Want()
	if state(s) != PairingDone || !s.Pairing.Fresh() {
		t.Error("a plan that is back at what it was waits for nothing")
	}
	s.Desk.Change(func(p *plan.Plan) { p.Trip.StartChargePct = 40 })
	s.Pairing.Want()
	settle(t, queue, func() bool { return state(s) == PairingDone })
	l, of := s.Pairing.Ladder()
	if l == first || of.Trip.StartChargePct != 40 || !s.Pairing.Fresh() {
		t.Error("not found anew")
	}
}

func TestPairingCanBeStoppedAndBegunAgain(t *testing.T) {
	s, queue := page(t, nil)
	s.Pairing.Want()
	s.Pairing.Cancel()
	if state(s) != PairingStopped {
		t.Fatalf("%s", state(s))
	}
	s.Pairing.Want() // the page is drawn again
	if state(s) != PairingStopped {
		t.Error("it begins again by itself")
	}
	s.Pairing.Again()
	settle(t, queue, func() bool { return state(s) == PairingDone })
	if l, _ := s.Pairing.Ladder(); l == nil {
		t.Error("no ladder")
	}
	s.Pairing.Again() // nothing to begin
	if state(s) != PairingDone {
		t.Error("begun without need")
	}
}

// A worker that dies leaves the plan, and what was found before.
func TestPairingLostInTheMiddle(t *testing.T) {
	s, queue := paired(t)
	s.Pairing.crew = work.NewCrew(map[string]work.Job{work.RunPairing: func([]byte, func(float64)) ([]byte, error) {
		return nil, errors.New("died")
	}})
	s.Desk.Change(func(p *plan.Plan) { p.Trip.StartChargePct = 40 })
	s.Pairing.Want()
	settle(t, queue, func() bool { return state(s) != PairingRunning })
	if l, _ := s.Pairing.Ladder(); state(s) != PairingLost || l == nil || s.Pairing.Fresh() {
		t.Errorf("%s, %v", state(s), l)
	}
	s.Pairing.crew = work.NewCrew(work.Jobs)
	s.Pairing.Again()
	settle(t, queue, func() bool { return state(s) == PairingDone })
}

// An example's way back is to the example; a plan's to the panels it had.
func TestUsedPanelsCanBeTakenBack(t *testing.T) {
	s, _ := paired(t)
	l, _ := s.Pairing.Ladder()
	before := s.Desk.Plan().Panels
	use := func(r core.Rung) plan.Panels {
		t.Helper()
		panels := r.Panels
		for i := range panels.List {
			panels.List[i].Name = "Panel"
		}
		if f := s.Pairing.UsePanels(panels, l.Sky, Notice{Key: "pairing.used"}); f != nil {
			t.Fatal(f)
		}
		return panels
	}
	use(l.Rungs[6])
	if s.Notice.Key != "pairing.used_own" || s.Desk.Plan().Example || s.Desk.Plan().Panels.List[0].RatedW != l.Rungs[6].W {
		t.Errorf("%q, %+v", s.Notice.Key, s.Desk.Plan().Panels)
	}
	s.Notice.Undo()
	if s.Example != "bird-count" || s.ID != "" || !reflect.DeepEqual(s.Desk.Plan().Panels, before) {
		t.Error("not back at the example")
	}
	s.Notice = Notice{}
	use(l.Rungs[6])
	used := use(l.Rungs[3])
	if s.Notice.Key != "pairing.used" || !reflect.DeepEqual(s.Desk.Plan().Panels, used) {
		t.Errorf("%q, %+v", s.Notice.Key, s.Desk.Plan().Panels)
	}
	s.Notice.Undo()
	if got := s.Desk.Plan().Panels.List[0].RatedW; got != l.Rungs[6].W || s.Notice.Key != "" {
		t.Errorf("back at %g W", got)
	}
	// What the plan does not take leaves it as it is.
	bad := used
	bad.List = []plan.Panel{{}}
	if f := s.Pairing.UsePanels(bad, nil, Notice{Key: "pairing.used"}); f == nil || s.Desk.Plan().Panels.List[0].RatedW != l.Rungs[6].W {
		t.Error("panels without watts were taken")
	}
}
