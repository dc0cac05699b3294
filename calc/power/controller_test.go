package power

import (
	"errors"
	"math"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

var (
	pwm10  = Controller{Kind: PWM, Limit: 10, Efficiency: 1, InputMax: 50, Standby: 0.01}
	mppt10 = Controller{Kind: MPPT, Limit: 10, Efficiency: 0.97, InputMax: 50, Standby: 0.02}
)

// amps asks a controller once.
func amps(c Controller, curve Curve, v qty.Volt) qty.Ampere {
	o := c.Offer(curve)
	return o.Amps(v)
}

// Figures: electrical.md C21 and C26, currents at volts; the PWM controller
// puts its panels there, the drop above the battery.
func TestPWMAgainstElectricalC21AndC26(t *testing.T) {
	for _, c := range []struct {
		panel *diode
		at    qty.Volt
		check string
	}{
		{generic(25, 36, 1), 12.8, "C21.i128 = 5.8778 A ± 0.02 %"},
		{generic(25, 36, 1), 13.3, "C21.i133 = 5.8743 A ± 0.02 %"},
		{generic(25, 36, 1), 14.4, "C21.i144 = 5.8640 A ± 0.02 %"},
		{generic(25, 60, 1.7), 13.3, "C26.i133 = 10.0395 A ± 0.02 %"},
	} {
		golden.Check(t, c.check, float64(amps(pwm10, c.panel, c.at-SwitchDrop)))
	}
	// More than half of a 60-cell panel is thrown away.
	big := generic(25, 60, 1.7)
	v, i := big.MaxPower()
	golden.Check(t, "C26.pmp = 283.34 W ± 0.02 %", float64(qty.Power(v, i)))
	o := pwm10.Offer(big)
	golden.Check(t, "C26.share = 47.13 % ± 0.1 %", 100*float64(qty.Power(13.3, o.Amps(13.3-SwitchDrop))/qty.Power(v, i)))
}

// Figures: electrical.md C35, a Schottky diode of 0.4 V in the way.
func TestSwitchDropAgainstElectricalC35(t *testing.T) {
	panel := generic(25, 36, 1)
	with := float64(amps(pwm10, panel, 13.3))
	without := float64(panel.Current(13.3))
	golden.Check(t, "C35.pwm_i = 5.8711 A ± 0.02 %", with)
	golden.Check(t, "C35.pwm_pct = 0.0543 % ± 2 %", 100*(1-with/without))
	_, imp := panel.MaxPower()
	golden.Check(t, "C35.schottky = 2.222 W ± 0.1 %", float64(qty.Power(SwitchDrop, imp)))
}

// Figures: electrical.md C29. On a hot panel the converter has nothing to gain
// near full charge; it then works like a switch less its own loss.
func TestHotPanelAgainstElectricalC29(t *testing.T) {
	panel := generic(70, 36, 1)
	vmp, imp := panel.MaxPower()
	golden.Check(t, "C29.vmp70 = 14.473 V ± 0.05 %", float64(vmp))
	golden.Check(t, "C29.i144 = 5.5980 A ± 0.02 %", float64(panel.Current(14.4)))
	golden.Check(t, "C29.dip = 100.49 % ± 0.1 %", 100*float64(panel.Current(14.4)/imp))
	o := mppt10.Offer(panel)
	const v = 14.4
	at := qty.Power(v+Headroom, panel.Current(v+Headroom))
	golden.Near(t, "amps of the converter without headroom", float64(o.Amps(v)), 0.97*float64(at)/v, 12)
	if got := o.PanelPower(v, o.Amps(v)); math.Abs(float64(got-at)) > 1e-9 {
		t.Errorf("panels give %g W at %g V, the offer counts %g W", at, v+Headroom, got)
	}
	if mppt, pwm := o.Amps(v), amps(pwm10, panel, v); mppt >= pwm {
		t.Errorf("hot panel at %g V: converter %g A, switch %g A; C29 says there is nothing to gain", v, mppt, pwm)
	}
	short := generic(70, 33, 1)
	v33, _ := short.MaxPower()
	golden.Check(t, "C29.vmp33 = 13.267 V ± 0.05 %", float64(v33))
	golden.Check(t, "C29.i33 = 4.800 A ± 0.1 %", float64(amps(pwm10, short, 14.4-SwitchDrop)))
}

// Figures: electrical.md C30.
func TestClippingAgainstElectricalC30(t *testing.T) {
	for _, c := range []struct {
		watts     steady
		want, out string
	}{
		{120, "C30.want120 = 9.0938 A ± 0.01 %", "C30.out120 = 9.0938 A ± 0.01 %"},
		{160, "C30.want160 = 12.125 A ± 0.01 %", "C30.out160 = 10 A ± 0.01 %"},
		{200, "C30.want200 = 15.156 A ± 0.01 %", "C30.out200 = 10 A ± 0.01 %"},
	} {
		o := mppt10.Offer(c.watts)
		golden.Check(t, c.want, float64(o.Unlimited(12.8)))
		golden.Check(t, c.out, float64(o.Amps(12.8)))
	}
	o := mppt10.Offer(steady(200))
	golden.Check(t, "C30.lost200 = 34.02 % ± 0.1 %", 100*float64(1-o.Amps(12.8)/o.Unlimited(12.8)))
}

// Figures: electrical.md C31, closed form for a half-sine day; here summed
// over 20000 offers.
func TestClippedDayAgainstElectricalC31(t *testing.T) {
	for _, c := range []struct {
		peak  float64
		check string
	}{{160, "C31.day160 = 93.02 % ± 0.1 %"}, {200, "C31.day200 = 80.95 % ± 0.1 %"}} {
		var kept, all float64
		const n = 20000
		for k := range n {
			o := mppt10.Offer(steady(c.peak * math.Sin(math.Pi*(float64(k)+0.5)/n)))
			kept += float64(o.Amps(12.8))
			all += float64(o.Unlimited(12.8))
		}
		golden.Check(t, c.check, 100*kept/all)
	}
	o := mppt10.Offer(steady(300))
	golden.Check(t, "C31.cold = 144 W ± 0.1", 14.4*float64(o.Amps(14.4)))
}

// Figures: electrical.md C32. Two 100 W panels on a 10 A switch: it does not
// clip, it is over-rated.
func TestPWMDoesNotClipAgainstElectricalC32(t *testing.T) {
	two := generic(25, 36, 1)
	two.count = 2
	golden.Check(t, "C32.isc = 11.900 A ± 0.01 %", float64(two.Current(0)))
	golden.Check(t, "C32.x125 = 14.875 A ± 0.01 %", float64(RatingFor(two.Current(0))))
	o := pwm10.Offer(two)
	if o.Amps(13) <= pwm10.Limit || o.Amps(13) != o.Unlimited(13) {
		t.Errorf("switch rated 10 A gives %g A of %g A", o.Amps(13), o.Unlimited(13))
	}
}

// Figures: handbook H66: 10 A at 12.0, 13.5, 14.4 V of battery. "A 10 A
// controller goes with about 120 W of panel" is common practice, no source.
func TestControllerAgainstHandbookH66(t *testing.T) {
	for _, c := range []struct {
		v     qty.Volt
		watts float64
	}{{12, 120}, {13.5, 135}, {14.4, 144}} {
		o := mppt10.Offer(steady(300))
		golden.Near(t, "useful watts", float64(qty.Power(c.v, o.Amps(c.v))), c.watts, 6)
	}
	if o := mppt10.Offer(steady(120)); o.Amps(12) != o.Unlimited(12) {
		t.Error("10 A clips 120 W of panel at 12 V")
	}
	// A panel of 180 W, 18 V at 10 A, gives a switch 10 A and a little, not 15 A.
	if i := amps(pwm10, generic(25, 36, 1.8), 12); i < 10 || i > 10.8 {
		t.Errorf("180 W panel gives %g A through a switch, want 10 to 10.71 A", i)
	}
}

// The two forms of the converter meet: no jump in amps at Vmp = v + Headroom,
// or the battery's own root search would sit on an edge.
func TestConverterIsContinuous(t *testing.T) {
	panel := generic(60, 36, 1)
	vmp, _ := panel.MaxPower()
	o := mppt10.Offer(panel)
	below, above := o.Amps(vmp-Headroom-1e-7), o.Amps(vmp-Headroom+1e-7)
	if math.Abs(float64(below-above)) > 1e-6 {
		t.Errorf("%g A below, %g A above the edge", below, above)
	}
}

// What is taken from an offer never exceeds the panels' best, loses what the
// controller says it loses, and falls as the battery fills.
func TestOfferKeepsEnergy(t *testing.T) {
	for _, cell := range []float64{-20, 25, 75} {
		for _, c := range []Controller{pwm10, mppt10} {
			panel := generic(cell, 36, 1)
			vmp, imp := panel.MaxPower()
			best := qty.Power(vmp, imp) * (1 + 1e-9)
			o := c.Offer(panel)
			last := qty.Ampere(math.Inf(1))
			for v := qty.Volt(8); v < 30; v += 0.05 {
				i := o.Amps(v)
				if i < 0 || i > o.Unlimited(v) || i > last {
					t.Fatalf("%v at %g °C: %g A at %g V after %g A", c.Kind, cell, i, v, last)
				}
				last = i
				for _, share := range []qty.Ampere{0, 0.3, 1} {
					p := o.PanelPower(v, i*share)
					if p > best || p < qty.Power(v, i*share) || (p == 0) != (i*share == 0) {
						t.Fatalf("%v at %g °C: panels give %g W of %g W for %g A at %g V", c.Kind, cell, p, best, i*share, v)
					}
				}
			}
			if last != 0 {
				t.Errorf("%v at %g °C: %g A into 30 V", c.Kind, cell, last)
			}
		}
	}
}

// The peak is found once an offer, and only for MPPT; a PWM step asks for as
// many currents as it needs.
func TestOfferAsksLittle(t *testing.T) {
	p := generic(25, 36, 1)
	o := pwm10.Offer(p)
	if p.asked != 0 {
		t.Errorf("a switch asked for %d currents before any volts", p.asked)
	}
	o.Amps(13)
	if p.asked != 1 {
		t.Errorf("a switch asked for %d currents at one voltage", p.asked)
	}
	o = mppt10.Offer(p)
	p.asked = 0
	o.Amps(12)
	o.Unlimited(12)
	o.PanelPower(12, 3)
	if p.asked != 0 {
		t.Errorf("a converter with headroom asked for %d currents", p.asked)
	}
}

func TestZeroOfferGivesNothing(t *testing.T) {
	var o Offer
	if o.Amps(12) != 0 || o.Unlimited(12) != 0 || o.PanelPower(12, 0) != 0 {
		t.Errorf("zero Offer: %g A, %g A, %g W", o.Amps(12), o.Unlimited(12), o.PanelPower(12, 0))
	}
	for _, c := range []Controller{pwm10, mppt10} {
		o := c.Offer(steady(0))
		if o.Amps(12) != 0 || o.Unlimited(12) != 0 || o.PanelPower(12, 0) != 0 {
			t.Errorf("%v in the dark gives %g A", c.Kind, o.Amps(12))
		}
	}
}

// Figures: electrical.md C20 and C23, open circuit 22.0 V at 25 °C and 23.9 V
// at 0 °C.
func TestOverInput(t *testing.T) {
	for _, c := range []struct {
		cell float64
		max  qty.Volt
		over bool
	}{{25, 22.01, false}, {25, 21.99, true}, {0, 23.93, false}, {0, 23.9, true}} {
		ctl := mppt10
		ctl.InputMax = c.max
		if got := ctl.OverInput(generic(c.cell, 36, 1)); got != c.over {
			t.Errorf("%g °C on %g V input: over %v", c.cell, c.max, got)
		}
	}
}

func TestControllerCheckNamesTheFigure(t *testing.T) {
	for _, good := range []Controller{pwm10, mppt10} {
		if err := good.Check(); err != nil {
			t.Error(err)
		}
	}
	for what, spoil := range map[string]func(*Controller){
		"Kind":       func(c *Controller) { c.Kind = 7 },
		"Limit":      func(c *Controller) { c.Limit = 0 },
		"Efficiency": func(c *Controller) { c.Efficiency = 97 },
		"InputMax":   func(c *Controller) { c.InputMax = qty.Volt(math.NaN()) },
		"Standby":    func(c *Controller) { c.Standby = -0.1 },
	} {
		c := mppt10
		spoil(&c)
		var r *qty.RangeError
		if err := c.Check(); !errors.As(err, &r) || r.What != what {
			t.Errorf("%s spoilt: %v", what, err)
		}
	}
}
