package pairing

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/draw"
	"duskline/app/room"
	"duskline/app/words"
	"duskline/calc/notice"
	core "duskline/calc/pairing"
	"duskline/calc/qty"
)

const (
	cautionOfPanels = notice.Warning
	cautionOfEngine = notice.Danger
)

// refill is the table of how long a refill takes.
func (v view) refill() app.UI {
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
	return app.Section().ID("refill").Aria("labelledby", "refill-title").Body(
		app.H2().ID("refill-title").Text(words.T("pairing.refill")),
		app.P().Class("help").Text(words.T("pairing.refill_help")),
		app.Div().Class("refill-table").Body(room.Table("table-refill", t, true)),
		app.P().ID("refill-absent").Class("help").Text(missing),
	)
}

// engine is the caution of exhaust, where an engine refills.
func (v view) engine() app.UI {
	for _, r := range v.l.Refill {
		if r.There && (r.Source == core.Vehicle || r.Source == core.Generator) {
			return room.Caution("engine", cautionOfEngine)
		}
	}
	return nothing()
}

// mixes tells what becomes of unlike panels.
func (v view) mixes() app.UI {
	if len(v.l.Mixes) == 0 {
		return nothing()
	}
	body := []app.UI{
		app.H2().ID("mixes-title").Text(words.T("pairing.mixes")),
		app.P().Class("help").Text(words.T("pairing.mixes_help")),
	}
	shown := min(fewMixes+moreSteps*v.r.more["mixes-more"], len(v.l.Mixes))
	for _, m := range v.l.Mixes[:shown] {
		lines := []app.UI{
			app.P().Text(words.MixSays(m, *v.p)),
			app.P().Body(app.Strong().Text(words.PairingAdvice(m))),
		}
		if m.EndToEnd.Fit == core.Danger {
			lines = append(lines, app.P().Body(app.Strong().Class("signal").Text(words.T("signal.danger")),
				app.Text(" "+words.T("pairing.mix_danger", words.Volts(qty.Volt(m.EndToEnd.ColdV)), words.Volts(qty.Volt(v.p.Case.Controller.InputMaxV))))))
		}
		if m.SideBySide.Fit == core.Danger {
			lines = append(lines, app.P().Body(app.Strong().Class("signal").Text(words.T("signal.danger")), app.Text(" "+words.T("pairing.mix_danger_side"))))
		}
		body = append(body, app.Div().Class("mix").DataSet("advice", string(m.Advice)).Body(lines...))
	}
	body = append(body, v.further("mixes-more", len(v.l.Mixes)-shown), app.P().Class("help").Text(words.T("pairing_advice_more.practice")))
	return app.Section().ID("mixes").Aria("labelledby", "mixes-title").Body(body...)
}

// table is a ladder in figures.
func (v view) table(list []core.Rung, owned bool, caption string) draw.Table {
	t := draw.Table{
		Caption: words.T(caption),
		Head: []string{words.T("column.panels"), words.T("column.verdict"), words.T("column.brings"),
			words.T("column.left"), words.T("column.put_back"), words.T("column.from_empty")},
	}
	for _, r := range list {
		t.Rows = append(t.Rows, []string{words.RungName(r, owned), words.RungVerdict(r),
			words.Energy(qty.WattHour(r.HarvestWh)),
			words.Energy(qty.WattHour(r.ClippedWh + r.SpilledWh + r.PWMLossWh)),
			words.DaysOf(r.BackDays, v.l.Days), words.Refilled(r.FromEmpty, v.l.HorizonH)})
	}
	return t
}
