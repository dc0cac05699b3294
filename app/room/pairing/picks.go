package pairing

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/widget"
	"duskline/app/words"
	core "duskline/calc/pairing"
)

// The three answers, and with panels of one's own a fourth. Each leads to its
// rung.

// Starts of the keys of rungs: on the page and for what is open.
const (
	genericKey = "g"
	ownedKey   = "o"
)

func key(of string, i int) string { return of + strconv.Itoa(i) }

// rung returns the rung of a key.
func (v view) rung(k string) (r *core.Rung, owned, ok bool) {
	if len(k) < 2 {
		return nil, false, false
	}
	list := v.l.Rungs
	if owned = k[:1] == ownedKey; owned {
		list = v.l.Owned
	}
	i, err := strconv.Atoi(k[1:])
	if err != nil || i < 0 || i >= len(list) {
		return nil, false, false
	}
	return &list[i], owned, true
}

func (v view) picks() app.UI {
	least, leastWhy := words.T("pairing.least_why"), words.T("pairing.no_least_why")
	if v.l.Least == 0 {
		least = words.T("pairing.least_first_why")
	}
	most, mostWhy := words.T("pairing.most_why"), words.T("pairing.no_most_why")
	if next := v.l.Most + 1; next == len(v.l.Rungs) {
		most = words.T("pairing.most_last_why")
	} else if v.l.Rungs[next].Fit == core.Danger {
		most = words.T("pairing.most_next_why")
	}
	pack, packWhy := words.T("pairing.pack_why"), words.T("pairing.no_pack_why")
	if r, _, ok := v.rung(key(genericKey, v.l.Pack)); ok && 2*r.BackDays <= v.l.Days {
		pack = words.T("pairing.pack_least_why")
	}
	list := []app.UI{
		v.pick("least", genericKey, v.l.Least, least, leastWhy),
		v.pick("most", genericKey, v.l.Most, most, mostWhy),
		v.pick("pack", genericKey, v.l.Pack, pack, packWhy),
	}
	if i := v.l.OwnedPack; i >= 0 && i < len(v.l.Owned) && len(v.l.Owned) > 1 {
		o := v.l.Owned[i]
		why := words.T("pairing.owned_pack_why", words.Amount(o.LowestPct, 0, "%"), words.DaysOf(o.BackDays, v.l.Days))
		list = append(list, v.pick("owned_pack", ownedKey, i, why, ""))
	}
	return app.Section().ID("picks").Class("picks").Aria("label", words.T("pairing.picks")).Body(list...)
}

// pick is one answer: a button to its rung, or why there is none.
func (v view) pick(name, of string, i int, why, none string) app.UI {
	title := words.T("pairing." + name)
	k := key(of, i)
	rung, owned, ok := v.rung(k)
	if !ok {
		return app.Div().ID("pick-"+name).Class("pick").DataSet("pick", name).Body(
			app.Span().Class("pick-name").Text(title),
			app.Span().Class("pick-size long").Text(words.T("pairing.no_least")),
			app.Span().Class("pick-why").Text(none),
		)
	}
	class := "pick-size"
	if owned {
		class += " long"
	}
	return app.Button().ID("pick-"+name).Class("pick").DataSet("pick", name).Type("button").
		OnClick(func(ctx app.Context, e app.Event) { v.r.lead(ctx, k) }, k).Body(
		app.Span().Class("pick-name").Text(title),
		app.Span().Class("pick-go").Aria("hidden", "true").Text("→"),
		app.Span().Class(class).Text(words.RungName(*rung, owned)),
		app.Span().Class("pick-why").Text(why),
	)
}

// lead opens a rung and goes there.
func (r *Room) lead(ctx app.Context, k string) {
	r.turnTo(k)
	ctx.Dispatcher().Dispatch(app.Dispatch{Mode: app.Defer, Source: r, Function: func(app.Context) {
		if e := app.Window().GetElementByID("rung-" + k); e.Truthy() {
			e.Call("scrollIntoView", map[string]any{"block": "start"})
			e.Call("focus", map[string]any{"preventScroll": true})
		}
	}})
}

// turnTo shows the reasons of a rung, and no other's.
func (r *Room) turnTo(k string) { r.open, r.touched, r.know, r.refused = k, true, false, "" }

// open returns the rung whose reasons are shown. Where they have their own
// place beside the ladder, those of what I would pack are there from the start.
func (v view) open() string {
	if v.r.wide && v.r.open == "" && !v.r.touched && v.l.Pack >= 0 {
		return key(genericKey, v.l.Pack)
	}
	return v.r.open
}

// fold is a button with what it unfolds: there for a screen reader at once.
func (v view) fold(id, show string, inside ...app.UI) app.UI {
	open := v.r.tables[id]
	class, text := "numbers", words.T(show)
	if !open {
		class += " unseen"
	} else {
		text = words.T("numbers.hide")
	}
	return app.Div().Body(
		app.Button().ID(id+"-fold").Class("small").Type("button").Aria("expanded", open).Aria("controls", id).Text(text).
			OnClick(func(ctx app.Context, e app.Event) { v.r.tables[id] = !v.r.tables[id] }, id),
		app.Div().ID(id).Class(class).Body(inside...),
	)
}

var nothing = widget.Nothing
