package outlook

import (
	"time"

	"duskline/calc/notice"
	"duskline/calc/qty"
)

// Notices of the battery: what its alarm meant, how far down it went, what
// cold, heat and gas do to it and to people, and what its own protection did.

// alarmNotices tell the first alarm of each cause.
func (r *runner) alarmNotices() {
	// An alarm at the instant of the cut-off warns nobody.
	dark, isDark := r.first(CutOff, 1)
	warns := func(e Event) bool { return !(isDark && dark.At.Sub(e.At).Abs() < time.Second) }
	if e, ok := r.steadyAlarm(InTime); ok && warns(e) {
		r.add(notice.AlarmInTrip, notice.Advice, r.at(e.At), pct("charge", e.Charge), volts("volts", e.Volts))
	}
	if e, ok := r.steadyAlarm(Early); ok && warns(e) {
		r.add(notice.EarlyAlarm, notice.Advice, r.at(e.At), pct("charge", e.Charge), amps("amps", r.early.amps))
	}
	for i := range r.p.Gear {
		if e, ok := r.startAlarm(i); ok {
			r.add(notice.StartAlarm, notice.Advice, device(i), r.at(e.At), pct("charge", e.Charge))
		}
	}
	if e, ok := r.steadyAlarm(Late); ok && warns(e) {
		r.add(notice.LateAlarm, notice.Advice, r.at(e.At), pct("charge", e.Charge),
			notice.Value{Name: "left", Number: e.Left.Minutes(), Unit: "min"})
	}
}

// startAlarm returns the first alarm that a device's start made sound.
func (r *runner) startAlarm(i int) (Event, bool) {
	for _, e := range r.out.Events {
		if e.Kind == AlarmOn && e.Index == i {
			return e, true
		}
	}
	return Event{}, false
}

// coldNotices tell of a battery that is too cold to be charged, or nearly.
func (r *runner) coldNotices() {
	limit := r.frost
	if e, ok := r.first(ColdRefused, 1); ok {
		r.add(notice.ColdCharge, notice.Warning, celsius("core", r.coldCore), r.at(e.At), celsius("limit", limit))
		return
	}
	if f := &r.out.Figures; f.CoreLowest < limit+nearFreezing {
		r.add(notice.ColdNear, notice.Caution, celsius("core", f.CoreLowest), r.at(r.out.Series.Time(r.coldest())), celsius("limit", limit))
	}
}

// coldest returns the row in which the battery is coldest, hottest the other.
func (r *runner) coldest() (row int) {
	for i, c := range r.out.Series.Core {
		if c < r.out.Series.Core[row] {
			row = i
		}
	}
	return row
}

func (r *runner) hottest() (row int) {
	for i, c := range r.out.Series.Core {
		if c > r.out.Series.Core[row] {
			row = i
		}
	}
	return row
}

// harmNotices tell of acid that freezes, of heat and of gas.
func (r *runner) harmNotices() {
	s := &r.out.Series
	worst, at, point := qty.Celsius(nearFreezing), -1, qty.Celsius(0)
	if len(r.spec.Chemistry.Freezing) > 0 && r.out.Figures.CoreLowest < nearFreezing {
		for i, core := range s.Core {
			if p, ok := r.battery.FreezesAt(s.Charge[i]); ok && core-p < worst {
				worst, at, point = core-p, i, p
			}
		}
	}
	if at >= 0 {
		grade := notice.Warning
		if worst <= 0 {
			grade = notice.Danger
		}
		r.add(notice.BatteryFreezes, grade, celsius("core", s.Core[at]), celsius("freezes", point),
			pct("charge", s.Charge[at]), r.at(s.Time(at)))
	}
	if f := &r.out.Figures; f.CoreHighest > tooHot {
		r.add(notice.BatteryHot, notice.Caution, celsius("core", f.CoreHighest), r.at(s.Time(r.hottest())))
	}
	if litres := r.spec.Chemistry.Hydrogen(qty.AmpHour(r.books.gas)); litres > gasFrom {
		grade := notice.Warning
		if r.spec.Chemistry.Vents < 0.5 { // sealed
			grade = notice.Caution
		}
		r.add(notice.Gassing, grade, notice.Value{Name: "gas", Number: litres, Unit: "l"})
	}
}

// safeNotices tell of a battery that is drawn down further than it bears, or
// left so, and of nights that ask for too much.
func (r *runner) safeNotices() {
	f := &r.out.Figures
	safe := &f.Safe
	deep := f.Lowest < safe.Least
	if deep {
		r.add(notice.DeepDischarge, notice.Advice, pct("charge", f.Lowest), pct("advised", safe.Least))
	}
	if r.state.Charge < safe.Least {
		r.add(notice.RechargeWithin, notice.Advice, pct("charge", r.state.Charge),
			notice.Value{Name: "within", Number: safe.RechargeDays, Unit: "days"})
	}
	for _, n := range r.nights() {
		if evening := r.out.Series.Charge[n.row]; evening >= safe.Least && evening < safe.Least+n.takes {
			r.add(notice.NightReserve, notice.Advice, pct("night", n.takes), pct("charge", evening), r.at(r.out.Series.Time(n.row)))
			deep = true
			break
		}
	}
	if deep && safe.StopAt < 1 {
		r.add(notice.StopAt, notice.Advice, pct("charge", safe.StopAt), pct("advised", safe.Least))
	}
	if h := r.spec.Health; h > 0 && h < wornBelow {
		r.add(notice.Worn, notice.Advice, pct("health", h), ampHours("holds", float64(r.spec.Capacity)*float64(h)))
	}
}

// guardNotices tell what the battery's own protection did, and where it would
// be the first to act.
func (r *runner) guardNotices() {
	if t := r.trips; t.seen {
		r.add(notice.GuardTrips, notice.Caution, notice.Value{Name: "reason", Number: float64(t.why), Unit: "reason"},
			notice.Value{Name: "at", Number: t.at, Unit: "s after start"}, pct("charge", t.charge))
	}
	g := &r.guardSpec
	if !g.On {
		return
	}
	if g.UnderV >= r.spec.CutOff {
		r.add(notice.GuardBeforeCutOff, notice.Advice, volts("guard", g.UnderV), volts("cut_off", r.spec.CutOff))
	}
	if g.OverV > 0 && g.OverV <= r.spec.Charge {
		r.add(notice.GuardBeforeCharge, notice.Advice, volts("guard", g.OverV), volts("charge", r.spec.Charge))
	}
}

func ampHours(name string, ah float64) notice.Value {
	return notice.Value{Name: name, Number: ah, Unit: "Ah"}
}
