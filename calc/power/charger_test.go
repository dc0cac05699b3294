package power

import (
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
