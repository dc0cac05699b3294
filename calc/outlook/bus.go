package outlook

import (
	"math"

	"duskline/calc/power"
	"duskline/calc/qty"
)

// A bus is what hangs on the battery's terminals for one step.
type bus struct {
	offer power.Offer
	sunny bool
	clips bool    // the controller limits its current (MPPT)
	fixed float64 // A on offer from wall and vehicle charger together
	wall  float64 // A of it from the wall charger

	generator bool // which a generator feeds

	watts float64 // W, constant power drawn
	amps  float64 // A, constant current drawn

	closed bool // whatever charges holds back altogether: the battery is at rest, or above the volts of the stage
}

// gives says whether anything is on offer.
func (b *bus) gives() bool { return b.sunny && b.offer.Live() || b.fixed > 0 }

// Net returns the amps that flow into the battery at v volts, negative when
// the gear takes more than the sources give. It serves battery.Bus.
func (b *bus) Net(v float64) float64 {
	if b.closed {
		return -b.out(v)
	}
	in := b.fixed
	if b.sunny {
		in += float64(b.offer.Amps(qty.Volt(v)))
	}
	return in - b.out(v)
}

// out returns the amps drawn at v volts.
func (b *bus) out(v float64) float64 { return b.amps + b.watts/v }

// A share says how the sources met a need at v volts.
type share struct {
	sun, fixed  float64 // A taken; fixed from wall and vehicle charger
	panelWatts  float64 // W at the panels' terminals
	spareWatts  float64 // W there of sun that the battery left
	beyond      float64 // A of sun above the controller's limit
	beyondWatts float64 // W of it at the panels' terminals
}

// noise is what a solver may leave of no amps at all, A: a converter must not
// be charged its standing loss for it.
const noise = 1e-8

// taken splits the amps that the battery and the gear took among the sources,
// sun first: what is free is used before what somebody pays for. all says
// that everything on offer was taken, which saves asking the panels again.
func (b *bus) taken(v, need float64, all bool) share {
	var s share
	switch {
	case b.closed:
		if b.sunny {
			s.spareWatts = float64(b.offer.PanelPower(qty.Volt(v), b.offer.Unlimited(qty.Volt(v))))
		}
		return s
	case b.sunny && all:
		s.sun, s.fixed = math.Max(0, need-b.fixed), b.fixed
		if s.sun < noise {
			s.sun = 0
		}
	case b.sunny:
		offered := float64(b.offer.Amps(qty.Volt(v)))
		s.sun = math.Max(0, math.Min(offered, need))
		s.fixed = math.Max(0, math.Min(b.fixed, need-s.sun))
	default:
		s.fixed = math.Max(0, math.Min(b.fixed, need))
	}
	if !b.sunny {
		return s
	}
	s.panelWatts = float64(b.offer.PanelPower(qty.Volt(v), qty.Ampere(s.sun)))
	// A battery that holds back leaves no work for the limit: all is spare.
	if !all {
		spare := math.Max(0, float64(b.offer.Unlimited(qty.Volt(v)))-s.sun)
		s.spareWatts = float64(b.offer.Further(qty.Volt(v), qty.Ampere(s.sun), qty.Ampere(spare)))
	} else if b.clips {
		s.beyond = math.Max(0, float64(b.offer.Unlimited(qty.Volt(v)))-s.sun)
		s.beyondWatts = float64(b.offer.Further(qty.Volt(v), qty.Ampere(s.sun), qty.Ampere(s.beyond)))
	}
	return s
}
