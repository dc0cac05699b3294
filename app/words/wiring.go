package words

import (
	"strings"

	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// What lies folded away in the plan's sections, in a few words; "" where it is
// as most people have it.

// Stages says what a charger does with a full battery: "held at 14.2 V",
// "2 h at 14.4 V, then 13.5 V".
func Stages(b plan.Battery) string {
	at := Plain(b.ChargeV, "V")
	then, long, short := b.FloatV, "stages.float", "stages.float_at_once"
	switch b.AfterFull {
	case plan.AfterFloat:
	case plan.AfterRest:
		then, long, short = b.ResumeV, "stages.rest", "stages.rest_at_once"
	default:
		return T("stages.hold", at)
	}
	if b.AbsorptionH == 0 {
		return T(short, at, Plain(then, "V"))
	}
	return T(long, Hours(b.AbsorptionH), at, Plain(then, "V"))
}

// ControllerFiner says what of a controller is out of the ordinary.
func ControllerFiner(c plan.Controller) string {
	var parts []string
	if c.StartV > 0 {
		parts = append(parts, T("finer_said.start", Plain(c.StartV, "V")))
	}
	if c.EfficiencyLowPct != nil {
		parts = append(parts, T("finer_said.low_light", Plain(*c.EfficiencyLowPct, "%")))
	}
	if c.NightA != nil {
		parts = append(parts, T("finer_said.night", Plain(*c.NightA, "A")))
	}
	return strings.Join(parts, ", ")
}

// Mains says which mains a wall charger takes: "100 V to 240 V".
func Mains(w plan.WallCharger) string {
	return T("finer_said.mains", Plain(w.InputMinV, "V"), Plain(w.InputMaxV, "V"))
}

// InverterFiner says what of an inverter is out of the ordinary.
func InverterFiner(v plan.Inverter) string {
	var parts []string
	if v.SurgeS > 0 {
		parts = append(parts, T("finer_said.surge", Plain(v.SurgeS, "s")))
	}
	if v.SleepA != nil {
		parts = append(parts, T("finer_said.sleep", Plain(v.WakeW, "W")))
	}
	if v.LowCutoffV > 0 {
		parts = append(parts, T("finer_said.own_cutoff", Plain(v.LowCutoffV, "V")))
	}
	return strings.Join(parts, ", ")
}

// DeviceFiner says what of a device is out of the ordinary.
func DeviceFiner(d plan.Device) string {
	var parts []string
	if d.PowerFactor < 1 && d.Route == plan.RouteAC {
		parts = append(parts, T("finer_said.power_factor", Plain(d.PowerFactor, "")))
	}
	if d.SurgeS > 0 {
		parts = append(parts, T("finer_said.surge", Plain(d.SurgeS, "s")))
	}
	return strings.Join(parts, ", ")
}

// PanelFiner says what of a panel is out of the ordinary.
func PanelFiner(p plan.Panel) string {
	var parts []string
	if p.Technology != plan.Crystalline {
		parts = append(parts, T("finer_said."+string(p.Technology)))
	}
	if p.AgeYears > 0 {
		parts = append(parts, T("finer_said.years", Plain(p.AgeYears, "")))
	}
	if p.Back == plan.BackCovered {
		parts = append(parts, T("finer_said.covered"))
	}
	return strings.Join(parts, ", ")
}

// Cable says what leads from the panels to the Case: "5 m of 4 mm²".
func Cable(p plan.Panels) string {
	var parts []string
	if p.CableM > 0 {
		parts = append(parts, T("finer_said.cable", Plain(p.CableM, "m"), Gauge(p.CableGauge)))
	}
	if p.BlockingV > 0 {
		parts = append(parts, T("finer_said.diode", Plain(p.BlockingV, "V")))
	}
	return strings.Join(parts, ", ")
}

// Gauge names a size of wire as it is printed on it: "4 mm²", "12 AWG".
func Gauge(name string) string {
	size, unit, _ := strings.Cut(name, "_")
	v, ok := Number(size)
	if !ok {
		return name
	}
	if unit == "mm2" {
		unit = "mm²"
	}
	return Plain(v, unit)
}

// ChargingFiner says what else may charge the Case on a trip.
func ChargingFiner(p plan.Plan) string {
	var parts []string
	if h := p.Trip.EngineHours; len(h) > 0 {
		parts = append(parts, T("finer_said.engine", Windows(h)))
	}
	if h := p.Trip.GeneratorHours; len(h) > 0 {
		parts = append(parts, T("finer_said.generator", Windows(h)))
	}
	if v := p.Trip.WallV; v > 0 {
		parts = append(parts, T("finer_said.wall", Plain(v, "V")))
	}
	return strings.Join(parts, ", ")
}

// StepWave says what the inverter's modified sine is, beside a sine of the
// same volts.
func StepWave(v plan.Inverter) string {
	w := power.ModifiedSine(qty.Volt(v.OutputV), qty.Degree(v.PulseDeg))
	strongest := 3
	for n := 5; n < 20; n += 2 {
		if w.HarmonicShare(n) > w.HarmonicShare(strongest) {
			strongest = n
		}
	}
	return T("wave_said.shape", Amount(v.PulseDeg, 0, "°"), Volts(w.RMS()), Volts(w.Peak), Volts(power.Sine(w.RMS()).Peak)) + " " +
		T("wave_said.harmonics", Percent(qty.Fraction(w.THD())), strongest, Percent(w.HarmonicShare(strongest)), Amount(float64(power.LeastTHD()), 0, "°")) + " " +
		T("wave_said.meter", Volts(w.PlainMeter()))
}
