package words

import (
	"strings"
	"time"

	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/ref"
)

// Verdict names the verdict: "Holds", "Tight", "Runs out".
func Verdict(v outlook.Verdict) string { return T("verdict." + v.String()) }

// Reason says why, in a sentence or two: lead names the trip ("Heron count,
// three nights."), why gives the reasons that made the verdict, worst first.
func Reason(o *outlook.Outlook, p plan.Plan) (lead, why string) {
	start := p.Trip.Start
	length := time.Duration(p.Trip.LengthH * float64(time.Hour))
	lead = T("reason.lead", p.Name, Nights(start, length))

	f := o.Figures
	charge, at := Percent(f.Lowest), Moment(f.LowestAt, start)
	var says []string
	switch o.Verdict {
	case outlook.Holds:
		says = append(says, T("reason.holds", charge, at))
	case outlook.Tight:
		if 100*float64(f.Lowest) < p.Trip.ReservePct {
			says = append(says, T("reason.reserve", charge, at, Amount(p.Trip.ReservePct, 0, "%")))
		} else {
			says = append(says, T("reason.holds", charge, at))
		}
		if len(f.Unserved) > 0 {
			says = append(says, unserved(f.Unserved, p))
		}
	default:
		// The cut-off is what ends the use; the alarm before it tells when.
		switch {
		case !f.FirstAlarm.IsZero() && !f.FirstCutOff.IsZero() && f.FirstAlarm.Before(f.FirstCutOff):
			says = append(says, T("reason.alarm_then_cut", Moment(f.FirstAlarm, start), Moment(f.FirstCutOff, start)))
		case !f.FirstCutOff.IsZero():
			says = append(says, T("reason.cut", Moment(f.FirstCutOff, start)))
		case f.FirstAlarm.IsZero():
			says = append(says, T("reason.guard", Moment(f.FirstGuardOff, start)))
		default:
			says = append(says, T(alarmReason(o), Moment(f.FirstAlarm, start), charge))
		}
	}
	return lead, strings.Join(says, " ")
}

// alarmReason is how the first alarm is told: one that is early is the load's,
// and no empty battery.
func alarmReason(o *outlook.Outlook) string {
	for i := range o.Events {
		if e := &o.Events[i]; e.Kind == outlook.AlarmOn && e.Index < 0 && e.Cause == outlook.Early && e.At.Equal(o.Figures.FirstAlarm) {
			return "reason.alarm_early"
		}
	}
	return "reason.alarm"
}

// unserved names up to two devices that got less than they asked for.
func unserved(list []int, p plan.Plan) string {
	switch len(list) {
	case 1:
		return T("reason.unserved_one", Device(p, list[0]))
	case 2:
		return T("reason.unserved_two", Device(p, list[0]), Device(p, list[1]))
	default:
		return T("reason.unserved_more", len(list)-1, Device(p, list[0]))
	}
}

// Event says what happened, without the time: "Alarm sounds at 14 %, 12.0 V."
// A row of the same says how often and until when.
func Event(e outlook.Event, p plan.Plan) string {
	args := []any{Percent(e.Charge), Volts(e.Volts)}
	switch e.Kind {
	case outlook.Overload, outlook.OverloadOver:
		args = append(args, Device(p, e.Index))
	case outlook.GuardChargeOff, outlook.GuardOff:
		args = append(args, GuardReason(e.Reason))
	}
	says := T("event."+string(e.Kind), args...)
	if e.Cause != "" {
		says += " " + Alarm(e, p)
	}
	if e.Times > 1 {
		says += " " + T("event.again", Amount(float64(e.Times), 0, ""), Moment(e.Last, p.Trip.Start))
	}
	return says
}

// Alarm says what an alarm means: is it in time, early or late, and how long
// the power lasts from there.
func Alarm(e outlook.Event, p plan.Plan) string {
	left := T("alarm.about", Duration(e.Left))
	if e.Left >= outlook.NoSunLimit {
		left = T("figure.more_than", Duration(e.Left))
	}
	if e.Index >= 0 {
		return T("alarm.early_start", left, Device(p, e.Index))
	}
	if e.Left == 0 {
		return T("alarm.off")
	}
	return T("alarm."+string(e.Cause), left)
}

// GuardReason says why a battery's own protection acts: "over_volts" is
// "volts too high".
func GuardReason(reason string) string {
	if reason == "" {
		return T("guard.unknown")
	}
	return T("guard." + reason)
}

// SafeLeast says how far down a battery may go: "about 20 % (common practice)",
// or without the bracket where the advice has a better source.
func SafeLeast(s outlook.Safe) string {
	if s.Kind == ref.Practice || s.Kind == ref.Memory {
		return T("figure.least_by_practice", Percent(s.Least))
	}
	return T("figure.least", Percent(s.Least))
}

// EventName names the kind in a word or two, for a mark in a picture.
func EventName(k outlook.EventKind) string { return T("event_name." + string(k)) }

// EventMark is EventName with what an alarm means: "early alarm".
func EventMark(e outlook.Event) string {
	if e.Cause == outlook.Early || e.Cause == outlook.Late {
		return T("event_name.alarm_" + string(e.Cause))
	}
	return EventName(e.Kind)
}

// Flow names a share of the Ledger. A device goes by its own name.
func Flow(f outlook.Flow, p plan.Plan) string {
	if f.Name == outlook.GearFlow {
		return Device(p, f.Index)
	}
	return T("flow." + string(f.Name))
}
