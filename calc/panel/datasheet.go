package panel

import (
	"errors"
	"fmt"
	"math"

	"duskline/calc/qty"
)

// A Datasheet is the label on the back of a panel, at 1000 W/m² and 25 °C.
type Datasheet struct {
	Isc, Imp qty.Ampere // short circuit; maximum power
	Voc, Vmp qty.Volt   // open circuit; maximum power
	AlphaIsc float64    // Isc against cell temperature, A/K
	BetaVoc  float64    // Voc against cell temperature, V/K, negative
	Cells    int        // in series
}

// ErrNoFit says that no single-diode curve goes through a label's figures. It
// is wrapped around a *qty.RangeError that names one figure and the range in
// which it would fit the others, wherever there is such a range.
var ErrNoFit = errors.New("no single-diode curve goes through these figures")

// The ideality that a fit may come out with. Textbook diodes have 1 to 2;
// labels are rounded, so a little less is let through. Common practice, no
// source.
const (
	minIdeality = 0.6
	maxIdeality = 2.0
)

// cellSlope is kT/q at 25 °C, V: the Slope of one cell of ideality 1.
const cellSlope = boltzmann * refKelvin

// FromDatasheet returns the panel whose curve meets a label: Isc, Voc, the
// maximum power point and its flat top, and Voc's fall with heat.
//
// Valid: Isc 0.05 to 30 A; Imp half of Isc to Isc; Voc 2 to 100 V; Vmp half
// of Voc to Voc (a concave curve cannot peak lower); AlphaIsc −0.1 to 0.3 % of
// Isc a kelvin; BetaVoc −1 to −0.1 % of Voc a kelvin; Cells 4 to 200.
//
// Errors: *qty.RangeError for a figure out of range by itself; [ErrNoFit]
// around a *qty.RangeError for figures that do not belong together (too good:
// the series resistance or the shunt would have to be negative), with the
// range that Imp or Vmp, whichever is closer, may have beside the other
// figures, or else Imp·Vmp, or BetaVoc, or Imp with some other Vmp; *qty.RangeError for Cells if the diode would need an
// ideality outside 0.6 to 2 (144 half cells are 72 in series).
func FromDatasheet(d Datasheet) (Module, error) {
	if err := d.check(); err != nil {
		return Module{}, err
	}
	m, miss := d.fit()
	if miss != fits {
		return Module{}, d.blame(miss)
	}
	perCell := float64(m.Slope) / cellSlope
	if err := qty.InRange("Cells", float64(d.Cells), math.Ceil(perCell/maxIdeality), math.Floor(perCell/minIdeality), "cells"); err != nil {
		return Module{}, err
	}
	return m, m.Check()
}

// check looks at each figure by itself.
func (d Datasheet) check() error {
	isc, voc := float64(d.Isc), float64(d.Voc)
	for _, r := range []struct {
		what          string
		got, min, max float64
		unit          string
	}{
		{"Isc", isc, 0.05, 30, "A"},
		{"Voc", voc, 2, 100, "V"},
		{"Imp", float64(d.Imp), isc / 2, isc, "A"},
		{"Vmp", float64(d.Vmp), voc / 2, voc, "V"},
		{"AlphaIsc", d.AlphaIsc, -0.001 * isc, 0.003 * isc, "A/K"},
		{"BetaVoc", d.BetaVoc, -0.01 * voc, -0.001 * voc, "V/K"},
		{"Cells", float64(d.Cells), 4, 200, "cells"},
	} {
		if err := qty.InRange(r.what, r.got, r.min, r.max, r.unit); err != nil {
			return err
		}
	}
	return nil
}

// blame returns ErrNoFit around the figure that needs the smallest change.
func (d Datasheet) blame(why miss) error {
	imp := room("Imp", float64(d.Imp), float64(d.Isc)/2, float64(d.Isc), "A", func(v float64) bool {
		t := d
		t.Imp = qty.Ampere(v)
		_, miss := t.fit()
		return miss == fits
	})
	vmp := room("Vmp", float64(d.Vmp), float64(d.Voc)/2, float64(d.Voc), "V", func(v float64) bool {
		t := d
		t.Vmp = qty.Volt(v)
		_, miss := t.fit()
		return miss == fits
	})
	worst := imp
	if worst == nil || vmp != nil && distance(vmp) < distance(imp) {
		worst = vmp
	}
	if best := d.ideal(); worst == nil && float64(qty.Power(d.Vmp, d.Imp)) > best {
		worst = &qty.RangeError{What: "Imp·Vmp", Got: float64(qty.Power(d.Vmp, d.Imp)), Min: float64(qty.Power(d.Voc, d.Isc)) / 4, Max: best, Unit: "W"}
	}
	if worst == nil {
		worst = room("BetaVoc", d.BetaVoc, -0.01*float64(d.Voc), -0.001*float64(d.Voc), "V/K", func(v float64) bool {
			t := d
			t.BetaVoc = v
			_, miss := t.fit()
			return miss == fits
		})
	}
	if worst == nil {
		// No single figure can be blamed: Imp with whatever Vmp is left.
		worst = room("Imp", float64(d.Imp), float64(d.Isc)/2, float64(d.Isc), "A", func(v float64) bool {
			t := d
			t.Imp = qty.Ampere(v)
			for k := 1.0; k < 16; k++ {
				t.Vmp = d.Voc / 2 * qty.Volt(1+k/16)
				if _, miss := t.fit(); miss == fits {
					return true
				}
			}
			return false
		})
	}
	if worst == nil {
		return fmt.Errorf("%w: %s", ErrNoFit, why)
	}
	return fmt.Errorf("%w: %s: %w", ErrNoFit, why, worst)
}

// ideal returns the watts of a panel with this Isc, Voc and BetaVoc that has
// no series resistance and no shunt: more than any real one.
func (d Datasheet) ideal() float64 {
	isc, voc := float64(d.Isc), float64(d.Voc)
	grow, slope := warmth(refKelvin + warmer)
	a := (voc - (voc+warmer*d.BetaVoc)/slope) / (math.Log(grow) - math.Log1p(warmer*d.AlphaIsc/isc))
	c := newCurve(isc, isc/math.Expm1(voc/a), leastSeries, 1/mostShunt, a)
	v, i := c.peak(0)
	return v * i
}

// distance returns how far a figure lies outside its range, as a share of it.
func distance(r *qty.RangeError) float64 {
	return max(r.Min-r.Got, r.Got-r.Max) / math.Abs(r.Got)
}

// room scans min to max for the stretch closest to got in which good holds,
// and returns it as a range error; nil if there is none or got lies in it.
func room(what string, got, min, max float64, unit string, good func(float64) bool) *qty.RangeError {
	// Figures that hardly curve at all fit in a sliver above min only: the first
	// step is halved again and again.
	const parts, halves = 200, 16
	const steps = parts + halves
	at := func(k int) float64 {
		if k > 0 && k <= halves {
			return min + (max-min)/parts*math.Ldexp(1, k-halves-1)
		}
		return min + (max-min)/parts*math.Max(0, float64(k-halves))
	}
	// edge narrows a change of good between a (bad) and b (good).
	edge := func(a, b float64) float64 {
		for range 40 {
			if m := (a + b) / 2; good(m) {
				b = m
			} else {
				a = m
			}
		}
		return b
	}
	var best *qty.RangeError
	for k := 0; k <= steps; k++ {
		if !good(at(k)) {
			continue
		}
		r := &qty.RangeError{What: what, Got: got, Min: at(k), Max: at(k), Unit: unit}
		if k > 0 {
			r.Min = edge(at(k-1), at(k))
		}
		for k < steps && good(at(k+1)) {
			k++
		}
		r.Max = at(k)
		if k < steps {
			r.Max = edge(at(k+1), at(k))
		}
		if best == nil || distance(r) < distance(best) {
			best = r
		}
	}
	if best != nil && got >= best.Min && got <= best.Max {
		return nil
	}
	return best
}
