package battery

import (
	"math"
	"strings"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// The step against the same checks as the laws in closed form: what the
// handbook says of the laws must come out of the engine, too.

// manwells is the battery of handbook H23 to H25 for the engine: it holds 50
// Ah, so its label says what it gives in 20 h. Its volts do not matter, and it
// has next to no resistance.
func manwells(t *testing.T) *Battery {
	c := line(12.5, 13)
	c.Free, c.Exchange = 0.4, 0.6
	s := spec(c)
	s.Capacity, s.RatedHours, s.Resistance = 50*qty.AmpHour(manwell.CapacityIn(20)), 20, 0.0005
	b := must(t, s)
	golden.Near(t, "Ah that it holds", float64(b.Holds()), 50, 10)
	return b
}

// empties returns the hours that constant amps take to empty it, by halving
// the length of one step.
func empties(b *Battery, from State, amps float64) float64 {
	lo, hi := 0.0, 2*float64(b.Holds())/amps
	for range 60 {
		mid := (lo + hi) / 2
		if b.Step(from, Around{Air: from.Core}, mid*3600, &draw{amps: -amps}).Empty {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

// Handbook H23 to H25: 1e-6 and 1e-5 Ah, 1e-4 h, as there.
func TestStepVectorAgainstManwellH23H24H25(t *testing.T) {
	b := manwells(t)
	full := b.Rested(1, 25)
	wells := func(s State) (free, bound float64) {
		free = float64(s.Free) * 0.4 * 50
		return free, float64(s.Charge)*50 - free
	}
	run := func(s State, amps, hours float64) State {
		return b.Step(s, Around{Air: 25}, hours*3600, &draw{amps: -amps}).State
	}
	h23 := golden.Worst{What: "H23 wells in the step, Ah", Limit: 1e-6}
	checks(t, "H23", func(row int, key string, want float64) {
		for _, s := range []State{run(full, 10, 2), run(run(full, 10, 1), 10, 1)} {
			q1, q2 := wells(s)
			if key == "q2" {
				q1 = q2
			}
			h23.Add(row, q1-want)
		}
	})
	h23.Report(t)
	h24 := golden.Worst{What: "H24 hours to empty in the step", Limit: 1e-4}
	checks(t, "H24", func(row int, key string, want float64) {
		if strings.HasPrefix(key, "t_empty") {
			h24.Add(row, empties(b, full, number(t, strings.TrimSuffix(key, "A"), -1))-want)
		}
	})
	h24.Report(t)
	h25 := golden.Worst{What: "H25 recovery in the step, Ah and h", Limit: 1e-5}
	checks(t, "H25", func(row int, key string, want float64) {
		rested := run(run(full, 20, empties(b, full, 20)), 0, 1)
		switch key {
		case "q1_rest":
			q1, _ := wells(run(run(full, 10, 2), 0, 2))
			h25.Add(row, q1-want)
		case "q1_after_empty_rest":
			q1, _ := wells(rested)
			h25.Add(row, q1-want)
		case "t_more_20A":
			h25.Add(row, empties(b, rested, 20)-want)
		}
	})
	h25.Report(t)
}

// Handbook H17: a label with an exponent runs as Peukert's law says at the
// rated amps, 0.0005 h, and at a twentieth of the rated hours, where the wells
// are fitted to it; at the check's other amps within the bound that WellsFor
// states, 2.5 % of the rated amp-hours.
func TestStepVectorAgainstPeukertH17(t *testing.T) {
	at := golden.Worst{What: "H17 hours at the rated amps", Limit: 0.0005}
	between := golden.Worst{What: "H17 amp-hours over the rated ones, between", Limit: 0.025}
	checks(t, "H17", func(row int, key string, want float64) {
		s := spec(line(12.5, 13))
		s.Capacity, s.RatedHours, s.Peukert, s.Resistance = 100, 20, 1.2, 0.0005
		if strings.Contains(key, "_40Ah_") {
			s.Capacity, s.Peukert = 40, 1.05
		}
		b := must(t, s)
		amps := number(t, strings.TrimSuffix(key, "A"), -1)
		got := empties(b, b.Rested(1, 25), amps)
		if amps*20 == float64(s.Capacity) {
			at.Add(row, got-want)
		}
		if want > 1 { // shorter than a twentieth the two part
			between.Add(row, (got-want)*amps/float64(s.Capacity))
		}
	})
	at.Report(t)
	between.Report(t)
}

// Handbook H43 and H44: self-discharge in the step, day by day for six months,
// 1e-4; and 12 mA of meters on 40 Ah, 0.01 day.
func TestStepVectorStandsAsLongAsH43H44(t *testing.T) {
	c := line(12.5, 13)
	c.SelfDischarge, c.DoublesEvery = 0.03, 10
	b := must(t, spec(c))
	h43 := golden.Worst{What: "H43 share left in the step", Limit: 1e-4}
	checks(t, "H43", func(row int, key string, want float64) {
		if key != "after_6_months" {
			return
		}
		for _, days := range []float64{90, 30, 1, 1. / 24} { // a step is at most 1e7 s
			s := b.Rested(1, 20)
			for range int(180 / days) {
				s = b.Step(s, Around{Air: 20}, days*86_400, &draw{}).State
			}
			h43.Add(row, float64(s.Charge)-want)
		}
	})
	h43.Report(t)
	h44 := golden.Worst{What: "H44 days in the step", Limit: 0.01}
	b = must(t, spec(line(12.5, 13)))
	checks(t, "H44", func(row int, _ string, want float64) {
		s := b.Step(b.Rested(0.8, 20), Around{Air: 20}, want*86_400, &draw{amps: -0.012}).State
		h44.Add(row, (0.2-float64(s.Charge))*40/0.012/24)
	})
	h44.Report(t)
	// Both at once, in heat, against the closed form. The step takes the
	// self-discharge before the draw, so it is exact only in small steps: by
	// the hour within 1e-4, by the day 1e-3.
	c.SelfDischarge = 0.05
	b = must(t, spec(c))
	want := c.Standing().After(0.9, 90, 0.01*24/40, 35)
	for _, steps := range []struct{ days, bound float64 }{{1. / 24, 1e-4}, {1, 1.2e-3}} {
		s := b.Rested(0.9, 35)
		for range int(90 / steps.days) {
			s = b.Step(s, Around{Air: 35}, steps.days*86_400, &draw{amps: -0.01}).State
		}
		if d := math.Abs(float64(s.Charge - want)); d > steps.bound {
			t.Errorf("%.6f left after 90 days at 35 °C, the closed form has %.6f", float64(s.Charge), float64(want))
		}
	}
}
