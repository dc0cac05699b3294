package plan

import "duskline/calc/qty"

// What a battery is, said by other figures: a table to start one's own from,
// and the protection that is usual.

// ownRows are the charges of the table that [OwnOf] gives, %: fine where the volts
// bend at both ends.
var ownRows = []float64{0, 1, 2, 3, 5, 10, 20, 30, 40, 50, 60, 70, 80, 90, 95, 98, 99, 100}

// Cycles of 80 % depth that leave 80 % of the capacity. Common practice, no
// source: about 2000 of lithium against about 400 of lead-acid.
const (
	usualCyclesLithium = 2000
	usualCyclesLead    = 400
)

// OwnOf returns a table to start one's own from: the volts at which the
// chemistry rests, whole battery, to a millivolt, and the rest of what is
// known of it. ok is false for [Own] and for a word that is none.
func OwnOf(c Chemistry) (o OwnBattery, ok bool) {
	kind, ok := c.named()
	if !ok {
		return OwnBattery{}, false
	}
	cells := float64(kind.Cells)
	o = OwnBattery{
		CoulombicPct: decimals(100*kind.CoulombicAt(0.5), 1),
		AcceptH:      decimals(kind.AcceptHours, 2),
		HysteresisMV: decimals(1000*cells*float64(kind.Swing), 1),
		CyclesTo80:   usualCyclesLead,
		Lithium:      kind.Lithium,
	}
	if kind.Lithium {
		o.CyclesTo80 = usualCyclesLithium
	}
	k := 1
	for _, pct := range ownRows {
		x := qty.Fraction(pct / 100)
		for kind.Rest[k].Charge < x {
			k++
		}
		lo, hi := kind.Rest[k-1], kind.Rest[k]
		volts := lo.Volts + (hi.Volts-lo.Volts)*qty.Volt((x-lo.Charge)/(hi.Charge-lo.Charge))
		o.Rest = append(o.Rest, OwnPoint{ChargePct: pct, Volts: decimals(cells*float64(volts), 3)})
	}
	return o, true
}

// UsualProtection returns a protection to start from. ok is false for [Own] and
// for a word that is none.
//
// Common practice, no source: volts of the whole battery as packs with a
// protection have them, 1 C in and 2 C out, no charge in frost for lithium.
func UsualProtection(c Chemistry, capacityAh float64) (p Protection, ok bool) {
	p = Protection{
		VoltsDelayS: 2, AmpsDelayS: 10, ReleaseS: 5,
		ChargeA: min(capacityAh, 1000), DischargeA: min(2*capacityAh, 2000),
		ChargeHotC: 50, DischargeColdC: -20, DischargeHotC: 60,
	}
	switch c {
	case LiFePO4:
		p.OverV, p.OverBackV, p.UnderV, p.UnderBackV = 14.8, 14, 10, 11.6
	case NMC:
		p.OverV, p.OverBackV, p.UnderV, p.UnderBackV = 12.75, 12.3, 8.4, 9.3
	case AGM, Gel, Flooded:
		p.OverV, p.OverBackV, p.UnderV, p.UnderBackV = 15.6, 14.8, 10.5, 12
		p.ChargeColdC = -20
	default:
		return Protection{}, false
	}
	return p, true
}
