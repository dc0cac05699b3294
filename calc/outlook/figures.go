package outlook

import (
	"math"
	"slices"
	"time"

	"duskline/calc/daylight"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

// figures fills the few numbers that stand under the picture.
func (r *runner) figures() error {
	o, b := r.out, &r.books
	f := &o.Figures
	for i, c := range o.Series.Charge {
		if i == 0 || c < f.Lowest {
			f.Lowest, f.LowestAt = c, o.Series.Time(i)
		}
	}
	perDay := func(wh float64) qty.WattHour {
		return qty.WattHour(wh / (float64(r.steps) * r.step / 86400))
	}
	for i, wh := range b.gear {
		f.GearADay += perDay(wh)
		f.DeviceADay = append(f.DeviceADay, perDay(b.asked[i]))
		if b.unserved[i] {
			f.Unserved = append(f.Unserved, i)
		}
	}
	f.DrawADay, f.IdleADay, f.SunADay = perDay(b.drawn), perDay(b.idle), perDay(b.sun)
	for _, e := range o.Events {
		if e.Kind == AlarmOn && f.FirstAlarm.IsZero() {
			f.FirstAlarm = e.At
		}
		if e.Kind == CutOff && f.FirstCutOff.IsZero() {
			f.FirstCutOff = e.At
		}
	}
	f.AlarmCharge = r.chargeAt(r.spec.Alarm)
	f.CutOffCharge = r.chargeAt(r.spec.CutOff)
	var err error
	f.NoSun, f.NoSunEndless, err = r.noSun()
	return err
}

// chargeAt returns the charge at which the battery, giving the mean draw of
// the trip, shows so many volts.
func (r *runner) chargeAt(mark qty.Volt) qty.Fraction {
	hours := float64(r.steps) * r.step / 3600
	amps := r.books.drawn / hours / float64(r.battery.Rest(0.5))
	return r.battery.Charge(mark + qty.Volt(amps*float64(r.spec.Resistance)))
}

// noSun runs the Plan again without panels and chargers, up to the first
// alarm or cut-off.
func (r *runner) noSun() (time.Duration, bool, error) {
	wants, err := newWants(r.p)
	if err != nil {
		return 0, false, err
	}
	air, err := r.airs()
	if err != nil {
		return 0, false, err
	}
	d := &runner{
		p: r.p, battery: r.battery, spec: r.spec, clock: r.clock, wants: wants, hours: r.hours,
		step: r.step, dark: air, out: &Outlook{},
		charge:    qty.Fraction(r.p.Trip.StartChargePct / 100),
		connected: true, under: -1, alarmFor: -1, clipDay: -1,
	}
	d.books.open(len(r.p.Gear), 0)
	for i := 0; float64(i)*d.step < NoSunLimit.Seconds(); i++ {
		seen := len(d.out.Events)
		d.advance(i)
		for _, e := range d.out.Events[seen:] {
			if e.Kind == AlarmOn || e.Kind == CutOff {
				return e.At.Sub(r.p.Trip.Start), false, nil
			}
		}
	}
	return NoSunLimit, true, nil
}

// aDay returns how many steps make a day.
func aDay(step float64) int { return int(math.Round(86400 / step)) }

// airs returns the air of the trip's steps. A trip of less than a day is
// made one, so that there is a day to come over and over.
func (r *runner) airs() ([]qty.Celsius, error) {
	air := r.out.Series.Air[1:]
	if len(air) >= aDay(r.step) {
		return air, nil
	}
	s := r.light
	s.Span, s.Panels = 24*time.Hour, nil
	s.Light = daylight.Light{Kind: daylight.ByIndex, Indexes: []float64{0}}
	day, err := daylight.New(s)
	if err != nil {
		return nil, err
	}
	air = slices.Clone(air)
	for i := len(air); i < aDay(r.step); i++ {
		air = append(air, day.At((float64(i)+0.5)*r.step).Air)
	}
	return air, nil
}

// days says when the sun rises and sets on every local day of the trip, and
// how much light there is.
func (r *runner) days() []Day {
	states := map[sun.DayState]DayState{sun.PolarDay: PolarDay, sun.PolarNight: PolarNight}
	var out []Day
	for _, d := range r.scene.Days() {
		out = append(out, Day{
			Midnight: d.Midnight, State: states[d.State], Rise: d.Rise, Noon: d.Noon, Set: d.Set,
			CivilDawn: d.CivilDawn, CivilDusk: d.CivilDusk, NauticalDawn: d.NauticalDawn, NauticalDusk: d.NauticalDusk,
			ClearSkyIndex: d.Index, Turbidity: d.Turbidity,
			OnPanels: d.OnPanels, Ceiling: d.Ceiling, OnLevel: d.OnLevel, LevelCeiling: d.LevelCeiling,
		})
	}
	return out
}
