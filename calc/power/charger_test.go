package power

import (
	"errors"
	"math"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// Figures: electrical.md C38 and C43. "10 A for 40 Ah, about four hours" is
// common practice, no source.
func TestWallChargerAgainstElectricalC38AndC43(t *testing.T) {
	w := WallCharger{Current: 10, Efficiency: 0.88}
	if err := w.Check(); err != nil {
		t.Fatal(err)
	}
	golden.Check(t, "C38.ideal = 4.000 h ± 0.01 %", w.RefillHours(40, 1))
	golden.Check(t, "C38.lead = 4.706 h ± 0.05 %", w.RefillHours(40, 0.85))
	golden.Check(t, "C38.lfp = 4.040 h ± 0.05 %", w.RefillHours(40, 0.99))
	golden.Check(t, "C43.pac = 163.6 W ± 0.1 %", float64(w.Mains(14.4, 10)))
	if w.Mains(14.4, 0) != 0 || (WallCharger{}).Mains(13, 0) != 0 {
		t.Error("a charger that gives nothing draws something")
	}
	if h := (WallCharger{}).RefillHours(40, 1); !math.IsInf(h, 1) {
		t.Errorf("no charger refills in %g h", h)
	}
	for _, bad := range []WallCharger{
		{Current: -1, Efficiency: 0.9}, {Current: 101, Efficiency: 0.9}, {Current: 10}, {Current: 10, Efficiency: 1.1}, {Current: qty.Ampere(math.NaN()), Efficiency: 0.9},
	} {
		if bad.Check() == nil {
			t.Errorf("%+v passes", bad)
		}
	}
}

// The mains of the world are 100 to 127 V and 220 to 240 V; which label takes
// which is reckoned by hand.
func TestWallChargerOnTheMainsOfTheWorld(t *testing.T) {
	for _, c := range []struct {
		min, max  qty.Volt
		fits, not []qty.Volt
		worldwide bool
	}{
		{100, 240, []qty.Volt{100, 110, 120, 127, 220, 230, 240}, []qty.Volt{99, 241}, true},
		{220, 240, []qty.Volt{220, 230, 240}, []qty.Volt{100, 110, 120, 127}, false},
		{100, 127, []qty.Volt{100, 120, 127}, []qty.Volt{220, 230, 240}, false},
		{90, 264, []qty.Volt{90, 100, 240, 264}, nil, true},
		{0, 0, []qty.Volt{100, 230}, nil, false}, // not known
	} {
		w := WallCharger{Current: 10, Efficiency: 0.88, InputMin: c.min, InputMax: c.max}
		if err := w.Check(); err != nil {
			t.Error(err)
		}
		for _, v := range c.fits {
			if !w.Fits(v) {
				t.Errorf("%g to %g V does not fit %g V", c.min, c.max, v)
			}
		}
		for _, v := range c.not {
			if w.Fits(v) {
				t.Errorf("%g to %g V fits %g V", c.min, c.max, v)
			}
		}
		if w.Worldwide() != c.worldwide {
			t.Errorf("%g to %g V is worldwide: %v", c.min, c.max, w.Worldwide())
		}
	}
	for _, c := range []struct {
		what     string
		min, max qty.Volt
	}{{"InputMin", 89, 240}, {"InputMin", 0, 240}, {"InputMin", 265, 300}, {"InputMax", 100, 265}, {"InputMax", 230, 230}, {"InputMax", 230, 120}, {"InputMax", 100, qty.Volt(math.NaN())}} {
		var r *qty.RangeError
		if err := (WallCharger{10, 0.88, c.min, c.max}).Check(); !errors.As(err, &r) || r.What != c.what {
			t.Errorf("%g to %g V: %v", c.min, c.max, err)
		}
	}
}

// The time of the tail against the sum of small steps of a current that falls
// by e in τ, and its limit: twice the current, half the time.
func TestTailHoursAgainstSmallSteps(t *testing.T) {
	for _, c := range []struct {
		missing  qty.AmpHour
		from, to qty.Ampere
	}{{8, 10, 2}, {20, 10, 2}, {1, 30, 29}, {50, 60, 0.5}} {
		tau := float64(c.missing) / float64(c.from-c.to)
		dt := tau / 1e6
		i, in, hours := float64(c.from), 0.0, 0.0
		for i > float64(c.to) {
			in += i * dt * (1 - dt/(2*tau))
			i -= i * dt / tau * (1 - dt/(2*tau))
			hours += dt
		}
		golden.Near(t, "tail, h", TailHours(c.missing, c.from, c.to), hours, 4)
		golden.Near(t, "amp-hours in it", in, float64(c.missing), 4)
		golden.Near(t, "half the time", TailHours(c.missing, 2*c.from, 2*c.to), hours/2, 4)
	}
	if TailHours(0, 10, 2) != 0 {
		t.Error("nothing missing takes time")
	}
}

// Figures: electrical.md C46, meters and converters of 0.1 A for a day. "They
// alone draw about 0.1 A" is common practice, no source.
func TestOutletAgainstElectricalC46(t *testing.T) {
	o := Outlet{Standby: 0.1, Efficiency: 0.9}
	if err := o.Check(); err != nil {
		t.Fatal(err)
	}
	golden.Check(t, "C46.ah01 = 2.4 Ah ± 0.01 %", 24*float64(o.Standby))
	golden.Near(t, "18 W at the sockets, W", float64(o.Draw(18)), 20, 10)
	if o.Draw(0) != 0 || (Outlet{}).Draw(0) != 0 {
		t.Error("nothing at the sockets draws something beside the standby")
	}
	for _, bad := range []Outlet{{-0.1, 0.9}, {1.1, 0.9}, {0.1, 0}, {0.1, 1.01}, {0.1, qty.Fraction(math.NaN())}} {
		if bad.Check() == nil {
			t.Errorf("%+v passes", bad)
		}
	}
}

func TestSwitchFeedsWhatItSays(t *testing.T) {
	for _, c := range []struct {
		s      Switch
		dc, ac bool
	}{{DCOnly, true, false}, {DCAndAC, true, true}, {ACOnly, false, true}, {Switch(9), false, false}} {
		if c.s.DC() != c.dc || c.s.AC() != c.ac {
			t.Errorf("switch %d: DC %v, AC %v", c.s, c.s.DC(), c.s.AC())
		}
	}
}
