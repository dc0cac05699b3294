package plan

import (
	"math"
	"testing"

	"duskline/calc/qty"
)

// Every label that we make up fits a curve, shows the panel's watts, and
// up to 250 W is the very panel that the simulation assumed without it.
func TestGenericLabelIsThePanelAssumed(t *testing.T) {
	for _, technology := range []Technology{Crystalline, ThinFilm} {
		for w := 1.0; w <= 1000; w += 3 {
			p := Panel{RatedW: w, Technology: technology}
			d, err := p.GenericLabel()
			if err != nil {
				t.Fatalf("%g W: %v", w, err)
			}
			labelled := p
			labelled.Datasheet = &d
			fitted, err := labelled.Module()
			if err != nil {
				t.Fatalf("%g W of %s: no curve for %+v: %v", w, technology, d, err)
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
			bare, err := p.Module()
			if err != nil {
				t.Fatal(err)
			}
			for _, sun := range []qty.Irradiance{1000, 300} {
				a := float64(bare.At(sun, 45).Current(13.3))
				b := float64(fitted.At(sun, 45).Current(13.3))
				if math.Abs(a/b-1) > 0.005 {
					t.Errorf("%g W of %s in %g W/m²: %g A without a label, %g A with it", w, technology, sun, a, b)
				}
			}
		}
	}
}

func TestGenericLabelRefusesNoPanel(t *testing.T) {
	for _, w := range []float64{0, -5, math.NaN()} {
		if d, err := (Panel{RatedW: w}).GenericLabel(); err == nil {
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
