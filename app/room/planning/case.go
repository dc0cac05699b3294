package planning

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/notice"
	"duskline/calc/plan"
)

// caseFields is the Case from the battery outwards.
func (s *sheet) caseFields(f form) []app.UI {
	return []app.UI{
		f.text("/case/name"),
		f.choice("/case/stands"),
		caution("case"),
		group(words.T("group.battery"), s.batteryFields(f)...),
		group(words.T("group.controller"), s.controllerFields(f)...),
		group(words.T("group.wall_charger"), s.wallFields(f)...),
		group(words.T("group.vehicle_charger"), s.vehicleFields(f)...),
		group(words.T("group.inverter"), s.inverterFields(f)...),
		group(words.T("group.outlets"),
			f.choice("/case/switch"),
			&idling{Desk: f.d, Version: f.d.Version()},
			f.amount("/case/dc_outlet/standby_A"),
			f.amount("/case/dc_outlet/efficiency_pct"),
			f.amount("/case/usb_outlet/standby_A"),
			f.amount("/case/usb_outlet/efficiency_pct"),
			f.amount("/case/meters/standby_A"),
		),
	}
}

func (s *sheet) controllerFields(f form) []app.UI {
	c := f.d.Plan().Case.Controller
	return []app.UI{
		f.choice("/case/controller/kind"),
		f.amount("/case/controller/limit_A"),
		f.amount("/case/controller/efficiency_pct"),
		f.amount("/case/controller/input_max_V"),
		f.amount("/case/controller/standby_A"),
		s.finer("controller", words.ControllerFiner(c), func() []app.UI {
			fields := []app.UI{f.amount("/case/controller/start_V")}
			if c.Kind == plan.MPPT || c.EfficiencyLowPct != nil {
				fields = append(fields, s.way(lowLightAt, "way_on.low_light", c.EfficiencyLowPct != nil))
			}
			if s.on(lowLightAt, c.EfficiencyLowPct != nil) {
				fields = append(fields, f.amount("/case/controller/efficiency_low_pct"))
			}
			fields = append(fields, s.way(nightAt, "way_on.night", c.NightA != nil))
			if s.on(nightAt, c.NightA != nil) {
				fields = append(fields, f.amount("/case/controller/night_A"))
			}
			return fields
		}),
	}
}

func (s *sheet) wallFields(f form) []app.UI {
	return []app.UI{
		f.amount("/case/wall_charger/current_A"),
		f.amount("/case/wall_charger/efficiency_pct"),
		s.finer("wall", words.Mains(f.d.Plan().Case.WallCharger), func() []app.UI {
			return []app.UI{
				f.amount("/case/wall_charger/input_min_V"),
				f.amount("/case/wall_charger/input_max_V"),
			}
		}),
		said(f.d, notice.WallTooHigh, notice.WallTooLow),
	}
}

// vehicleFields is the charger for a vehicle's socket, or the way to one.
func (s *sheet) vehicleFields(f form) []app.UI {
	if f.d.Plan().Case.Vehicle == nil {
		return []app.UI{s.turnVehicle("add", true)}
	}
	return []app.UI{
		f.amount("/case/vehicle_charger/current_A"),
		f.amount("/case/vehicle_charger/efficiency_pct"),
		f.amount("/case/vehicle_charger/socket_A"),
		said(f.d, notice.SocketFuse),
		s.turnVehicle("remove", false),
		caution("vehicle"),
		caution("engine"),
	}
}

// turnVehicle is the button that puts the charger in or takes it out.
func (s *sheet) turnVehicle(what string, on bool) app.UI {
	return app.Div().Class("row adding").Body(
		app.Button().ID("vehicle-"+what).Class("small").Type("button").Text(words.T("vehicle."+what)).
			OnClick(func(ctx app.Context, e app.Event) {
				if s.Desk.Change(ways(vehicleAt, on)) == nil && on {
					s.focus(ctx, widget.ID("/case/vehicle_charger/current_A"))
				} else {
					s.focus(ctx, "vehicle-add")
				}
			}, what))
}

func (s *sheet) inverterFields(f form) []app.UI {
	v := f.d.Plan().Case.Inverter
	return []app.UI{
		caution("mains"),
		f.amount("/case/inverter/rated_W"),
		f.amount("/case/inverter/surge_W"),
		f.choice("/case/inverter/wave"),
		waveSaid(v),
		f.amount("/case/inverter/standby_A"),
		f.amount("/case/inverter/efficiency_pct"),
		f.amount("/case/inverter/output_V"),
		s.finer("inverter", words.InverterFiner(v), func() []app.UI { return s.inverterFiner(f) }),
		f.hours("/case/inverter_hours", false),
		said(f.d, notice.InverterLow),
	}
}

func (s *sheet) inverterFiner(f form) []app.UI {
	v := f.d.Plan().Case.Inverter
	fields := []app.UI{f.amount("/case/inverter/surge_s")}
	if v.Wave == plan.ModifiedSine {
		fields = append(fields, f.amount("/case/inverter/pulse_deg"))
	}
	fields = append(fields, s.way(halfAt, "way_on.half", v.EfficiencyHalfPct != nil))
	if s.on(halfAt, v.EfficiencyHalfPct != nil) {
		fields = append(fields, f.amount("/case/inverter/efficiency_half_pct"))
	}
	fields = append(fields, s.way(sleepAt, "way_on.sleep", v.SleepA != nil))
	if s.on(sleepAt, v.SleepA != nil) {
		fields = append(fields, f.amount("/case/inverter/sleep_A"), f.amount("/case/inverter/wake_W"))
	}
	fields = append(fields, s.way(ownCutAt, "way_on.own_cutoff", v.LowCutoffV > 0))
	if s.on(ownCutAt, v.LowCutoffV > 0) {
		fields = append(fields, f.amount("/case/inverter/low_cutoff_V"), f.amount("/case/inverter/low_reconnect_V"))
	}
	return fields
}

// waveSaid says what a modified sine is, in figures.
func waveSaid(v plan.Inverter) app.UI {
	if v.RatedW == 0 || v.Wave != plan.ModifiedSine {
		return widget.Nothing()
	}
	return app.P().ID("wave-said").Class("reading").Text(words.StepWave(v))
}
