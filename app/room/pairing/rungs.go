package pairing

import (
	"math"
	"reflect"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/draw"
	"duskline/app/room"
	"duskline/app/words"
	"duskline/calc/outlook"
	core "duskline/calc/pairing"
	"duskline/calc/qty"
)

// The ladders: generic sizes, and panels of one's own. Each rung is a button;
// its reasons unfold under it.

// generic is the ladder of sizes, the smallest at its foot.
func (v view) generic() app.UI {
	rungs := make([]app.UI, 0, len(v.l.Rungs))
	for i := len(v.l.Rungs) - 1; i >= 0; i-- {
		rungs = append(rungs, v.step(genericKey, i))
	}
	return v.ladder(genericKey, "sizes", "pairing.ladder", words.T("pairing.ladder_help"), rungs,
		v.fold("sizes-numbers", "show_numbers.ladder", room.Table("table-sizes", v.table(v.l.Rungs, false, "table.ladder"), v.r.tables["sizes-numbers"])))
}

// owned is the ladder of the plan's own panels.
func (v view) owned() app.UI {
	if len(v.l.Owned) == 0 {
		return app.Section().ID("yours").Aria("labelledby", "yours-title").Body(
			app.H2().ID("yours-title").Text(words.T("pairing.owned_ladder")),
			app.P().Class("help").Text(words.T("pairing.owned_none")))
	}
	shown := v.shownOwned()
	rungs, rows := make([]app.UI, len(shown)), make([]core.Rung, len(shown))
	for n, i := range shown {
		rungs[n], rows[n] = v.step(ownedKey, i), v.l.Owned[i]
	}
	help := words.T("pairing.owned_help")
	if !v.l.OwnedWhole {
		help += " " + words.T("pairing.owned_part")
	}
	return v.ladder(ownedKey, "yours", "pairing.owned_ladder", help, rungs,
		v.further("yours-more", len(v.l.Owned)-len(shown)),
		v.fold("yours-numbers", "show_numbers.ladder", room.Table("table-yours", v.table(rows, true, "table.owned_ladder"), v.r.tables["yours-numbers"])))
}

// ladder is one ladder on the page. Where there is room the reasons of a rung
// stand beside it, else under the rung.
func (v view) ladder(of, id, title, help string, rungs []app.UI, below ...app.UI) app.UI {
	pic := v.scale()
	signs, beside := nothing(), nothing()
	if of == genericKey {
		signs = v.signs()
	}
	if v.r.wide {
		beside = app.Div().Class("beside").Body(app.P().Class("help").Text(words.T("pairing.tap")))
		if r, owned, ok := v.rung(v.open()); ok && owned == (of == ownedKey) {
			beside = app.Div().Class("beside").Body(v.reasons(v.open(), r, owned))
		}
	}
	return app.Section().ID(id).Class("ladder").Aria("labelledby", id+"-title").Body(
		app.H2().ID(id+"-title").Text(words.T(title)),
		app.P().Class("help").Text(help),
		signs,
		app.Div().Class("ladder-row").Body(
			app.Div().Class("ladder-itself").Body(append([]app.UI{
				app.Raw(pic.Head()),
				app.Ul().ID(id + "-rungs").Class("rungs").Body(rungs...),
				app.Raw(pic.Foot()),
			}, below...)...),
			beside,
		),
	)
}

// Sixteen kinds of panels make some 250 joinings: drawing them all at once would
// hold the page. They come some at a time, the plan as it stands and what I
// would pack among the first.
const (
	fewRungs  = 12
	fewMixes  = 6
	moreSteps = 24
)

// shownOwned lists the places of the owned rungs in view.
func (v view) shownOwned() (list []int) {
	most := fewRungs + moreSteps*v.r.more["yours-more"]
	for i := range v.l.Owned {
		if i < most {
			list = append(list, i)
		} else if i == v.l.OwnedPack || v.r.open == key(ownedKey, i) {
			list = append(list, i)
		}
	}
	return list
}

// further is the button for the next ones of a long list.
func (v view) further(id string, left int) app.UI {
	if left <= 0 {
		return nothing()
	}
	return app.Div().Class("row").Body(
		app.Button().ID(id).Class("small").Type("button").Text(words.T("pairing.more", min(left, moreSteps), left)).
			OnClick(func(ctx app.Context, e app.Event) { v.r.more[id]++ }, id))
}

// signs says what the bolts of the rungs mean.
func (v view) signs() app.UI {
	list := make([]app.UI, 0, 4)
	for _, s := range []struct {
		key  string
		rung draw.Rung
	}{
		{"pairing.key_holds", draw.Rung{Verdict: outlook.Holds}},
		{"pairing.key_tight", draw.Rung{Verdict: outlook.Tight}},
		{"pairing.key_short", draw.Rung{Verdict: outlook.RunsOut}},
		{"pairing.key_danger", draw.Rung{Danger: true}},
	} {
		list = append(list, app.Li().Body(app.Raw(draw.RungSign(s.rung)), app.Span().Text(words.T(s.key))))
	}
	return app.Ul().Class("ladder-key").Body(list...)
}

// used is what the plan uses a day: the most of all rungs, since a plan that
// runs out uses less than it asks for.
func (v view) used() (used qty.WattHour) {
	for _, list := range [][]core.Rung{v.l.Rungs, v.l.Owned} {
		for _, r := range list {
			used = max(used, qty.WattHour(r.DrawWh))
		}
	}
	return used
}

// scale is what all rungs have in common.
func (v view) scale() draw.Ladder {
	var most float64
	for _, list := range [][]core.Rung{v.l.Rungs, v.l.Owned} {
		for _, r := range list {
			most = max(most, r.HarvestWh)
		}
	}
	return draw.Ladder{Used: v.used(), Most: qty.WattHour(most), Frame: draw.Frame{ID: "r", Width: v.ladderWidth(), Height: draw.RungHeight}}
}

// ladderWidth is how wide a ladder stands: on a desk in the left half.
func (v view) ladderWidth() float64 {
	if v.r.wide {
		return min((v.r.inner()-ladderGap)/2, ladderMost)
	}
	return min(v.r.inner(), ladderMost)
}

const (
	ladderMost = 704 // web/css has the same, as 44rem
	ladderGap  = 32  // web/css has the same, as 2rem
)

// drawn is a rung as the picture takes it.
func (v view) drawn(r *core.Rung, of string, i int) draw.Rung {
	d := draw.Rung{
		Name: words.RungName(*r, false), Brings: qty.WattHour(r.HarvestWh), Left: qty.WattHour(r.ClippedWh + r.SpilledWh + r.PWMLossWh),
		Verdict: outlook.Verdict(r.Verdict), Danger: r.Fit == core.Danger,
	}
	mark := func(at int, word string) {
		if at == i {
			d.Marks = append(d.Marks, words.T(word))
		}
	}
	if of == ownedKey {
		d.Name, d.How = words.PanelNames(r.Panels), words.JoinedHow(r.Panels)
		if len(v.l.Owned) > 1 {
			mark(v.l.OwnedPack, "pairing.mark_pack")
		}
		if r.AsIs {
			mark(i, "pairing.mark_now")
		}
		return d
	}
	mark(v.l.Least, "pairing.mark_least")
	mark(v.l.Pack, "pairing.mark_pack")
	mark(v.l.Most, "pairing.mark_most")
	return d
}

// step is one rung on the page.
func (v view) step(of string, i int) app.UI {
	k := key(of, i)
	r, owned, _ := v.rung(k)
	open := v.open() == k
	d := v.drawn(r, of, i)
	pic := v.scale()
	if d.How != "" {
		pic.Frame.Height = draw.TallRungHeight
	}
	says := words.RungSays(*r, owned, v.used())
	for _, m := range d.Marks {
		says += " " + words.T("pairing.marked", m)
	}
	body := []app.UI{
		app.Button().ID("rung-"+k).Class("rung-button").Type("button").Aria("expanded", open).Aria("controls", "reasons-"+k).
			Aria("label", says).
			OnClick(func(ctx app.Context, e app.Event) {
				if v.open() == k {
					v.r.turnTo("")
				} else {
					v.r.turnTo(k)
				}
			}, k).Body(app.Raw(pic.Rung(d))),
	}
	if open && !v.r.wide {
		body = append(body, v.reasons(k, r, owned))
	}
	return app.Li().Class("rung").Attr("data-open", open).Body(body...)
}

// reasons is what a rung is made of, and the button that takes it.
func (v view) reasons(k string, r *core.Rung, owned bool) app.UI {
	says, used := "pairing.enough", v.used()
	switch {
	case r.HarvestWh >= 0.995*float64(used):
	case outlook.Verdict(r.Verdict) == outlook.RunsOut:
		says = "pairing.lacking"
	default:
		says = "pairing.carried"
	}
	title := words.T("pairing.rung_title", words.RungName(*r, owned), words.RungVerdict(*r))
	body := []app.UI{
		app.H3().ID("title-" + k).Class("rung-title").Text(title),
		app.P().Text(words.T(says, words.Energy(qty.WattHour(r.HarvestWh)), words.Energy(used))),
		v.list(r),
		v.facts(r),
		v.use(k, r, owned),
	}
	return app.Div().ID("reasons-"+k).Class("reasons").Role("region").Aria("labelledby", "title-"+k).Body(body...)
}

func (v view) list(r *core.Rung) app.UI {
	items := make([]app.UI, 0, len(r.Reasons)+1)
	for _, x := range r.Reasons {
		signal, says := words.PairingReason(x)
		item := app.Li().DataSet("code", string(x.Code))
		if g := words.FitGrade(x.Fit); g != "" {
			item = item.DataSet("grade", g).Body(app.Strong().Class("signal").Text(signal), app.Text(" "+says))
		} else {
			item = item.Text(says)
		}
		items = append(items, item)
	}
	if r.Fit == core.Fits {
		items = append(items, app.Li().Text(words.T("pairing.no_reasons")))
	}
	return app.Ul().Class("reasons-list").Body(items...)
}

// facts are the figures of a rung. What is nothing is left out.
func (v view) facts(r *core.Rung) app.UI {
	var list []app.UI
	put := func(key, value string) {
		list = append(list, app.Div().Body(app.Dt().Text(words.T("pairing_fact."+key)), app.Dd().Text(value)))
	}
	energy := func(key string, wh float64) {
		if wh >= 0.5 {
			put(key, words.Energy(qty.WattHour(wh)))
		}
	}
	put("lowest", words.Amount(r.LowestPct, 0, "%"))
	put("back", words.DaysOf(r.BackDays, v.l.Days))
	empty := words.Refilled(r.FromEmpty, v.l.HorizonH)
	if r.FromEmpty.Ok && r.FullSunH > 0 {
		empty = words.T("pairing.full_sun", empty, words.Amount(r.FullSunH, 1, "h"))
	}
	put("empty", empty)
	list = append(list, app.Div().Body(app.Dt().Text(words.T("pairing_fact.now", words.Amount(v.p.Trip.StartChargePct, 0, "%"))),
		app.Dd().Text(words.Refilled(r.FromNow, v.l.HorizonH))))
	put("cold", words.T("pairing.limit", words.Volts(qty.Volt(r.ColdV)), words.Volts(qty.Volt(r.LimitV))))
	put("amps", words.T("pairing.limit", words.Amps(qty.Ampere(r.RatingA)), words.Amps(qty.Ampere(r.LimitA))))
	put("work", words.T("pairing.needs", words.Volts(qty.Volt(r.WorkV)), words.Volts(qty.Volt(r.NeedV))))
	switch {
	case r.Fuse && r.FuseA > 0:
		put("fuse", words.Plain(r.FuseA, "A"))
	case r.Fuse:
		put("fuse", words.T("pairing.fuse_unknown"))
	default:
		put("fuse", words.T("pairing.no_fuse"))
	}
	if math.Abs(r.MismatchW) >= 0.5 {
		put("mismatch", words.Watts(qty.Watt(r.MismatchW)))
	}
	energy("pwm", r.PWMLossWh)
	energy("clipped", r.ClippedWh)
	energy("spilled", r.SpilledWh)
	return app.Dl().Class("facts").Body(list...)
}

// use takes the rung's panels into the plan. Those that must not be connected
// are taken only by who says that this is known.
func (v view) use(k string, r *core.Rung, owned bool) app.UI {
	have := v.s.Desk.Plan().Panels
	if reflect.DeepEqual(v.named(r).List, have.List) && (have.Joined == r.Panels.Joined || len(have.List) == 1 && have.List[0].Count == 1) {
		return app.P().ID("in-plan").Class("help").Text(words.T("pairing.in_plan"))
	}
	text, body := words.T("pairing.use"), []app.UI{}
	danger := r.Fit == core.Danger
	if danger {
		text = words.T("pairing.use_danger")
		body = append(body, app.Label().Class("check").For("know-danger").Body(
			app.Input().ID("know-danger").Type("checkbox").Checked(v.r.know).
				OnChange(func(ctx app.Context, e app.Event) { v.r.know = ctx.JSSrc().Get("checked").Bool() }, k),
			app.Span().Text(words.T("pairing.know"))))
	}
	body = append(body,
		app.Div().Class("row").Body(
			app.Button().ID("use-"+k).Class("small strong").Type("button").Disabled(danger && !v.r.know || !v.fresh).Text(text).
				OnClick(func(ctx app.Context, e app.Event) { v.take(k) }, k)),
		app.P().ID("use-fault").Class("fault").Aria("live", "polite").Text(v.r.refused),
	)
	return app.Div().Body(body...)
}
