package wire

import (
	"math"

	"duskline/calc/qty"
)

// What a wire bears while a fault lasts: all heat stays in the copper, which
// is right up to 5 s and on the safe side after that.

// Insulation is what the wire is clad with.
type Insulation uint8

// The insulations, with the temperature they may have before the fault and
// after it.
const (
	PVC      Insulation = iota // 70 to 160 °C
	PVC90                      // 90 to 160 °C
	XLPE                       // 90 to 250 °C
	Rubber                     // 60 to 200 °C
	Rubber85                   // 85 to 220 °C
	Silicone                   // 180 to 350 °C
)

// heats is the temperature before and after, °C, and the k that the
// standard's table gives for it, A·√s/mm².
var heats = [...]struct{ before, after, table float64 }{
	{70, 160, 115},
	{90, 160, 100},
	{90, 250, 143},
	{60, 200, 141},
	{85, 220, 134},
	{180, 350, 132},
}

// K returns the factor of the standard's table, in A·√s/mm². It serves
// [Insulation.Withstands] and [Insulation.Thinnest].
//
// Source: IEC60364, table A.54.4, read in a national adoption.
func (n Insulation) K() float64 { return heats[n].table }

// Derived returns the factor from copper's own figures; the table rounds it to
// 0.3 %.
//
//	k = √(Qc·(β + 20)/ρ·ln((β + after)/(β + before)))
//	Qc = 3.45e-3 J/(K·mm³), β = 234.5 K, ρ = 17.241e-6 Ω·mm
//
// Source: IEC60364, annex A; the formula and its constants from memory.
func (n Insulation) Derived() float64 {
	const heat, beta, rho = 3.45e-3, 234.5, 17.241e-6
	h := heats[n]
	return math.Sqrt(heat * (beta + 20) / rho * math.Log((beta+h.after)/(beta+h.before)))
}

// Withstands returns for how many seconds a wire of mm2 bears i amps, in the
// insulation n: a fuse must open before that. Up to 5 s it is a limit, beyond
// that a safe figure. mm2 and i are above 0.
//
//	t = (k·S/I)²
//
// Source: IEC60364, clause 434.5.2 of part 4-43, as read in part 5-54.
func (n Insulation) Withstands(mm2 float64, i qty.Ampere) float64 {
	x := n.K() * mm2 / float64(i)
	return x * x
}

// Thinnest returns the least cross-section, in mm², that bears i amps for so
// many seconds, 0 to 5.
//
//	S = √(I²·t)/k
//
// Source: IEC60364, clause 434.5.2 of part 4-43, as read in part 5-54.
func (n Insulation) Thinnest(i qty.Ampere, seconds float64) float64 {
	return float64(i) * math.Sqrt(seconds) / n.K()
}

// ShortCircuit returns what a battery drives through a run whose far end is
// shorted. inside is the battery's own resistance, above 0. The wire warms and
// resists more as it conducts, so the true figure falls.
//
// Source: EnergyBalance, Ohm's law.
func (r Run) ShortCircuit(battery qty.Volt, inside qty.Ohm) qty.Ampere {
	return qty.Ampere(float64(battery) / float64(inside+r.Resistance()))
}
