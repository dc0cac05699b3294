package pairing

import (
	"math"
	"strconv"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/outlook"
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
func (v *view) rung(k string) (r *core.Rung, owned, ok bool) {
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

func (v *view) picks() app.UI {
	least := "pairing.least_why"
	if v.l.Least == 0 {
		least = "pairing.least_first_why"
	}
	most := "pairing.most_why"
	if next := v.l.Most + 1; next == len(v.l.Rungs) {
		most = "pairing.most_last_why"
	} else if v.l.Rungs[next].Fit.Bars() {
		most = "pairing.most_next_why"
	}
	pack := "pairing.pack_why"
	if r, _, ok := v.rung(key(genericKey, v.l.Pack)); ok && 2*r.BackDays <= v.l.Days {
		pack = "pairing.pack_least_why"
	}
	nearest, noLeast := v.nearest()
	noPack := noLeast
	if nearest >= 0 {
		noPack = words.T("pairing.near_pack", words.RungName(&v.l.Rungs[nearest], false))
	}
	list := []app.UI{
		v.pick("least", key(genericKey, v.l.Least), words.T(least), "pairing.no_least", noLeast, nearest),
		v.pick("most", key(genericKey, v.l.Most), words.T(most), "pairing.no_least", v.noneBrings(), -1),
		v.pick("pack", key(genericKey, v.l.Pack), words.T(pack), "pairing.no_pack", noPack, nearest),
	}
	if i := v.l.OwnedPack; i >= 0 && i < len(v.l.Owned) && len(v.l.Owned) > 1 {
		o := &v.l.Owned[i]
		why := "pairing.owned_pack_why"
		switch outlook.Verdict(o.Verdict) {
		case outlook.Tight:
			why = "pairing.owned_tight_why"
		case outlook.RunsOut:
			why = "pairing.owned_short_why"
		}
		list = append(list, v.pick("owned_pack", key(ownedKey, i),
			words.T(why, words.Amount(o.LowestPct, 0, "%"), words.DaysOf(o.BackDays, v.l.Days)), "", "", -1))
	}
	return app.Section().ID("picks").Class("picks").Aria("label", words.T("pairing.picks")).Body(list...)
}

// nearest is the place of the size that comes nearest to holding where none
// does, and what it lacks; -1 where none can be connected or charges.
func (v *view) nearest() (at int, says string) {
	at = -1
	if v.l.Least >= 0 {
		return at, ""
	}
	var best *core.Rung
	for i := range v.l.Rungs {
		r := &v.l.Rungs[i]
		if r.Fit.Bars() || !(r.HarvestWh > 0) {
			continue
		}
		if best == nil || nearer(r, best) {
			at, best = i, r
		}
	}
	if best == nil {
		return at, v.noneBrings()
	}
	name, lowest := words.RungName(best, false), words.Amount(best.LowestPct, 0, "%")
	reserve := v.p.Trip.ReservePct
	switch tight := outlook.Verdict(best.Verdict) != outlook.RunsOut; {
	case tight && best.LowestPct < reserve:
		says = words.T("pairing.near_reserve", name, lowest, words.Amount(reserve, 0, "%"))
	case tight:
		says = words.T("pairing.near_gear", name, lowest)
	case best.HarvestWh < float64(v.used()):
		says = words.T("pairing.near_short", name, energy(best.HarvestWh), words.Energy(v.used()))
	default:
		says = words.T("pairing.near_late", name, energy(best.HarvestWh))
	}
	return at, says + " " + words.T("pairing.near_help")
}

// nearer says whether r comes nearer to holding than a smaller s: by its
// verdict, its lowest charge, and what it brings. Where the charge runs out its
// lowest says nothing: that is the Case's cut-off. A hair is no reason for a
// larger one.
func nearer(r, s *core.Rung) bool {
	switch {
	case r.Verdict != s.Verdict:
		return r.Verdict < s.Verdict
	case outlook.Verdict(r.Verdict) != outlook.RunsOut && math.Abs(r.LowestPct-s.LowestPct) > 0.5:
		return r.LowestPct > s.LowestPct
	}
	return r.HarvestWh > 1.01*s.HarvestWh
}

// noneBrings says why no size brings anything.
func (v *view) noneBrings() string {
	why := "pairing.none_fits"
	for i := range v.l.Rungs {
		switch r := &v.l.Rungs[i]; {
		case r.Fit.Bars():
		case r.Charges:
			return words.T("pairing.no_most_why")
		default:
			why = "pairing.none_charges"
		}
	}
	return words.T(why)
}

// pick is one answer: a button to its rung. Where there is none it says so, a
// key, and why; if one comes near, the button leads to that.
func (v *view) pick(name, k, why, none, noWhy string, near int) app.UI {
	class := "pick-size long"
	rung, owned, ok := v.rung(k)
	size := ""
	if ok {
		size = words.RungName(rung, owned)
	} else {
		size, why = words.T(none), noWhy
		k = key(genericKey, near)
		_, _, ok = v.rung(k)
	}
	if rung != nil && !owned {
		class = "pick-size"
	}
	body := []app.UI{span("pick-name", words.T("pairing."+name)), span("pick-go", ""), span(class, size), span("pick-why", why)}
	if !ok {
		return div("pick-"+name, "pick", body...)
	}
	return tap("pick-"+name, "pick", "", func(ctx app.Context) { v.r.lead(ctx, k) }, k).DataSet("to", k).DataSet("none", rung == nil).Body(body...)
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
func (v *view) open() string {
	if v.r.wide && v.r.open == "" && !v.r.touched && v.l.Pack >= 0 {
		return key(genericKey, v.l.Pack)
	}
	return v.r.open
}

// fold is a table that a button unfolds.
func (v *view) fold(id, show string, inside app.UI) app.UI {
	return numbers(id, show, v.r.tables[id], func() { v.r.tables[id] = !v.r.tables[id] }, inside)
}

var nothing = widget.Nothing
