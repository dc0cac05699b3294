package plan

import (
	"math"

	"duskline/calc/load"
	"duskline/calc/panel"
	"duskline/calc/qty"
)

// The same thing said by other figures, for a person who has another label in
// hand. Nothing is held to a limit here: Check says what does not fit.

// DrawKind names the figure by which a device's draw is given, as the
// document does.
type DrawKind string

// The kinds of draw.
const (
	DrawPower   DrawKind = "power_W"
	DrawCurrent DrawKind = "current_A"
	DrawRefill  DrawKind = "refill_Wh"
)

// socketVolts is the nominal voltage at which the document counts a device's
// amps on the DC socket, V.
const socketVolts = 12

// Draw says by which figure the draw is given.
func (d Device) Draw() DrawKind {
	switch {
	case d.RefillWh != nil:
		return DrawRefill
	case d.CurrentA != nil:
		return DrawCurrent
	}
	return DrawPower
}

// RestateDraw gives the draw by another figure, to two decimals. Watts and
// amps are carried over by the volts of the route, mains being output_V of the
// Case's inverter. A refill and an hour of the draw stand for each other: that
// is a start to edit from, common practice, no source.
func (d *Device) RestateDraw(kind DrawKind, mains float64) {
	volts := float64(socketVolts)
	switch d.Route {
	case RouteUSB:
		volts = float64(load.USBVolts)
	case RouteAC:
		volts = mains
	}
	var watts float64
	switch {
	case d.PowerW != nil:
		watts = *d.PowerW
	case d.CurrentA != nil:
		watts = *d.CurrentA * volts
	case d.RefillWh != nil:
		watts = *d.RefillWh
	}
	d.PowerW, d.CurrentA, d.RefillWh, d.RefillsPerDay = nil, nil, nil, 0
	figure := decimals(watts, 2)
	switch kind {
	case DrawCurrent:
		figure = decimals(watts/volts, 2)
		d.CurrentA = &figure
	case DrawRefill:
		d.RefillWh, d.RefillsPerDay, d.DutyPct = &figure, 1, 100
		d.DutyAtC, d.InsideC = nil, nil
	default:
		d.PowerW = &figure
	}
}

// mostGenericW is how many watts the generic panels carry before their amps
// get larger than those of real labels. Common practice, no source.
const mostGenericW = 250

// GenericLabel returns the label of the panel that the simulation assumes for
// one of which only watts and technology are known: to start from when one's
// own label is to be typed in. Above 250 W it has two or more times the cells,
// so that volts grow and amps stay those of real panels.
//
// Errors: those of [panel.FromWatts].
func (p Panel) GenericLabel() (Datasheet, error) {
	t := p.Technology.model()
	n := max(1, int(math.Ceil(p.RatedW/mostGenericW)))
	m, err := panel.FromWatts(qty.Watt(p.RatedW/float64(n)), t)
	if err != nil {
		return Datasheet{}, err
	}
	c := m.At(1000, 25)
	vmp, imp := c.MaxPower()
	isc := float64(c.ShortCircuit())
	beta := panel.GenericBetaPct
	if t == panel.ThinFilm {
		beta = panel.GenericFilmBetaPct
	}
	return Datasheet{
		IscA:            decimals(isc, 4),
		VocV:            decimals(float64(c.OpenCircuit())*float64(n), 3),
		ImpA:            decimals(float64(imp), 4),
		VmpV:            decimals(float64(vmp)*float64(n), 3),
		AlphaIscPctPerK: decimals(100*m.AlphaIsc/isc, 3),
		BetaVocPctPerK:  beta,
		Cells:           m.Cells * n,
	}, nil
}

func decimals(x float64, n int) float64 {
	p := math.Pow10(n)
	return math.Round(x*p) / p
}
