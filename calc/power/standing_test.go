package power

import (
	"math"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// Figures: electrical.md C46, standby of a day from 40 Ah. The draws are common
// practice, no source.
func TestStandingAgainstElectricalC46(t *testing.T) {
	const v = 12.8
	for _, c := range []struct {
		s                      Standing
		at                     Switch
		ah, pct, hours, energy string
	}{
		{Standing{Meters: 0.1}, DCOnly, "C46.ah01 = 2.4 Ah ± 0.01 %", "C46.pct01 = 6 % ± 0.01 %", "C46.h01 = 400 h ± 0.01 %", ""},
		{Standing{Fitted: true, Inverter: Inverter{Standby: 0.5 * v}}, ACOnly, "C46.ah05 = 12 Ah ± 0.01 %", "C46.pct05 = 30 % ± 0.01 %", "C46.h05 = 80 h ± 0.01 %", ""},
		{Standing{Fitted: true, Inverter: Inverter{Standby: 1.0 * v}}, DCAndAC, "C46.ah10 = 24 Ah ± 0.01 %", "C46.pct10 = 60 % ± 0.01 %", "C46.h10 = 40 h ± 0.01 %", "C46.wh10 = 307.2 Wh ± 0.01 %"},
	} {
		i := c.s.At(c.at, v, true)
		day := float64(i.Over(24))
		golden.Check(t, c.ah, day/v)
		golden.Check(t, c.pct, 100*day/(40*v))
		h, ever := i.Empties(40 * v)
		golden.Check(t, c.hours, h)
		if c.energy != "" {
			golden.Check(t, c.energy, day)
		}
		if !ever {
			t.Errorf("%+v never empties it", i)
		}
	}
}

// Figures: handbook H45, an inverter of 8 W left on over 512 Wh.
func TestStandingAgainstHandbookH45(t *testing.T) {
	i := Standing{Fitted: true, Inverter: Inverter{Rated: 300, Standby: 8}}.At(ACOnly, 12.8, false)
	h, ever := i.Empties(512)
	golden.Near(t, "a day, Wh", float64(i.Over(24)), 192, 10)
	golden.Near(t, "a day of the battery, %", 100*float64(i.Over(24))/512, 37.5, 10)
	golden.Near(t, "hours to empty", h, 64, 10)
	if !ever {
		t.Error("never empty")
	}
}

// Each position has live what its name says and pays for that alone.
func TestStandingByPosition(t *testing.T) {
	s := Standing{
		Meters: 0.02, Controller: 0.01, Night: 0.004,
		DC: Outlet{Standby: 0.03, Efficiency: 0.95}, USB: Outlet{Standby: 0.05, Efficiency: 0.9},
		Fitted: true, Inverter: Inverter{Rated: 300, Standby: 8},
	}
	const v = 10
	for _, c := range []struct {
		at          Switch
		night       bool
		dc, usb, ac bool
		watts       float64
	}{
		{DCOnly, false, true, true, false, 0.3 + 0.3 + 0.5},
		{DCAndAC, false, true, true, true, 0.3 + 0.3 + 0.5 + 8},
		{ACOnly, false, false, false, true, 0.3 + 8},
		{DCOnly, true, true, true, false, 0.24 + 0.3 + 0.5},
		{ACOnly, true, false, false, true, 0.24 + 8},
	} {
		i := s.At(c.at, v, c.night)
		if i.Switch != c.at || i.DC != c.dc || i.USB != c.usb || i.AC != c.ac {
			t.Errorf("position %d: %+v", c.at, i)
		}
		golden.Near(t, "idle, W", float64(i.Watts()), c.watts, 12)
		if sum := i.Own + i.OfDC + i.OfUSB + i.OfAC; sum != i.Watts() {
			t.Errorf("position %d: parts come to %g W of %g W", c.at, sum, i.Watts())
		}
	}

	// Without an inverter AC is dead in every position and costs nothing.
	s.Fitted = false
	if i := s.At(ACOnly, v, false); i.AC || i.OfAC != 0 || i.DC {
		t.Errorf("no inverter: %+v", i)
	}
	// One that can sleep costs its sleep.
	s.Fitted, s.Inverter.Sleep, s.Inverter.Wake = true, 1, 5
	if i := s.At(ACOnly, v, false); i.OfAC != 1 {
		t.Errorf("asleep: %+v", i)
	}
	// Nothing drawn empties nothing.
	if h, ever := (Standing{}).At(DCOnly, v, true).Empties(500); ever || h != 0 {
		t.Errorf("nothing empties a battery in %g h", h)
	}
	if h, ever := (Idle{Own: qty.Watt(math.NaN())}).Empties(500); ever || h != 0 {
		t.Errorf("no number empties a battery in %g h", h)
	}
}
