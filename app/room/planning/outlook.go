package planning

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/draw"
	"duskline/app/room"
	"duskline/app/room/desk"
	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/outlook"
	"duskline/calc/plan"
)

// sideBySide is the width from which plan and Outlook stand side by side;
// web/css has the same. sheetEms is the width of the plan then, in letters.
const (
	sideBySide = "(min-width: 56.25em)"
	sheetEms   = 26
)

// view is the window that pictures are drawn for.
type view struct {
	Width int     // CSS pixels; 0: not known
	Wide  bool    // plan and Outlook stand side by side
	Em    float64 // CSS pixels of one em; 0: not known
}

// outlookWidth is the room for the Outlook, CSS pixels.
func (v view) outlookWidth() float64 { return float64(v.Width) - sheetEms*v.em() }

func (v view) em() float64 {
	if v.Em == 0 {
		return 16
	}
	return v.Em
}

// strip is the frame of the main picture.
func (v view) strip() draw.Frame {
	switch {
	case v.Wide:
		f := draw.Desk
		f.Width = v.outlookWidth()
		return f
	case v.Width > 0:
		f := draw.Phone
		f.Width = float64(v.Width)
		return f
	}
	return draw.Phone
}

// fold is the width of what stands inside a fold of the plan, CSS pixels.
func (v view) fold() float64 {
	switch {
	case v.Wide:
		return (sheetEms-2*1.25)*v.em() - 2
	case v.Width > 0:
		return max(float64(v.Width)-2*v.em(), 40)
	}
	return 328
}

// drawn is the width that a picture is drawn for to be shown at a width.
func (v view) drawn(shown float64) float64 { return shown * 16 / max(v.em(), 16) }

// ledger is the frame of the Ledger.
func (v view) ledger() draw.Frame {
	f := draw.Frame{ID: "l", Width: 328, Height: 240}
	switch {
	case v.Wide:
		f.Width, f.Height = v.outlookWidth()-56, 280
	case v.Width > 0:
		f.Width = float64(v.Width - 32)
	}
	return f
}

// glance is the verdict and a small strip that stay at the top of a phone
// while the plan is edited. It repeats what stands above: a screen reader
// needs it only once.
type glance struct {
	app.Compo

	Desk    *desk.Desk
	Version int
	Theme   string
	View    view
}

func (g *glance) Render() app.UI {
	o := g.Desk.Outlook()
	if o == nil || g.View.Wide {
		return app.Div().Class("glance").Aria("hidden", "true")
	}
	f := draw.Sticky
	if g.View.Width > 0 {
		f.Width = max(80, float64(g.View.Width)-glanceEms*g.View.em())
	}
	return app.Div().ID("glance").Class("glance").Aria("hidden", "true").Body(
		app.Span().Class("glance-verdict").DataSet("verdict", o.Verdict.String()).Body(verdict(o.Verdict)...),
		app.Div().Class("glance-strip").Body(app.Raw(draw.Strip(o, *g.Desk.Plan(), f))),
	)
}

// glanceEms is the room for the verdict in the glance, in letters; web/css has
// the same.
const glanceEms = 8.5

// verdict is the word and its full stop, which the style sheet colours.
func verdict(v outlook.Verdict) []app.UI {
	return []app.UI{app.Text(words.Verdict(v)), app.Span().Class("stop").Text(".")}
}

// outcome is the answer: verdict, reason, dusk strip, figures, notices. It is
// redrawn when there is a new good plan, not at each key.
type outcome struct {
	app.Compo

	Room    *Room
	Desk    *desk.Desk
	Version int
	View    view
	Waiting []string // where values were typed that are not taken
	Failed  bool     // there is no Outlook of this plan, by a fault of the program
	Behind  bool     // the Outlook of this plan is on its way
}

func (c *outcome) Render() app.UI {
	o, p := c.Desk.Outlook(), *c.Desk.Plan()
	if o == nil {
		return app.Section().Class("outcome").Aria("label", words.T("outlook.title")).Body(
			c.failed("outlook.none"))
	}
	lead, why := words.Reason(o, p)
	return app.Section().ID("outlook").Class("outcome").Aria("label", words.T("outlook.title")).Body(
		app.Div().Class("answer").Body(
			app.H1().ID("verdict").Class("verdict").DataSet("verdict", o.Verdict.String()).Body(verdict(o.Verdict)...),
			app.P().ID("reason").Class("reason").Aria("live", "polite").Body(
				app.Strong().Text(lead), app.Text(" "+why)),
			c.stale(),
		),
		app.Div().ID("strip").Class("strip").Body(app.Raw(draw.Strip(o, p, c.View.strip()))),
		figures(o, p.Trip.Start),
		notices(o.Notices, p),
	)
}

// stale says that what is shown belongs to the last good values.
func (c *outcome) stale() app.UI {
	switch {
	case c.Behind:
		return app.P().ID("stale").Class("stale").Text(words.T("outlook.behind"))
	case c.Failed:
		return c.failed("outlook.failed")
	case len(c.Waiting) > 0:
		at := c.Waiting[0]
		return app.Div().ID("stale").Class("stale").Body(
			app.P().Text(words.T("outlook.stale", len(c.Waiting))),
			app.Button().ID("go-to").Class("small").Type("button").Text(words.T("outlook.go_to", words.FieldPlace(at))).
				OnClick(func(ctx app.Context, e app.Event) { c.Room.leadTo(ctx, at) }, at),
		)
	}
	return nil
}

// failed says that a plan without a fault could not be worked out, and hands
// it out: it shows the fault to whoever mends it.
func (c *outcome) failed(key string) app.UI {
	return app.Div().ID("stale").Class("stale").Role("alert").Body(
		app.P().Text(words.T(key)),
		app.Button().ID("failed-download").Class("small").Type("button").Text(words.T("outlook.failed_download")).OnClick(c.onDownload),
	)
}

func (c *outcome) onDownload(ctx app.Context, e app.Event) {
	p := *c.Desk.Plan()
	if text, err := plan.Write(p); err == nil {
		room.Give(room.FileName(p.Name), text)
	}
}

// more is the rest of the Outlook: where the energy goes, and the figures
// behind the pictures.
type more struct {
	app.Compo

	Desk    *desk.Desk
	Version int
	View    view

	open bool
}

func (m *more) Render() app.UI {
	o, p := m.Desk.Outlook(), *m.Desk.Plan()
	if o == nil {
		return app.Section().Class("more")
	}
	body := []app.UI{
		m.light(),
		app.H2().ID("ledger-title").Text(words.T("ledger.title")),
		app.Div().ID("ledger").Class("ledger").Body(app.Raw(draw.Ledger(o, p, m.View.ledger()))),
		app.H2().Class("fold-head").Body(
			app.Button().ID("numbers-fold").Class("small").Type("button").Aria("expanded", m.open).
				Aria("controls", "numbers").Text(words.T("numbers." + openKey(m.open))).OnClick(m.onTurn)),
	}
	// The tables are there for a screen reader before anybody unfolds them.
	class := "numbers"
	if !m.open {
		class += " unseen"
	}
	body = append(body, app.Div().ID("numbers").Class(class).Body(
		table("table-strip", draw.StripTable(o, p), m.open),
		table("table-ledger", draw.LedgerTable(o, p), m.open),
	))
	return app.Section().Class("more").Aria("labelledby", "ledger-title").Body(body...)
}

// light stands here where the Sky is beside it; on a phone it is in the Sky.
func (m *more) light() app.UI {
	if !m.View.Wide {
		return widget.Nothing()
	}
	return &lightDays{Desk: m.Desk, Version: m.Version, Width: m.View.drawn(m.View.outlookWidth() - 56)}
}

func (m *more) onTurn(ctx app.Context, e app.Event) { m.open = !m.open }

func openKey(open bool) string {
	if open {
		return "hide"
	}
	return "show"
}

// table is a table as every room has it.
func table(id string, t draw.Table, seen bool) app.UI { return room.Table(id, t, seen) }
