package room

import (
	"bytes"

	"duskline/app/room/desk"
	"duskline/app/work"
	"duskline/calc/pairing"
	"duskline/calc/plan"
)

// Pairing is the ladder of panels for the plan on the desk. It is worked out
// beside the page, and kept for as long as the plan stays the same: who goes
// to the plan and comes back without a change finds it there.
type Pairing struct {
	session *Session
	crew    *work.Crew
	task    *work.Task

	ladder  *pairing.Ladder
	p       plan.Plan // that ladder was tried in
	doneFor []byte    // its text, as far as it counts
	wanted  []byte    // of the plan that is being tried, or was last
	trying  plan.Plan

	desk    *desk.Desk // whose plan wanted is
	version int        // of it

	state PairingState
	share float64
	page  bool // the page stands still meanwhile
	found int
}

// PairingState says how far it is.
type PairingState string

// The states of a pairing.
const (
	PairingNone    PairingState = "" // nothing asked for yet
	PairingRunning PairingState = "running"
	PairingDone    PairingState = "done"
	PairingStopped PairingState = "stopped" // by the person
	PairingLost    PairingState = "lost"    // the worker ended before its job
)

func newPairing(s *Session) *Pairing { return &Pairing{session: s, crew: work.NewCrew(work.Jobs)} }

// State says how far it is, and the share that is done.
func (w *Pairing) State() (state PairingState, share float64) { return w.state, w.share }

// OnPage says that no worker was to be had: the page stands still meanwhile.
func (w *Pairing) OnPage() bool { return w.page }

// Found counts the ladders that were found.
func (w *Pairing) Found() int { return w.found }

// Ladder returns the last ladder and the plan that it was tried in; nil if
// there is none. It may be one of the plan before a change: see Fresh.
func (w *Pairing) Ladder() (*pairing.Ladder, *plan.Plan) { return w.ladder, &w.p }

// Fresh says that the ladder is that of the plan on the desk.
func (w *Pairing) Fresh() bool { return w.ladder != nil && bytes.Equal(w.doneFor, w.wanted) }

// Want begins to try the ladder in the plan on the desk, unless that is done,
// under way, or was stopped. Another plan starts it anew.
func (w *Pairing) Want() {
	d := w.session.Desk
	if d == nil || d == w.desk && d.Version() == w.version {
		return
	}
	p := desk.Clone(*d.Plan())
	text, err := plan.Write(counting(p))
	if err != nil {
		return // our own slip: a plan on the desk is a checked one
	}
	w.desk, w.version = d, d.Version()
	if w.wanted != nil && bytes.Equal(text, w.wanted) {
		return
	}
	w.wanted, w.trying = text, p
	if bytes.Equal(text, w.doneFor) { // back at what it was
		w.halt()
		w.state = PairingDone
		return
	}
	w.begin()
}

// counting is a plan without what changes no figure: its name and note. An
// unnamed one is refused by plan.Read, so it has a name all the same.
func counting(p plan.Plan) plan.Plan {
	p.Name, p.Note, p.Example = "-", "", false
	return p
}

// Again begins anew what was stopped or lost.
func (w *Pairing) Again() {
	if w.wanted != nil && (w.state == PairingStopped || w.state == PairingLost) {
		w.begin()
	}
}

func (w *Pairing) begin() {
	w.halt()
	w.state, w.share, w.page = PairingRunning, 0, false
	mine := w.wanted
	hear := func(do func()) {
		w.session.OnPage(func() {
			if w.state == PairingRunning && bytes.Equal(mine, w.wanted) {
				do()
			}
		})
	}
	// The bar goes by tenths, and every word redraws the page.
	tenth := 0
	w.task = w.crew.Start(work.RunPairing, mine, work.Hear{
		OnPage: func() { hear(func() { w.page = true }) },
		Progress: func(share float64) {
			if t := int(10 * share); t > tenth {
				tenth = t
				hear(func() { w.share = share })
			}
		},
		Done: func(out []byte, err error) { hear(func() { w.done(out, err) }) },
	})
}

func (w *Pairing) done(out []byte, err error) {
	w.task = nil
	w.state = PairingLost
	if err != nil {
		return
	}
	if l, err := work.Ladder(out); err == nil {
		w.ladder, w.p, w.doneFor, w.state = l, w.trying, w.wanted, PairingDone
		w.found++
	}
}

// Cancel stops the work. It begins again when it is asked to, or when the room
// is gone to again.
func (w *Pairing) Cancel() {
	if w.state == PairingRunning {
		w.halt()
		w.state = PairingStopped
	}
}

func (w *Pairing) halt() {
	if w.task != nil {
		w.task.Cancel()
		w.task = nil
	}
}

// UsePanels puts a rung's panels into the plan, with a way back in the notice.
func (w *Pairing) UsePanels(panels plan.Panels, sky *plan.Sky, said Notice) plan.Faults {
	s := w.session
	before, skyBefore := s.Desk.Plan().Panels, s.Desk.Plan().Sky
	put := func(panels plan.Panels, sky *plan.Sky) plan.Faults {
		return s.Desk.Change(func(p *plan.Plan) {
			p.Panels = panels
			if sky != nil {
				p.Sky = *sky
			}
			*p = desk.Clone(*p)
		})
	}
	was := s.Notice
	s.Notice = Notice{}
	if faults := put(panels, sky); faults != nil {
		s.Notice = was
		return faults
	}
	if own := s.Notice.Undo; own != nil { // it was an example until now: the way back is to that
		said.Key, said.Undo = said.Key+"_own", own
		s.Notice = said
		return nil
	}
	said.Undo = func() {
		back := &skyBefore
		if sky == nil {
			back = nil
		}
		put(before, back)
		s.Notice = Notice{}
	}
	s.Notice = said
	return nil
}
