package desk

import (
	"math"

	"duskline/calc/plan"
	"duskline/calc/power"
)

// chooseChemistry puts another kind of battery in. Its volts are others, so
// the marks go with it; without that, most changes would be refused. So do
// the figures that were stated of the one before; a protection becomes the
// usual one of the new cells. A table of one's own begins as the battery
// that it takes the place of.
func chooseChemistry(b *plan.Battery, c plan.Chemistry) {
	if c == b.Chemistry {
		return
	}
	was := b.ChargeV
	if c == plan.Own {
		if own, ok := plan.OwnOf(b.Chemistry); ok {
			b.Own, b.Chemistry = &own, c
		}
		fitStages(b)
		return
	}
	b.Own, b.Peukert, b.SelfDischargePctMonth, b.NoChargeBelowC = nil, nil, nil, nil
	b.Chemistry = c
	if marks, ok := plan.UsualMarks(c); ok {
		b.SetMarks(marks)
	}
	if math.Abs(b.ChargeV-was) > 1 {
		// So many cells more or less: what float was for the one means nothing
		// for the other. Our own bound.
		if st, ok := power.StagesFor(charging(b)); ok {
			b.FloatV, b.ResumeV = float64(st.Float), float64(st.Resume)
		}
	}
	if !b.Lithium() {
		b.Protection = nil // lead-acid has none, as a rule
	} else if b.Protection != nil {
		b.Protection = UsualProtection(*b)
	}
	fitStages(b)
}

// fitStages leaves of the stages of a charge what fits the battery.
func fitStages(b *plan.Battery) {
	b.FloatV = min(b.FloatV, b.ChargeV)
	if over := b.FloatV; b.AfterFull == plan.AfterFloat && b.ResumeV >= over {
		b.ResumeV = math.Round(10*over-2) / 10
	} else if b.AfterFull == plan.AfterRest && b.ResumeV >= b.ChargeV {
		b.ResumeV = math.Round(10*b.ChargeV-2) / 10
	}
	if b.Lithium() {
		b.CompensationMVPerK = 0
	}
}

// UsualMarks sets the marks that suit the battery: common practice, no source.
func UsualMarks(p *plan.Plan) {
	b := &p.Case.Battery
	if marks, ok := b.UsualMarks(); ok {
		b.SetMarks(marks)
		fitStages(b)
	}
}

// UsualStages sets what a charger usually does once a battery of that kind is
// full: common practice, no source. The volts at which charging is held stay
// as they are.
func UsualStages(p *plan.Plan) {
	b := &p.Case.Battery
	st, _ := power.StagesFor(charging(b))
	b.AbsorptionH = st.Hours
	b.CompensationMVPerK = math.Round(1000 * st.Compensation)
	switch b.AfterFull = plan.AfterHold; st.After {
	case power.Float:
		b.AfterFull, b.FloatV, b.ResumeV = plan.AfterFloat, float64(st.Float), float64(st.Resume)
	case power.Rest:
		b.AfterFull, b.ResumeV = plan.AfterRest, float64(st.Resume)
	}
	fitStages(b)
}

// UsualProtection returns a protection to start from: common practice, no
// source. That of a table of one's own lies a little beyond the volts that
// charge it and shut it off.
func UsualProtection(b plan.Battery) *plan.Protection {
	if p, ok := plan.UsualProtection(b.Chemistry, b.CapacityAh); ok {
		return &p
	}
	nearest := plan.AGM
	if b.Lithium() {
		nearest = plan.LiFePO4
	}
	p, _ := plan.UsualProtection(nearest, b.CapacityAh)
	tenth := func(v float64) float64 { return math.Round(10*v) / 10 }
	p.OverV, p.OverBackV = tenth(min(b.ChargeV+0.4, 18)), tenth(b.ChargeV-0.2)
	p.UnderV, p.UnderBackV = tenth(max(b.CutoffV-1, 5)), tenth(max(b.CutoffV, 5.5))
	return &p
}

// charging returns the kind as chargers know it; a table of one's own counts
// as the nearest.
func charging(b *plan.Battery) power.Chemistry {
	if kind, ok := b.Chemistry.Charging(); ok {
		return kind
	}
	if b.Lithium() {
		return power.LiFePO4
	}
	return power.AGM
}
