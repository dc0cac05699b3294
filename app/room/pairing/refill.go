package pairing

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/draw"
	"duskline/app/room"
	"duskline/app/words"
	"duskline/calc/notice"
	core "duskline/calc/pairing"
)

const (
	cautionOfPanels = notice.Warning
	cautionOfEngine = notice.Danger
)

// refill is the table of how long a refill takes.
func (v *view) refill() app.UI {
	t := draw.Table{
		Caption: words.T("table.refill"),
		Head:    []string{words.T("column.from"), words.T("column.from_empty"), words.T("column.from_now", words.Amount(v.p.Trip.StartChargePct, 0, "%"))},
	}
	var absent []string
	for _, r := range v.l.Refill {
		if !r.There {
			absent = append(absent, words.RefillSource(r.Source))
			continue
		}
		t.Rows = append(t.Rows, []string{words.RefillSource(r.Source), words.Refilled(r.FromEmpty, v.l.HorizonH), words.Refilled(r.FromNow, v.l.HorizonH)})
	}
	missing := ""
	if len(absent) > 0 {
		missing = words.T("pairing.not_there", strings.Join(absent, ", "))
	}
	return section("refill", "pairing.refill",
		help(words.T("pairing.refill_help")),
		div("", "refill-table", room.Table("table-refill", t, true)),
		para("refill-absent", "help", missing),
	)
}

// engine is the caution of exhaust, where an engine refills.
func (v *view) engine() app.UI {
	for _, r := range v.l.Refill {
		if r.There && (r.Source == core.Vehicle || r.Source == core.Generator) {
			return room.Caution("engine", cautionOfEngine)
		}
	}
	return nothing()
}

// mixes tells what becomes of unlike panels.
func (v *view) mixes() app.UI {
	if len(v.l.Mixes) == 0 {
		return nothing()
	}
	body := []app.UI{help(words.T("pairing.mixes_help"))}
	shown := min(fewMixes+moreSteps*v.r.more["mixes-more"], len(v.l.Mixes))
	for i := range v.l.Mixes[:shown] {
		m := &v.l.Mixes[i]
		lines := []app.UI{
			para("", "", words.MixSays(m, v.p)),
			app.P().Body(app.Strong().Text(words.PairingAdvice(m))),
		}
		barred := func(f core.Fit, says string) {
			lines = append(lines, app.P().Body(signal(words.T("signal."+string(f)), says)...))
		}
		if m.EndToEnd.Fit == core.Danger {
			barred(m.EndToEnd.Fit, words.T("pairing.mix_danger", volts(m.EndToEnd.ColdV), volts(v.p.Case.Controller.InputMaxV)))
		}
		if m.EndToEnd.Fit == core.Warning {
			barred(m.EndToEnd.Fit, words.T("pairing.mix_danger_end"))
		}
		if m.SideBySide.Fit == core.Danger {
			barred(m.SideBySide.Fit, words.T("pairing.mix_side_volts", volts(m.SideBySide.ColdV), volts(v.p.Case.Controller.InputMaxV)))
		}
		if m.SideBySide.Fit == core.Warning {
			barred(m.SideBySide.Fit, words.T("pairing.mix_danger_side"))
		}
		body = append(body, app.Div().Class("mix").DataSet("advice", string(m.Advice)).Body(lines...))
	}
	body = append(body, v.further("mixes-more", len(v.l.Mixes)-shown), help(words.T("pairing_advice_more.practice")))
	return section("mixes", "pairing.mixes", body...)
}

// table is a ladder in figures.
func (v *view) table(list []core.Rung, owned bool, caption string) draw.Table {
	t := draw.Table{Caption: words.T(caption)}
	for _, name := range []string{"panels", "verdict", "brings", "left", "put_back", "from_empty"} {
		t.Head = append(t.Head, words.T("column."+name))
	}
	for i := range list {
		r := &list[i]
		t.Rows = append(t.Rows, []string{words.RungName(r, owned), words.RungVerdict(r), energy(r.HarvestWh),
			energy(r.ClippedWh + r.SpilledWh + r.PWMLossWh), words.DaysOf(r.BackDays, v.l.Days), words.Refilled(r.FromEmpty, v.l.HorizonH)})
	}
	return t
}
