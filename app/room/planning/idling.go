package planning

import (
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/draw"
	"duskline/app/room/desk"
	"duskline/app/words"
	"duskline/calc/outlook"
)

// idling is what each position of the main switch feeds, and what it costs
// with nothing plugged in: the chosen one in a sentence, all of them in a
// table.
type idling struct {
	app.Compo

	Desk    *desk.Desk
	Version int

	open bool
}

func (t *idling) Render() app.UI {
	p := t.Desk.Plan()
	list, err := outlook.Idle(*p)
	if err != nil {
		return app.Div() // of a plan that was checked there is none
	}
	table := draw.Table{
		Caption: words.T("table.idle"),
		Head:    []string{words.Column("position"), words.Column("an_hour"), words.Column("a_night"), words.Column("a_day"), words.Column("empties")},
	}
	now := ""
	for _, o := range list {
		table.Rows = append(table.Rows, []string{words.T("idle.row", words.Switch(o.Switch), live(o)), words.Energy(o.AnHour), words.Energy(o.ANight), words.Energy(o.ADay), empties(o)})
		if o.Switch == p.Case.Switch {
			now = idleSaid(o)
		}
	}
	return app.Div().ID("idling").Class("idling").Body(
		app.P().ID("idle-said").Class("reading").Text(now),
		beside("idle-numbers", "idle", t.open, t.onTurn, tableAs{"table-idle", table}),
	)
}

func (t *idling) onTurn(ctx app.Context, e app.Event) { t.open = !t.open }

// live lists what a position feeds.
func live(o outlook.Position) string {
	var parts []string
	for _, x := range []struct {
		on  bool
		key string
	}{{o.DC, "idle.dc"}, {o.USB, "idle.usb"}, {o.AC && !o.Asleep, "idle.ac"}, {o.AC && o.Asleep, "idle.asleep"}} {
		if x.on {
			parts = append(parts, words.T(x.key))
		}
	}
	if parts == nil {
		return words.T("idle.nothing") // AC only, and no inverter
	}
	return strings.Join(parts, ", ")
}

// longHours is the longest time that is told to the hour: a battery's own
// ageing counts before that.
const longHours = 365 * 24

// empties is how long a full battery bears a position.
func empties(o outlook.Position) string {
	switch {
	case o.Endless:
		return words.T("idle.never")
	case o.Hours > longHours:
		return words.T("figure.more_than", words.Duration(longHours*time.Hour))
	}
	return words.Duration(time.Duration(o.Hours * float64(time.Hour)).Round(time.Hour))
}

func idleSaid(o outlook.Position) string {
	if o.Endless {
		return words.T("idle.free", live(o))
	}
	return words.T("idle.said", live(o), words.Energy(o.AnHour), words.Energy(o.ADay), words.Percent(o.Share), empties(o))
}
