package plan

import "strconv"

// What of a battery must go together: its marks and stages, its own table, its
// protection. What needs the model to judge stands in model_battery.go.

func relateBattery(b *Battery, s *sheet) {
	const at = "/case/battery/"
	s.above(at+"alarm_V", b.AlarmV, at+"cutoff_V", b.CutoffV, "V")
	s.below(at+"alarm_V", b.AlarmV, at+"charge_V", b.ChargeV, "V")
	s.below(at+"cutoff_V", b.CutoffV, at+"charge_V", b.ChargeV, "V")
	s.above(at+"reconnect_V", b.ReconnectV, at+"cutoff_V", b.CutoffV, "V")
	s.below(at+"reconnect_V", b.ReconnectV, at+"charge_V", b.ChargeV, "V")
	relateOwn(b, s)
	if b.Protection != nil {
		relateProtection(b.Protection, s)
	}
	if s.sound(at+"chemistry") && b.Lithium() {
		s.between(at+"compensation_mV_per_K", b.CompensationMVPerK, 0, 0, at+"chemistry", "mV/K")
	}
	if !s.sound(at + "after_full") {
		return
	}
	// A figure of what the charger does not do is nobody's business: older
	// documents have any charge_V beside them.
	switch b.AfterFull {
	case AfterFloat:
		l, _ := LimitOf(at + "float_V")
		s.between(at+"float_V", b.FloatV, l.Min, b.ChargeV, at+"charge_V", "V")
		s.below(at+"resume_V", b.ResumeV, at+"float_V", b.FloatV, "V")
	case AfterRest:
		s.below(at+"resume_V", b.ResumeV, at+"charge_V", b.ChargeV, "V")
	}
}

// By how much the own table must rise from row to row: what [battery.OwnTable]
// asks for, and less than anyone can measure.
const (
	leastRisePct = 0.01
	leastRiseV   = 0.0001
)

// relateOwn holds the own table against the chemistry, and its rows against
// each other: every row that does not rise is named.
func relateOwn(b *Battery, s *sheet) {
	const chemistry, at = "/case/battery/chemistry", "/case/battery/own"
	if s.sound(chemistry) {
		switch {
		case b.Chemistry == Own && !s.has(at):
			s.add(s.pos["/case/battery"], Fault{Pointer: at, Kind: Missing, Other: chemistry})
		case b.Chemistry != Own && s.has(at):
			s.note(Fault{Pointer: at, Kind: OnlyWith, Allowed: []string{string(Own)}, Other: chemistry})
		}
	}
	const rest = at + "/rest"
	if b.Own == nil || !s.sound(rest) {
		return
	}
	rows := b.Own.Rest
	for i, r := range rows {
		this := rest + "/" + strconv.Itoa(i)
		if i > 0 {
			last := rest + "/" + strconv.Itoa(i-1)
			s.rises(i, this+"/charge_pct", r.ChargePct, last+"/charge_pct", rows[i-1].ChargePct, leastRisePct, "%")
			s.rises(i, this+"/volts", r.Volts, last+"/volts", rows[i-1].Volts, leastRiseV, "V")
		}
		switch i {
		case 0:
			s.between(this+"/charge_pct", r.ChargePct, 0, 0, rest, "%")
		case len(rows) - 1:
			s.between(this+"/charge_pct", r.ChargePct, 100, 100, rest, "%")
		}
	}
}

// rises notes x of row i unless it is above y of the row before it.
func (s *sheet) rises(i int, pointer string, x float64, other string, y, least float64, unit string) {
	if s.sound(pointer, other) && !(x >= y+least*(1-1e-6)) {
		s.note(Fault{Pointer: pointer, Kind: NotRising, Found: jsonNumber(x), Min: y, Max: float64(i + 1), Unit: unit, Other: other})
	}
}

// relateProtection holds the volts of the protection against each other. Its
// colds cannot lie above its heats: their limits do not meet.
func relateProtection(p *Protection, s *sheet) {
	const at = "/case/battery/protection/"
	s.below(at+"over_back_V", p.OverBackV, at+"over_V", p.OverV, "V")
	s.above(at+"under_back_V", p.UnderBackV, at+"under_V", p.UnderV, "V")
	s.below(at+"under_back_V", p.UnderBackV, at+"over_back_V", p.OverBackV, "V")
}
