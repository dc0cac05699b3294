package plan

import (
	"errors"

	"duskline/calc/panel"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// The parts of the Case and the panels as models, and what these say against
// the document's figures.

// Model returns the controller that the simulation asks.
//
// A figure that is absent has the value of the one that stands for it: Low is
// 0, Night as Standby.
func (c Controller) Model() power.Controller {
	m := power.Controller{
		Kind:       power.PWM,
		Limit:      qty.Ampere(c.LimitA),
		Efficiency: qty.Fraction(c.EfficiencyPct / 100),
		Start:      qty.Volt(c.StartV),
		InputMax:   qty.Volt(c.InputMaxV),
		Standby:    qty.Ampere(c.StandbyA),
		Night:      qty.Ampere(c.StandbyA),
	}
	if c.Kind == MPPT {
		m.Kind = power.MPPT
	}
	if c.EfficiencyLowPct != nil {
		m.Low = qty.Fraction(*c.EfficiencyLowPct / 100)
	}
	if c.NightA != nil {
		m.Night = qty.Ampere(*c.NightA)
	}
	return m
}

func modelController(c Controller, s *sheet) {
	const at = "/case/controller"
	err := c.Model().Check()
	if err == nil {
		return
	}
	if e := (*qty.RangeError)(nil); errors.As(err, &e) && e.What == "Low" {
		s.note(Fault{Pointer: at + "/efficiency_low_pct", Kind: OutOfRange, Found: jsonNumber(*c.EfficiencyLowPct),
			Min: 100 * e.Min, Max: 100 * e.Max, Unit: "%", Other: at + "/efficiency_pct"})
		return
	}
	s.refused(at, "", err)
}

// Stages returns the course of a charge, whatever charges the battery.
func (b Battery) Stages() power.Stages {
	st := power.Stages{
		Absorb: qty.Volt(b.ChargeV), Hours: b.AbsorptionH, Float: qty.Volt(b.FloatV), Resume: qty.Volt(b.ResumeV),
		Compensation: b.CompensationMVPerK / 1000,
	}
	switch b.AfterFull {
	case AfterFloat:
		st.After = power.Float
	case AfterRest:
		st.After = power.Rest
	}
	return st
}

// Model returns the wall charger. A Case without one, current_A 0, has one of
// no current.
func (w WallCharger) Model() power.WallCharger {
	return power.WallCharger{
		Current:    qty.Ampere(w.CurrentA),
		Efficiency: qty.Fraction(w.EfficiencyPct / 100),
		InputMin:   qty.Volt(w.InputMinV),
		InputMax:   qty.Volt(w.InputMaxV),
	}
}

// Model returns the vehicle charger; that of nil has no current.
func (v *VehicleCharger) Model() power.VehicleCharger {
	if v == nil {
		return power.VehicleCharger{}
	}
	return power.VehicleCharger{
		Current:    qty.Ampere(v.CurrentA),
		Efficiency: qty.Fraction(v.EfficiencyPct / 100),
		Socket:     qty.Ampere(v.SocketA),
	}
}

// Model returns the sockets behind their converter.
func (o Outlet) Model() power.Outlet {
	return power.Outlet{Standby: qty.Ampere(o.StandbyA), Efficiency: qty.Fraction(o.EfficiencyPct / 100)}
}

// inverterRestVolts turns the inverter's amps into watts: the volts that the
// document states for these figures.
const inverterRestVolts = 12.8

// Model returns the inverter that the simulation loads. A Case without one,
// rated_W 0, has no model.
//
// Errors: those of [power.InverterSpec.Inverter], none for a checked Plan.
func (i Inverter) Model() (power.Inverter, error) {
	spec := power.InverterSpec{
		Rated:        qty.Watt(i.RatedW),
		Surge:        qty.Watt(i.SurgeW),
		Standby:      qty.Power(inverterRestVolts, qty.Ampere(i.StandbyA)),
		AtRated:      qty.Fraction(i.EfficiencyPct / 100),
		SurgeSeconds: i.SurgeS,
		LowCutOff:    qty.Volt(i.LowCutoffV),
		LowReconnect: qty.Volt(i.LowReconnectV),
	}
	if i.EfficiencyHalfPct != nil {
		spec.AtHalf = qty.Fraction(*i.EfficiencyHalfPct / 100)
	}
	if i.SleepA != nil {
		spec.Sleep, spec.Wake = qty.Power(inverterRestVolts, qty.Ampere(*i.SleepA)), qty.Watt(i.WakeW)
	}
	return spec.Inverter()
}

func modelInverter(i Inverter, s *sheet) {
	const at = "/case/inverter"
	_, err := i.Model()
	if err == nil {
		return
	}
	e := (*qty.RangeError)(nil)
	switch {
	case errors.As(err, &e) && e.What == "standby":
		s.note(Fault{Pointer: at + "/standby_A", Kind: StandbyTooBig, Found: jsonNumber(i.StandbyA),
			Max: e.Max / inverterRestVolts, Unit: "A", Other: at + "/efficiency_pct"})
	case e != nil && e.What == "atHalf":
		s.note(Fault{Pointer: at + "/efficiency_half_pct", Kind: OutOfRange, Found: jsonNumber(*i.EfficiencyHalfPct),
			Min: 100 * e.Min, Max: 100 * e.Max, Unit: "%", Other: at + "/efficiency_pct"})
	default:
		s.refused(at, "", err)
	}
}

// Shape returns the wave of the inverter's volts.
func (i Inverter) Shape() power.Wave {
	if i.Wave == ModifiedSine {
		return power.ModifiedSine(qty.Volt(i.OutputV), qty.Degree(i.PulseDeg))
	}
	return power.Sine(qty.Volt(i.OutputV))
}

// Class returns how the device takes volts that are no sine.
func (d Device) Class() power.Sensitivity {
	switch d.Sensitivity {
	case SensitivityResistive:
		return power.Resistive
	case SensitivityUniversalMotor:
		return power.UniversalMotor
	case SensitivityInductionMotor:
		return power.InductionMotor
	case SensitivityClock:
		return power.Clock
	case SensitivityCharger:
		return power.Charger
	case SensitivityMedical:
		return power.Medical
	case SensitivityAudio:
		return power.Audio
	}
	return power.Unsaid
}

// Standing returns what the Case draws while nothing is plugged in.
//
// Errors: those of [Inverter.Model], none for a checked Plan.
func (c Case) Standing() (power.Standing, error) {
	control := c.Controller.Model()
	st := power.Standing{
		Meters:     qty.Ampere(c.Meters.StandbyA),
		Controller: control.Standby,
		Night:      control.Night,
		DC:         c.DC.Model(),
		USB:        c.USB.Model(),
		Fitted:     c.Inverter.RatedW > 0,
	}
	var err error
	if st.Fitted {
		st.Inverter, err = c.Inverter.Model()
	}
	return st, err
}

// technology returns what the panel is made of, as the model has it.
func (t Technology) model() panel.Technology {
	if t == ThinFilm {
		return panel.ThinFilm
	}
	return panel.Crystalline
}

// Module returns one panel's electrical model at its age, from its datasheet
// if it has one, else from its watts.
//
// Errors: those of [panel.FromDatasheet], [panel.FromWatts] and
// [panel.Module.Aged], none for a checked Plan.
func (p Panel) Module() (panel.Module, error) {
	m, err := p.fresh()
	if err != nil || p.AgeYears == 0 {
		return m, err
	}
	return m.Aged(p.AgeYears, p.Technology.model())
}

// fresh is the panel when it was new.
func (p Panel) fresh() (panel.Module, error) {
	d := p.Datasheet
	if d == nil {
		return panel.FromWatts(qty.Watt(p.RatedW), p.Technology.model())
	}
	return panel.FromDatasheet(panel.Datasheet{
		Isc:      qty.Ampere(d.IscA),
		Voc:      qty.Volt(d.VocV),
		Imp:      qty.Ampere(d.ImpA),
		Vmp:      qty.Volt(d.VmpV),
		AlphaIsc: d.AlphaIscPctPerK / 100 * d.IscA,
		BetaVoc:  d.BetaVocPctPerK / 100 * d.VocV,
		Cells:    d.Cells,
	})
}

func modelPanel(at string, p Panel, s *sheet) {
	_, err := p.Module()
	if err == nil {
		return
	}
	if p.Datasheet == nil {
		s.refused(at+"/rated_W", jsonNumber(p.RatedW), err)
		return
	}
	f := Fault{Pointer: at + "/datasheet", Kind: NoCurve}
	// The model names the figure that spoils the fit, and in its own units.
	if e := (*qty.RangeError)(nil); errors.As(err, &e) {
		d := p.Datasheet
		for _, m := range []struct {
			what, field, unit string
			value, factor     float64
		}{
			{"Isc", "isc_A", "A", d.IscA, 1},
			{"Voc", "voc_V", "V", d.VocV, 1},
			{"Imp", "imp_A", "A", d.ImpA, 1},
			{"Vmp", "vmp_V", "V", d.VmpV, 1},
			{"Imp·Vmp", "", "W", d.ImpA * d.VmpV, 1},
			{"AlphaIsc", "alpha_isc_pct_per_K", "%/K", d.AlphaIscPctPerK, 100 / d.IscA},
			{"BetaVoc", "beta_voc_pct_per_K", "%/K", d.BetaVocPctPerK, 100 / d.VocV},
			{"Cells", "cells", "", float64(d.Cells), 1},
		} {
			if m.what == e.What {
				if m.field != "" {
					f.Pointer += "/" + m.field
				}
				f.Found, f.Min, f.Max, f.Unit = jsonNumber(m.value), e.Min*m.factor, e.Max*m.factor, m.unit
			}
		}
	}
	s.note(f)
}
