package planning

import (
	"math"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/notice"
	"duskline/calc/plan"
	"duskline/calc/power"
)

// caseFields is the Case from the battery outwards.
func (s *sheet) caseFields(f form) []app.UI {
	return []app.UI{
		f.text("/case/name"),
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

func (s *sheet) batteryFields(f form) []app.UI {
	b := f.d.Plan().Case.Battery
	chemistry := "freezing"
	if b.Chemistry == plan.AGM {
		chemistry = "hydrogen"
	}
	fields := []app.UI{
		f.choice("/case/battery/chemistry"),
		s.marksMoved(),
		f.amount("/case/battery/capacity_Ah"),
		f.amount("/case/battery/resistance_mohm"),
		f.amount("/case/battery/charge_V"),
		s.finer("stages", words.Stages(b), func() []app.UI { return s.stageFields(f) }),
		f.amount("/case/battery/alarm_V"),
		f.amount("/case/battery/alarm_delay_s"),
		f.amount("/case/battery/cutoff_V"),
		f.amount("/case/battery/cutoff_delay_s"),
		f.amount("/case/battery/reconnect_V"),
		f.amount("/case/battery/reconnect_delay_s"),
	}
	fields = append(fields, s.batteryCards(f)...)
	return append(fields, caution("battery"), caution(chemistry))
}

// stageFields is what a charger does when it has brought the battery to its
// volts. It holds for every charger in the Case.
func (s *sheet) stageFields(f form) []app.UI {
	b := f.d.Plan().Case.Battery
	fields := []app.UI{f.choice("/case/battery/after_full")}
	if b.AfterFull != plan.AfterHold {
		fields = append(fields, f.amount("/case/battery/absorption_h"))
	}
	if b.AfterFull == plan.AfterFloat {
		fields = append(fields, f.amount("/case/battery/float_V"))
	}
	if b.AfterFull != plan.AfterHold {
		fields = append(fields, f.amount("/case/battery/resume_V"))
	}
	// Lithium's volts do not follow the heat.
	if b.Chemistry != plan.LiFePO4 || b.CompensationMVPerK != 0 {
		fields = append(fields, f.amount("/case/battery/compensation_mV_per_K"))
	}
	return append(fields, app.Button().ID("stages-usual").Class("small").Type("button").
		Text(words.T("stages.usual", words.Chemistry(b.Chemistry))).OnClick(s.onUsualStages))
}

// onUsualStages sets what is usual for the kind of battery: common practice,
// no source. The volts at which charging is held stay as they are.
func (s *sheet) onUsualStages(ctx app.Context, e app.Event) { s.Desk.Change(usualStages) }

func usualStages(p *plan.Plan) {
	b := &p.Case.Battery
	kind := power.LiFePO4
	if b.Chemistry == plan.AGM {
		kind = power.AGM
	}
	st, _ := power.StagesFor(kind)
	b.AbsorptionH = st.Hours
	b.CompensationMVPerK = math.Round(1000 * st.Compensation)
	switch b.AfterFull = plan.AfterHold; st.After {
	case power.Float:
		b.AfterFull, b.FloatV, b.ResumeV = plan.AfterFloat, min(float64(st.Float), b.ChargeV), float64(st.Resume)
	case power.Rest:
		b.AfterFull, b.ResumeV = plan.AfterRest, float64(st.Resume)
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
