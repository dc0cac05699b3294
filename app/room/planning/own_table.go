package planning

import (
	"math"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room/desk"
	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/plan"
)

// A table of one's own: a row is a charge and the volts at rest there. The
// ends stand for empty and full, so that only their volts can be typed, and
// they stay when rows go.

const (
	ownAt  = batteryAt + "/own"
	restAt = ownAt + "/rest"
)

// ownFold is the table with what belongs to it, for a battery of that kind.
func (s *sheet) ownFold(f form) app.UI {
	b := f.d.Plan().Case.Battery
	if b.Own == nil {
		return widget.Nothing()
	}
	return s.finer("own", words.OwnTable(b), func() []app.UI {
		return []app.UI{
			app.P().ID("own-help").Class("help").Text(words.T("own.help")),
			s.ownTable(f, b.Own.Rest),
			s.undo(restAt),
			f.fault(restAt),
			app.Div().Class("row adding").Body(
				app.Button().ID("own-add").Class("small strong").Type("button").Disabled(len(b.Own.Rest) >= plan.MaxRest).
					Text(words.T("own.add")).OnClick(s.onAddRow)),
			f.amount(ownAt + "/coulombic_pct"),
			f.amount(ownAt + "/accept_h"),
			f.amount(ownAt + "/hysteresis_mV"),
			f.amount(ownAt + "/cycles_to_80"),
			f.toggle(ownAt+"/lithium", ""),
			app.Button().ID("own-marks").Class("small").Type("button").Text(words.T("own.marks")).OnClick(s.onOwnMarks),
			app.P().ID("own-said").Class("fault").Aria("live", "polite").Text(s.ownSaid),
		}
	})
}

func (s *sheet) ownTable(f form, rest []plan.OwnPoint) app.UI {
	rows := make([]app.UI, len(rest))
	for i := range rest {
		rows[i] = s.ownRow(f, i, len(rest))
	}
	return app.Div().Class("own-table").Body(
		app.Div().Class("own-head").Aria("hidden", true).Body(
			app.Span().Text(words.T("own.charge")), app.Span().Text(words.T("own.volts"))),
		app.Ul().ID(widget.ID(restAt)).Class("own-rows").Body(rows...),
	)
}

func (s *sheet) ownRow(f form, i, n int) app.UI {
	at := entryAt(restAt, i)
	charge := at + "/charge_pct"
	cell := func(pointer, key string) app.UI {
		return &widget.Amount{Host: f.d, Pointer: pointer, Label: words.T(key, i+1), HelpAt: "own-help", Bare: true,
			Text: f.d.Text(pointer), Fault: f.d.Fault(pointer)}
	}
	end := i == 0 || i == n-1
	var first, last app.UI
	if text := f.d.Text(charge); end && f.d.Fault(charge) == "" {
		if v, ok := words.Number(text); ok {
			text = words.Plain(v, "%")
		}
		first = app.Span().ID(widget.ID(charge)).Class("own-end").Text(text)
	} else {
		first = cell(charge, "own.charge_in")
	}
	if last = widget.Nothing(); !end {
		last = app.Button().ID(widget.ID(at)+"-remove").Class("icon").Type("button").
			Aria("label", words.T("own.remove", i+1)).Text("×").OnClick(s.removeRow(i), i)
	}
	return app.Li().ID(widget.ID(at)+"-row").Class("own-row").TabIndex(-1).Body(first, cell(at+"/volts", "own.volts_in"), last)
}

// onOwnMarks sets alarm, cut-off and what charges by the table.
func (s *sheet) onOwnMarks(ctx app.Context, e app.Event) { s.setOwnMarks() }

func (s *sheet) setOwnMarks() {
	s.ownSaid = ""
	if _, ok := s.Desk.Plan().Case.Battery.UsualMarks(); !ok {
		s.ownSaid = words.T("own.no_marks")
	} else if faults := s.Desk.Change(desk.UsualMarks); faults != nil {
		s.ownSaid = words.FaultLine(faults[0])
	}
}

// onAddRow puts a row into the middle of the widest gap, on the line that is
// there so far: it changes nothing until it is typed over.
func (s *sheet) onAddRow(ctx app.Context, e app.Event) {
	if i, faults := s.addRow(); faults == nil && i > 0 {
		s.focus(ctx, widget.ID(entryAt(restAt, i))+"-charge_pct")
	}
}

func (s *sheet) addRow() (int, plan.Faults) {
	o := s.Desk.Plan().Case.Battery.Own
	if o == nil || len(o.Rest) < 2 {
		return 0, nil
	}
	i := 1
	for k := 2; k < len(o.Rest); k++ {
		if o.Rest[k].ChargePct-o.Rest[k-1].ChargePct > o.Rest[i].ChargePct-o.Rest[i-1].ChargePct {
			i = k
		}
	}
	a, b := o.Rest[i-1], o.Rest[i]
	return i, s.Desk.Insert(restAt, i, plan.OwnPoint{ChargePct: middle(a.ChargePct, b.ChargePct), Volts: middle(a.Volts, b.Volts)})
}

// middle is the middle of two figures, to the thousandth if that lies between
// them.
func middle(a, b float64) float64 {
	m := (a + b) / 2
	if r := math.Round(1000*m) / 1000; r > a && r < b {
		return r
	}
	return m
}

func (s *sheet) removeRow(i int) app.EventHandler {
	return func(ctx app.Context, e app.Event) {
		if s.Desk.Remove(restAt, i) == nil {
			s.focus(ctx, widget.ID(restAt)+"-undo")
		}
	}
}
