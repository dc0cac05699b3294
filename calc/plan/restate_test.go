package plan

import (
	"math"
	"testing"

	"duskline/calc/qty"
)

// Every label that we make up fits a curve, shows the panel's watts, and
// up to 250 W is the very panel that the simulation assumed without it.
func TestGenericDatasheetIsThePanelAssumed(t *testing.T) {
	for w := 1.0; w <= 1000; w += 3 {
		d, err := GenericDatasheet(w)
		if err != nil {
			t.Fatalf("%g W: %v", w, err)
		}
		labelled, err := Panel{RatedW: w, Datasheet: &d}.Module()
		if err != nil {
			t.Fatalf("%g W: no curve for %+v: %v", w, d, err)
		}
		if got := d.ImpA * d.VmpV; math.Abs(got/w-1) > 0.002 {
			t.Errorf("%g W: the label says %g W", w, got)
		}
		if d.ImpA > 13.9 {
			t.Errorf("%g W: %g A is more than real labels have", w, d.ImpA)
		}
		if w > mostGenericW {
			continue
		}
		bare, err := Panel{RatedW: w}.Module()
		if err != nil {
			t.Fatal(err)
		}
		for _, sun := range []qty.Irradiance{1000, 300} {
			a := float64(bare.At(sun, 45).Current(13.3))
			b := float64(labelled.At(sun, 45).Current(13.3))
			if math.Abs(a/b-1) > 0.005 {
				t.Errorf("%g W in %g W/m²: %g A without a label, %g A with it", w, sun, a, b)
			}
		}
	}
}

func TestGenericDatasheetRefusesNoPanel(t *testing.T) {
	for _, w := range []float64{0, -5, math.NaN()} {
		if d, err := GenericDatasheet(w); err == nil {
			t.Errorf("%g W gave %+v", w, d)
		}
	}
}

// By Ohm's law alone: 60 W are 5 A at 12 V, 12 A at 5 V, 0.26 A at 230 V.
func TestRestateDraw(t *testing.T) {
	for route, amps := range map[Route]float64{RouteDC: 5, RouteUSB: 12, RouteAC: 0.26} {
		w := 60.0
		d := Device{Route: route, PowerW: &w, DutyPct: 40}
		d.RestateDraw(DrawCurrent, 230)
		if d.Draw() != DrawCurrent || *d.CurrentA != amps || d.PowerW != nil {
			t.Errorf("%s: %+v", route, d)
		}
		d.RestateDraw(DrawPower, 230)
		if d.Draw() != DrawPower || math.Abs(*d.PowerW-60) > 0.3 {
			t.Errorf("%s: back to %g W", route, *d.PowerW)
		}
		d.RestateDraw(DrawRefill, 230)
		if d.Draw() != DrawRefill || d.RefillsPerDay != 1 || d.DutyPct != 100 {
			t.Errorf("%s: %+v", route, d)
		}
	}
	// Nothing is cut to size: 5000 W on USB are 1000 A, and Check refuses that.
	w := 5000.0
	d := Device{Route: RouteUSB, PowerW: &w}
	if d.RestateDraw(DrawCurrent, 230); *d.CurrentA != 1000 {
		t.Errorf("5000 W on USB are %g A", *d.CurrentA)
	}
}
