package power

import "duskline/calc/qty"

// Chemistry is the kind of battery, as far as its charge goes.
type Chemistry uint8

// The chemistries.
const (
	Flooded Chemistry = iota // lead-acid with caps, six cells
	AGM                      // sealed lead-acid with glass mat, six cells
	Gel                      // sealed lead-acid with gel, six cells
	LiFePO4                  // four cells
	NMC                      // lithium nickel manganese cobalt, three cells
)

// Sealed reports whether no water can be put back into the battery: what it
// gasses is lost. Lithium counts as sealed.
func (c Chemistry) Sealed() bool { return c != Flooded }

// Lithium reports whether the chemistry is a lithium one: no compensation for
// temperature, no charge in frost, no long float.
func (c Chemistry) Lithium() bool { return c == LiFePO4 || c == NMC }

// A Band is usual volts, whole battery at 25 °C. The zero Band says that the
// chemistry must not have it.
type Band struct{ From, To qty.Volt }

// None reports whether the chemistry must not have it.
func (b Band) None() bool { return b.To == 0 }

// Has reports whether v lies in the band, both ends included.
func (b Band) Has(v qty.Volt) bool { return !b.None() && v >= b.From && v <= b.To }

// Usual is what charges a chemistry usually.
type Usual struct {
	Absorb, Float Band
	Equalise      Band // now and then, by hand and with caps off: flooded only
}

// usual is by Chemistry.
var usual = [...]Usual{
	Flooded: {Absorb: Band{14.4, 14.8}, Float: Band{13.2, 13.5}, Equalise: Band{15, 16}},
	AGM:     {Absorb: Band{14.4, 14.7}, Float: Band{13.5, 13.8}},
	Gel:     {Absorb: Band{14.1, 14.4}, Float: Band{13.5, 13.8}},
	LiFePO4: {Absorb: Band{14.2, 14.6}, Float: Band{13.4, 13.6}},
	NMC:     {Absorb: Band{12.3, 12.6}}, // 4.1 to 4.2 V a cell
}

// UsualFor returns the volts that charge a chemistry usually, and false for one
// that is not listed.
//
// Source: CommonPractice.
func UsualFor(c Chemistry) (Usual, bool) {
	if int(c) >= len(usual) {
		return Usual{}, false
	}
	return usual[c], true
}

// leadPerKelvin is what lead-acid's volts move by, V/K: six cells of -4 mV/K.
const leadPerKelvin = -6 * 0.004

// StagesFor returns settings to start from for a chemistry, and false for one
// that is not listed. The maker's own figures come before them.
//
// Lead-acid absorbs for hours and floats, and any gear at night begins the
// next charge; its volts follow the heat. Lithium is done soon after it is
// held, rests, and has no compensation.
//
// Source: CommonPractice.
func StagesFor(c Chemistry) (Stages, bool) {
	switch c {
	case Flooded:
		return Stages{Absorb: 14.6, Hours: 3, After: Float, Float: 13.4, Resume: 12.8, Compensation: leadPerKelvin}, true
	case AGM:
		return Stages{Absorb: 14.4, Hours: 3, After: Float, Float: 13.6, Resume: 12.8, Compensation: leadPerKelvin}, true
	case Gel:
		return Stages{Absorb: 14.2, Hours: 4, After: Float, Float: 13.6, Resume: 12.8, Compensation: leadPerKelvin}, true
	case LiFePO4:
		return Stages{Absorb: 14.4, Hours: 0.5, After: Rest, Float: 13.5, Resume: 13.2}, true
	case NMC:
		return Stages{Absorb: 12.6, Hours: 0.5, After: Rest, Float: 12.3, Resume: 12.2}, true
	}
	return Stages{}, false
}
