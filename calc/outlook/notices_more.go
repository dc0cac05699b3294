package outlook

import (
	"duskline/calc/notice"
	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// Notices of what else charges the battery, of the inverter, and of gear on
// its wave.

// chargerNotices tell of sources beside the sun that cannot work, or harm.
func (r *runner) chargerNotices() {
	o, t := &r.others, &r.p.Trip
	charger, vehicle := o.charger.Current > 0, o.vehicle.Current > 0 && len(o.engine) > 0
	if charger && len(o.wall) > 0 && !o.fits {
		if v := qty.Volt(t.WallV); v > o.charger.InputMax {
			r.add(notice.WallTooHigh, notice.Danger, volts("volts", v), volts("limit", o.charger.InputMax))
		} else {
			r.add(notice.WallTooLow, notice.Advice, volts("volts", v), volts("need", o.charger.InputMin))
		}
	}
	generator := charger && len(o.generator) > 0
	if generator && !o.runs {
		r.add(notice.GeneratorSmall, notice.Advice,
			watts("need", float64(power.GeneratorFor(o.need))), watts("gives", t.GeneratorW))
	}
	if vehicle && o.vehicle.Overloads(r.spec.Charge, power.SocketVolts) {
		r.add(notice.SocketFuse, notice.Warning,
			amps("amps", float64(o.vehicle.Draws(r.spec.Charge, o.vehicle.Current, power.SocketVolts))), amps("fuse", float64(o.vehicle.Socket)))
	}
	if generator || vehicle {
		r.add(notice.EngineExhaust, notice.Warning)
	}
}

// inverterNotices tell why gear on AC got no power, or less than it asked for.
func (r *runner) inverterNotices() {
	if t := r.books.trip; t.tripped {
		code, unit := notice.InverterTrips, "W"
		switch t.kind {
		case byVA:
			code, unit = notice.InverterVA, "VA"
		case byTime:
			code, unit = notice.SurgeTooLong, "s"
		}
		r.add(code, notice.Advice, device(t.device),
			notice.Value{Name: "asked", Number: t.asked, Unit: unit}, notice.Value{Name: "limit", Number: t.limit, Unit: unit},
			notice.Value{Name: "at", Number: t.at, Unit: "s after start"})
	}
	if l := r.low; l.seen {
		r.add(notice.InverterLow, notice.Advice,
			notice.Value{Name: "at", Number: l.at, Unit: "s after start"}, pct("charge", l.charge), volts("volts", l.volts))
	}
	if a := r.books.asleep; a.seen {
		r.add(notice.InverterAsleep, notice.Advice, device(a.device), watts("asked", a.watts), watts("wake", float64(r.wants.inverter.Wake)))
	}
}

var remarks = map[power.Remark]notice.Code{
	power.RunsWarm:    notice.WaveMotor,
	power.RunsHot:     notice.WaveHum,
	power.CountsWrong: notice.WaveClock,
	power.WideOrMaker: notice.WaveCharger,
	power.MakerAllows: notice.WaveMedical,
	power.Hums:        notice.WaveAudio,
}

// waveNotices tell what the inverter's wave does to gear, and that medical gear
// needs a backup on any outlet.
func (r *runner) waveNotices() {
	for i, g := range r.p.Gear {
		var e power.Effect
		if g.Route == plan.RouteAC && r.wants.fitted {
			e = effectOf(g, r.p.Case.Inverter)
		}
		code, ok := remarks[e.Remark]
		switch {
		case ok && e.Extra > 0:
			r.add(code, e.Grade, device(i), pct("extra", e.Extra))
		case ok:
			r.add(code, e.Grade, device(i))
		case g.Sensitivity == plan.SensitivityMedical && !g.LifeSupport:
			r.add(notice.MedicalGear, notice.Warning, device(i))
		}
	}
}
