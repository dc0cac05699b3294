package power

import "duskline/calc/qty"

// steadyLoad is the share of a generator's rated watts that it gives hour
// after hour.
const steadyLoad = 0.8

// A Generator feeds the wall charger. 0 W means that there is none, or that
// its watts are not known.
type Generator struct {
	Rated qty.Watt // AC, as its label says
}

// Check returns nil for a Generator in range: Rated 0 or 100 to 20000 W.
//
// Errors: *qty.RangeError.
func (g Generator) Check() error {
	if g.Rated == 0 {
		return nil
	}
	return qty.InRange("Rated", float64(g.Rated), 100, 20000, "W")
}

// Runs reports whether the generator carries a load of so many watts for hours,
// with a fifth of its rating to spare. One whose watts are not known runs it.
//
// The fifth is common practice, no source.
func (g Generator) Runs(load qty.Watt) bool {
	return g.Rated == 0 || load <= steadyLoad*g.Rated
}

// GeneratorFor returns the watts of the label from which a generator runs a
// load for hours.
//
//	load/0.8
//
// Source: CommonPractice.
func GeneratorFor(load qty.Watt) qty.Watt { return load / steadyLoad }
