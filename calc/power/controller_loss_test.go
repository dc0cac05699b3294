package power

import (
	"errors"
	"math"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// uneven are converters with two figures: worse, much worse and better at
// little load.
var uneven = []Controller{
	{Kind: MPPT, Limit: 10, Efficiency: 0.97, Low: 0.93, InputMax: 50},
	{Kind: MPPT, Limit: 30, Efficiency: 0.9, Low: 0.5, InputMax: 150},
	{Kind: MPPT, Limit: 20, Efficiency: 0.94, Low: 0.975, InputMax: 100},
	{Kind: MPPT, Limit: 100, Efficiency: 0.7, Low: 0.9, InputMax: 250},
}

// The label's own figures come back, at full load and at a tenth of it.
func TestLossMeetsBothFiguresOfTheLabel(t *testing.T) {
	for _, c := range uneven {
		if err := c.Check(); err != nil {
			t.Fatal(err)
		}
		for _, at := range []struct {
			watts qty.Watt
			want  qty.Fraction
		}{{c.Rated(), c.Efficiency}, {c.Rated() / 10, c.Low}} {
			golden.Near(t, "efficiency at its load", float64(at.watts/(at.watts+c.Loss(at.watts))), float64(at.want), 13)
		}
	}
	golden.Near(t, "rated watts of 10 A", float64(mppt10.Rated()), 128, 12)
	if l := pwm10.Loss(100); l != 0 {
		t.Errorf("a switch loses %g W by its efficiency", l)
	}
}

// One figure is what it was before there were two, to the last bit: also
// where both say the same.
func TestOneFigureIsAShareOfTheWatts(t *testing.T) {
	for _, low := range []qty.Fraction{0, 0.97} {
		c := mppt10
		c.Low = low
		for p := qty.Watt(0); p < 200; p += 0.7 {
			o := c.Offer(steady(p))
			for _, v := range []qty.Volt{10.3, 12.8, 14.4} {
				// As the panels tell it: volts times amps.
				at, i := steady(p).MaxPower()
				want := min(10, qty.Ampere(qty.Volt(qty.Power(at, i))*0.97/v))
				if got := o.Amps(v); got != want {
					t.Fatalf("Low %g, %g W at %g V: %g A, want %g A", low, p, v, got, want)
				}
				if got := o.PanelPower(v, want); got != qty.Power(v/0.97, want) {
					t.Fatalf("Low %g, %g A at %g V: panels give %g W", low, want, v, got)
				}
			}
		}
	}
}

// What goes in for what comes out, and back: for every shape of the loss, from
// nothing to twice the rated watts. Energy is never made, more in is never less
// out, and the loss never falls as the load grows.
func TestLossIsItsOwnInverse(t *testing.T) {
	worst := golden.Worst{What: "there and back, share", Limit: 1e-12}
	for _, c := range append(uneven, mppt10, pwm10) {
		l := c.loss()
		if l.shape == drop {
			continue
		}
		lastIn, lastLoss := 0.0, 0.0
		for k := 1; k <= 2000; k++ {
			out := c.Rated() * qty.Watt(k) / 1000
			in := l.in(12.8, qty.Ampere(out/12.8))
			worst.Add(k, math.Abs(float64(l.out(in)/out)-1))
			loss := float64(in - out)
			if float64(in) <= lastIn || loss < lastLoss*(1-1e-12) {
				t.Fatalf("%+v: %g W in at %g W out, loss %g W after %g W", c, in, out, loss, lastLoss)
			}
			lastIn, lastLoss = float64(in), loss
			if back := l.out(out); back < 0 || back > out {
				t.Fatalf("%+v makes %g W of %g W", c, back, out)
			}
		}
		if l.out(0) != 0 || l.in(13, 0) != 0 {
			t.Errorf("%+v: %g W from nothing, %g W for nothing", c, l.out(0), l.in(13, 0))
		}
	}
	worst.Report(t)
}

// Light too dim for what the converter takes at any load gives nothing, and
// asks nothing of the panels.
func TestDimLightDoesNotFeedTheConverterItself(t *testing.T) {
	c := uneven[0]
	idle := c.loss().term
	golden.Near(t, "loss at any load, W", idle, 128*(1/0.93-1/0.97)/9, 10) // from the two figures by hand
	o := c.Offer(steady(idle * 0.999))
	if o.Amps(12) != 0 || o.PanelPower(12, 0) != 0 {
		t.Errorf("%g W of panel give %g A", idle*0.999, o.Amps(12))
	}
	if o = c.Offer(steady(idle * 1.001)); o.Amps(12) <= 0 {
		t.Error("a little more gives nothing either")
	}
}

// At the ends of its range Low is what the range says: the same watts lost at
// both loads, and watts that grow with the square; beyond, Check names it.
func TestLowRange(t *testing.T) {
	for e := qty.Fraction(0.7); e < 1; e += 0.01 {
		least, most := LowRange(e)
		c := Controller{Kind: MPPT, Limit: 10, Efficiency: e, InputMax: 50}
		full, tenth := c.Rated(), c.Rated()/10

		// The edges by the loss of each watt, as a person would reckon them:
		// they pass whatever their last digit is.
		for _, times := range []qty.Fraction{10, 0.1} {
			c.Low = 1 / (1 + times*(1/e-1))
			if err := c.Check(); err != nil {
				t.Errorf("on its edge: %v", err)
			}
		}

		c.Low = least
		golden.Near(t, "least: loss at a tenth, W", float64(c.Loss(tenth)), float64(c.Loss(full)), 9)
		c.Low = most
		golden.Near(t, "most: loss at a tenth, W", float64(c.Loss(tenth)), float64(c.Loss(full))/100, 9)

		for _, low := range []qty.Fraction{least * 0.999, most + 0.001, -0.9, qty.Fraction(math.NaN())} {
			c.Low = low
			var r *qty.RangeError
			if err := c.Check(); !errors.As(err, &r) || r.What != "Low" {
				t.Errorf("%g beside %g: %v", low, e, err)
			}
			c.Kind = PWM // reads neither
			if err := c.Check(); err != nil {
				t.Errorf("a switch with Low %g: %v", low, err)
			}
			c.Kind = MPPT
		}
	}
	if least, most := LowRange(1); math.Abs(float64(least)-1) > 1e-9 || most != 1 {
		t.Errorf("beside 1: %g to %g", least, most)
	}
}

// What the panels would give beyond what is taken, and what is taken, are what
// they give for both together.
func TestFurtherIsTheRest(t *testing.T) {
	for _, c := range append(uneven, mppt10, pwm10) {
		o := c.Offer(generic(25, 36, 1))
		for _, v := range []qty.Volt{11, 13.3, 14.4} {
			all := o.Unlimited(v)
			for _, share := range []qty.Ampere{0, 1e-6, 0.3, 0.8, 1} {
				i := all * share
				got := float64(o.PanelPower(v, i) + o.Further(v, i, all-i))
				golden.Near(t, "taken and further, W", got, float64(o.PanelPower(v, all)), 12)
				if f := o.Further(v, i, 0); f != 0 {
					t.Errorf("nothing more takes %g W", f)
				}
				// Where the loss is a share, to the last bit what it was before.
				if c.Low == 0 && o.Further(v, i, all-i) != o.PanelPower(v, all-i) {
					t.Errorf("%v: further watts differ from those of their own amps", c.Kind)
				}
			}
		}
	}
}
