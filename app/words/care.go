package words

import (
	"math"
	"strings"

	"duskline/calc/care"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// TideLine names one way of reading a battery's volts: "Usual, 43 W".
func TideLine(l *care.Line) string {
	key := "tide_line." + string(l.Kind)
	switch l.Kind {
	case care.AtRest, care.AfterCharge:
		return T(key)
	case care.InCold:
		return T(key, Temperature(l.Core))
	}
	return T(key, Watts(qty.Watt(math.Abs(float64(l.Watts)))))
}

// Passed words the charge at which a line passes a mark.
func Passed(p care.Pass) string {
	switch {
	case p.Above:
		return T("tide_pass.above")
	case p.Below:
		return T("tide_pass.below")
	}
	return Percent(p.Charge)
}

// PassedCutOff words the charge at which a line passes the cut-off. One that
// never does runs until the battery gives out.
func PassedCutOff(p care.Pass) string {
	if p.Above {
		return T("tide_pass.gives")
	}
	return Passed(p)
}

// Millivolts words a small difference of volts: "0.08 V", "1.2 V".
func Millivolts(v qty.Volt) string {
	if math.Abs(float64(v)) < 0.995 {
		return Amount(float64(v), 2, "V")
	}
	return Amount(float64(v), 1, "V")
}

// Minutes words minutes to a cut-off, rounded down.
func Minutes(m float64, endless bool) string {
	if endless || math.IsInf(m, 1) {
		return T("alarm_cell.endless")
	}
	return Hours(math.Floor(m) / 60)
}

// AlarmReading words what is left when an alarm sounds at one load.
func AlarmReading(r *care.Reading) string {
	switch {
	case r.Never:
		return T("alarm_cell.never")
	case r.Always:
		return T("alarm_cell.always")
	}
	return Percent(r.Charge)
}

// AlarmTime words the time from an alarm to the cut-off at that load.
func AlarmTime(r *care.Reading) string {
	if r.Never {
		return "–"
	}
	return Minutes(r.Minutes, r.Endless)
}

// AlarmSays tells what a mark means, a sentence each: at the usual draw, and
// whether it is a false alarm or a late one.
// usual is that draw in words.
func AlarmSays(c *care.Candidate, usual string, p plan.Plan) (says []string) {
	at, draw := Plain(float64(c.Volts), "V"), usual
	u := &c.Usual
	switch {
	case u.Never:
		says = append(says, T("alarmset.set_never", at, draw))
	case u.Always:
		says = append(says, T("alarmset.set_always", at, draw))
	case u.Endless:
		says = append(says, T("alarmset.set_quiet", at, Percent(u.Charge)))
	default:
		says = append(says, T("alarmset.set", at, draw, Percent(u.Charge), Minutes(u.Minutes, false)))
		if least, at := soonest(c); !c.Late && least < min(care.FairMinutes, u.Minutes-1) {
			says = append(says, T("alarmset.least", alarmWhere(at), Minutes(least, false)))
		}
	}
	if c.Early && !u.Always {
		says = append(says, early(c, p))
	}
	if c.Late && !u.Never {
		switch least, at := soonest(c); at {
		case "":
			says = append(says, T("alarmset.late_never"))
		case care.AtUsual:
			says = append(says, T("alarmset.late", Minutes(least, false)))
		default:
			says = append(says, T("alarmset.late_at", alarmWhere(at), Minutes(least, false)))
		}
	}
	return says
}

// early names what sounds a mark falsely.
func early(c *care.Candidate, p plan.Plan) string {
	if len(c.False) == 0 {
		highest, at := c.Usual.Charge, care.AtUsual
		for _, l := range []struct {
			r  *care.Reading
			at care.LineKind
		}{{&c.Rest, care.AtRest}, {&c.Largest, care.AtLargest}, {&c.Cold, care.InCold}} {
			switch {
			case l.r.Always:
				highest, at = 1, l.at
			case !l.r.Never && l.r.Charge > highest:
				highest, at = l.r.Charge, l.at
			}
		}
		return T("alarmset.early_load", alarmWhere(at), Percent(highest))
	}
	first, key := c.False[0], "alarmset.early_run"
	if first.ByStart {
		key = "alarmset.early_start"
	}
	says := T(key, Device(p, first.Device), Percent(first.Charge))
	if n := len(c.False) - 1; n > 0 {
		says += " " + T("alarmset.early_more", n)
	}
	return says
}

// soonest is the least time that a mark leaves the usual draw, minutes, and at
// which load it then sounded; "" if all that is wrong with it is a load at
// which it does not sound.
func soonest(c *care.Candidate) (least float64, at care.LineKind) {
	least, silent := math.Inf(1), false
	for _, l := range []struct {
		r  *care.Reading
		at care.LineKind
	}{{&c.Usual, care.AtUsual}, {&c.Cold, care.InCold}, {&c.Largest, care.AtLargest}, {&c.Rest, care.AtRest}} {
		switch {
		case l.r.Never:
			silent = true
		case l.r.Endless && l.at != care.AtRest:
		case l.r.After < least-1:
			least, at = l.r.After, l.at
		}
	}
	if silent && least >= care.LateMinutes {
		at = ""
	}
	return least, at
}

// AlarmWhy words one reason for the chosen mark.
func AlarmWhy(r *care.Reason, p plan.Plan) string {
	where := alarmWhere(r.At)
	if r.Device >= 0 {
		where = T("alarm_where.device", Device(p, r.Device))
	}
	volts, charge, minutes := Plain(float64(r.Volts), "V"), Percent(r.Charge), Minutes(r.Minutes, false)
	key := "alarm_why." + string(r.Code)
	switch r.Code {
	case care.WhyFair:
		says := T(key, charge, minutes)
		if r.Minutes >= care.FairMinutes {
			says += " " + T("alarm_why.enough")
		}
		return says
	case care.WhyQuiet:
		return T(key, volts, where, charge)
	case care.WhyTimely:
		if r.At != care.AtUsual {
			return T("alarm_why.timely_at", volts, where, minutes)
		}
		return T(key, volts, minutes)
	case care.WhyNoFair:
		return T(key, minutes, where, charge)
	}
	return T(key, where)
}

// alarmWhere says at which load an alarm sounds.
func alarmWhere(at care.LineKind) string {
	if at == "" {
		at = "some"
	}
	return T("alarm_where." + string(at))
}

// AlarmMarks says what is to be said of a setting in a word or two: "set now,
// early". set is the plan's own.
func AlarmMarks(c *care.Candidate, chosen bool, set qty.Volt) string {
	var list []string
	for _, m := range []struct {
		on  bool
		key string
	}{{chosen, "alarm_mark.chosen"}, {SameVolts(c.Volts, set), "alarm_mark.set"}, {c.Early, "alarm_mark.early"}, {c.Late, "alarm_mark.late"}} {
		if m.on {
			list = append(list, T(m.key))
		}
	}
	return strings.Join(list, ", ")
}

// SameVolts says that two settings are the same one.
func SameVolts(a, b qty.Volt) bool { return math.Abs(float64(a-b)) < 1e-6 }

// AlarmName is a setting with its marks: "12.2 V: early".
func AlarmName(c *care.Candidate, chosen bool, set qty.Volt) string {
	at := Plain(float64(c.Volts), "V")
	if marks := AlarmMarks(c, chosen, set); marks != "" {
		return T("alarmset.marked", at, marks)
	}
	return at
}

// Action words one thing to do once the alarm has sounded.
func Action(a *care.Action, p plan.Plan) string {
	watts, key := Watts(qty.Watt(math.Abs(float64(a.Watts)))), "action."+string(a.Code)
	switch a.Code {
	case care.DoCharge:
		switch {
		case a.Watts == 0:
			return T("action.charge_any")
		case len(p.Panels.List) > 0:
			return T("action.charge_both", watts)
		}
		return T(key, watts)
	case care.DoSwitchOff:
		return T(key, Device(p, a.Device), watts)
	case care.DoInverterOff:
		return T(key, watts)
	case care.DoBackup:
		return T(key, Device(p, a.Device))
	case care.DoAwaitSun:
		return T(key, Minutes(a.Dark, false))
	}
	return T(key)
}

// ActionGain words the time that it wins; "" for what wins none or nobody knows
// how much, as a backup or the sun.
func ActionGain(a *care.Action) string {
	switch {
	case a.Code == care.DoAwaitSun && (a.Endless || a.Total >= a.Dark):
		return T("after_alarm.till_sun")
	case a.Code == care.DoAwaitSun:
		return T("after_alarm.not_till_sun")
	case a.Endless:
		return T("after_alarm.saved")
	case a.Code == care.DoBackup || a.Code == care.DoCharge && a.Watts == 0:
		return ""
	case a.Minutes < 1:
		return T("after_alarm.no_gain")
	}
	return T("after_alarm.gain", Minutes(a.Minutes, false))
}

// StoreMode names what is left on in a Case put away.
func StoreMode(m care.StoreMode) string { return T("standing_mode." + string(m)) }

// Harms names what ruins a battery put away, of those clocks that take says;
// "" for nothing within the horizon.
func Harms(s *care.Storage, take func(*care.Clock) bool) string {
	var list []string
	for _, kind := range []care.HarmKind{care.OverDischarge, care.Sulfation, care.Freezing} {
		for i := range s.Clocks {
			if k := &s.Clocks[i]; k.By == kind && !k.Harm.Never && take(k) {
				list = append(list, T("harm."+string(kind)))
				break
			}
		}
	}
	return strings.Join(list, ", ")
}

// Long words days that may be years, rounded down: "18 h", "41 days",
// "14 months", "4.2 years".
func Long(days float64) string {
	switch {
	case !(days >= 0) || math.IsInf(days, 0):
		return "–"
	case days < 2:
		return Hours(24 * days)
	case days < 60:
		return T("long.days", int(days))
	case days < 730:
		return T("long.months", int(days/30.4375))
	case days < 3652:
		return T("long.years", Amount(math.Floor(days/36.525)/10, 1, ""))
	}
	return T("long.years", Amount(math.Floor(days/365.25+0.002), 0, ""))
}

// Within words a time to something, or that it does not come.
func Within(d care.Days) string {
	if d.Never {
		return T("long.over_years", Amount(math.Floor(d.Days/365.25+0.002), 0, ""))
	}
	return Long(d.Days)
}

// ShareBand words a share between two models in percent with about two
// digits: "0.04–0.07 %".
func ShareBand(low, high qty.Fraction) string {
	return band(100*float64(low), 100*float64(high), "%")
}

// farYears is how far years of life are told: models of ageing were measured
// over months and a few years. Our own bound.
const farYears = 25

// YearBand words years between two models: "9–14 years", "over 25 years".
func YearBand(s care.Span) string {
	switch {
	case s.Low > farYears:
		return T("life.years_more", Amount(farYears, 0, ""))
	case s.Endless || s.High > farYears:
		return T("life.years_from", lone(s.Low), Amount(farYears, 0, ""))
	}
	return T("long.years", band(s.Low, s.High, ""))
}

// band words two figures with as many decimals as the smaller one needs for
// one digit, or two from one to ten; one figure if they look alike.
func band(low, high float64, unit string) string {
	d := decimals(low)
	a, b := Amount(low, d, ""), Amount(high, d, unit)
	if Amount(low, d, unit) == b {
		return b
	}
	return T("band", a, b)
}

func lone(v float64) string { return Amount(v, decimals(v), "") }

func decimals(v float64) int {
	if !(v > 0) || v >= 9.95 {
		return 0
	}
	n := 1
	for at := 0.095; n < 4 && v < at; at /= 10 {
		n++
	}
	return n
}

// kept returns the clocks of a Case put away where the plan keeps it: with all
// off and as it is switched.
func kept(s *care.Storage) (off, on *care.Clock) {
	off, on = &care.Clock{}, &care.Clock{}
	for i := range s.Clocks {
		if k := &s.Clocks[i]; k.Kept {
			switch k.Mode {
			case care.AllOff:
				off = k
			case care.AsSwitched:
				on = k
			}
		}
	}
	return off, on
}

// Lasts says what becomes of a Case put away: when it is harmed, or that its
// charge lasts as far as is reckoned, or at least that no harm comes till then.
func Lasts(k *care.Clock) string {
	switch {
	case !k.Harm.Never:
		return T("standing.harm_after", Within(k.Harm))
	case k.Alarm.Never:
		return T("standing.lasts", Long(k.Harm.Days))
	}
	return T("standing.no_harm", Long(k.Harm.Days))
}

// Standing is a storage clock in a few words: how long until harm.
func Standing(s *care.Storage) string {
	off, on := kept(s)
	a, b := Within(on.Harm), Within(off.Harm)
	if a == b {
		return T("standing.said_all", a)
	}
	return T("standing.said", a, b)
}

// TopUp says how often a Case put away must be charged again, at the
// temperature at which the plan keeps it.
func TopUp(s *care.Storage) string {
	off, on := kept(s)
	a, b := Long(on.TopUp.Days), Long(off.TopUp.Days)
	if a == b {
		return T("standing.top_up_all", a)
	}
	return T("standing.top_up", a, b)
}

// LifeSaid is what a trip costs in a few words.
func LifeSaid(l *care.Life) string {
	return T("life.said", about(ShareBand(l.Low, l.High), l.Practice))
}

// about marks a figure of common practice.
func about(says string, practice bool) string {
	if practice {
		return T("band.about", says)
	}
	return says
}

// KeepName names a way of keeping a battery: "Full, 40 °C".
func KeepName(k *care.Keep) string {
	at := T("life_keep.full")
	switch c := k.Charge; {
	case c > 0.495 && c < 0.505:
		at = T("life_keep.half")
	case c < 0.995:
		at = T("life_keep.part", Percent(c))
	}
	return T("life_keep", at, Temperature(k.At))
}

// KeepSo says how to keep a battery: lithium half full, lead-acid full.
func KeepSo(lithium bool) string {
	if lithium {
		return T("life.so")
	}
	return T("life.so_full")
}

// YearsUnder is what stands under the years: of how many such trips a year.
func YearsUnder(uses float64) string {
	if uses == 0 {
		return T("life.years_idle")
	}
	return T("life.years", Plain(uses, ""))
}
