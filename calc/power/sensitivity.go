package power

import (
	"math"

	"duskline/calc/notice"
	"duskline/calc/qty"
)

// Sensitivity is what kind of device hangs on the inverter, as far as the
// shape of its volts matters.
type Sensitivity uint8

// The kinds.
const (
	Unsaid Sensitivity = iota // nothing is known, and nothing is said
	Resistive
	UniversalMotor // brushes: drills, mixers, vacuum cleaners
	InductionMotor // compressors, pumps, most fans
	Clock          // counts the crossings of nothing: clocks, timers, dimmers
	Charger        // of tools and other batteries, and plug-in supplies
	Medical
	Audio
)

// Remark is what there is to say of a device on a wave.
type Remark uint8

// The remarks.
const (
	NoRemark    Remark = iota
	RunsWarm           // a motor with brushes: warmer, louder, its speed control may hunt
	RunsHot            // an induction motor: harmonics heat it without turning it; only if its maker allows it
	CountsWrong        // a clock or dimmer: it may count the pause between the pulses, too
	WideOrMaker        // a charger: harmless if its label takes a wide range of volts, else only if its maker allows it: some burn out
	Hums               // audio: hum in the sound
	Backup             // medical, on any wave: have a backup and a clinician's plan
	MakerAllows        // medical, on a stepped wave: as Backup, and only if its maker allows it
)

// An Effect is what a wave does to a kind of device.
type Effect struct {
	Extra  qty.Fraction // more watts than on a sine, as a share of those; 0 or more
	Remark Remark
	Grade  notice.Grade // counts only with a Remark
}

// Motors on a stepped wave, in figures of common practice without a source:
// one with brushes takes a twentieth more, one without a fifth. lockedRotor is
// how many times its running current an induction motor takes at standstill,
// copperShare what part of its watts heats its windings.
const (
	brushExtra     = 0.05
	inductionExtra = 0.20
	lockedRotor    = 6.0
	copperShare    = 0.2
)

// Effect returns what the wave does to a device of the kind. On a sine only
// medical gear has a remark: it has one on any wave.
//
// A heater takes the same watts on every wave of the same RMS, and so does a
// supply with a switching converter. A motor with brushes is reckoned with a
// twentieth more, an induction motor with a fifth more; the narrower the
// pulse, the less of the wave turns it, and where the heat of that in its
// windings alone comes to more than a fifth, that counts:
//
//	extra = 0.2·((1 + Σ (6·h(n)/n)²)/f² − 1), n = 3, 5, 7 …
//
// h being [Wave.HarmonicShare] and f [Wave.Fundamental]: to give the same turn
// with less, the motor's current grows by 1/f, and at the harmonics it stands
// still as far as they can tell, with a reactance that grows with n.
//
// Figures and remarks are common practice, no source, and so is the use of
// them for a motor whose plate is not known.
//
// Source: CommonPractice.
func (s Sensitivity) Effect(w Wave) Effect {
	switch {
	case s == Medical && w.IsSine():
		return Effect{Remark: Backup, Grade: notice.Warning}
	case w.IsSine():
		return Effect{}
	}
	switch s {
	case UniversalMotor:
		return Effect{brushExtra, RunsWarm, notice.Advice}
	case InductionMotor:
		return Effect{qty.Fraction(max(inductionExtra, windingHeat(w))), RunsHot, notice.Warning}
	case Clock:
		return Effect{0, CountsWrong, notice.Caution}
	case Charger:
		return Effect{0, WideOrMaker, notice.Warning}
	case Medical:
		return Effect{0, MakerAllows, notice.Warning}
	case Audio:
		return Effect{0, Hums, notice.Advice}
	}
	return Effect{} // Unsaid, Resistive
}

// windingHeat is the law of [Sensitivity.Effect]. The terms fall with the
// fourth power of n: what follows 101 is under 1e-5 of the sum.
func windingHeat(w Wave) float64 {
	sum := 1.0
	for n := 3; n <= 101; n += 2 {
		i := lockedRotor * float64(w.HarmonicShare(n)) / float64(n)
		sum += i * i
	}
	f := float64(w.Fundamental())
	return copperShare * (sum/(f*f) - 1)
}

// VoltAmperes returns the volt-amperes of a device of those watts, which is
// what an inverter's rating is about. factor is its power factor, 0.1 to 1.
//
//	VA = W/pf
//
// Source: EnergyBalance, of its definition.
func VoltAmperes(w qty.Watt, factor qty.Fraction) float64 { return float64(w) / float64(factor) }

// StartVA returns the volt-amperes that a motor takes while its rotor stands.
// multiple is how many times its running current that is: compressors 5 to 8,
// tools with brushes 2 to 4, common practice, no source.
//
// Source: CommonPractice.
func StartVA(running qty.Watt, factor qty.Fraction, multiple float64) float64 {
	return multiple * VoltAmperes(running, factor)
}

// StartAmps returns what the battery gives while a motor starts: its power
// factor at start, 0.1 to 1, makes watts of its volt-amperes, the inverter's
// efficiency, above 0 to 1, makes them more, at v volts.
//
//	I = VA·pf/(efficiency·v)
//
// Source: EnergyBalance.
func StartAmps(va float64, atStart, efficiency qty.Fraction, v qty.Volt) qty.Ampere {
	return qty.Ampere(va * float64(atStart) / (float64(efficiency) * float64(v)))
}

// horsepower is one in watts, as motor plates mean it.
const horsepower = 745.7

// letters are the code letters of motor plates, each with the least kVA a
// horsepower that it stands for; I, O and Q are left out of the alphabet.
const letters = "ABCDEFGHJKLMNPRSTUV"

var leastKVA = [...]float64{0, 3.15, 3.55, 4, 4.5, 5, 5.6, 6.3, 7.1, 8, 9, 10, 11.2, 12.5, 14, 16, 18, 20, 22.4}

// LockedRotor returns the least and the most volt-amperes that a motor takes
// while its rotor stands, by the code letter of its plate (A to V without I, O
// and Q) and the watts that it gives at its shaft, 0 or more. Letter V has no
// upper end: most is +Inf. ok is false for another letter.
//
//	VA = 1000·hp·letter
//
// Source: NEMAMG1, code letters for locked-rotor kVA, read in reproductions.
func LockedRotor(letter byte, shaft qty.Watt) (least, most float64, ok bool) {
	for k := range len(letters) {
		if letters[k] != letter {
			continue
		}
		hp := float64(shaft) / horsepower
		most = math.Inf(1)
		if k+1 < len(leastKVA) {
			most = 1000 * hp * (leastKVA[k+1] - 0.01) // each range ends a hundredth under the next
		}
		return 1000 * hp * leastKVA[k], most, true
	}
	return 0, 0, false
}

// ClockDrift returns how many seconds a day a clock gains that counts cycles
// of got Hz and takes them for meant Hz, which is above 0; negative: it loses.
//
// Source: EnergyBalance, counting.
func ClockDrift(got, meant float64) float64 { return 86400 * (got/meant - 1) }
