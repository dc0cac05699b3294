package planning

import (
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/notice"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

const gearAt = "/gear"

// gearFields is the list of devices, one of them open at most.
func (s *sheet) gearFields(f form) []app.UI {
	gear := f.d.Plan().Gear
	items := make([]app.UI, len(gear))
	for i := range gear {
		items[i] = s.device(f, i)
	}
	return []app.UI{
		app.Ul().ID("gear-list").Class("entries").Body(items...),
		s.undo(gearAt),
		f.fault(gearAt),
		s.adding(),
		caution("life"),
	}
}

// device is one row, and its fields when it is open.
func (s *sheet) device(f form, i int) app.UI {
	d := &f.d.Plan().Gear[i]
	at := entryAt(gearAt, i)
	open := s.rowOpen(gearAt, i)
	body := []app.UI{
		app.Button().ID(widget.ID(at)+"-row").Class("entry-button").Type("button").Aria("expanded", open).
			OnClick(s.turnRow(gearAt, i), gearAt, i).Body(
			app.Span().Class("entry-name").Text(words.Device(*f.d.Plan(), i)),
			app.Span().Class("entry-day").Text(deviceDay(f.d.Outlook(), i)),
			app.Span().Class("entry-how").Text(how(d)),
			app.Span().Class("entry-unit").Text(words.T("gear.a_day")),
			widget.DayBar(d.Hours),
		),
	}
	if open {
		body = append(body, app.Div().Class("entry-fields").Body(s.deviceFields(f, at, i, d)...))
	}
	return app.Li().ID(widget.ID(at)).Class("entry").Attr("data-open", open).Body(body...)
}

// how says how a device draws: "4 W · USB · 20:00–06:00".
func how(d *plan.Device) string {
	var draw string
	switch {
	case d.RefillWh != nil:
		draw = words.T("gear.refill", words.Energy(qty.WattHour(*d.RefillWh)), words.Plain(d.RefillsPerDay, ""))
	case d.CurrentA != nil:
		draw = words.Plain(*d.CurrentA, "A")
	case d.PowerW != nil:
		draw = words.Plain(*d.PowerW, "W")
	}
	parts := []string{draw, words.Route(d.Route)}
	switch {
	case d.DutyAtC != nil:
		parts = append(parts, words.T("gear.duty_at", words.Plain(d.DutyPct, "%"), words.Plain(*d.DutyAtC, "°C")))
	case d.DutyPct != 100:
		parts = append(parts, words.T("gear.duty", words.Plain(d.DutyPct, "%")))
	}
	if d.DutyAtC == nil || len(d.Hours) != 1 || d.Hours[0] != (plan.Window{FromH: 0, ToH: 24}) {
		parts = append(parts, words.Windows(d.Hours))
	}
	return strings.Join(parts, " · ")
}

// deviceNotices are what may be the matter with one device.
var deviceNotices = []notice.Code{notice.NoPower, notice.InverterTrips, notice.InverterVA, notice.InverterAsleep, notice.SurgeTooLong,
	notice.WaveMotor, notice.WaveHum, notice.WaveClock, notice.WaveCharger, notice.WaveMedical, notice.WaveAudio}

func (s *sheet) deviceFields(f form, at string, i int, d *plan.Device) []app.UI {
	fields := []app.UI{
		f.text(at + "/name"),
		f.amount(at + "/count"),
		f.choice(at + "/route"),
		f.choiceOf(at+"/draw", words.T("gear.draw"), []widget.Option{
			{Value: "power_W", Name: words.T("gear.draw_watts")},
			{Value: "current_A", Name: words.T("gear.draw_amps")},
			{Value: "refill_Wh", Name: words.T("gear.draw_refill")},
		}),
	}
	switch {
	case d.RefillWh != nil:
		fields = append(fields, f.amount(at+"/refill_Wh"), f.amount(at+"/refills_per_day"), f.amount(at+"/refill_efficiency_pct"))
	case d.CurrentA != nil:
		fields = append(fields, f.amount(at+"/current_A"))
	default:
		fields = append(fields, f.amount(at+"/power_W"))
	}
	fields = append(fields, f.hours(at+"/hours", true))
	if d.RefillWh == nil {
		fields = append(fields, f.amount(at+"/duty_pct"), f.toggle(at+"/cooler", words.T("gear.cooler")))
		if d.DutyAtC != nil {
			fields = append(fields, f.amount(at+"/duty_at_C"), f.amount(at+"/inside_C"))
		}
	}
	fields = append(fields, f.amount(at+"/surge_W"))
	rough := d.Route == plan.RouteAC && f.d.Plan().Case.Inverter.Wave == plan.ModifiedSine
	if rough {
		fields = append(fields, f.choice(at+"/sensitivity"))
	}
	fields = append(fields, saidOf(f.d, i, deviceNotices...))
	if d.Route == plan.RouteAC || d.SurgeW > 0 || d.SurgeS > 0 {
		fields = append(fields, s.finer("device", words.DeviceFiner(*d), func() []app.UI {
			var finer []app.UI
			if d.Route == plan.RouteAC {
				finer = append(finer, f.amount(at+"/power_factor"))
				if !rough {
					finer = append(finer, f.choice(at+"/sensitivity"))
				}
			}
			if d.SurgeW > 0 || d.SurgeS > 0 {
				finer = append(finer, f.amount(at+"/surge_s"))
			}
			return finer
		}))
	}
	fields = append(fields,
		f.toggle(at+"/life_support", ""),
		s.entryButtons(gearAt, at, len(s.Desk.Plan().Gear)),
	)
	return fields
}

// adding offers common kinds of devices, and an empty one.
func (s *sheet) adding() app.UI {
	open := s.Session.Folds["gear-add"]
	body := []app.UI{
		app.Button().ID("gear-add").Class("small strong").Type("button").Aria("expanded", open).
			Text(words.T("gear.add")).OnClick(s.turn("gear-add")),
	}
	if open {
		buttons := make([]app.UI, 0, len(kinds))
		for _, k := range kinds {
			buttons = append(buttons, app.Button().ID("add-"+k.key).Class("small").Type("button").
				Text(words.T("kind."+k.key)).OnClick(s.add(k), k.key))
		}
		body = append(body,
			app.P().Class("help").Text(words.T("gear.kinds")),
			app.Div().ID("gear-kinds").Class("row").Body(buttons...))
	}
	return app.Div().Class("adding").Body(body...)
}

func (s *sheet) add(k kind) app.EventHandler {
	return func(ctx app.Context, e app.Event) {
		n := len(s.Desk.Plan().Gear)
		if s.Desk.Insert(gearAt, n, k.device(words.T("kind."+k.key))) == nil {
			s.Session.Folds["gear-add"] = false
			s.Session.Rows[gearAt] = n
			s.focus(ctx, widget.ID(entryAt(gearAt, n))+"-name")
		}
	}
}

func entryAt(list string, i int) string { return list + "/" + strconv.Itoa(i) }
