package power

import (
	"math"

	"duskline/calc/qty"
)

// An Inverter makes mains volts from the battery's. What it loses grows with
// what it gives:
//
//	loss = Standby + Linear·P + Quadratic·P²
//
// Standby is there for as long as it is switched on and awake; Linear stands
// for the semiconductors' volts, Quadratic for resistance. The zero values of
// what follows Quadratic are an inverter without it.
type Inverter struct {
	Rated     qty.Watt // AC, for any time
	Surge     qty.Watt // AC, for SurgeSeconds
	Standby   qty.Watt // DC, with nothing on the outlet
	Linear    float64  // W/W
	Quadratic float64  // 1/W

	SurgeSeconds float64  // s; 0: for a moment
	LowCutOff    qty.Volt // at its input, under which it switches itself off; 0: none
	LowReconnect qty.Volt // at which it comes back
	Sleep        qty.Watt // DC, while it sleeps
	Wake         qty.Watt // AC, from which it is awake; 0: it never sleeps
}

// An InverterSpec is an inverter by the figures of its label. The zero value
// of a field after AtRated means that the label has no such figure.
type InverterSpec struct {
	Rated   qty.Watt     // AC, 30 to 5000
	Surge   qty.Watt     // AC, Rated to 15 000
	Standby qty.Watt     // DC, at the battery's terminals
	AtRated qty.Fraction // efficiency at Rated, Standby included, 0.5 to 0.99

	AtHalf       qty.Fraction // efficiency at half of Rated; 0: not known
	SurgeSeconds float64      // s, 0 to 60; 0: it gives Surge for a moment
	LowCutOff    qty.Volt     // 9 to 13; 0: none, and no LowReconnect
	LowReconnect qty.Volt     // above LowCutOff, to 14.5
	Wake         qty.Watt     // AC, to Rated; 0: it never sleeps
	Sleep        qty.Watt     // DC, to Standby
}

// NewInverter returns an inverter from four figures of its label: what
// [InverterSpec.Inverter] makes of them alone.
//
// Errors: those of [InverterSpec.Inverter].
func NewInverter(rated, surge, standby qty.Watt, atRated qty.Fraction) (Inverter, error) {
	return InverterSpec{Rated: rated, Surge: surge, Standby: standby, AtRated: atRated}.Inverter()
}

// Inverter returns the inverter that the label describes.
//
// Of the loss at rated watts, A is what is not standby; B is the same at half
// of them. Two figures fix both parts of the curve:
//
//	Linear·Rated = 4·B − A        Quadratic·Rated² = 2·A − 4·B
//
// Without AtHalf, A is shared by halves: common practice, no source.
//
// Errors: *qty.RangeError for the first figure out of range; for standby, if
// it alone is more than the whole loss at rated watts; for atHalf, if no such
// curve goes through both efficiencies: a part of the loss would be negative.
func (s InverterSpec) Inverter() (Inverter, error) {
	r, standby := float64(s.Rated), float64(s.Standby)
	loss := r * (1/float64(s.AtRated) - 1)
	if err := firstOutside([]figure{
		{"rated", r, 30, 5000, "W"},
		{"surge", float64(s.Surge), r, 15000, "W"},
		{"atRated", float64(s.AtRated), 0.5, 0.99, ""},
		{"standby", standby, 0, loss, "W"},
		{"surgeSeconds", s.SurgeSeconds, 0, 60, "s"},
		{"wake", float64(s.Wake), 0, r, "W"},
		{"sleep", float64(s.Sleep), 0, standby, "W"},
	}); err != nil {
		return Inverter{}, err
	}
	if err := s.checkLow(); err != nil {
		return Inverter{}, err
	}
	a := loss - standby
	linear, quadratic := a/2, a/2
	if s.AtHalf != 0 {
		// A/4 (all of it quadratic) ≤ B ≤ A/2 (all of it linear).
		if err := qty.InRange("atHalf", float64(s.AtHalf), r/(r+2*standby+a), r/(r+2*standby+a/2), ""); err != nil {
			return Inverter{}, err
		}
		b := r/2*(1/float64(s.AtHalf)-1) - standby
		linear = max(0, 4*b-a) // on the edge of the range, rounding falls to either side
		quadratic = max(0, a-linear)
	}
	return Inverter{
		Rated: s.Rated, Surge: s.Surge, Standby: s.Standby, Linear: linear / r, Quadratic: quadratic / (r * r),
		SurgeSeconds: s.SurgeSeconds, LowCutOff: s.LowCutOff, LowReconnect: s.LowReconnect, Sleep: s.Sleep, Wake: s.Wake,
	}, nil
}

func (s InverterSpec) checkLow() error {
	if s.LowCutOff == 0 && s.LowReconnect == 0 {
		return nil
	}
	return firstOutside([]figure{
		{"lowCutOff", float64(s.LowCutOff), 9, 13, "V"},
		{"lowReconnect", float64(s.LowReconnect), math.Nextafter(float64(s.LowCutOff), 100), 14.5, "V"},
	})
}

// A figure is one number with its range, as its error tells it.
type figure struct {
	what          string
	got, min, max float64
	unit          string
}

func firstOutside(list []figure) error {
	for _, f := range list {
		if err := qty.InRange(f.what, f.got, f.min, f.max, f.unit); err != nil {
			return err
		}
	}
	return nil
}

// Draw returns the watts that an inverter which is switched on takes from the
// battery while ac watts are asked of it, 0 to Surge. Under Wake it sleeps: it
// draws Sleep, and what asked for so little gets nothing ([Inverter.Sleeps]).
//
// Source: Schmidt1996, quadratic loss.
func (i Inverter) Draw(ac qty.Watt) qty.Watt {
	if ac < i.Wake {
		return i.Sleep
	}
	p := float64(ac)
	return qty.Watt(float64(i.Standby) + p*(1+i.Linear+p*i.Quadratic))
}

// DrawVA is [Inverter.Draw] for gear whose volt-amperes are more than its
// watts: the battery pays for the watts, and for the loss that the current of
// the volt-amperes makes. va is ac or more, to Surge.
//
//	draw = Standby + ac + Linear·va + Quadratic·va²
//
// Source: Schmidt1996, quadratic loss; EnergyBalance.
func (i Inverter) DrawVA(ac qty.Watt, va float64) qty.Watt {
	if va == float64(ac) || ac < i.Wake {
		return i.Draw(ac)
	}
	return qty.Watt(float64(i.Standby) + float64(ac) + va*(i.Linear+va*i.Quadratic))
}

// Sleeps reports whether ac watts are too little to wake the inverter: it
// gives nothing then.
func (i Inverter) Sleeps(ac qty.Watt) bool { return ac < i.Wake }

// Gives returns the AC watts that dc watts from the battery make: the inverse
// of [Inverter.Draw] awake, 0 for less than Standby.
//
// Source: Schmidt1996, quadratic loss, solved for P.
func (i Inverter) Gives(dc qty.Watt) qty.Watt {
	over := float64(dc - i.Standby)
	if !(over > 0) {
		return 0
	}
	b := 1 + i.Linear
	return qty.Watt(2 * over / (b + math.Sqrt(b*b+4*i.Quadratic*over)))
}

// Efficiency returns the share of its draw that the inverter gives at ac
// watts, 0 at 0 W and while it sleeps.
//
// Source: Schmidt1996, quadratic loss.
func (i Inverter) Efficiency(ac qty.Watt) qty.Fraction {
	if ac == 0 || i.Sleeps(ac) {
		return 0
	}
	return qty.Fraction(ac / i.Draw(ac))
}

// Best returns the AC watts at which the inverter is most efficient, at least
// Wake and at most Rated. It is 0 W for one that has no standby and never
// sleeps: the less asked, the better.
//
//	P = √(Standby/Quadratic)
//
// Source: Schmidt1996, quadratic loss, dη/dP = 0.
func (i Inverter) Best() qty.Watt {
	if float64(i.Standby) >= i.Quadratic*float64(i.Rated)*float64(i.Rated) {
		return i.Rated
	}
	return max(i.Wake, qty.Watt(math.Sqrt(float64(i.Standby)/i.Quadratic)))
}

// Trips reports whether ac, drawn for any time, is more than the inverter
// gives: it switches itself off. ac is in watts, or in volt-amperes where they
// are more: the rating is for the current.
func (i Inverter) Trips(ac qty.Watt) bool { return ac > i.Rated }

// Starts reports whether the inverter carries ac, all that runs and the surge
// of what starts, in watts or volt-amperes, for so many seconds; 0 is a
// moment. Beyond SurgeSeconds it carries no more than Rated.
func (i Inverter) Starts(ac qty.Watt, seconds float64) bool {
	return ac <= i.Rated || ac <= i.Surge && seconds <= i.SurgeSeconds
}

// Runs reports whether the inverter runs at v volts at its input, having run
// before or not: between LowCutOff and LowReconnect it stays as it was.
func (i Inverter) Runs(v qty.Volt, ran bool) bool {
	if ran {
		return v >= i.LowCutOff
	}
	return v >= i.LowReconnect
}

// HoldsTo returns the DC watts at which the volts at the inverter have sagged
// to LowCutOff, behind a battery that rests at some volts, with r of
// resistance between them: with more it switches itself off, however full the
// battery is. 0 if the battery rests under LowCutOff; without a LowCutOff it
// is the most that can arrive at all, V²/(4·R), and so it is for a LowCutOff
// under half the rest volts. r is above 0.
//
//	P = LowCutOff·(V − LowCutOff)/R
//
// Source: EnergyBalance, Ohm's law.
func (i Inverter) HoldsTo(rest qty.Volt, r qty.Ohm) qty.Watt {
	at := max(float64(i.LowCutOff), float64(rest)/2)
	return qty.Watt(max(0, at*(float64(rest)-at)/float64(r)))
}
