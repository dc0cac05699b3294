package outlook

import (
	"slices"
	"time"

	"duskline/calc/battery"
	"duskline/calc/daylight"
	"duskline/calc/qty"
)

// The run without sun may go on for long after the trip. The decision: air is
// the trip's own for as long as that lasts, and then that of its last day over
// and over, by the local hour.

// dark is the air of a run without sun.
type dark struct {
	steps  []qty.Celsius // of the trip
	byHour []qty.Celsius // of a day's steps from midnight on, after the trip
}

func (d *dark) airOf(step int, r *runner) qty.Celsius {
	if step < len(d.steps) {
		return d.steps[step]
	}
	return d.byHour[r.ofDay(step)]
}

// ofDay returns the place of a step in the list of a day's.
func (r *runner) ofDay(step int) int {
	return int(r.clock.Hour((float64(step)+0.5)*r.step) * 3600 / r.step)
}

// darkness reads the air off the run that was. Hours that a short trip did not
// see, or that its clock left out, go by the trip's warmest and coldest.
func (r *runner) darkness() (*dark, error) {
	day := int(24 * time.Hour / r.out.Series.Step)
	air := r.out.Series.Air[1:]
	d := &dark{steps: air, byHour: make([]qty.Celsius, day)}
	seen := make([]bool, day)
	for i := max(0, len(air)-2*day); i < len(air); i++ {
		d.byHour[r.ofDay(i)], seen[r.ofDay(i)] = air[i], true
	}
	if !slices.Contains(seen, false) {
		return d, nil
	}
	s := r.light
	s.Span, s.Panels = 48*time.Hour, nil // two days have every hour
	s.Light = daylight.Light{Kind: daylight.ByIndex, Indexes: []float64{0}}
	rest, err := daylight.New(s)
	if err != nil {
		return nil, err
	}
	for i := range 2 * day {
		if k := r.ofDay(i); !seen[k] {
			d.byHour[k] = rest.At((float64(i) + 0.5) * r.step).Air
		}
	}
	return d, nil
}

// noSun runs the Plan again without panels and chargers, up to the first
// alarm or cut-off.
func (r *runner) noSun() (time.Duration, bool, error) {
	wants, err := newWants(r.p)
	if err != nil {
		return 0, false, err
	}
	air, err := r.darkness()
	if err != nil {
		return 0, false, err
	}
	d := &runner{
		p: r.p, battery: r.battery, spec: r.spec, clock: r.clock, wants: wants, hours: r.hours,
		step: r.step, dark: air, out: &Outlook{},
		nightMore: r.nightMore, guardSpec: r.guardSpec, frost: r.frost,
		state:     r.battery.Rested(qty.Fraction(r.p.Trip.StartChargePct/100), r.out.Series.Air[0]),
		connected: true, under: -1, alarmFor: -1, clipDay: -1,
	}
	if d.guard, err = battery.NewGuard(d.guardSpec); err != nil {
		return 0, false, err
	}
	d.marked = wants.inverter.LowCutOff > 0 || d.guard.On()
	d.books.open(len(r.p.Gear), 0)
	for i := 0; float64(i)*d.step < NoSunLimit.Seconds(); i++ {
		seen := len(d.out.Events)
		d.advance(i)
		for _, e := range d.out.Events[seen:] {
			if e.Kind == AlarmOn || e.Kind == CutOff || e.Kind == GuardOff {
				return e.At.Sub(r.p.Trip.Start), false, nil
			}
		}
	}
	return NoSunLimit, true, nil
}
