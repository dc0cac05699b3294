// Package wire is copper between a source and what it feeds: its resistance,
// the volts and watts it costs, how thin or long it may be, and the arithmetic
// of the fuse before it.
//
// A metric size has the greatest resistance that a flexible conductor of it
// may have, so the drop is at most what is told; an American size has that of
// solid round wire, and a flexible one of it has 2 to 6 % more (common
// practice, no source). Both conductors count: a length is one way.
//
// Missing, on purpose: how many amps a wire may carry. That hangs on
// insulation, bundling and heat, and stands on the cable. A drop that is fine
// says nothing of it.
package wire

import (
	"fmt"
	"math"
)

// A Gauge is a size of copper conductor: [AWG18] to [AWG2], [MM0_75] to
// [MM35]. The zero Gauge is the thinnest metric one.
type Gauge uint8

// The gauges, each row from thin to thick.
const (
	MM0_75 Gauge = iota
	MM1
	MM1_5
	MM2_5
	MM4
	MM6
	MM10
	MM16
	MM25
	MM35

	AWG18
	AWG16
	AWG14
	AWG12
	AWG10
	AWG8
	AWG6
	AWG4
	AWG2
	beyond
)

// class5 is the cross-section in mm² and the greatest resistance at 20 °C in
// Ω/km of plain copper of class 5.
//
// Source: IEC60228, table 3 for class 5, read in several reproductions.
var class5 = [...]struct {
	name      string
	mm2, most float64
}{
	{"0.75_mm2", 0.75, 26.0},
	{"1_mm2", 1, 19.5},
	{"1.5_mm2", 1.5, 13.3},
	{"2.5_mm2", 2.5, 7.98},
	{"4_mm2", 4, 4.95},
	{"6_mm2", 6, 3.30},
	{"10_mm2", 10, 1.91},
	{"16_mm2", 16, 1.21},
	{"25_mm2", 25, 0.780},
	{"35_mm2", 35, 0.554},
}

var american = [...]string{
	"18_AWG", "16_AWG", "14_AWG", "12_AWG", "10_AWG", "8_AWG", "6_AWG", "4_AWG", "2_AWG",
}

// Metric returns the sizes in mm², from thin to thick.
func Metric() []Gauge { return between(MM0_75, AWG18) }

// American returns the sizes of American wire, from thin to thick.
func American() []Gauge { return between(AWG18, beyond) }

// All returns every Gauge, metric ones first.
func All() []Gauge { return between(MM0_75, beyond) }

func between(first, end Gauge) []Gauge {
	var list []Gauge
	for g := first; g < end; g++ {
		list = append(list, g)
	}
	return list
}

// Named returns the Gauge of a name such as "4_mm2" or "12_AWG", and whether
// there is one.
func Named(name string) (Gauge, bool) {
	for g := MM0_75; g < beyond; g++ {
		if g.String() == name {
			return g, true
		}
	}
	return 0, false
}

// String returns the name, as a document has it: "4_mm2", "12_AWG".
func (g Gauge) String() string {
	switch {
	case g < AWG18:
		return class5[g].name
	case g < beyond:
		return american[g-AWG18]
	}
	return fmt.Sprintf("Gauge(%d)", uint8(g))
}

// number is that of an American gauge.
func (g Gauge) number() float64 { return 18 - 2*float64(g-AWG18) }

// Diameter returns the diameter, in mm, of solid round wire of an American
// gauge, by number: 40 to 1, 0 for 1/0, −3 for 4/0.
//
//	d = 0.127·92^((36 − n)/39)
//
// Source: ASTMB258, the geometric progression, read on several pages.
func Diameter(number int) float64 { return diameter(float64(number)) }

func diameter(n float64) float64 { return 0.127 * math.Pow(92, (36-n)/39) }

// Area returns the cross-section of the copper, in mm². 0 for a number that is
// no Gauge.
//
// Source: IEC60228, nominal cross-sections; ASTMB258.
func (g Gauge) Area() float64 {
	switch {
	case g < AWG18:
		return class5[g].mm2
	case g < beyond:
		d := diameter(g.number())
		return math.Pi * d * d / 4
	}
	return 0
}

// PerKm returns the resistance of one conductor at 20 °C, in Ω/km: of a metric
// size the limit of class 5, which is 13 to 20 % above what pure copper of its
// cross-section has; of an American one that of solid copper. 0 for a number
// that is no Gauge.
//
//	R' = 1000·ρ/A
//
// Source: IEC60228, table 3; ASTMB258 and IACS.
func (g Gauge) PerKm() float64 {
	switch {
	case g < AWG18:
		return class5[g].most
	case g < beyond:
		return 1000 * resistivity20 / g.Area()
	}
	return 0
}
