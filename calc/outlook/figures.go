package outlook

import (
	"slices"

	"duskline/calc/battery"
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
	f.CoreLowest, f.CoreHighest = slices.Min(o.Series.Core), slices.Max(o.Series.Core)
	f.Safe = r.safe()
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
		if e.Kind == AlarmOn && e.Index < 0 && f.FirstAlarm.IsZero() {
			f.FirstAlarm = e.At
		}
		if e.Kind == CutOff && f.FirstCutOff.IsZero() {
			f.FirstCutOff = e.At
		}
		if e.Kind == GuardOff && f.FirstGuardOff.IsZero() {
			f.FirstGuardOff = e.At
		}
	}
	f.AlarmCharge = r.chargeAt(r.spec.Alarm)
	f.CutOffCharge = r.chargeAt(r.spec.CutOff)
	var err error
	f.NoSun, f.NoSunEndless, err = r.noSun()
	return err
}

// chargeAt returns the charge at which the battery, giving the mean draw of
// the trip in its mean warmth, shows so many volts: an hour of that draw from a
// rested battery ends there.
func (r *runner) chargeAt(mark qty.Volt) qty.Fraction {
	drain := &bus{watts: r.books.drawn / (float64(r.steps) * r.step / 3600)}
	core := 0.0
	for _, c := range r.out.Series.Core {
		core += float64(c) / float64(len(r.out.Series.Core))
	}
	around := battery.Around{Air: qty.Celsius(core)}
	lo, hi := qty.Fraction(0), qty.Fraction(1)
	for range 24 {
		from := (lo + hi) / 2
		if st := r.battery.Step(r.battery.Rested(from, around.Air), around, 3600, drain); st.Short || st.Empty || st.EndVolts < mark {
			lo = from
		} else {
			hi = from
		}
	}
	st := r.battery.Step(r.battery.Rested(hi, around.Air), around, 3600, drain)
	return st.State.Charge
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
