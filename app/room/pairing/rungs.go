package pairing

import (
	"reflect"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/draw"
	"duskline/app/room"
	"duskline/app/words"
	"duskline/calc/outlook"
	core "duskline/calc/pairing"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// The ladders: generic sizes, and panels of one's own. Each rung is a button;
// its reasons unfold under it.

// generic is the ladder of sizes, the smallest at its foot.
func (v *view) generic() app.UI {
	rungs := make([]app.UI, 0, len(v.l.Rungs))
	for i := len(v.l.Rungs) - 1; i >= 0; i-- {
		rungs = append(rungs, v.step(genericKey, i))
	}
	return v.ladder(genericKey, "sizes", "pairing.ladder", words.T("pairing.ladder_help"), rungs, nothing(), v.l.Rungs)
}

// owned is the ladder of the plan's own panels.
func (v *view) owned() app.UI {
	if len(v.l.Owned) == 0 {
		return section("yours", "pairing.owned_ladder", help(words.T("pairing.owned_none")))
	}
	shown := v.shownOwned()
	rungs, rows := make([]app.UI, len(shown)), make([]core.Rung, len(shown))
	for n, i := range shown {
		rungs[n], rows[n] = v.step(ownedKey, i), v.l.Owned[i]
	}
	says := words.T("pairing.owned_help")
	if !v.l.OwnedWhole {
		says += " " + words.T("pairing.owned_part")
	}
	return v.ladder(ownedKey, "yours", "pairing.owned_ladder", says, rungs, v.further("yours-more", len(v.l.Owned)-len(shown)), rows)
}

// ladder is one ladder on the page. Where there is room the reasons of a rung
// stand beside it, else under the rung.
func (v *view) ladder(of, id, title, says string, rungs []app.UI, more app.UI, rows []core.Rung) app.UI {
	pic := v.scale()
	signs, beside := nothing(), nothing()
	if of == genericKey {
		signs = signsOfRungs()
	}
	if v.r.wide {
		beside = div("", "beside", help(words.T("pairing.tap")))
		if r, owned, ok := v.rung(v.open()); ok && owned == (of == ownedKey) {
			beside = div("", "beside", v.reasons(v.open(), r, owned))
		}
	}
	numbers := id + "-numbers"
	return section(id, title,
		help(says),
		signs,
		div("", "ladder-row",
			div("", "ladder-itself",
				app.Raw(pic.Head()),
				app.Ul().ID(id+"-rungs").Class("rungs").Body(rungs...),
				app.Raw(pic.Foot()),
				more,
				v.fold(numbers, "show_numbers.ladder", room.Table("table-"+id, v.table(rows, of == ownedKey, "table."+title[len("pairing."):]), v.r.tables[numbers])),
			),
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
func (v *view) shownOwned() (list []int) {
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
func (v *view) further(id string, left int) app.UI {
	if left <= 0 {
		return nothing()
	}
	return div("", "row", tap(id, "small", words.T("pairing.more", min(left, moreSteps), left), func(app.Context) { v.r.more[id]++ }))
}

// signsOfRungs says what the bolts of the rungs mean.
func signsOfRungs() app.UI {
	list := make([]app.UI, 4)
	for i, r := range []draw.Rung{{Verdict: outlook.Holds}, {Verdict: outlook.Tight}, {Verdict: outlook.RunsOut}, {Danger: true}} {
		says := words.T("pairing.danger")
		if !r.Danger {
			says = words.T("pairing_key." + r.Verdict.String())
		}
		list[i] = app.Li().Body(app.Raw(draw.RungSign(r)), span("", says))
	}
	return app.Ul().Class("ladder-key").Body(list...)
}

// used is what the plan uses a day: the most of all rungs, since a plan that
// runs out uses less than it asks for.
func (v *view) used() (used qty.WattHour) {
	for _, list := range [][]core.Rung{v.l.Rungs, v.l.Owned} {
		for i := range list {
			used = max(used, qty.WattHour(list[i].DrawWh))
		}
	}
	return used
}

// scale is what all rungs have in common.
func (v *view) scale() draw.Ladder {
	var most float64
	for _, list := range [][]core.Rung{v.l.Rungs, v.l.Owned} {
		for i := range list {
			most = max(most, list[i].HarvestWh)
		}
	}
	return draw.Ladder{Used: v.used(), Most: qty.WattHour(most), Frame: draw.Frame{ID: "r", Width: v.ladderWidth(), Height: draw.RungHeight}}
}

// ladderWidth is how wide a ladder stands: on a desk in the left half.
func (v *view) ladderWidth() float64 {
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
func (v *view) drawn(r *core.Rung, of string, i int) draw.Rung {
	d := draw.Rung{
		Name: words.RungName(r, false), Brings: qty.WattHour(r.HarvestWh), Left: qty.WattHour(r.ClippedWh + r.SpilledWh + r.PWMLossWh),
		Verdict: outlook.Verdict(r.Verdict), Danger: r.Fit.Bars(),
	}
	mark := func(at int, word string) {
		if at == i {
			d.Marks = append(d.Marks, words.T(word))
		}
	}
	if of == ownedKey {
		d.Name, d.How = words.PanelNames(r.Panels), words.JoinedHow(r.Panels)
		if len(v.l.Owned) > 1 && d.Verdict != outlook.RunsOut {
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
func (v *view) step(of string, i int) app.UI {
	k := key(of, i)
	r, owned, _ := v.rung(k)
	open := v.open() == k
	d := v.drawn(r, of, i)
	pic := v.scale()
	if d.How != "" {
		pic.Frame.Height = draw.TallRungHeight
	}
	says := words.RungSays(r, owned, v.used())
	for _, m := range d.Marks {
		says += " " + words.T("pairing.marked", m)
	}
	body := []app.UI{
		tap("rung-"+k, "rung-button", "", func(app.Context) {
			if v.r.now.open() == k {
				v.r.turnTo("")
			} else {
				v.r.turnTo(k)
			}
		}).Aria("expanded", open).Aria("controls", "reasons-"+k).Aria("label", says).Body(app.Raw(pic.Rung(d))),
	}
	if open && !v.r.wide {
		body = append(body, v.reasons(k, r, owned))
	}
	return app.Li().Class("rung").Attr("data-open", open).Body(body...)
}

// reasons is what a rung is made of, and the button that takes it.
func (v *view) reasons(k string, r *core.Rung, owned bool) app.UI {
	says, used := "pairing.enough", v.used()
	switch {
	case r.HarvestWh >= 0.995*float64(used):
	case outlook.Verdict(r.Verdict) == outlook.RunsOut:
		says = "pairing.lacking"
	default:
		says = "pairing.carried"
	}
	brings := nothing()
	if !r.Fit.Bars() { // what it would bring is no reason for it
		brings = para("", "", words.T(says, energy(r.HarvestWh), words.Energy(used)))
	}
	return app.Div().ID("reasons-"+k).Class("reasons").Role("region").Aria("labelledby", "title-"+k).Body(
		app.H3().ID("title-"+k).Class("rung-title").Text(words.T("pairing.rung_title", words.RungName(r, owned), words.RungVerdict(r))),
		brings,
		v.list(r),
		v.facts(r),
		v.use(k, r),
	)
}

func (v *view) list(r *core.Rung) app.UI {
	items := make([]app.UI, 0, len(r.Reasons)+1)
	put := func(code, grade string, body ...app.UI) {
		items = append(items, app.Li().DataSet("code", code).DataSet("grade", grade).Body(body...))
	}
	for i := range r.Reasons {
		x := &r.Reasons[i]
		word, says := words.PairingReason(x)
		if word == "" {
			put(string(x.Code), "", app.Text(says))
		} else {
			put(string(x.Code), string(x.Fit), signal(word, says)...)
		}
	}
	if r.Fit == core.Fits {
		put("", "", app.Text(words.T("pairing.no_reasons")))
	}
	return app.Ul().Class("reasons-list").Body(items...)
}

// Figures in words, each conversion once.
func energy(wh float64) string { return words.Energy(qty.WattHour(wh)) }
func volts(v float64) string   { return words.Volts(qty.Volt(v)) }
func amps(a float64) string    { return words.Amps(qty.Ampere(a)) }
func watts(w float64) string   { return words.Watts(qty.Watt(w)) }

// facts are the figures of a rung. What is nothing is left out.
func (v *view) facts(r *core.Rung) app.UI {
	fuse := words.T("pairing.no_fuse")
	if r.Fuse {
		if fuse = words.Plain(r.FuseA, "A"); r.FuseA <= 0 {
			fuse = words.T("pairing.fuse_unknown")
		}
	}
	empty := words.Refilled(r.FromEmpty, v.l.HorizonH)
	if r.FromEmpty.Ok && r.FullSunH > 0 {
		empty = words.T("pairing.full_sun", empty, words.Amount(r.FullSunH, 1, "h"))
	}
	limit := "pairing.limit"
	if v.p.Case.Controller.Kind == plan.MPPT { // it takes no more than it can, and comes to no harm
		limit = "pairing.held"
	}
	charge := words.Amount(v.p.Trip.StartChargePct, 0, "%")
	var list []app.UI
	for _, f := range []struct {
		key, value string
		shown      bool
	}{
		{"lowest", words.Amount(r.LowestPct, 0, "%"), true},
		{"back", words.DaysOf(r.BackDays, v.l.Days), true},
		{"empty", empty, true},
		{"now", words.Refilled(r.FromNow, v.l.HorizonH), true},
		{"cold", words.T("pairing.limit", volts(r.ColdV), volts(r.LimitV)), true},
		{"amps", words.T(limit, amps(r.RatingA), amps(r.LimitA)), true},
		{"work", words.T("pairing.needs", volts(r.WorkV), volts(r.NeedV)), true},
		{"fuse", fuse, true},
		{"mismatch", watts(r.MismatchW), r.MismatchW >= 0.5},
		{"pwm", energy(r.PWMLossWh), r.PWMLossWh >= 0.5},
		{"clipped", energy(r.ClippedWh), r.ClippedWh >= 0.5},
		{"spilled", energy(r.SpilledWh), r.SpilledWh >= 0.5},
	} {
		if f.shown {
			list = append(list, app.Div().Body(app.Dt().Text(words.T("pairing_fact."+f.key, charge)), app.Dd().Text(f.value)))
		}
	}
	return app.Dl().Class("facts").Body(list...)
}

// use takes the rung's panels into the plan. Those that must not be connected
// are taken only by who says that this is known.
func (v *view) use(k string, r *core.Rung) app.UI {
	have := v.s.Desk.Plan().Panels
	if reflect.DeepEqual(v.named(r).List, have.List) && (have.Joined == r.Panels.Joined || len(have.List) == 1 && have.List[0].Count == 1) {
		return para("in-plan", "help", words.T("pairing.in_plan"))
	}
	says, asks := "pairing.use", nothing()
	danger := r.Fit.Bars()
	if danger {
		says = "pairing.use_danger"
		asks = app.Label().Class("check").For("know-danger").Body(
			app.Input().ID("know-danger").Type("checkbox").Checked(v.r.know).
				OnChange(func(ctx app.Context, e app.Event) { v.r.know = ctx.JSSrc().Get("checked").Bool() }, k),
			span("", words.T("pairing.know")))
	}
	return div("", "use",
		asks,
		div("", "row", tap("use-"+k, "small strong", words.T(says), func(app.Context) { v.r.now.take(k) }).Disabled(danger && !v.r.know || !v.fresh)),
		app.P().ID("use-fault").Class("fault").Aria("live", "polite").Text(v.r.refused),
	)
}
