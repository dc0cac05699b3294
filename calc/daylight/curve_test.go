package daylight

import (
	"math"
	"testing"
	"time"

	"duskline/calc/panel"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// joinedWays are panels in every joining, one of them shaded in the morning.
func joinedWays(t *testing.T) map[string]Spec {
	list := map[string]Spec{}
	for name, edit := range map[string]func(*Spec){
		"one": func(*Spec) {},
		"side by side": func(s *Spec) {
			s.Panels = append(s.Panels, Panel{Module: watts(t, 60), Count: 2, Watts: 120, Lie: Lie{Tilt: 60, Azimuth: 100}, Clean: 0.9})
		},
		"end to end, shaded": func(s *Spec) {
			s.Joined = panel.EndToEnd
			s.Panels[0].Shade, s.Panels[0].Shaded = []Window{{0, 11}}, 0.3
			s.Panels = append(s.Panels, Panel{Module: watts(t, 90), Count: 1, Watts: 90, Lie: Lie{Tilt: 60, Azimuth: 200}, Clean: 1})
		},
		"strings, one all in the shade": func(s *Spec) {
			s.Joined, s.Drop, s.Series = panel.Strings, 0.35, 0.1
			s.Panels[0].String = 1
			s.Panels = append(s.Panels,
				Panel{Module: watts(t, 60), Count: 1, Watts: 60, Lie: Lie{Tilt: 60, Azimuth: 100}, Clean: 0.9, String: 2, Mount: panel.Covered},
				Panel{Module: watts(t, 60), Count: 1, Watts: 60, Lie: Lie{Tilt: 20, Azimuth: 100}, Clean: 0.9, String: 2, Shade: []Window{{0, 24}}, Shaded: 1})
		},
		"a weather file": func(s *Spec) {
			s.Span = 3 * 24 * time.Hour
			s.Light = Light{Kind: ByWeather, Weather: anyWeather(s)}
		},
	} {
		s := hill(t)
		s.Controller.Kind = power.PWM
		edit(&s)
		list[name] = s
	}
	return list
}

// Whatever the step offers is what the curve gives at the volts that a switch
// works at, and the curve keeps it while the Scene goes on.
func TestCurveIsWhatTheOfferWasMadeFrom(t *testing.T) {
	for name, s := range joinedWays(t) {
		c := scene(t, s)
		lit := 0
		for after := 1950.0; after < s.Span.Seconds(); after += 4*3600 + 300 {
			step := c.At(after)
			var amps [3]float64
			for k, v := range []qty.Volt{11, 13.3, 28} {
				amps[k] = float64(step.Offer.Amps(v))
			}
			got := c.Curve(after)
			c.At(after + 7000)
			v, i := got.MaxPower()
			if !step.Sunny {
				if v != 0 || i != 0 || got.ShortCircuit() != 0 || got.OpenCircuit() != 0 || got.MismatchLoss() != 0 {
					t.Errorf("%s: %g V %g A at night", name, v, i)
				}
				for _, k := range got.Kinds {
					if k.Cell != step.Air || k.Light != 0 || k.Count < 1 {
						t.Errorf("%s: %+v at night", name, k)
					}
				}
				continue
			}
			lit++
			for k, u := range []qty.Volt{11, 13.3, 28} {
				if a := float64(got.Current(u + power.SwitchDrop)); math.Abs(a-amps[k]) > 1e-12 {
					t.Errorf("%s: %g A at %g V, the offer has %g A", name, a, u, amps[k])
				}
			}
			if a := float64(got.Current(v) / i); math.Abs(a-1) > 1e-6 {
				t.Errorf("%s: %g of the peak's amps at its volts", name, a)
			}
			// The light of the step is the mean of the kinds, by watts; the
			// cells are as hot as the light through the glass makes them.
			sum, watts := 0.0, 0.0
			for k, p := range s.Panels {
				kind := got.Kinds[k]
				sum += float64(kind.Light) * float64(p.Watts)
				watts += float64(p.Watts)
				if rise := float64(kind.Cell - step.Air); rise < 0 || rise > 70 || (kind.Through > 1 && rise == 0) {
					t.Errorf("%s: cell %g °C in air of %g °C", name, kind.Cell, step.Air)
				}
				if _, i := kind.Alone.MaxPower(); (i > 0) != (kind.Through > 0) {
					t.Errorf("%s: %g A in %g W/m²", name, i, kind.Through)
				}
				if kind.Shaded != 0 && kind.Shaded != p.Shaded || kind.Shaded == 0 && kind.Through > kind.Light {
					t.Errorf("%s: %+v", name, kind)
				}
			}
			if math.Abs(sum/watts-step.Light) > 1e-9 {
				t.Errorf("%s: %g W/m² on the kinds, %g in the step", name, sum/watts, step.Light)
			}
			if loss := got.MismatchLoss(); loss < -1e-9 {
				t.Errorf("%s: joining gains %g W", name, -loss)
			}
		}
		if lit < 5 {
			t.Errorf("%s: lit only %d times", name, lit)
		}
	}
}

// Without air behind it a panel is hotter, and gives less.
func TestCoveredPanelIsHotter(t *testing.T) {
	s := hill(t)
	rack := scene(t, s)
	s.Panels[0].Mount = panel.Covered
	covered := scene(t, s)
	hotter := 0.0
	for after := 150.0; after < s.Span.Seconds(); after += 900 {
		a, b := rack.Curve(after), covered.Curve(after)
		va, ia := a.MaxPower()
		vb, ib := b.MaxPower()
		if qty.Power(vb, ib) > qty.Power(va, ia)*(1+1e-12) && a.Kinds[0].Cell > 0 {
			t.Errorf("%g s: %g W covered, %g W on a rack", after, qty.Power(vb, ib), qty.Power(va, ia))
		}
		hotter = max(hotter, float64(b.Kinds[0].Cell-a.Kinds[0].Cell))
	}
	if hotter < 15 || hotter > 35 {
		t.Errorf("covered: at most %.1f K hotter", hotter)
	}
}

// Nobody has panels, everybody asks.
func TestCurveWithoutPanels(t *testing.T) {
	s := hill(t)
	s.Panels = nil
	c := scene(t, s).Curve(6 * 3600)
	if v, i := c.MaxPower(); len(c.Kinds) != 0 || v != 0 || i != 0 || c.Current(12) != 0 || c.OpenCircuit() != 0 {
		t.Errorf("%+v gives %g V %g A", c, v, i)
	}
}
