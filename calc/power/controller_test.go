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

// Figures: electrical.md C21 to C24, how much more a converter without loss
// gives than a switch without drop, on a panel at 25, 55 and 0 °C and in dull
// light. 14.4 V at 55 °C would leave the converter no headroom were that more
// than 1.24 V.
func TestGainOfConverterAgainstElectricalC21ToC24(t *testing.T) {
	ideal := Controller{Kind: MPPT, Limit: 100, Efficiency: 1, InputMax: 50}
	for _, c := range []struct {
		panel                     *diode
		at128, at133, at144       string
		gain128, gain133, gain144 string
	}{
		{generic(25, 36, 1),
			"C21.i128 = 5.8778 A ± 0.02 %", "C21.i133 = 5.8743 A ± 0.02 %", "C21.i144 = 5.8640 A ± 0.02 %",
			"C21.x128 = 1.3292 ± 0.02 %", "C21.x133 = 1.2800 ± 0.02 %", "C21.x144 = 1.1843 ± 0.02 %"},
		{generic(55, 36, 1),
			"C22.i128 = 5.9443 A ± 0.02 %", "C22.i133 = 5.9262 A ± 0.02 %", "C22.i144 = 5.8432 A ± 0.02 %",
			"C22.x128 = 1.1454 ± 0.02 %", "C22.x133 = 1.1057 ± 0.02 %", "C22.x144 = 1.0358 ± 0.02 %"},
		{generic(0, 36, 1),
			"C23.i128 = 5.8045 A ± 0.02 %", "C23.i133 = 5.8016 A ± 0.02 %", "C23.i144 = 5.7953 A ± 0.02 %",
			"C23.x128 = 1.4866 ± 0.02 %", "C23.x133 = 1.4314 ± 0.02 %", "C23.x144 = 1.3235 ± 0.02 %"},
		{generic(25, 36, 1).dim(0.3),
			"C24.i128 = 1.76492 A ± 0.02 %", "C24.i133 = 1.76384 A ± 0.02 %", "C24.i144 = 1.76059 A ± 0.02 %",
			"C24.x128 = 1.3173 ± 0.02 %", "C24.x133 = 1.2685 ± 0.02 %", "C24.x144 = 1.1738 ± 0.02 %"},
	} {
		for v, want := range map[qty.Volt][2]string{12.8: {c.at128, c.gain128}, 13.3: {c.at133, c.gain133}, 14.4: {c.at144, c.gain144}} {
			i := amps(pwm10, c.panel, v-SwitchDrop)
			golden.Check(t, want[0], float64(i))
			golden.Check(t, want[1], float64(amps(ideal, c.panel, v)/i))
		}
	}
}

// Figures: electrical.md C36. Half of a panel in the shade stands under any
// 12 V battery: neither kind charges anything.
func TestHalfShadedPanelAgainstElectricalC36(t *testing.T) {
	panel := bypassed{generic(25, 18, 1)}
	vmp, _ := panel.MaxPower()
	golden.Check(t, "C36.vmp = 8.50 V ± 0.01", float64(vmp))
	if panel.Current(10.49) <= 0 || panel.Current(10.51) > 0 {
		t.Error("C36.v is 10.50 V, open circuit")
	}
	for _, c := range append(uneven, pwm10, mppt10) {
		for v := qty.Volt(10.5); v < 15; v += 0.1 {
			if i := amps(c, panel, v); i != 0 {
				t.Fatalf("%+v gives %g A into %g V", c, i, v)
			}
		}
	}
}

// Figures: electrical.md C40: 100 W in 5 full-sun hours a day with three
// quarters of it left in all, into 12.8 V and 40 Ah. The three quarters are
// common practice, no source.
func TestRefillBySunAgainstElectricalC40(t *testing.T) {
	c := Controller{Kind: MPPT, Limit: 100, Efficiency: 0.75, InputMax: 50}
	day := 5 * float64(qty.Power(12.8, amps(c, steady(100), 12.8)))
	golden.Check(t, "C40.wh_day = 375 Wh ± 0.01 %", day)
	golden.Check(t, "C40.days = 1.3653 ± 0.01 %", float64(qty.Energy(12.8, 40))/day)
}

// Figures: electrical.md C35, a Schottky diode of 0.4 V in the way.
func TestSwitchDropAgainstElectricalC35(t *testing.T) {
	panel := generic(25, 36, 1)
	with := float64(amps(pwm10, panel, 13.3))
	without := float64(panel.Current(13.3))
	golden.Check(t, "C35.pwm_i = 5.8711 A ± 0.02 %", with)
	golden.Check(t, "C35.pwm_pct = 0.0543 % ± 2 %", 100*(1-with/without))
	vmp, imp := panel.MaxPower()
	golden.Check(t, "C35.schottky = 2.222 W ± 0.1 %", float64(qty.Power(SwitchDrop, imp)))
	golden.Check(t, "C35.mppt_pct = 2.222 % ± 0.1 %", 100*float64(SwitchDrop/vmp))
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
	for _, c := range append(uneven, mppt10) {
		for _, cell := range []float64{40, 60, 75} {
			panel := generic(cell, 36, 1)
			vmp, _ := panel.MaxPower()
			o := c.Offer(panel)
			below, above := o.Unlimited(vmp-Headroom-1e-7), o.Unlimited(vmp-Headroom+1e-7)
			if math.Abs(float64(below-above)) > 1e-6 || below <= 0 {
				t.Errorf("%+v at %g °C: %g A below, %g A above the edge", c, cell, below, above)
			}
		}
	}
}

// PanelPower is the inverse of Amps: for all that is on offer the panels give
// their best, or what they give a headroom above the battery; and for less,
// what Amps would make of so many watts.
func TestPanelPowerIsTheInverseOfAmps(t *testing.T) {
	for _, c := range append(uneven, mppt10) {
		for _, cell := range []float64{0, 70} {
			panel := generic(cell, 36, 1)
			vmp, imp := panel.MaxPower()
			o := c.Offer(panel)
			for v := qty.Volt(9); v < 17; v += 0.13 {
				want := qty.Power(vmp, imp)
				if at := v + Headroom; at > vmp {
					want = qty.Power(at, panel.Current(at))
				}
				all := o.Unlimited(v)
				if all == 0 {
					continue // under what the converter loses at any load
				}
				golden.Near(t, "panels for all that is on offer, W", float64(o.PanelPower(v, all)), float64(want), 11)
				for _, share := range []qty.Ampere{0.05, 0.5, 0.9} {
					dim := c.Offer(steady(o.PanelPower(v, all*share)))
					golden.Near(t, "amps of so many watts", float64(dim.Unlimited(v)), float64(all*share), 11)
				}
			}
		}
	}
}

// Panels under the start volts give nothing; a little above them all that they
// would give anyway. One more current is asked, and only where there are such
// volts.
func TestStartVolts(t *testing.T) {
	for _, plain := range []Controller{pwm10, mppt10, uneven[0]} {
		want := amps(plain, generic(25, 36, 1), 13)
		for _, c := range []struct {
			start qty.Volt
			live  bool
		}{{0, true}, {5, true}, {21.99, true}, {22.01, false}, {60, false}} { // C20.voc is 22.000 V
			ctl := plain
			ctl.Start = c.start
			if err := ctl.Check(); err != nil {
				t.Fatal(err)
			}
			o := ctl.Offer(generic(25, 36, 1))
			if got := o.Amps(13); o.Live() != c.live || c.live && got != want || !c.live && (got != 0 || o.PanelPower(13, 0) != 0 || o.Further(13, 0, 0) != 0) {
				t.Errorf("start at %g V: %g A, live %v, want %g A", c.start, got, o.Live(), want)
			}
		}
		dusk := plain
		dusk.Start = 15
		o := dusk.Offer(generic(25, 36, 1).dim(1e-5))
		if o.Live() {
			t.Error("a panel in the dusk starts the controller")
		}
	}
	panel := generic(25, 36, 1)
	c := pwm10
	c.Start = 16
	c.Offer(panel)
	if panel.asked != 1 {
		t.Errorf("asked for %d currents", panel.asked)
	}
}

func TestControllerDrawsLessAtNight(t *testing.T) {
	c := Controller{Standby: 0.03, Night: 0.005}
	if c.Draw(true) != 0.03 || c.Draw(false) != 0.005 {
		t.Errorf("%g A by day, %g A at night", c.Draw(true), c.Draw(false))
	}
}

// What is taken from an offer never exceeds the panels' best, loses what the
// controller says it loses, and falls as the battery fills.
func TestOfferKeepsEnergy(t *testing.T) {
	for _, cell := range []float64{-20, 25, 75} {
		for _, c := range append(uneven, pwm10, mppt10) {
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
		open, max qty.Volt
		over      bool
	}{{22, 22.01, false}, {22, 21.99, true}, {23.916, 23.93, false}, {23.916, 23.9, true}, {22, 22, false}} {
		ctl := mppt10
		ctl.InputMax = c.max
		if got := ctl.OverInput(c.open); got != c.over {
			t.Errorf("%g V on %g V input: over %v", c.open, c.max, got)
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
		"Night":      func(c *Controller) { c.Night = 1.1 },
		"Start":      func(c *Controller) { c.Start = 4.9 },
		"Low":        func(c *Controller) { c.Low = 0.3 },
	} {
		c := mppt10
		spoil(&c)
		var r *qty.RangeError
		if err := c.Check(); !errors.As(err, &r) || r.What != what {
			t.Errorf("%s spoilt: %v", what, err)
		}
	}
}
