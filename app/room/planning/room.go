// Package planning is the room where a plan is edited and its Outlook seen,
// both at once: every good edit redraws the Outlook, nothing waits for a
// button.
package planning

import (
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/app/room/desk"
	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// Room is the plan room.
type Room struct {
	app.Compo

	Session *room.Session // nil: the app's own

	view view
	ctx  app.Context
	late int  // version of the plan that the lower part of the page shows
	soon bool // the lower part will be redrawn
	led  int  // how often a button outside of the plan unfolded a part of it

	began time.Time // when a plan of one's own was started here
}

// breath is how long the lower part of the page stays behind an edit, so that
// the answer comes first.
const breath = 60 * time.Millisecond

// OnMount finds the session and how wide the page is.
func (r *Room) OnMount(ctx app.Context) {
	r.ctx = ctx
	r.session().Start(ctx)
	r.measure(ctx)
}

// OnNav sets the title of the page.
func (r *Room) OnNav(ctx app.Context) {
	r.session().Arrive(words.T("frame.name"))
}

// OnResize draws the pictures for the new width.
func (r *Room) OnResize(ctx app.Context) { r.measure(ctx) }

func (r *Room) measure(ctx app.Context) {
	r.view.Width, _ = ctx.Page().Size()
	if app.IsServer {
		return
	}
	w := app.Window()
	r.view.Wide = w.Call("matchMedia", sideBySide).Get("matches").Bool()
	root := w.Call("getComputedStyle", w.Get("document").Get("documentElement")).Get("fontSize").String()
	if em, ok := words.Number(strings.TrimSuffix(root, "px")); ok {
		r.view.Em = em
	}
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
		return room.Page(s, "/", app.Main().ID("main").TabIndex(-1).Body(app.P().Class("waiting").Text(words.T("plan.opening"))))
	}
	d := s.Desk
	return room.Page(s, "/",
		&glance{Desk: d, Version: d.Version(), Theme: s.Theme(), View: r.view},
		app.Main().ID("main").TabIndex(-1).Class("planning").Body(
			r.first(s),
			&outcome{Room: r, Desk: d, Version: d.Version(), View: r.view, Waiting: d.Waiting(), Failed: d.Err() != nil, Behind: d.Behind()},
			&sheet{Session: s, Desk: d, Serial: d.Serial(), Led: r.led, View: r.view},
			&more{Desk: d, Version: r.catchUp(d), View: r.view},
		),
	)
}

// catchUp returns the version that the lower part of the page shows, and sees
// to it that it will be the present one.
func (r *Room) catchUp(d *desk.Desk) int {
	if r.ctx == nil || r.late == 0 {
		r.late = d.Version()
	}
	if r.late != d.Version() && !r.soon {
		r.soon = true
		r.ctx.After(breath, func(app.Context) { r.soon, r.late = false, r.session().Desk.Version() })
	}
	return r.late
}

// first stands over the answer: what it is an answer for, as long as that is
// not the person's own place and plan.
func (r *Room) first(s *room.Session) app.UI {
	if p := s.Desk.Plan(); p.Placeless() {
		return r.placeless(s, p)
	}
	return r.example(s)
}

// placeless says where the sun stands until the place is set, and leads there.
func (r *Room) placeless(s *room.Session, p *plan.Plan) app.UI {
	return app.Div().ID("placeless").Class("example").Body(
		app.P().Text(words.T("place.not_set", words.Latitude(qty.Degree(p.Sky.LatitudeDeg)))),
		app.Div().Class("row").Body(
			app.Button().ID("set-place").Class("small strong").Type("button").Text(words.T("place.set")).
				OnClick(func(ctx app.Context, e app.Event) { r.lead(ctx, "sky", "sky-here") }, "set-place")),
	)
}

// example says that what is shown is invented, and how to start one's own.
func (r *Room) example(s *room.Session) app.UI {
	if s.Example == "" || s.ID != "" {
		return widget.Nothing()
	}
	return app.Div().ID("example").Class("example").Body(
		app.P().Text(words.T("example.line")),
		app.Div().Class("row").Body(
			app.Button().ID("start-own").Class("small strong").Type("button").Text(words.T("example.start")).
				OnClick(func(ctx app.Context, e app.Event) { s.New(); r.began = time.Now() }, "start-own"),
			app.A().ID("other-examples").Class("small button").Href(room.Href("/plans/")).Text(words.T("example.others")),
		),
	)
}
