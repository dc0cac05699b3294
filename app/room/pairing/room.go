// Package pairing is the room that answers which panels belong with the plan
// on the desk: a ladder of panel sizes, each tried in that plan.
//
// It begins by itself and works beside the page. What it found is kept while
// the plan stays the same; an edit elsewhere makes it stale, and it is found
// anew on return.
package pairing

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/app/words"
	core "duskline/calc/pairing"
	"duskline/calc/plan"
)

const path = "/pairing/"

// wideFrom is the width from which the reasons stand beside the ladder;
// web/css has the same.
const wideFrom = "(min-width: 56.25em)"

// Room is the pairing room.
type Room struct {
	app.Compo

	Session *room.Session // nil: the app's own

	width int     // of the window, CSS pixels; 0: not known
	em    float64 // CSS pixels of a letter's height; 0: not known
	wide  bool

	open    string // the rung whose reasons are shown; "" none
	touched bool   // a rung was tapped
	know    bool   // the person knows that it must not be connected
	refused string // why its panels were not taken
	tables  map[string]bool
	more    map[string]int // how often more was asked for

	// The plan whose curves are shown, and for which rung of which ladder.
	lit             *plan.Plan
	litKey, litName string

	now *view // the last drawing: what a handler that stays must ask
}

// OnMount finds the session and how wide the page is, and begins anew what was
// stopped or lost on an earlier visit.
func (r *Room) OnMount(ctx app.Context) {
	s := r.session()
	s.Start(ctx)
	r.tables, r.more = map[string]bool{}, map[string]int{}
	r.measure(ctx)
	s.Pairing.Again()
}

// OnNav sets the title of the page.
func (r *Room) OnNav(ctx app.Context) {
	r.session().Arrive(words.T("frame.title", words.T("room.pairing")))
}

// OnResize draws the pictures for the new width.
func (r *Room) OnResize(ctx app.Context) { r.measure(ctx) }

func (r *Room) measure(ctx app.Context) {
	r.width, _ = ctx.Page().Size()
	if app.IsServer {
		return
	}
	w := app.Window()
	r.wide = w.Call("matchMedia", wideFrom).Get("matches").Bool()
	root := w.Call("getComputedStyle", w.Get("document").Get("documentElement")).Get("fontSize").String()
	if em, ok := words.Number(strings.TrimSuffix(root, "px")); ok {
		r.em = em
	}
}

// inner is the width of the page inside its margins that a picture is drawn
// for. With larger letters it is drawn for less and shown larger, so that its
// words grow, too.
func (r *Room) inner() float64 {
	em := max(r.em, 16)
	w, side := float64(r.width), 1.0
	if r.width == 0 {
		w = 360
	}
	if r.wide {
		side = 1.75
	}
	return max(min(w-2*side*em, (78-2*side)*em), 40) * 16 / em
}

func (r *Room) session() *room.Session {
	if r.Session == nil {
		return room.Here()
	}
	return r.Session
}

func (r *Room) Render() app.UI {
	s := r.session()
	if !s.Ready {
		return room.Page(s, path, app.Main().ID("main").TabIndex(-1).Body(app.P().Class("waiting").Text(words.T("plan.opening"))))
	}
	s.Pairing.Want()
	ladder, of := s.Pairing.Ladder()
	results := nothing()
	if ladder != nil {
		results = r.results(s, ladder, of)
	}
	return room.Page(s, path, app.Main().ID("main").TabIndex(-1).Class("pairing").Body(
		app.H1().Text(words.T("pairing.title")),
		para("", "pairing-lead", words.T("pairing.lead")),
		para("pairing-of", "pairing-of", words.T("pairing.of", s.Desk.Plan().Name)),
		r.progress(s.Pairing),
		results,
	))
}

// progress is there while the ladder is tried, and after an end without one.
func (r *Room) progress(w *room.Pairing) app.UI {
	state, share := w.State()
	role, line, id, does, do := "status", "", "pairing-again", "pairing.again", w.Again
	class, bar := "small strong", nothing()
	switch state {
	case room.PairingRunning:
		line = words.T("pairing.working")
		if had, _ := w.Ladder(); had != nil {
			line = words.T("pairing.anew")
		}
		if w.OnPage() {
			line += " " + words.T("pairing.on_page")
		}
		percent := int(100 * share)
		bar = app.Div().ID("pairing-progress").Class("progress").Role("progressbar").Aria("label", line).
			Aria("valuenow", percent).DataSet("tenths", percent/10)
		id, class, does, do = "pairing-cancel", "small", "pairing.cancel", w.Cancel
	case room.PairingStopped:
		line = words.T("pairing.stopped")
	case room.PairingLost:
		role, line, does = "alert", words.T("pairing.lost"), "pairing.lost_again"
	default:
		return nothing()
	}
	if had, _ := w.Ladder(); had != nil {
		line += " " + words.T("pairing.before")
	}
	return app.Div().ID("pairing-state").Class("working").DataSet("state", string(state)).Role(role).Body(
		para("", "", line),
		div("", "row", bar, tap(id, class, words.T(does), func(app.Context) { do() })),
	)
}

// results is all that was found. of is the plan that it was found for.
func (r *Room) results(s *room.Session, l *core.Ladder, of *plan.Plan) app.UI {
	state, _ := s.Pairing.State()
	running := state == room.PairingRunning
	v := &view{r: r, s: s, l: l, p: of, fresh: s.Pairing.Fresh()}
	r.now = v
	return app.Div().ID("results").Class("results").Aria("busy", running).DataSet("fresh", v.fresh).Body(
		v.picks(),
		v.generic(),
		v.owned(),
		v.refill(),
		v.mixes(),
		v.curves(),
		room.Caution("panels", cautionOfPanels),
		v.engine(),
	)
}

// view is one drawing of the results.
type view struct {
	r     *Room
	s     *room.Session
	l     *core.Ladder
	p     *plan.Plan
	fresh bool // they are those of the plan on the desk
}
