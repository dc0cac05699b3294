package planning

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/plan"
)

// caseFields is the Case from the battery outwards.
func (s *sheet) caseFields(f form) []app.UI {
	c := f.d.Plan().Case
	battery := []app.UI{
		f.choice("/case/battery/chemistry"),
		s.marksMoved(),
		f.amount("/case/battery/capacity_Ah"),
		f.amount("/case/battery/resistance_mohm"),
		f.amount("/case/battery/charge_V"),
		f.amount("/case/battery/alarm_V"),
		f.amount("/case/battery/alarm_delay_s"),
		f.amount("/case/battery/cutoff_V"),
		f.amount("/case/battery/cutoff_delay_s"),
		f.amount("/case/battery/reconnect_V"),
		f.amount("/case/battery/reconnect_delay_s"),
		caution("battery"),
	}
	if c.Battery.Chemistry == plan.AGM {
		battery = append(battery, caution("hydrogen"))
	} else {
		battery = append(battery, caution("freezing"))
	}
	return []app.UI{
		f.text("/case/name"),
		caution("case"),
		group(words.T("group.battery"), battery...),
		group(words.T("group.controller"),
			f.choice("/case/controller/kind"),
			f.amount("/case/controller/limit_A"),
			f.amount("/case/controller/efficiency_pct"),
			f.amount("/case/controller/input_max_V"),
			f.amount("/case/controller/standby_A"),
		),
		group(words.T("group.wall_charger"),
			f.amount("/case/wall_charger/current_A"),
			f.amount("/case/wall_charger/efficiency_pct"),
		),
		group(words.T("group.inverter"),
			caution("mains"),
			f.amount("/case/inverter/rated_W"),
			f.amount("/case/inverter/surge_W"),
			f.choice("/case/inverter/wave"),
			f.amount("/case/inverter/standby_A"),
			f.amount("/case/inverter/efficiency_pct"),
			f.amount("/case/inverter/output_V"),
			f.hours("/case/inverter_hours", false),
		),
		group(words.T("group.outlets"),
			f.choice("/case/switch"),
			f.amount("/case/dc_outlet/standby_A"),
			f.amount("/case/dc_outlet/efficiency_pct"),
			f.amount("/case/usb_outlet/standby_A"),
			f.amount("/case/usb_outlet/efficiency_pct"),
			f.amount("/case/meters/standby_A"),
		),
	}
}

// marksMoved says that the marks went with the kind of battery, and where to.
func (s *sheet) marksMoved() app.UI {
	if !s.Desk.MarksMoved() {
		return widget.Nothing()
	}
	b := s.Desk.Plan().Case.Battery
	v := func(volts float64) string { return words.Plain(volts, "V") }
	return app.Div().ID("marks-moved").Class("undo").Role("status").Body(
		app.P().Text(words.T("battery.marks_moved", words.Chemistry(b.Chemistry), v(b.ChargeV), v(b.AlarmV), v(b.CutoffV), v(b.ReconnectV))),
		app.Button().ID("marks-undo").Class("small strong").Type("button").Text(words.T("frame.undo")).OnClick(s.onUndoBattery),
	)
}

func (s *sheet) onUndoBattery(ctx app.Context, e app.Event) {
	if s.Desk.UndoBattery() == nil {
		s.focus(ctx, widget.ID("/case/battery/chemistry")+"-"+string(s.Desk.Plan().Case.Battery.Chemistry))
	}
}
