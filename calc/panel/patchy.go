package panel

import (
	"slices"

	"duskline/calc/qty"
)

// A Patch is so many panels of one kind with the same patch of shade on each.
type Patch struct {
	Lit, Dark Curve   // of the whole panel: all in the light, all in the shade; Dark with less light current than Lit
	Share     float64 // of its cells in the shade, 0 to 1; 0: Dark is not read
	Cells     int     // in series, for [BypassGroups]
	Count     int     // 0 or less: as if it were not there
	String    int     // number of the string they all are in; read for Strings only
}

// Patchy is an [Array] some of whose panels are partly in the shade.
//
// Decision: the cells of a panel are one row in series, a bypass diode across
// each of its groups, and the patch covers one group after the other; the share
// need not be a whole number of cells. A shade that draws a line across every
// group does more harm than that, one that covers whole groups does no less.
// A shaded cell lets through what its own light makes and what its shunt leaks:
// with the breakdown of cells missing, a patch of a cell or two holds a group
// back a little more than it would in the open.
//
// What holds of an Array with its blocking diodes holds here: set the Parts
// each step and ask. With no share at all the answers are those of the Array,
// but that a panel in a string is held at -0.5 V for each of its groups. The
// methods allocate nothing once they have been called with as many Parts, and
// return no error. A copy works on the same memory: both belong to one
// goroutine.
type Patchy struct {
	Joined Joining
	Parts  []Patch
	Drop   qty.Volt // of each blocking diode while it carries, 0 to 2 V
	Series qty.Ohm  // of the cable behind the joint, both ways, 0 or more

	*prepared // what a copy has, too: whoever asks finds it made for another and makes it anew
}

// prepared is what ready made, and from what.
type prepared struct {
	rows   []row
	lines  []line
	pieces []piece
	from   []Patch
	joined Joining
}

// BypassGroups returns into how many groups with a bypass diode of their own a
// panel's cells in series are cut: the fewest of at most 24 cells. 36 cells
// have 2, 60 and 72 have 3. Without a number of cells it is 2.
//
// Source: CommonPractice.
func BypassGroups(cells int) int {
	if cells < 1 {
		return 2
	}
	return (cells + 23) / 24
}

// ready prepares rows, lines and pieces, unless it has done so for the same
// Parts: a controller that is a switch asks again and again in a step.
func (p *Patchy) ready() {
	if p.prepared == nil {
		p.prepared = new(prepared)
	}
	if p.joined == p.Joined && slices.Equal(p.from, p.Parts) {
		return
	}
	p.joined, p.from = p.Joined, append(p.from[:0], p.Parts...)
	p.setLines()
	p.pieces = p.pieces[:0]
	for k := range p.lines {
		p.cut(&p.lines[k])
	}
}

// setLines sorts the panels into strings. Side by side each kind is a string of
// one panel, so many times.
func (p *Patchy) setLines() {
	p.rows, p.lines = p.rows[:0], p.lines[:0]
	for k := range p.from { // not Parts: what stands there may change
		part := &p.from[k]
		if part.Count < 1 || !p.first(k) {
			continue
		}
		l := line{begin: len(p.rows), n: 1, in: float64(part.Count)}
		mixed := part.Share > 0
		if p.Joined == SideBySide {
			l.n, l.in = l.in, 1
		} else {
			for j := k + 1; j < len(p.from); j++ {
				mixed = mixed || p.together(k, j)
			}
		}
		if !mixed {
			l.only = &part.Lit
		} else if p.Joined == SideBySide {
			p.rows = append(p.rows, part.row(1))
		} else {
			for j := k; j < len(p.from); j++ {
				if p.together(k, j) {
					p.rows = append(p.rows, p.from[j].row(float64(p.from[j].Count)))
				}
			}
		}
		l.end = len(p.rows)
		p.lines = append(p.lines, l)
	}
}

// together says whether parts k and j, the latter with panels, are in a string.
func (p *Patchy) together(k, j int) bool {
	return p.from[j].Count > 0 && (p.Joined == EndToEnd || p.from[j].String == p.from[k].String)
}

// first says whether part k is the first of its string.
func (p *Patchy) first(k int) bool {
	for j := range k {
		if p.Joined != SideBySide && p.together(k, j) {
			return false
		}
	}
	return true
}

// Current returns the current at v volts behind the cable, never negative.
//
// v is 0 to 400 V for each panel end to end.
//
// Source: Bishop1988, joined curves with bypass diodes.
func (p *Patchy) Current(v qty.Volt) qty.Ampere {
	p.ready()
	if len(p.lines) == 1 {
		l := &p.lines[0]
		return qty.Ampere(l.n * p.amps(l, float64(v+p.Drop), float64(p.Series)*l.n).i)
	}
	return qty.Ampere(p.behindCable(float64(v)))
}

// MaxPower returns volts and amps behind the cable at the highest of all peaks
// of power, both 0 if nothing is lit.
//
// Source: Bishop1988, joined curves with bypass diodes; the argument is that
// of [Array.MaxPower].
func (p *Patchy) MaxPower() (qty.Volt, qty.Ampere) {
	p.ready()
	switch len(p.lines) {
	case 0:
		return 0, 0
	case 1:
		l := &p.lines[0]
		v, i := p.peak(l, float64(p.Drop), float64(p.Series)*l.n)
		return qty.Volt(v), qty.Ampere(i * l.n)
	}
	v, i := p.jointPeak()
	return qty.Volt(v), qty.Ampere(i)
}

// OpenCircuit returns the volts under which the panels begin to give current:
// those of the highest string. Behind a blocking diode with a Drop the current
// begins so much lower; no meter at rest sees that.
//
// Source: EnergyBalance, Kirchhoff's laws.
func (p *Patchy) OpenCircuit() qty.Volt {
	p.ready()
	top := 0.0
	for k := range p.pieces {
		top = max(top, p.pieces[k].top)
	}
	return qty.Volt(top)
}

// ShortCircuit returns the current at 0 V.
//
// Source: Bishop1988, joined curves with bypass diodes.
func (p *Patchy) ShortCircuit() qty.Ampere { return p.Current(0) }
