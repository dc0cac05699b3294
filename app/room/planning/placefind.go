package planning

import (
	"errors"
	"math"
	"strconv"
	"unicode"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/app/room/desk"
	"duskline/app/towns"
	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/coords"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// finder is the box for a town or a position, what was found of it, and the
// device's own position.
//
// The list of what was found stands in the page below the box, not over it: on
// a phone nothing is hidden by it or cut off by the keyboard.
//
// Keys: down and up go through the list, enter takes the one that is marked,
// or the first; escape closes the list, and then empties the box.
type finder struct {
	app.Compo

	Session *room.Session
	Desk    *desk.Desk
	Serial  int

	typed  string // what the box holds; the page never writes over it while it is being typed
	found  []towns.Town
	spot   *spot         // the position that was typed, if it is one
	fault  *coords.Error // why it is none, if it was meant as one
	meant  bool          // digits were typed: it was meant as one
	tried  bool          // enter was pressed or the box was left with it
	marked int           // place in the list of choices, -1 for none
	wrong  string        // worded: why the last choice was not taken
	after  string        // worded: what is to be known about the last choice
	chosen spot          // where the plan was put by it

	near     towns.Town // the town nearest to the position that was chosen
	nearKm   float64
	nearBy   bool
	locating string // how the question for the device's position stands: end of a catalogue key
}

type spot struct{ lat, lon qty.Degree }

// Ids of the box and of what goes with it.
const (
	findID = "sky-find"
	listID = "sky-found"
)

// mostTowns is how many towns are shown.
const mostTowns = 8

func optionID(i int) string { return listID + "-" + strconv.Itoa(i) }

// choices is how many rows the list has: the position first, then towns.
func (n *finder) choices() int {
	if n.spot != nil {
		return 1 + len(n.found)
	}
	return len(n.found)
}

func (n *finder) Render() app.UI {
	if n.chosen != n.stands() {
		n.after, n.nearBy = "", false // said of a place that the plan has left since
	}
	open := n.choices() > 0
	fault := n.faultText()
	box := app.Input().ID(findID).Type("text").Role("combobox").AutoComplete(false).Spellcheck(false).
		Attr("enterkeyhint", "done").Attr("autocapitalize", "words").
		Aria("autocomplete", "list").Aria("expanded", open).Aria("controls", listID).
		Aria("describedby", findID+"-fault "+findID+"-help").Aria("invalid", fault != "").
		OnInput(n.onInput).OnChange(n.onChange).OnFocus(n.onFocus).OnKeyDown(n.onKey)
	if n.marked >= 0 && n.marked < n.choices() { // only what is there can be the active one
		box = box.Aria("activedescendant", optionID(n.marked))
	}
	return app.Div().ID("sky-finder").Body(
		app.Div().Class("field finder").Attr("data-bad", fault != "").Body(
			app.Label().Class("label").For(findID).Text(words.T("place.find")),
			box,
			n.list(),
			line("fault", findID+"-fault", fault),
			line("help", findID+"-said", n.said()),
			line("help", findID+"-help", words.T("place.find_help")),
		),
		n.here(),
		line("reading", "sky-placed", placed(n.Desk.Plan())),
		line("help", "sky-after", n.after),
		n.nearest(),
	)
}

// line is one that a screen reader hears when it changes.
func line(class, id, text string) app.UI {
	return app.P().ID(id).Class(class).Aria("live", "polite").Text(text)
}

// button is a small one.
func button(id, text string, do app.EventHandler) app.HTMLButton {
	return app.Button().ID(id).Class("small").Type("button").Text(text).OnClick(do)
}

// list is what can be chosen. It is in the page all the time: the box refers
// to it.
func (n *finder) list() app.UI {
	rows := make([]app.UI, n.choices())
	for i := range rows {
		first, second := "", ""
		if t, ok := n.townAt(i); ok {
			first, second = called(t), liesIn(t)
		} else {
			first = words.T("place.use", words.Position(n.spot.lat, n.spot.lon))
		}
		rows[i] = app.Li().ID(optionID(i)).Role("option").Aria("selected", i == n.marked).
			OnMouseDown(keepFocus).OnClick(func(ctx app.Context, e app.Event) { n.choose(ctx, i) }, i).
			Body(app.Span().Class("found-name").Text(first), app.Span().Class("found-where").Text(second))
	}
	return app.Div().Body(
		app.Ul().ID(listID).Class("found-list").Role("listbox").Aria("label", words.T("place.list")).Hidden(len(rows) == 0).Body(rows...),
		app.P().ID("sky-credit").Class("help").Hidden(len(n.found) == 0).Text(words.T("place.credit")),
	)
}

// townAt is the town of a row of the list; a position comes before them.
func (n *finder) townAt(i int) (towns.Town, bool) {
	if n.spot != nil {
		i--
	}
	if i < 0 {
		return towns.Town{}, false
	}
	return n.found[i], true
}

// called is the name of a town, with the one by which it was found.
func called(t towns.Town) string {
	if t.Local == "" {
		return t.Name
	}
	return words.T("place.other", t.Name, t.Local)
}

// liesIn says where a town lies and how high.
func liesIn(t towns.Town) string {
	where := countryName(t.Country)
	if t.Admin != "" && t.Admin != t.Name {
		where = words.T("place.in", t.Admin, where)
	}
	if t.Height {
		where = words.T("place.height", where, words.Amount(float64(t.Altitude), 0, "m"))
	}
	return where
}

// keepFocus leaves the keyboard with the box while the list is tapped.
func keepFocus(ctx app.Context, e app.Event) { e.PreventDefault() }

// faultText words what is wrong with the box. While a position is being typed
// it is only unfinished; that it is outside of the globe does not go away by
// typing on.
func (n *finder) faultText() string {
	if n.wrong != "" {
		return n.wrong
	}
	if n.fault != nil && n.meant && len(n.found) == 0 && (n.tried || n.fault.Kind == coords.OutOfRange) {
		return words.CoordsFault(n.fault)
	}
	return ""
}

// said tells how the search stands.
func (n *finder) said() string {
	switch {
	case n.typed == "" || n.spot != nil && len(n.found) == 0:
		return ""
	case shipped.opening:
		return words.T("place.loading")
	case shipped.failed:
		return words.T("place.no_list")
	case len(n.found) > 0:
		return words.T("place.found", len(n.found))
	case n.meant:
		return ""
	}
	return words.T("place.none")
}

func (n *finder) onFocus(ctx app.Context, e app.Event) { shipped.open(ctx, n.search) }

func (n *finder) onInput(ctx app.Context, e app.Event) {
	n.typed = ctx.JSSrc().Get("value").String()
	n.tried, n.wrong = false, ""
	if n.locating != "asking" {
		n.locating = ""
	}
	n.search()
	shipped.open(ctx, n.search)
}

func (n *finder) onChange(ctx app.Context, e app.Event) { n.tried = true }

// search finds what was typed.
func (n *finder) search() {
	n.marked, n.spot, n.fault, n.found = -1, nil, nil, nil
	n.meant = false
	for _, r := range n.typed {
		n.meant = n.meant || unicode.IsDigit(r)
	}
	lat, lon, err := coords.Parse(n.typed)
	if err == nil {
		n.spot = &spot{lat, lon}
	} else {
		errors.As(err, &n.fault)
	}
	if shipped.list != nil {
		n.found = shipped.list.Search(n.typed, mostTowns)
	}
}

func (n *finder) onKey(ctx app.Context, e app.Event) {
	last := n.choices() - 1
	switch e.Get("key").String() {
	case "ArrowDown":
		n.mark(ctx, min(n.marked+1, last))
	case "ArrowUp":
		n.mark(ctx, max(n.marked-1, -1))
	case "Enter":
		if e.Get("isComposing").Truthy() {
			return // the keyboard's own list of characters
		}
		n.tried = true
		if last >= 0 {
			n.choose(ctx, max(n.marked, 0))
		}
	case "Escape":
		if last < 0 {
			n.empty()
		}
		n.found, n.spot, n.fault, n.marked, n.wrong = nil, nil, nil, -1, ""
	default:
		return
	}
	e.PreventDefault()
}

// mark moves the mark, and what is marked into view.
func (n *finder) mark(ctx app.Context, i int) {
	n.marked = i
	ctx.Defer(func(app.Context) {
		if e := app.Window().GetElementByID(optionID(i)); e.Truthy() {
			e.Call("scrollIntoView", map[string]any{"block": "nearest"})
		}
	})
}

// choose takes a row of the list.
func (n *finder) choose(ctx app.Context, i int) {
	if i >= n.choices() {
		return
	}
	t, town := n.townAt(i)
	if !town {
		lat, lon := float64(n.spot.lat), float64(n.spot.lon)
		n.take(ctx, func(p *plan.Plan) { standAt(p, lat, lon, math.NaN()) }, func() {
			n.after = words.T("place.old_height")
			n.lookAround(ctx, lat, lon)
		})
		return
	}
	known := true
	n.take(ctx, func(p *plan.Plan) { known = moveTo(p, t) }, func() {
		if !t.Height {
			n.after = words.T("place.no_height")
		}
		if !known {
			n.after += " " + words.T("place.no_clock", zoneName(t.Zone))
		}
	})
}

// take puts the plan there, if it goes there.
func (n *finder) take(ctx app.Context, edit func(*plan.Plan), then func()) {
	n.forget()
	if faults := settle(n.Desk, edit); faults != nil {
		n.wrong = words.T("place.refused", words.FaultLine(faults[0]))
		return
	}
	n.locating = ""
	n.empty()
	n.search()
	n.chosen = n.stands()
	then()
}

// stands is where the plan is.
func (n *finder) stands() spot {
	k := n.Desk.Plan().Sky
	return spot{qty.Degree(k.LatitudeDeg), qty.Degree(k.LongitudeDeg)}
}

// empty clears the box. Its text is no attribute of it: a page that is drawn a
// moment late would take letters back.
func (n *finder) empty() {
	n.typed = ""
	if e := app.Window().GetElementByID(findID); e.Truthy() {
		e.Set("value", "")
	}
}

// forget drops what was said about the choice before.
func (n *finder) forget() { n.after, n.wrong, n.nearBy = "", "", false }

// lookAround finds the town nearest to a position, from which its altitude and
// clock may be taken.
func (n *finder) lookAround(ctx app.Context, lat, lon float64) {
	shipped.open(ctx, func() {
		if shipped.list != nil {
			n.near, n.nearKm = shipped.list.Nearest(qty.Degree(lat), qty.Degree(lon))
			n.nearBy = true
		}
	})
}

// nearest offers the altitude and the clock of the nearest town. They are not
// taken unasked: a mountain may stand beside it, or a border between.
func (n *finder) nearest() app.UI {
	if !n.nearBy {
		return widget.Nothing()
	}
	far := words.T("place.near", n.near.Name, words.Distance(n.nearKm), liesIn(n.near))
	return app.Div().ID("sky-near").Class("field").Body(
		line("help", "sky-near-said", far),
		line("help", "sky-near-credit", words.T("place.credit")),
		button("sky-near-take", words.T("place.take_near"), n.onNear),
	)
}

func (n *finder) onNear(ctx app.Context, e app.Event) {
	t := n.near
	known := true
	faults := n.Desk.Change(func(p *plan.Plan) {
		lat, lon := p.Sky.LatitudeDeg, p.Sky.LongitudeDeg
		standAt(p, lat, lon, heightOf(t))
		known = room.SetZone(p, t.Zone) == nil
	})
	n.forget()
	switch {
	case faults != nil:
		n.wrong = words.T("place.refused", words.FaultLine(faults[0]))
	case !known:
		n.after = words.T("place.no_clock", zoneName(t.Zone))
	}
}
