// Package shelf is the room of the plans kept on this device.
package shelf

import (
	"errors"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/app/words"
	"duskline/calc/plan"
)

const path = "/plans/"

// Room is the plans room.
type Room struct {
	app.Compo

	Session *room.Session // nil: the app's own

	renaming string // id of the plan whose name is being typed
	name     string // as typed
	fault    string // why that name is refused
	deleted  time.Time
	refused  refused
}

// refused is a file that was not taken.
type refused struct {
	file   string
	faults plan.Faults
	err    string // instead of faults
}

func (r *Room) OnMount(ctx app.Context) { r.session().Start(ctx) }

// OnNav sets the title of the page.
func (r *Room) OnNav(ctx app.Context) {
	r.session().Arrive(words.T("frame.title", words.T("room.plans")))
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
	records := s.Shelf.List()
	items := make([]app.UI, len(records))
	for i, rec := range records {
		items[i] = r.item(s, rec.ID)
	}
	list := app.UI(app.Ul().ID("plans-list").Class("plans").Body(items...))
	if len(items) == 0 {
		list = app.P().Class("help").Text(words.T("plans.none"))
	}
	return room.Page(s, path, app.Main().ID("main").TabIndex(-1).Class("leaf").Body(
		app.H1().Text(words.T("room.plans")),
		app.P().Class("help").Text(words.T(keptKey(s))),
		app.Div().Class("row").Body(
			app.Button().ID("plan-new").Class("small strong").Type("button").Text(words.T("plans.new")).OnClick(r.onNew),
			app.Label().Class("small button").For("plan-import").Body(
				app.Input().ID("plan-import").Class("file").Type("file").Accept(".json,application/json").OnChange(r.onFile),
				app.Span().Text(words.T("plans.import"))),
		),
		r.refusal(),
		list,
		app.H2().Text(words.T("plans.examples")),
		app.P().Class("help").Text(words.T("plans.examples_help")),
		app.Div().Class("row").Body(r.examples()...),
	))
}

func keptKey(s *room.Session) string {
	if s.Shelf.Lasting() {
		return "plans.kept"
	}
	return "plans.not_kept"
}

// item is one plan of the shelf.
func (r *Room) item(s *room.Session, id string) app.UI {
	p, err := s.Read(id)
	if err != nil {
		return r.unreadable(id, err)
	}
	if id == r.renaming {
		return r.renameItem(id)
	}
	button := func(what string, do app.EventHandler) app.UI {
		return app.Button().ID("plan-"+id+"-"+what).Class("small").Type("button").
			Aria("label", words.T("plans."+what+"_of", p.Name)).Text(words.T("plans."+what)).OnClick(do, id, what)
	}
	rec, _ := s.Shelf.Get(id)
	line := words.T("plans.line", p.Case.Name, words.FullDate(p.Trip.Start), words.Hours(p.Trip.LengthH))
	if !rec.Changed.IsZero() {
		line = words.T("plans.line_changed", line, words.FullDate(rec.Changed), words.Clock(rec.Changed))
	}
	name := app.Div().Class("plan-name").Body(app.Strong().Text(p.Name))
	if id == s.ID {
		name = app.Div().Class("plan-name").Body(app.Strong().Text(p.Name), app.Text(" "), app.Span().Class("open-mark").Text(words.T("plans.is_open")))
	}
	return app.Li().ID("plan-"+id).Class("plan-item").DataSet("open", id == s.ID).Body(
		name,
		app.P().Class("help").Text(line),
		app.Div().Class("row").Body(
			button("open", r.open(id)),
			button("copy", func(ctx app.Context, e app.Event) { r.session().Copy(id) }),
			button("rename", r.startRename(id)),
			button("download", r.download(id)),
			button("delete", r.delete(id)),
		),
	)
}

// unreadable is a text that is no plan: kept, shown, to be taken away whole.
func (r *Room) unreadable(id string, err error) app.UI {
	return app.Li().ID("plan-"+id).Class("plan-item").DataSet("unreadable", "yes").Body(
		app.Div().Class("plan-name").Body(app.Strong().Text(words.T("plans.unreadable"))),
		app.P().Class("help").Text(words.T("plans.unreadable_help")),
		reasons("plan-"+id+"-faults", err),
		app.Div().Class("row").Body(
			app.Button().ID("plan-"+id+"-download").Class("small").Type("button").Text(words.T("plans.download")).OnClick(r.download(id), id),
			app.Button().ID("plan-"+id+"-delete").Class("small").Type("button").Text(words.T("plans.delete")).
				OnClick(r.delete(id), id),
		),
	)
}

// reasons lists what is wrong with a document, the first ones in view.
func reasons(id string, err error) app.UI {
	var faults plan.Faults
	if !errors.As(err, &faults) {
		return app.P().ID(id).Class("fault").Text(err.Error())
	}
	const inView = 8
	list := make([]app.UI, 0, len(faults))
	for _, f := range faults {
		list = append(list, app.Li().Text(words.FaultLine(f)))
	}
	if len(list) <= inView {
		return app.Ul().ID(id).Class("faults").Body(list...)
	}
	return app.Div().ID(id).Body(
		app.Ul().Class("faults").Body(list[:inView]...),
		app.Details().Body(
			app.Summary().Text(words.T("plans.more_faults", len(list)-inView)),
			app.Ul().Class("faults").Body(list[inView:]...)),
	)
}

func (r *Room) renameItem(id string) app.UI {
	return app.Li().ID("plan-"+id).Class("plan-item").Body(
		app.Div().Class("field text").Attr("data-bad", r.fault != "").Body(
			app.Label().Class("label").For("plan-rename").Text(words.FieldName("/name")),
			app.Input().ID("plan-rename").Type("text").Attr("enterkeyhint", "done").Value(r.name).
				Aria("invalid", r.fault != "").Aria("describedby", "plan-rename-fault").
				OnInput(r.onName).OnKeyDown(r.onNameKey),
			app.P().ID("plan-rename-fault").Class("fault").Aria("live", "polite").Text(r.fault),
		),
		app.Div().Class("row").Body(
			app.Button().ID("plan-rename-keep").Class("small strong").Type("button").Text(words.T("plans.keep_name")).OnClick(r.onKeepName),
			app.Button().ID("plan-rename-leave").Class("small").Type("button").Text(words.T("plans.leave_name")).OnClick(r.onLeaveName),
		),
	)
}

// doubleTap is how long after a tap another one on the same spot belongs to it.
const doubleTap = 600 * time.Millisecond

// delete takes a plan off the shelf. The next plan moves to where its button
// was: a double tap must not take that one along, of which nobody thought and
// which no undo would bring back.
func (r *Room) delete(id string) app.EventHandler {
	return func(ctx app.Context, e app.Event) {
		if time.Since(r.deleted) < doubleTap {
			return
		}
		r.session().Delete(id)
		r.deleted = time.Now()
	}
}

func (r *Room) startRename(id string) app.EventHandler {
	return func(ctx app.Context, e app.Event) {
		if p, err := r.session().Read(id); err == nil {
			r.renaming, r.name, r.fault = id, p.Name, ""
			ctx.Dispatcher().Dispatch(app.Dispatch{Mode: app.Defer, Source: r, Function: func(app.Context) {
				if e := app.Window().GetElementByID("plan-rename"); e.Truthy() {
					e.Call("focus")
					e.Call("select")
				}
			}})
		}
	}
}

func (r *Room) onName(ctx app.Context, e app.Event) { r.name = ctx.JSSrc().Get("value").String() }

func (r *Room) onNameKey(ctx app.Context, e app.Event) {
	switch e.Get("key").String() {
	case "Enter":
		r.onKeepName(ctx, e)
	case "Escape":
		r.onLeaveName(ctx, e)
	}
}

func (r *Room) onKeepName(ctx app.Context, e app.Event) { r.keepName() }

func (r *Room) keepName() {
	if faults := r.session().Rename(r.renaming, r.name); len(faults) > 0 {
		r.fault = words.Fault(faults[0])
		return
	}
	r.renaming, r.fault = "", ""
}

func (r *Room) onLeaveName(ctx app.Context, e app.Event) { r.renaming, r.fault = "", "" }

func (r *Room) examples() []app.UI {
	var list []app.UI
	for _, x := range room.Examples() {
		list = append(list, app.Button().ID("example-"+x.Key).Class("small").Type("button").Text(x.Name()).
			OnClick(func(ctx app.Context, e app.Event) {
				r.session().OpenExample(x.Key)
				ctx.Navigate(room.Href("/"))
			}, x.Key))
	}
	return list
}

func (r *Room) open(id string) app.EventHandler {
	return func(ctx app.Context, e app.Event) {
		if r.session().Open(id) {
			ctx.Navigate(room.Href("/"))
		}
	}
}

func (r *Room) onNew(ctx app.Context, e app.Event) {
	r.session().New()
	ctx.Navigate(room.Href("/"))
}
