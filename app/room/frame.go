package room

import (
	"errors"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/store"
	"duskline/app/widget"
	"duskline/app/words"
)

// Page puts the frame around a room: header, bar of rooms, what the app has
// to say, and the room itself. path is the room's place.
func Page(s *Session, path string, inside ...app.UI) app.UI {
	body := []app.UI{
		app.Button().ID("skip").Class("skip").Type("button").Text(words.T("frame.skip")).OnClick(skip),
		&head{Session: s, Path: path, Theme: s.Theme()},
		&Renewal{},
		s.notice(),
	}
	return app.Div().Class("page").DataSet("room", path).Body(append(body, inside...)...)
}

// head is the top of the page with the bar of rooms. An edit leaves it alone.
type head struct {
	app.Compo

	Session *Session
	Path    string
	Theme   string
}

func (h *head) Render() app.UI {
	return app.Header().Class("top").Body(
		app.A().Class("wordmark").Href(Href("/")).Body(app.Raw(mark), app.Span().Text(words.T("frame.name"))),
		bar(h.Path),
		app.Div().Class("top-buttons").Body(themeButton(h.Session), languageButton(h.Session)),
	)
}

// Arrive is called by a room that was gone to: the page gets its title, and
// starts at its top. The first page of a visit stays where the browser put it.
func (s *Session) Arrive(title string) {
	w := app.Window()
	w.Get("document").Set("title", title)
	if s.arrived {
		w.Call("scrollTo", 0, 0)
	}
	s.arrived = true
}

// skip moves the keyboard past the header.
func skip(ctx app.Context, e app.Event) {
	if main := app.Window().GetElementByID("main"); main.Truthy() {
		main.Call("focus")
	}
}

// mark is the sign beside the name: the sun in the water line.
const mark = `<svg class="mark" viewBox="0 0 38 22" aria-hidden="true" focusable="false">` +
	`<path data-s="mark-sun" d="M9 11a10 10 0 0 1 20 0z"></path>` +
	`<path data-s="mark-line" d="M0 11h38v2.4H0z"></path>` +
	`<path data-s="mark-water" d="M6 15.6h26V18H6zM13 19.6h12V22H13z"></path></svg>`

// bar links the rooms.
func bar(path string) app.UI {
	links := make([]app.UI, len(Places))
	for i, p := range Places {
		a := app.A().ID("room-" + p.Label[len("room."):]).Href(Href(p.Path)).Text(words.T(p.Label))
		if p.Path == path {
			a = a.Aria("current", "page")
		}
		links[i] = a
	}
	return app.Nav().Class("rooms").Aria("label", words.T("frame.rooms")).Body(links...)
}

func themeButton(s *Session) app.UI {
	name := words.T("theme." + s.Theme())
	return app.Button().ID("theme").Class("pill").Type("button").
		Aria("label", words.T("frame.theme", name)).Text(name).
		OnClick(func(ctx app.Context, e app.Event) { s.NextTheme() })
}

// languageButton is there as soon as there is a second language.
func languageButton(s *Session) app.UI {
	list := words.Languages()
	if len(list) < 2 {
		return nil
	}
	next := list[0]
	for i, l := range list {
		if l.Tag == words.Current() {
			next = list[(i+1)%len(list)]
		}
	}
	return app.Button().ID("language").Class("pill").Type("button").Text(next.Name).
		OnClick(func(ctx app.Context, e app.Event) {
			s.Save()
			s.Shelf.Set(settingLanguage, next.Tag.String())
			go func() {
				s.Shelf.Flush()
				app.Window().Get("location").Call("reload") // every word changes
			}()
		}, next.Name)
}

// notice is the line of the app itself: what was just done, with a way back,
// or that nothing can be kept.
func (s *Session) notice() app.UI {
	if s.Notice.Key != "" {
		body := []app.UI{app.P().Text(words.T(s.Notice.Key, s.Notice.Args...))}
		if s.Notice.Undo != nil {
			body = append(body, app.Button().ID("undo").Class("small").Type("button").Text(words.T("frame.undo")).
				OnClick(func(ctx app.Context, e app.Event) {
					if s.Notice.Undo != nil {
						s.Notice.Undo()
					}
				}))
		}
		body = append(body, app.Button().ID("notice-close").Class("icon").Type("button").
			Aria("label", words.T("frame.close")).Text("×").
			OnClick(func(ctx app.Context, e app.Event) { s.Notice = Notice{} }))
		return app.Div().ID("notice").Class("said").Role("status").Body(body...)
	}
	if key := troubleKey(s.Shelf.Trouble()); key != "" {
		return app.Div().ID("trouble").Class("said").DataSet("grade", "caution").Role("status").Body(app.P().Text(words.T(key)))
	}
	return widget.Nothing()
}

// troubleKey words why nothing is kept.
func troubleKey(err error) string {
	switch {
	case err == nil:
		return ""
	case errors.Is(err, store.ErrFull):
		return "trouble.full"
	case errors.Is(err, store.ErrBlocked):
		return "trouble.blocked"
	case errors.Is(err, store.ErrSilent):
		return "trouble.silent"
	case errors.Is(err, store.ErrAbsent):
		return "trouble.absent"
	}
	return "trouble.damaged"
}

// Renewal is the line that a new version is ready. The old one goes on until
// the person switches.
type Renewal struct {
	app.Compo

	state string // as the boot script names it
	close func()
}

// OnMount reads how it stands: the boot script may have been faster.
func (u *Renewal) OnMount(ctx app.Context) {
	u.look()
	u.close = app.Window().AddEventListener("dusklineUpdate", func(ctx app.Context, e app.Event) { u.look(); u.Update() })
}

// OnDismount stops listening.
func (u *Renewal) OnDismount() { u.close() }

// OnAppUpdate is called when a new version is complete and waits.
func (u *Renewal) OnAppUpdate(ctx app.Context) { u.look() }

func (u *Renewal) look() {
	if boot := app.Window().Get("dusklineUpdate"); boot.Truthy() {
		u.state = boot.Get("state").String()
	}
}

func (u *Renewal) Render() app.UI {
	line := func(id, says, does string, do app.EventHandler) app.UI {
		return app.Div().ID("update").Class("said").Role("status").Body(
			app.P().Text(says),
			app.Button().ID(id).Class("small strong").Type("button").Text(does).OnClick(do, id),
		)
	}
	switch u.state {
	case "ready":
		return line("take-over", words.T("update.ready"), words.T("update.switch"), u.onSwitch)
	case "switched":
		return line("reload", words.T("update.switched"), words.T("update.reload"), u.onReload)
	}
	return app.Div().ID("update").Hidden(true)
}

func (u *Renewal) onSwitch(ctx app.Context, e app.Event) {
	if boot := app.Window().Get("dusklineUpdate"); boot.Truthy() {
		boot.Call("takeOver")
	}
}

func (u *Renewal) onReload(ctx app.Context, e app.Event) { ctx.Reload() }
