package words

import (
	"math"
	"strings"

	"duskline/calc/plan"
	"duskline/calc/qty"
)

// What of the battery lies folded away, in a few words.

// BatteryFiner says what a battery is beside its kind and its amp-hours:
// "25 mΩ, over 10 h".
func BatteryFiner(b plan.Battery) string {
	parts := []string{Plain(b.ResistanceMohm, "mΩ"), T("finer_said.rated", Plain(b.RatedHours, "h"))}
	if b.Peukert != nil {
		parts = append(parts, T("finer_said.peukert", Plain(*b.Peukert, "")))
	}
	if b.SelfDischargePctMonth != nil {
		parts = append(parts, T("finer_said.leaks", Plain(*b.SelfDischargePctMonth, "%")))
	}
	if b.NoChargeBelowC != nil {
		parts = append(parts, T("finer_said.no_charge", Plain(*b.NoChargeBelowC, "°C")))
	}
	return strings.Join(parts, ", ")
}

// BatteryAge says how old a battery is: "as new", "3 years, 120 cycles",
// "80 % left".
func BatteryAge(b plan.Battery) string {
	if b.HealthPct != nil {
		return T("finer_said.health", Plain(*b.HealthPct, "%"))
	}
	var parts []string
	switch {
	case b.AgeYears == 1:
		parts = append(parts, T("finer_said.one_year"))
	case b.AgeYears > 0:
		parts = append(parts, T("finer_said.old", Plain(b.AgeYears, "")))
	}
	if b.Cycles > 0 {
		parts = append(parts, T("finer_said.cycles", Plain(b.Cycles, "")))
	}
	if parts == nil {
		return T("finer_said.as_new")
	}
	return strings.Join(parts, ", ")
}

// BatteryLeft says what is left of a battery that is not new: its capacity, and
// how its resistance has grown.
func BatteryLeft(b plan.Battery, left qty.Fraction, growth float64) string {
	return T("battery.left", Percent(left), Plain(math.Round(float64(left)*b.CapacityAh*10)/10, "Ah"), Percent(qty.Fraction(growth-1)))
}

// Waits says how long alarm, cut-off and coming back wait: "5 s, 5 s, 60 s".
func Waits(b plan.Battery) string {
	return strings.Join([]string{Plain(b.AlarmDelayS, "s"), Plain(b.CutoffDelayS, "s"), Plain(b.ReconnectS, "s")}, ", ")
}

// OwnTable says what is in a table of one's own: "13 rows, 10.5 V to 14.4 V".
func OwnTable(b plan.Battery) string {
	if b.Own == nil || len(b.Own.Rest) == 0 {
		return ""
	}
	rest := b.Own.Rest
	return T("finer_said.rows", len(rest), Plain(rest[0].Volts, "V"), Plain(rest[len(rest)-1].Volts, "V"))
}

// Guard says between which volts a battery's own protection lets it work, ""
// where there is none.
func Guard(b plan.Battery) string {
	if b.Protection == nil {
		return ""
	}
	return T("finer_said.guard", Plain(b.Protection.UnderV, "V"), Plain(b.Protection.OverV, "V"))
}
