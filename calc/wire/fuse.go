package wire

import "duskline/calc/qty"

// What a fuse must be at least, by arithmetic on currents. What it may be at
// most is the wire's own figure, which this package does not know: a fuse
// guards the wire.

// sunFactor is how far a panel's current may exceed the short-circuit figure
// of its label; everyday is the margin of a fuse that carries its current for
// hours.
const (
	sunFactor = 1.25
	everyday  = 1.25
)

// PanelCurrent returns the current to reckon with from panels of this
// short-circuit current.
//
//	I = 1.25·Isc
//
// Source: NFPA70, article 690.8(A), read in a trade-press summary.
func PanelCurrent(shortCircuit qty.Ampere) qty.Ampere { return sunFactor * shortCircuit }

// PanelFuse returns the least rating of a fuse and of the wire for panels of
// this short-circuit current. A panel's label may allow less than that: then
// these panels may not be fused so.
//
//	I = 1.25·1.25·Isc
//
// Source: NFPA70, article 690.8(B) and 690.9(B), read in a trade-press summary.
func PanelFuse(shortCircuit qty.Ampere) qty.Ampere { return everyday * PanelCurrent(shortCircuit) }

// BackFeed returns the current that the other strings drive into a string
// that has failed. strings is 1 or more, all alike and side by side.
//
//	I = (n − 1)·1.25·Isc
//
// Source: NFPA70, article 690.9(A), from trade articles; the arithmetic is Ohm's.
func BackFeed(shortCircuit qty.Ampere, strings int) qty.Ampere {
	return qty.Ampere(strings-1) * PanelCurrent(shortCircuit)
}

// NeedsFuses reports whether each of so many strings needs a fuse of its own:
// the others could drive more through it than label, the most that the
// panels' label allows. "From three strings on" is the trade's shortcut for
// it. A controller or battery that can feed back counts as a string more.
func NeedsFuses(shortCircuit qty.Ampere, strings int, label qty.Ampere) bool {
	return BackFeed(shortCircuit, strings) > label
}

// BatteryFuse returns the least rating of a fuse between battery and gear that
// draws so much for hours. It sits at the battery's end, and the thinnest wire
// behind it must carry its rating.
//
//	I = 1.25·continuous
//
// Source: CommonPractice.
func BatteryFuse(continuous qty.Ampere) qty.Ampere { return everyday * continuous }

// A Series is the ratings in which a kind of fuse is made.
type Series uint8

// The series.
const (
	Cartridge Series = iota // of the electrical code
	Blade                   // of vehicles
)

// Ratings returns the ratings of a series up to 100 A, in order.
//
// Source: NFPA70, article 240.6(A), read in two summaries.
// Source: BladeFuse, standard size, for the blades.
func (s Series) Ratings() []qty.Ampere {
	if s == Blade {
		return []qty.Ampere{1, 2, 3, 5, 7.5, 10, 15, 20, 25, 30, 40}
	}
	return []qty.Ampere{1, 3, 6, 10, 15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100}
}

// Next returns the smallest rating that is not under i, and whether the series
// has one. i is 0 or more.
//
// Source: NFPA70, article 240.6(A); for the blades as [Series.Ratings].
func (s Series) Next(i qty.Ampere) (qty.Ampere, bool) {
	for _, r := range s.Ratings() {
		if i <= r {
			return r, true
		}
	}
	return 0, false
}
