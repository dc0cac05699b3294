package planning

import (
	"math"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room/desk"
	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/plan"
)

const (
	batteryAt   = "/case/battery"
	chemistryAt = batteryAt + "/chemistry"
)

// batteryFields are what most people know of their battery, then its marks and
// what they mean. The rest of it lies in small folds.
func (s *sheet) batteryFields(f form) []app.UI {
	b := f.d.Plan().Case.Battery
	cold := "hydrogen"
	if b.Lithium() {
		cold = "freezing"
	}
	fields := []app.UI{
		&widget.Choice{Host: &kindHost{f.d, s.Session.Folds}, Pointer: chemistryAt, Options: widget.Options(chemistryAt), Text: f.d.Text(chemistryAt), Fault: f.d.Fault(chemistryAt)},
		s.marksMoved(),
		s.ownFold(f),
		f.amount(batteryAt + "/capacity_Ah"),
		s.finer("battery", words.BatteryFiner(b), func() []app.UI { return s.batteryFiner(f) }),
		s.finer("age", words.BatteryAge(b), func() []app.UI { return s.ageFields(f) }),
		s.finer("guard", words.Guard(b), func() []app.UI { return s.guardFields(f) }),
		caution("battery"),
		caution("damaged"),
		caution(cold),
		f.amount(batteryAt + "/charge_V"),
		s.finer("stages", words.Stages(b), func() []app.UI { return s.stageFields(f) }),
		f.amount(batteryAt + "/alarm_V"),
		f.amount(batteryAt + "/cutoff_V"),
		f.amount(batteryAt + "/reconnect_V"),
		s.finer("waits", words.Waits(b), func() []app.UI {
			return []app.UI{
				f.amount(batteryAt + "/alarm_delay_s"),
				f.amount(batteryAt + "/cutoff_delay_s"),
				f.amount(batteryAt + "/reconnect_delay_s"),
			}
		}),
	}
	return append(fields, s.batteryCards(f)...)
}

// kindHost takes the kind of battery. A table of one's own opens with its
// kind.
type kindHost struct {
	*desk.Desk
	folds map[string]bool
}

// Enter takes what was chosen.
func (h *kindHost) Enter(pointer, text string) {
	h.Desk.Enter(pointer, text)
	h.folds["finer-own"] = h.Plan().Case.Battery.Chemistry == plan.Own
}

// batteryFiner is what stands in its data sheet and not on its label.
func (s *sheet) batteryFiner(f form) []app.UI {
	b := f.d.Plan().Case.Battery
	fields := []app.UI{
		f.amount(batteryAt + "/rated_hours"),
		f.amount(batteryAt + "/resistance_mohm"),
	}
	known := func(at, key string, there bool, ends ...string) {
		fields = append(fields, s.way(at, key, there))
		if s.on(at, there) {
			for _, end := range ends {
				fields = append(fields, f.amount(batteryAt+end))
			}
		}
	}
	known(peukertAt, "way_on.peukert", b.Peukert != nil, "/peukert")
	known(leaksAt, "way_on.leaks", b.SelfDischargePctMonth != nil, "/self_discharge_pct_month")
	known(noChargeAt, "way_on.no_charge", b.NoChargeBelowC != nil, "/no_charge_below_C")
	known(heatAt, "way_on.heat", b.HeatKJPerK != nil || b.CoolingWPerK != nil, "/heat_kJ_per_K", "/cooling_W_per_K")
	return fields
}

// ageFields is what the battery has been through, and how it is kept.
func (s *sheet) ageFields(f form) []app.UI {
	b := f.d.Plan().Case.Battery
	fields := []app.UI{s.way(healthAt, "way_on.health", b.HealthPct != nil)}
	if s.on(healthAt, b.HealthPct != nil) {
		fields = append(fields, f.amount(batteryAt+"/health_pct"))
	} else {
		fields = append(fields, f.amount(batteryAt+"/age_years"), f.amount(batteryAt+"/cycles"))
	}
	return append(fields,
		f.amount(batteryAt+"/kept_C"),
		f.amount(batteryAt+"/kept_pct"),
		f.amount(batteryAt+"/uses_per_year"),
		healthSaid(b),
	)
}

// healthSaid says what is left of a battery that is not new.
func healthSaid(b plan.Battery) app.UI {
	left, growth, err := b.Health()
	if err != nil || left == 1 && growth == 1 {
		return widget.Nothing()
	}
	return app.P().ID("health-said").Class("reading").Text(words.BatteryLeft(b, left, growth))
}

// healthNow is the health that the battery is reckoned with so far, percent.
func healthNow(b plan.Battery) float64 {
	left, _, err := b.Health()
	if err != nil {
		return 100 // of a plan that was checked there is none
	}
	return math.Max(10, math.Round(1000*float64(left))/10)
}

// warmth is what warms the battery by a kelvin, kJ, as the plan reckons with so
// far, and a start for what it gives to the air for each kelvin over it, W:
// common practice, no source.
func warmth(b plan.Battery) (heat, cooling float64) {
	heat, cooling = 1, 1
	if m, err := b.Model(); err == nil {
		heat = float64(m.Spec().Capacity) * m.Spec().Chemistry.HeatPerAmpHour / 1000
	}
	return math.Max(0.1, math.Round(100*heat)/100), cooling
}

// guardFields is the protection between the cells and everything else.
func (s *sheet) guardFields(f form) []app.UI {
	at := batteryAt + "/protection"
	there := f.d.Plan().Case.Battery.Protection != nil
	fields := []app.UI{s.way(guardAt, "way_on.guard", there)}
	if !there {
		return fields
	}
	part := func(title string, ends ...string) {
		list := make([]app.UI, len(ends))
		for i, end := range ends {
			list[i] = f.amount(at + "/" + end)
		}
		fields = append(fields, group(words.T(title), list...))
	}
	fields = append(fields, app.P().Class("help").Text(words.T("guard.help")))
	part("guard.volts", "over_V", "over_back_V", "under_V", "under_back_V", "volts_delay_s")
	part("guard.amps", "charge_A", "discharge_A", "amps_delay_s")
	part("guard.heat", "charge_cold_C", "charge_hot_C", "discharge_cold_C", "discharge_hot_C")
	return append(fields, f.amount(at+"/release_s"))
}

// stageFields is what a charger does when it has brought the battery to its
// volts. It holds for every charger in the Case.
func (s *sheet) stageFields(f form) []app.UI {
	b := f.d.Plan().Case.Battery
	fields := []app.UI{f.choice(batteryAt + "/after_full")}
	if b.AfterFull != plan.AfterHold {
		fields = append(fields, f.amount(batteryAt+"/absorption_h"))
	}
	if b.AfterFull == plan.AfterFloat {
		fields = append(fields, f.amount(batteryAt+"/float_V"))
	}
	if b.AfterFull != plan.AfterHold {
		fields = append(fields, f.amount(batteryAt+"/resume_V"))
	}
	// Lithium's volts do not follow the heat.
	if !b.Lithium() || b.CompensationMVPerK != 0 {
		fields = append(fields, f.amount(batteryAt+"/compensation_mV_per_K"))
	}
	usual := words.T("stages.usual", words.Chemistry(b.Chemistry))
	if b.Chemistry == plan.Own {
		usual = words.T("stages.such")
	}
	return append(fields, app.Button().ID("stages-usual").Class("small").Type("button").Text(usual).OnClick(s.onUsualStages))
}

// onUsualStages sets what is usual for the kind of battery.
func (s *sheet) onUsualStages(ctx app.Context, e app.Event) { s.Desk.Change(desk.UsualStages) }

// marksMoved says that the marks went with the kind of battery, and where to.
func (s *sheet) marksMoved() app.UI {
	if !s.Desk.MarksMoved() {
		return widget.Nothing()
	}
	b := s.Desk.Plan().Case.Battery
	v := func(volts float64) string { return words.Plain(volts, "V") }
	said := words.T("battery.marks_moved", words.Chemistry(b.Chemistry), v(b.ChargeV), v(b.AlarmV), v(b.CutoffV), v(b.ReconnectV))
	if s.Desk.MoreMoved() {
		said += " " + words.T("battery.more_moved")
	}
	return app.Div().ID("marks-moved").Class("undo").Role("status").Body(
		app.P().Text(said),
		app.Button().ID("marks-undo").Class("small strong").Type("button").Text(words.T("frame.undo")).OnClick(s.onUndoBattery),
	)
}

func (s *sheet) onUndoBattery(ctx app.Context, e app.Event) {
	if s.Desk.UndoBattery() == nil {
		s.focus(ctx, widget.ID(chemistryAt))
	}
}
