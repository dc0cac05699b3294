package battery

import (
	"math"

	"duskline/calc/qty"
)

// What a step reads off its chemistry is laid down in even tables when a
// battery is made: a lookup is then a product and a straight line, and no step
// asks a function or searches rows.

const (
	byCharge = 64 // parts of the charge
	byKelvin = 1  // knots a kelvin, from coldest to hottest: Arrhenius at 80 kJ/mol lies within 0.3 % of its line
	kelvins  = int(hottest-coldest) * byKelvin
)

// atCharge is what goes by charge: the factor on the resistance, and what a
// kelvin above 25 °C adds to the rest volts of the whole battery.
type atCharge struct{ ohms, shift float64 }

// atCore is what goes by the temperature of the core: the factor on the
// resistance, the exchange of the wells and the self-discharge, 1/h.
type atCore struct{ ohms, exchange, standing float64 }

// A intake says which share of the amp-hours put in stays: one figure for each
// part of the charge, so that any amount put in moves the charge by exactly
// what all its parts would.
type intake struct {
	same bool    // at every charge
	all  float64 // then, which
	eta  [byCharge]float64
	need [byCharge]float64 // 1/eta
}

// moved returns by how much the charge rises from s for amp-hours q put in, as
// a share of what the battery holds. It does not pass full.
func (t *intake) moved(s, q float64) float64 {
	if t.same {
		return min(q*t.all, 1-s)
	}
	at := s
	for k := min(int(s*byCharge), byCharge-1); k < byCharge; k++ {
		end := float64(k+1) * (1.0 / byCharge)
		room := (end - at) * t.need[k]
		if q <= room {
			return at - s + q*t.eta[k]
		}
		q, at = q-room, end
	}
	return 1 - s
}

// put is the inverse of moved: what must be put in for the charge to rise from
// s by m.
func (t *intake) put(s, m float64) float64 {
	if t.same {
		return m / t.all
	}
	q, at := 0.0, s
	for k := min(int(s*byCharge), byCharge-1); k < byCharge; k++ {
		end := float64(k+1) * (1.0 / byCharge)
		if s+m <= end {
			return q + (s+m-at)*t.need[k]
		}
		q, at = q+(end-at)*t.need[k], end
	}
	return q
}

// at returns the share that stays of what is put in at s.
func (t *intake) at(s float64) float64 {
	if t.same {
		return t.all
	}
	return t.eta[min(int(s*byCharge), byCharge-1)]
}

func newIntake(c *Chemistry) intake {
	var t intake
	t.same, t.all = true, c.CoulombicAt(0)
	for _, row := range c.Coulombic {
		t.same = t.same && row.Value == t.all
	}
	for k := range t.eta {
		// The mean of what must be put in, over the part, by Simpson's rule.
		a, z := qty.Fraction(k)/byCharge, qty.Fraction(k+1)/byCharge
		t.need[k] = (1/c.CoulombicAt(a) + 4/c.CoulombicAt((a+z)/2) + 1/c.CoulombicAt(z)) / 6
		t.eta[k] = 1 / t.need[k]
	}
	return t
}

// layers are the tables of one battery. All batteries that differ only in the
// volts at which charging is held share them.
type layers struct {
	curve  curve
	charge [byCharge + 2]atCharge
	lifts  [byCharge + 2]float64 // V that amps into the battery raise it at most
	core   [kelvins + 2]atCore
	intake intake

	// From how far under 25 °C to how far above, K, the shift goes with the
	// temperature: a straight line measured around 25 °C, it would make flat
	// rest volts fall with charge in great cold. Beyond, it stays.
	shiftFrom, shiftTo float64
}

func newLayers(s *Spec, exchange float64) *layers {
	c := &s.Chemistry
	t := &layers{curve: newCurve(c.Rest, c.Cells), intake: newIntake(c)}
	for k := range t.charge {
		at := qty.Fraction(k) / byCharge
		t.charge[k] = atCharge{c.OhmsAt(at), c.ShiftAt(at) * float64(c.Cells)}
		t.lifts[k] = c.Lift.At(at, 0) * float64(c.Cells)
	}
	t.shiftFrom, t.shiftTo = t.shiftSpan()
	standing := c.Standing()
	if s.SelfDischarge != nil {
		standing.Month = *s.SelfDischarge
	}
	for k := range t.core {
		at := min(qty.Celsius(coldest+float64(k)/byKelvin), hottest)
		f := atCore{1, exchange, 0}
		if c.Cold != nil {
			f.ohms = c.Cold(at)
		}
		if c.ExchangeCold != nil {
			f.exchange *= c.ExchangeCold(at)
		}
		if standing.Month > 0 {
			f.standing = standing.PerHour(at)
		}
		t.core[k] = f
	}
	return t
}

// shiftSpan returns between which differences to 25 °C the rest volts keep at
// least a tenth of their rise at every charge.
func (t *layers) shiftSpan() (from, to float64) {
	from, to = -1000, 1000
	for k := range byCharge {
		bend := (t.charge[k+1].shift - t.charge[k].shift) * byCharge
		if bend == 0 {
			continue
		}
		rise := math.Inf(1)
		for i := t.curve.line(float64(k) / byCharge); i <= t.curve.line(float64(k+1)/byCharge); i++ {
			rise = min(rise, t.curve.knots[i].slope)
		}
		if span := -0.9 * rise / bend; bend > 0 {
			from = max(from, span)
		} else {
			to = min(to, span)
		}
	}
	return from, to
}

// shifted returns by how many kelvin the rest volts are shifted.
func (t *layers) shifted(core float64) float64 { return inside(core-25, t.shiftFrom, t.shiftTo) }

// atCharge returns what goes by charge at s, from 0 to 1.
func (t *layers) atCharge(s float64) atCharge {
	x := s * byCharge
	k := int(x)
	x -= float64(k)
	a, z := &t.charge[k], &t.charge[k+1]
	return atCharge{a.ohms + (z.ohms-a.ohms)*x, a.shift + (z.shift-a.shift)*x}
}

// lift returns by how many volts amps into the battery raise it at most at s,
// from 0 to 1, and by how much that rises with a unit of charge.
func (t *layers) lift(s float64) (volts, slope float64) {
	x := s * byCharge
	k := int(x)
	slope = (t.lifts[k+1] - t.lifts[k])
	return t.lifts[k] + slope*(x-float64(k)), slope * byCharge
}

// atCore returns what goes by the temperature of the core. Outside of the
// tables their nearest end counts: no published figure reaches further.
func (t *layers) atCore(core float64) atCore {
	a, z, x := t.between(core)
	return atCore{
		a.ohms + (z.ohms-a.ohms)*x,
		a.exchange + (z.exchange-a.exchange)*x,
		a.standing + (z.standing-a.standing)*x,
	}
}

// cold returns the factor on the resistance alone.
func (t *layers) cold(core float64) float64 {
	a, z, x := t.between(core)
	return a.ohms + (z.ohms-a.ohms)*x
}

// between returns the rows around a temperature, and how far it is from one to
// the other.
func (t *layers) between(core float64) (a, z *atCore, x float64) {
	x = inside((core-coldest)*byKelvin, 0, float64(kelvins))
	k := int(x)
	return &t.core[k], &t.core[k+1], x - float64(k)
}
