package outlook

import (
	"slices"
	"sort"
	"time"

	"duskline/calc/notice"
	"duskline/calc/panel"
	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// When a notice is worth its place on the screen. Common practice, no source.
const (
	sagAbove     = EarlyCharge // a cut-off at more charge than this is the load's doing
	nearFreezing = 3.0         // K above what is too cold
	tooHot       = 45.0        // °C of the battery
	wornBelow    = 0.80        // of the rated capacity
	gasFrom      = 0.1         // l of hydrogen that leave the battery
	clipShare    = 0.05        // of the sun taken
	spillShare   = 0.15        // of the sun taken
	idleShare    = 0.10        // of what left the battery
	startsLow    = 0.05
	highAmps     = 50.0
)

// notices fills the list, gravest first, and among equals in this order.
func (r *runner) notices() {
	r.gearNotices()
	r.batteryNotices()
	r.chargerNotices()
	r.panelNotices()
	list := r.out.Notices
	sort.SliceStable(list, func(i, k int) bool { return list[i].Grade > list[k].Grade })
}

func (r *runner) add(code notice.Code, grade notice.Grade, values ...notice.Value) {
	r.out.Notices = append(r.out.Notices, notice.Notice{Code: code, Grade: grade, Values: values})
}

func pct(name string, f qty.Fraction) notice.Value {
	return notice.Value{Name: name, Number: float64(f) * 100, Unit: "%"}
}
func volts(name string, v qty.Volt) notice.Value {
	return notice.Value{Name: name, Number: float64(v), Unit: "V"}
}
func amps(name string, a float64) notice.Value {
	return notice.Value{Name: name, Number: a, Unit: "A"}
}
func watts(name string, w float64) notice.Value {
	return notice.Value{Name: name, Number: w, Unit: "W"}
}
func wattHoursADay(name string, wh qty.WattHour) notice.Value {
	return notice.Value{Name: name, Number: float64(wh), Unit: "Wh a day"}
}
func celsius(name string, c qty.Celsius) notice.Value {
	return notice.Value{Name: name, Number: float64(c), Unit: "°C"}
}
func device(i int) notice.Value {
	return notice.Value{Name: "device", Number: float64(i), Unit: "index"}
}
func (r *runner) at(t time.Time) notice.Value {
	return notice.Value{Name: "at", Number: t.Sub(r.p.Trip.Start).Seconds(), Unit: "s after start"}
}

// first returns the first event of a kind with at most so much charge.
func (r *runner) first(kind EventKind, most qty.Fraction) (Event, bool) {
	i := slices.IndexFunc(r.out.Events, func(e Event) bool { return e.Kind == kind && e.Charge <= most })
	if i < 0 {
		return Event{}, false
	}
	return r.out.Events[i], true
}

func (r *runner) gearNotices() {
	for i, g := range r.p.Gear {
		if g.LifeSupport {
			r.add(notice.LifeSupport, notice.Warning, device(i))
		}
	}
	if len(r.p.Gear) == 0 {
		r.add(notice.NoGear, notice.Advice)
	}
	for i, dead := range r.books.noPower {
		if dead {
			r.add(notice.NoPower, notice.Advice, device(i))
		}
	}
	r.inverterNotices()
	r.waveNotices()
	f := &r.out.Figures
	if f.DrawADay > 0 && f.IdleADay > idleShare*f.DrawADay {
		r.add(notice.IdleInverter, notice.Advice, wattHoursADay("a day", f.IdleADay),
			pct("share", qty.Fraction(f.IdleADay/f.DrawADay)))
	}
	if r.books.inverter+r.books.idle > 0 {
		r.add(notice.MainsVolts, notice.Warning, volts("volts", qty.Volt(r.p.Case.Inverter.OutputV)))
	}
	if r.peak > highAmps {
		r.add(notice.HighCurrent, notice.Caution, amps("amps", r.peak))
	}
}

func (r *runner) batteryNotices() {
	if r.sag.seen {
		r.add(notice.SagCutOff, notice.Advice, pct("charge", r.sag.charge), amps("amps", r.sag.amps))
	}
	cut, isCut := r.first(CutOff, sagAbove)
	if isCut {
		r.add(notice.CutOffInTrip, notice.Advice, r.at(cut.At), pct("charge", cut.Charge), volts("volts", cut.Volts))
	}
	r.alarmNotices()
	f := &r.out.Figures
	if r.out.Verdict == Tight && float64(f.Lowest) < r.p.Trip.ReservePct/100 {
		r.add(notice.InsideReserve, notice.Advice, pct("charge", f.Lowest),
			pct("reserve", qty.Fraction(r.p.Trip.ReservePct/100)), r.at(f.LowestAt))
	}
	if start := r.out.Series.Charge[0]; start < startsLow {
		r.add(notice.StartsEmpty, notice.Advice, pct("charge", start))
	}
	r.coldNotices()
	r.harmNotices()
	r.safeNotices()
	r.guardNotices()
}

func (r *runner) panelNotices() {
	var polarDays, polarNights float64
	for _, d := range r.out.Days {
		switch d.State {
		case PolarDay:
			polarDays++
		case PolarNight:
			polarNights++
		}
	}
	if polarNights > 0 {
		r.add(notice.PolarNight, notice.Advice, notice.Value{Name: "days", Number: polarNights, Unit: "1"})
	}
	if polarDays > 0 {
		r.add(notice.PolarDay, notice.Advice, notice.Value{Name: "days", Number: polarDays, Unit: "1"})
	}
	if len(r.p.Panels.List) == 0 {
		r.add(notice.NoPanels, notice.Advice)
		return
	}
	r.matchNotices()
	days := float64(r.steps) * r.step / 86400
	if r.books.beyond > clipShare*r.books.sun {
		r.add(notice.SunClipped, notice.Advice,
			wattHoursADay("lost", qty.WattHour(r.books.beyond/days)), amps("limit", r.p.Case.Controller.LimitA))
	}
	if len(r.p.Gear) > 0 && r.books.spare > spillShare*r.books.sun {
		r.add(notice.FullEarly, notice.Advice, wattHoursADay("spilled", qty.WattHour(r.books.spare/days)))
	}
}

// matchNotices holds the panels against the controller: amps at full sun,
// volts on the coldest morning, volts at 25 °C against those from which the
// controller works and those that it needs to charge. Diodes take nothing off
// the volts while nothing flows. The cable is left out: it takes the less the
// less flows, so that no cable keeps all of the charge out.
func (r *runner) matchNotices() {
	c := r.p.Case.Controller
	at := func(cell qty.Celsius) panel.Array {
		a := panel.Array{Joined: r.light.Joined, Drop: r.light.Drop}
		for _, l := range r.light.Panels {
			a.Parts = append(a.Parts, panel.Part{Curve: l.Module.At(1000, cell), Count: l.Count, String: l.String})
		}
		return a
	}
	coldest := r.light.Coldest
	if w := r.light.Light.Weather; w != nil && w.Air != nil {
		coldest = slices.Min(r.out.Series.Air)
	}
	standard, cold := at(25), at(coldest)
	cold.Drop = 0
	if r.light.Controller.OverInput(cold.OpenCircuit()) {
		r.add(notice.PanelOverVolts, notice.Danger, volts("volts", cold.OpenCircuit()), volts("limit", qty.Volt(c.InputMaxV)))
	}
	if rating := power.RatingFor(standard.ShortCircuit()); c.Kind == plan.PWM && float64(rating) > c.LimitA {
		r.add(notice.PanelOverPWM, notice.Warning, amps("amps", float64(rating)), amps("limit", c.LimitA))
	}
	volt, _ := standard.MaxPower()
	need := r.spec.Charge + power.SwitchDrop
	if c.Kind == plan.MPPT {
		need = r.spec.Charge + power.Headroom
	}
	open, start := standard.OpenCircuit(), r.light.Controller.Start
	switch {
	case open < start:
		r.add(notice.PanelTooLow, notice.Advice, volts("volts", open), volts("need", start))
	case volt < need:
		r.add(notice.PanelTooLow, notice.Advice, volts("volts", volt), volts("need", need))
	}
}
