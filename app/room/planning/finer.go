package planning

import (
	"math"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room/desk"
	"duskline/app/words"
	"duskline/calc/plan"
)

// What is rarely changed lies in small folds inside a section: who plans for
// the first time sees no more than he needs.

// finer is such a fold. said is what is inside in a few words, "" for nothing
// out of the ordinary.
func (s *sheet) finer(id, said string, inside func() []app.UI) app.UI {
	at := "finer-" + id
	return finerFold(at, words.T("finer."+id), said, s.Session.Folds[at], s.turn(at), inside)
}

func finerFold(at, name, said string, open bool, turn app.EventHandler, inside func() []app.UI) app.UI {
	sign := "+"
	if open {
		sign = "−"
	}
	body := []app.UI{
		app.Button().ID(at).Class("finer-button").Type("button").Aria("expanded", open).OnClick(turn, at).Body(
			app.Span().Class("finer-name").Text(name),
			app.Span().Class("finer-said").Text(said),
			app.Span().Class("fold-sign").Aria("hidden", "true").Text(sign),
		),
	}
	if open {
		body = append(body, app.Div().Class("finer-body").Body(inside()...))
	}
	return app.Div().Class("finer").Attr("data-open", open).Body(body...)
}

// finerFields says which fields lie in which small fold.
var finerFields = map[string][]string{
	"own": {"/case/battery/own/rest", "/case/battery/own/coulombic_pct", "/case/battery/own/accept_h", "/case/battery/own/hysteresis_mV",
		"/case/battery/own/cycles_to_80", "/case/battery/own/lithium"},
	"battery": {"/case/battery/rated_hours", "/case/battery/resistance_mohm", "/case/battery/peukert", "/case/battery/self_discharge_pct_month",
		"/case/battery/no_charge_below_C", "/case/battery/heat_kJ_per_K", "/case/battery/cooling_W_per_K"},
	"age": {"/case/battery/age_years", "/case/battery/cycles", "/case/battery/health_pct", "/case/battery/kept_C", "/case/battery/kept_pct",
		"/case/battery/uses_per_year"},
	"waits":      {"/case/battery/alarm_delay_s", "/case/battery/cutoff_delay_s", "/case/battery/reconnect_delay_s"},
	"guard":      {"/case/battery/protection"},
	"stages":     {"/case/battery/after_full", "/case/battery/absorption_h", "/case/battery/float_V", "/case/battery/resume_V", "/case/battery/compensation_mV_per_K"},
	"controller": {"/case/controller/start_V", "/case/controller/efficiency_low_pct", "/case/controller/night_A"},
	"wall":       {"/case/wall_charger/input_min_V", "/case/wall_charger/input_max_V"},
	"inverter": {"/case/inverter/surge_s", "/case/inverter/efficiency_half_pct", "/case/inverter/low_cutoff_V", "/case/inverter/low_reconnect_V",
		"/case/inverter/sleep_A", "/case/inverter/wake_W", "/case/inverter/pulse_deg"},
	"device":   {"/gear/*/power_factor", "/gear/*/sensitivity", "/gear/*/surge_s"},
	"wiring":   {"/panels/blocking_V", "/panels/cable_m", "/panels/cable_gauge"},
	"panel":    {"/panels/list/*/technology", "/panels/list/*/age_years", "/panels/list/*/back", "/panels/list/*/series_fuse_A"},
	"charging": {"/trip/wall_V", "/trip/engine_hours", "/trip/generator_hours", "/trip/generator_W"},
}

// finerOf names the small fold that the field at a pointer lies in, "" for
// none.
func finerOf(pointer string) string {
	parts := strings.Split(pointer, "/")
	for id, list := range finerFields {
		for _, at := range list {
			want := strings.Split(at, "/")
			same := len(parts) >= len(want)
			for i := 0; same && i < len(want); i++ {
				same = want[i] == "*" || want[i] == parts[i]
			}
			if same {
				return id
			}
		}
	}
	return ""
}

// Figures that a plan may go without are switched on and off at places that
// the document does not have. What comes with them is a start to edit from:
// common practice, no source.
const (
	lowLightAt = "/case/controller/low_light"  // the efficiency at a tenth of its watts
	nightAt    = "/case/controller/night_draw" // a draw of its own at night
	halfAt     = "/case/inverter/half"         // the efficiency at half load
	sleepAt    = "/case/inverter/sleep"        // it sleeps
	ownCutAt   = "/case/inverter/own_cutoff"   // it shuts itself off
	vehicleAt  = "/case/vehicle_charger"

	healthAt   = "/case/battery/health"   // its capacity was measured
	peukertAt  = "/case/battery/rate"     // its exponent is known
	leaksAt    = "/case/battery/leaks"    // what it loses by itself is known
	noChargeAt = "/case/battery/too_cold" // how cold it may be charged is known
	heatAt     = "/case/battery/heat"     // how fast it warms up is known
	guardAt    = "/case/battery/guard"    // it has a protection
)

// wayHost takes the switches of such figures; the desk knows no such fields.
type wayHost struct {
	desk  *desk.Desk
	folds map[string]bool
}

// Enter switches one on or off. What was switched on stays in view while its
// field is emptied, to be typed anew.
func (h wayHost) Enter(pointer, text string) {
	on := text == "true"
	if on && pointer == healthAt { // they are not asked for any more
		h.desk.Drop(batteryAt + "/age_years")
		h.desk.Drop(batteryAt + "/cycles")
	}
	if h.desk.Change(ways(pointer, on)) == nil {
		h.folds["way-"+pointer] = on
	}
}

// on says whether the figures of a switch are in view.
func (s *sheet) on(way string, there bool) bool { return there || s.Session.Folds["way-"+way] }

// EnterHours is for fields of hours, which these are not.
func (h wayHost) EnterHours(string, []plan.Window) {}

// Leave is the end of typing: nothing waits here.
func (h wayHost) Leave(string) {}

// Drop would throw away what was typed.
func (h wayHost) Drop(string) {}

// ways returns the edit that brings figures into a plan or takes them out.
func ways(pointer string, on bool) func(*plan.Plan) {
	return func(p *plan.Plan) {
		c, v, b := &p.Case.Controller, &p.Case.Inverter, &p.Case.Battery
		optional := func(at **float64, start float64) {
			if *at = nil; on {
				*at = &start
			}
		}
		switch pointer {
		case lowLightAt:
			optional(&c.EfficiencyLowPct, max(c.EfficiencyPct-10, 50))
		case nightAt:
			optional(&c.NightA, c.StandbyA)
		case halfAt:
			start := v.EfficiencyPct
			if m, err := v.Model(); err == nil && v.RatedW > 0 { // what it is reckoned with so far
				start = math.Round(1000*float64(m.Efficiency(m.Rated/2))) / 10
			}
			optional(&v.EfficiencyHalfPct, start)
		case sleepAt:
			optional(&v.SleepA, min(0.05, v.StandbyA))
			if v.WakeW = 0; on {
				v.WakeW = 10
			}
		case ownCutAt:
			if v.LowCutoffV, v.LowReconnectV = 0, 0; on {
				v.LowCutoffV, v.LowReconnectV = 10.5, 12.5
			}
		case healthAt:
			optional(&b.HealthPct, healthNow(*b))
		case peukertAt:
			start := 1.15 // the middle of lead-acid
			if b.Lithium() {
				start = 1.02
			}
			optional(&b.Peukert, start)
		case leaksAt:
			optional(&b.SelfDischargePctMonth, 3)
		case noChargeAt:
			start := 0.0
			if !b.Lithium() {
				start = -20
			}
			optional(&b.NoChargeBelowC, start)
		case heatAt:
			heat, cooling := warmth(*b)
			optional(&b.HeatKJPerK, heat)
			optional(&b.CoolingWPerK, cooling)
		case guardAt:
			if b.Protection = nil; on {
				b.Protection = desk.UsualProtection(*b)
			}
		case vehicleAt:
			if p.Case.Vehicle = nil; on {
				p.Case.Vehicle = &plan.VehicleCharger{CurrentA: 10, EfficiencyPct: 85, SocketA: 15}
			}
		}
	}
}
