package power

import "duskline/calc/qty"

// How a battery is charged, by volts: as settings here, as the course of a
// charge in stages_run.go, as the settings usual for a chemistry in
// stages_usual.go. One set serves whatever charges the battery, sun or mains.

// After is what comes when absorption is over.
type After uint8

// What comes after absorption.
const (
	Hold  After = iota // it is never over: the volts of absorption are held for good
	Float              // the lower volts of Float are held
	Rest               // nothing charges until the volts fall under Resume
)

// Stages are the settings of a charge: bulk up to Absorb volts, Hours there,
// then what After says. All volts are those of the whole battery.
//
// Stages with Hold and Compensation 0 hold Absorb for good, at any heat.
type Stages struct {
	Absorb qty.Volt // held in absorption, battery at 25 °C
	Hours  float64  // at Absorb until absorption is over, h; nothing to Hold
	After  After
	Float  qty.Volt // held after absorption, battery at 25 °C; read with Float only
	Resume qty.Volt // a charge begins anew under it, at any heat; nothing to Hold

	// Compensation is by how much Absorb and Float change with the battery's
	// temperature, V/K; 0 or below. A battery of six cells with -4 mV/K each
	// has -0.024.
	Compensation float64
}

// Temperatures outside of which Compensation goes no further. Common practice,
// no source: hotter, charge should stop; colder, the gear on the bus would
// meet more volts than it stands.
const (
	CompensateFrom qty.Celsius = -20
	CompensateTo   qty.Celsius = 50
)

// reference is the temperature to which the volts of Stages belong.
const reference qty.Celsius = 25

// Check returns nil for Stages in range and in order: Absorb 10 to 17 V, Hours
// 0 to 24 h, Compensation -0.06 to 0 V/K; with Float, Float 10 V to Absorb and
// Resume 9 V to just under Float; with Rest, Resume 9 V to just under Absorb.
//
// Errors: *qty.RangeError.
func (s Stages) Check() error {
	if err := qty.InRange("After", float64(s.After), float64(Hold), float64(Rest), ""); err != nil {
		return err
	}
	if err := qty.InRange("Absorb", float64(s.Absorb), 10, 17, "V"); err != nil {
		return err
	}
	if err := qty.InRange("Hours", s.Hours, 0, 24, "h"); err != nil {
		return err
	}
	if err := qty.InRange("Compensation", s.Compensation, -0.06, 0, "V/K"); err != nil {
		return err
	}
	top := s.Absorb
	switch s.After {
	case Hold:
		return nil
	case Float:
		if err := qty.InRange("Float", float64(s.Float), 10, float64(s.Absorb), "V"); err != nil {
			return err
		}
		top = s.Float
	}
	return qty.InRange("Resume", float64(s.Resume), 9, float64(top)-1e-9, "V")
}

// Shift returns by how much Absorb and Float are moved for a battery of that
// temperature.
//
//	Compensation·(t - 25 °C),  t from CompensateFrom to CompensateTo
//
// Beyond those the nearest end counts.
//
// Source: CommonPractice, -3 to -5 mV/K for each cell of lead-acid.
func (s Stages) Shift(t qty.Celsius) qty.Volt {
	if s.Compensation == 0 {
		return 0
	}
	return qty.Volt(s.Compensation * float64(min(max(t, CompensateFrom), CompensateTo)-reference))
}
