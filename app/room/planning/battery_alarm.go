package planning

import (
	"math"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/draw"
	"duskline/app/room"
	"duskline/app/words"
	"duskline/calc/care"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// alarmCard is what the alarm means as it is set, and how to set it.
func (c *batteryCare) alarmCard() app.UI {
	a, p := c.alarms, c.plan
	body := []app.UI{}
	for _, line := range words.AlarmSays(&a.Set, c.usual(), p) {
		body = append(body, reading(line))
	}
	body = append(body, c.advice()...)
	return card("alarm", "alarmset.title", append(body, c.used(),
		app.P().ID("alarm-refused").Class("fault").Aria("live", "polite").Text(c.refused),
		c.compare(),
	)...)
}

// usual is the plan's usual draw in words, as the tide gauge has it.
func (c *batteryCare) usual() string {
	for i := range c.tide.Lines {
		if l := &c.tide.Lines[i]; l.Kind == care.AtUsual {
			return words.Watts(qty.Watt(math.Abs(float64(l.Watts))))
		}
	}
	return words.Watts(c.alarms.Usual.Watts)
}

// advice is the setting to choose, and why.
func (c *batteryCare) advice() []app.UI {
	a := c.alarms
	best := &a.Candidates[min(max(a.Chosen, 0), len(a.Candidates)-1)]
	volts := float64(best.Volts)
	at, same, fair := words.Plain(volts, "V"), words.SameVolts(best.Volts, a.Set.Volts), !a.Set.Early && !a.Set.Late
	lead := words.T("alarmset.choice", at)
	switch {
	case fair && same:
		lead = words.T("alarmset.fair_choice")
	case fair:
		lead = words.T("alarmset.fair", at)
	case same:
		lead = words.T("alarmset.best")
	}
	list := []app.UI{app.Strong().Text(lead)}
	for i := range a.Why {
		list = append(list, app.Text(" "+words.AlarmWhy(&a.Why[i], c.plan)))
	}
	out := []app.UI{app.P().ID("alarm-advice").Class("reading").Body(list...)}
	if !same {
		class := "small strong"
		if a.Fits {
			class = "small"
		}
		out = append(out, app.Div().Class("row").Body(
			app.Button().ID("alarm-use").Class(class).Type("button").Text(words.T("alarmset.use", at)).
				OnClick(func(app.Context, app.Event) { c.useAlarm(volts) }, "alarm-use", volts)))
	}
	return append(out, app.P().Class("help").Text(words.T("alarmset.bounds")))
}

// used says what was set from here, with the way back.
func (c *batteryCare) used() app.UI {
	if c.was == 0 || c.Desk.Plan().Case.Battery.AlarmV != c.set {
		return app.Div().ID("alarm-used").Role("status")
	}
	return app.Div().ID("alarm-used").Class("undo").Role("status").Body(
		app.P().Text(words.T("alarmset.used", words.Plain(c.set, "V"), words.Plain(c.was, "V"))),
		app.Button().ID("alarm-undo").Class("small strong").Type("button").Text(words.T("frame.undo")).OnClick(c.onUndo, "alarm-undo"),
	)
}

// useAlarm sets the alarm of the plan.
func (c *batteryCare) useAlarm(volts float64) {
	was := c.Desk.Plan().Case.Battery.AlarmV
	c.refused = ""
	c.Desk.Drop(alarmAt) // what waits in its field is not wanted any more
	if faults := c.Desk.Change(func(p *plan.Plan) { p.Case.Battery.AlarmV = volts }); faults != nil {
		c.refused = words.T("alarmset.refused", words.FaultLine(faults[0]))
		return
	}
	c.was, c.set = was, volts
}

// alarmAt is the place of the alarm in the plan.
const alarmAt = "/case/battery/alarm_V"

func (c *batteryCare) onUndo(ctx app.Context, e app.Event) {
	was := c.was
	if c.Desk.Change(func(p *plan.Plan) { p.Case.Battery.AlarmV = was }) == nil {
		c.was, c.set = 0, 0
	}
}

// compare is the table of all settings: there for a screen reader at once,
// with a button in each row when it is unfolded.
func (c *batteryCare) compare() app.UI {
	const id = "alarm-all"
	open := c.unfurl[id]
	text, class := words.T("alarmset.compare"), "numbers unseen"
	if open {
		text, class = words.T("numbers.hide"), "numbers"
	}
	t := alarmTable(c.alarms)
	inside := room.Table("table-alarms", t, false)
	if open {
		inside = c.choices(t)
	}
	return app.Div().Body(
		app.Button().ID(id+"-fold").Class("small").Type("button").Aria("expanded", open).Aria("controls", id).
			Text(text).OnClick(func(app.Context, app.Event) { c.turnOver(id) }, id),
		app.Div().ID(id).Class(class).Body(inside))
}

// alarmTable is every setting in figures.
func alarmTable(a *care.Alarms) draw.Table {
	t := draw.Table{Caption: words.T("table.alarms")}
	for _, name := range []string{"alarm_at", "at_rest", "at_usual", "at_largest", "in_cold", "to_cutoff"} {
		t.Head = append(t.Head, words.T("column."+name))
	}
	for i := range a.Candidates {
		k := &a.Candidates[i]
		t.Rows = append(t.Rows, []string{words.AlarmName(k, i == a.Chosen, a.Set.Volts),
			words.AlarmReading(&k.Rest), words.AlarmReading(&k.Usual), words.AlarmReading(&k.Largest), words.AlarmReading(&k.Cold), words.AlarmTime(&k.Usual)})
	}
	return t
}

// choices is the same table with a button in each row.
func (c *batteryCare) choices(t draw.Table) app.UI {
	head, rows := make([]app.UI, len(t.Head)), make([]app.UI, len(t.Rows))
	for i, h := range t.Head {
		head[i] = app.Th().Scope("col").Text(h)
	}
	for i, r := range t.Rows {
		k := &c.alarms.Candidates[i]
		volts := float64(k.Volts)
		at, marks := words.Plain(volts, "V"), words.AlarmMarks(k, i == c.alarms.Chosen, c.alarms.Set.Volts)
		cells := []app.UI{app.Th().Scope("row").Body(
			app.Button().Class("small").Type("button").Aria("label", words.T("alarmset.use", at)).Text(at).
				OnClick(func(app.Context, app.Event) { c.useAlarm(volts) }, volts),
			app.Span().Class("alarm-marks").Text(marks),
		)}
		for _, cell := range r[1:] {
			cells = append(cells, app.Td().Text(cell))
		}
		rows[i] = app.Tr().DataSet("chosen", i == c.alarms.Chosen).Body(cells...)
	}
	return app.Div().Class("table alarms").Role("region").Aria("label", t.Caption).TabIndex(0).Body(
		app.Table().ID("table-alarms").Body(
			app.Caption().Text(t.Caption),
			app.THead().Body(app.Tr().Body(head...)),
			app.TBody().Body(rows...),
		))
}

// afterSaid is how long there is.
func (c *batteryCare) afterSaid() string {
	if c.alarms.FromEndless {
		return words.T("after_alarm.saved")
	}
	return words.T("after_alarm.said", words.Minutes(c.alarms.FromMinutes, false))
}

// afterAlarm is what to do from the alarm to the cut-off, in order.
func (c *batteryCare) afterAlarm() []app.UI {
	a := c.alarms
	said := words.T("after_alarm.nothing", words.Minutes(a.FromMinutes, false))
	switch {
	case a.FromEndless:
		said = words.T("after_alarm.endless")
	case a.FromMinutes < 1:
		said = words.T("after_alarm.now")
	}
	if len(a.Do) == 0 {
		return []app.UI{reading(said), reading(words.T("after_alarm.none"))}
	}
	most := 1.0
	for i := range a.Do {
		most = max(most, a.Do[i].Minutes)
		if a.Do[i].Code == care.DoCharge && i < len(a.Do)-1 {
			said += " " + words.T("after_alarm.order")
		}
	}
	items := make([]app.UI, len(a.Do))
	for i := range a.Do {
		d := &a.Do[i]
		share := d.Minutes / most
		if d.Endless {
			share = 1
		}
		step := []app.UI{
			app.Span().Class("do-step-number").Aria("hidden", "true").Text(words.Amount(float64(i+1), 0, "")),
			app.Span().Class("do-step-name").Text(words.Action(d, c.plan)),
		}
		if gain := words.ActionGain(d); gain != "" {
			step = append(step, app.Span().Class("do-step-gain").Text(gain), app.Div().Class("do-step-bar").Body(app.Raw(draw.Gain(share))))
		}
		items[i] = app.Li().Class("do-step").DataSet("code", string(d.Code)).Body(step...)
	}
	return []app.UI{reading(said), app.Ul().ID("steps").Class("do-steps").Role("list").Body(items...)}
}
