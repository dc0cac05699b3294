package panel

import (
	"errors"
	"math"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// scaled is the generic panel with other cells and current, as the reference
// scales it.
func scaled(cells int, current float64) Module {
	m := generic
	n := float64(cells) / 36
	m.Cells = cells
	m.Light *= qty.Ampere(current)
	m.Saturation *= qty.Ampere(current)
	m.AlphaIsc *= current
	m.Series *= qty.Ohm(n / current)
	m.Shunt *= qty.Ohm(n / current)
	m.Slope *= qty.Volt(n)
	return m
}

// Figures: electrical.md C20 to C24, computed there with the same model and by
// the Lambert W closed form.
func TestCurveAgainstElectricalC20ToC24(t *testing.T) {
	for _, c := range []struct {
		sun    qty.Irradiance
		cell   qty.Celsius
		checks [8]string // isc, voc, vmp, imp, pmp, i128, i133, i144
	}{
		{1000, 25, [8]string{
			"C20.isc = 5.9500 A ± 0.01 %", "C20.voc = 22.000 V ± 0.01 %", "C20.vmp = 18.000 V ± 0.05 %", "C20.imp = 5.5556 A ± 0.05 %", "C20.pmp = 100.00 W ± 0.01 %",
			"C21.i128 = 5.8778 A ± 0.02 %", "C21.i133 = 5.8743 A ± 0.02 %", "C21.i144 = 5.8640 A ± 0.02 %",
		}},
		{1000, 55, [8]string{
			"", "C22.voc = 19.679 V ± 0.01 %", "C22.vmp = 15.639 V ± 0.05 %", "", "C22.pmp = 87.153 W ± 0.02 %",
			"C22.i128 = 5.9443 A ± 0.02 %", "C22.i133 = 5.9262 A ± 0.02 %", "C22.i144 = 5.8432 A ± 0.02 %",
		}},
		{1000, 0, [8]string{
			"", "C23.voc = 23.916 V ± 0.01 %", "C23.vmp = 19.989 V ± 0.05 %", "", "C23.pmp = 110.447 W ± 0.02 %",
			"C23.i128 = 5.8045 A ± 0.02 %", "C23.i133 = 5.8016 A ± 0.02 %", "C23.i144 = 5.7953 A ± 0.02 %",
		}},
		{300, 25, [8]string{
			"", "C24.voc = 20.917 V ± 0.01 %", "C24.vmp = 17.798 V ± 0.05 %", "", "C24.pmp = 29.758 W ± 0.02 %",
			"C24.i128 = 1.76492 A ± 0.02 %", "C24.i133 = 1.76384 A ± 0.02 %", "C24.i144 = 1.76059 A ± 0.02 %",
		}},
		{1000, 70, [8]string{"", "", "C29.vmp70 = 14.473 V ± 0.05 %", "", "", "", "", "C29.i144 = 5.5980 A ± 0.02 %"}},
		{1000, -20, [8]string{"", "C28.sdm = 25.435 V ± 0.02 %"}},
	} {
		m, err := FromWatts(100, Crystalline)
		if err != nil {
			t.Fatal(err)
		}
		curve := m.At(c.sun, c.cell)
		v, i := curve.MaxPower()
		for k, got := range [8]float64{
			float64(curve.ShortCircuit()), float64(curve.OpenCircuit()), float64(v), float64(i), float64(qty.Power(v, i)),
			float64(curve.Current(12.8)), float64(curve.Current(13.3)), float64(curve.Current(14.4)),
		} {
			if c.checks[k] != "" {
				golden.Check(t, c.checks[k], got)
			}
		}
	}
}

// Figures: the table behind electrical.md C21 to C24, computed with a Boltzmann
// constant 9e-8 smaller and printed to five and four digits after the point.
func TestCurveAgainstBatteryVoltageVector(t *testing.T) {
	s := golden.Vectors(t, "panel", "panel-36-cell-battery-voltage.csv")
	amps := golden.Worst{What: "current at battery volts, A", Limit: 1e-5}
	watts := golden.Worst{What: "maximum power, W", Limit: 1e-4}
	for r := range s.Len() {
		c := generic.At(qty.Irradiance(s.Num(r, "irradiance_w_m2")), qty.Celsius(s.Num(r, "cell_c")))
		amps.Add(r, float64(c.Current(qty.Volt(s.Num(r, "battery_v"))))-s.Num(r, "current_a"))
		v, i := c.MaxPower()
		watts.Add(r, float64(qty.Power(v, i))-s.Num(r, "pmp_w"))
	}
	amps.Report(t)
	watts.Report(t)
}

// Figures: electrical.md C26, the generic panel scaled to 60 cells.
func TestScaledPanelAgainstElectricalC26(t *testing.T) {
	c := scaled(60, 1.7).At(1000, 25)
	v, i := c.MaxPower()
	golden.Check(t, "C26.vmp = 30.00 V ± 0.05 %", float64(v))
	golden.Check(t, "C26.pmp = 283.34 W ± 0.02 %", float64(qty.Power(v, i)))
	golden.Check(t, "C26.i133 = 10.0395 A ± 0.02 %", float64(c.Current(13.3)))
}

// Figures: electrical.md C33 and C34, computed there by root finding and by a
// sweep of 2000 points.
func TestArrayAgainstElectricalC33AndC34(t *testing.T) {
	full := generic.At(1000, 25)
	power := func(a *Array) (float64, float64) {
		v, i := a.MaxPower()
		return float64(qty.Power(v, i)), float64(i)
	}
	half := []Part{{Curve: full, Count: 1}, {Curve: scaled(36, 0.5).At(1000, 25), Count: 1}}
	p, _ := power(&Array{Parts: half})
	golden.Check(t, "C33.par = 150.00 W ± 0.02 %", p)
	p, i := power(&Array{Joined: EndToEnd, Parts: half})
	golden.Check(t, "C33.ser_p = 108.60 W ± 0.1 %", p)
	golden.Check(t, "C33.ser_i = 2.856 A ± 0.3 %", i)

	short := []Part{{Curve: full, Count: 1}, {Curve: scaled(33, 1).At(1000, 25), Count: 1}}
	p, _ = power(&Array{Parts: short})
	golden.Check(t, "C34.par_p = 188.55 W ± 0.05 %", p)
	golden.Check(t, "C34.loss = 1.63 % ± 1 %", 100*(1-p/191.67))
	p, _ = power(&Array{Joined: EndToEnd, Parts: short})
	golden.Check(t, "C34.ser_p = 191.67 W ± 0.05 %", p)
}

// Figures: electrical.md C36, two groups of 18 cells, one dark. The reference
// takes the lit half's own peak less half a volt; the peak of the whole lies a
// little higher, because the half volt is lost at any current.
func TestHalfDarkPanelAgainstElectricalC36(t *testing.T) {
	m := scaled(18, 1)
	lit := m.At(1000, 25)
	a := Array{Joined: EndToEnd, Parts: []Part{{Curve: lit, Count: 1}, {Curve: m.At(0, 25), Count: 1}}}
	if a.Current(10.49) <= 0 || a.Current(10.51) != 0 {
		t.Errorf("C36.v = 10.50 V ± 0.01: %g A at 10.49 V, %g A at 10.51 V", a.Current(10.49), a.Current(10.51))
	}
	v, _ := lit.MaxPower()
	golden.Check(t, "C36.vmp = 8.50 V ± 0.01", float64(v+BypassVolts))
	if v, _ := a.MaxPower(); v < 8.5 || v > 8.55 {
		t.Errorf("half dark panel peaks at %g V, want just over 8.50 V", v)
	}
	if i := a.Current(12.8); i != 0 {
		t.Errorf("half dark panel gives %g A to a battery", i)
	}
	// Two such panels side by side lose the dark one's share only.
	pair := Array{Parts: []Part{{Curve: generic.At(1000, 25), Count: 1}, {Curve: Curve{}, Count: 1}}}
	if got, want := pair.Current(13.3), generic.At(1000, 25).Current(13.3); got != want {
		t.Errorf("beside a dark panel: %g A, alone %g A", got, want)
	}
}

// Figures: electrical.md C37.
func TestNightLeakAgainstElectricalC37(t *testing.T) {
	i, err := generic.NightLeak(12.8, 25)
	if err != nil {
		t.Fatal(err)
	}
	golden.Check(t, "C37.rev = 0.07143 A ± 0.1 %", float64(i))
	golden.Check(t, "C37.night = 0.857 Ah ± 0.1 %", 12*float64(i))
	for _, c := range []struct {
		v    qty.Volt
		cell qty.Celsius
		what string
	}{{-1, 25, "v"}, {101, 25, "v"}, {12, 200, "cell"}, {12, qty.Celsius(math.NaN()), "cell"}} {
		_, err := generic.NightLeak(c.v, c.cell)
		var r *qty.RangeError
		if !errors.As(err, &r) || r.What != c.what {
			t.Errorf("%g V, %g °C: got %v, want a range of %s", c.v, c.cell, err, c.what)
		}
	}
}

// Figures: electrical.md C07, a loop of 0.0495 Ω. Ohm's law: at the far end the
// panel's volts are lower by the drop.
func TestBehindACableAgainstElectricalC07(t *testing.T) {
	const r = 0.0495
	near, far := generic.At(1000, 25), generic.Behind(r).At(1000, 25)
	golden.Check(t, "C07.dv = 0.495 V ± 0.1 %", float64(near.Volts(10)-far.Volts(10)))
	for _, i := range []qty.Ampere{0, 2, 5} {
		if got, want := float64(near.Volts(i)-far.Volts(i)), float64(i)*r; math.Abs(got-want) > 1e-9 {
			t.Errorf("%g A drop %g V over the cable, want %g V", i, got, want)
		}
	}
}

// Trade rule of handbook H66: a 36-cell panel of 180 W, 18 V at 10 A. Common
// practice, no source; the arithmetic is exact.
func TestWattsAgainstHandbookH66(t *testing.T) {
	m, err := FromWatts(180, Crystalline)
	if err != nil {
		t.Fatal(err)
	}
	c := m.At(1000, 25)
	v, i := c.MaxPower()
	golden.Near(t, "volts of 180 W", float64(v), 18, 4)
	golden.Near(t, "amps of 180 W", float64(i), 10, 4)
	if got := float64(qty.Power(v, i)); math.Abs(got-180) > 1e-9 {
		t.Errorf("180 W panel peaks at %g W", got)
	}
	// Held at battery volts it gives its current, not its watts.
	for _, b := range []qty.Volt{12, 13.5, 14.4} {
		i := c.Current(b)
		if i < 10 || i > c.ShortCircuit() {
			t.Errorf("at %g V: %g A, want 10 A to the short-circuit current", b, i)
		}
	}
}
