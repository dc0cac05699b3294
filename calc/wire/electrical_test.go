package wire

import (
	"errors"
	"math"
	"slices"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// Figures: electrical.md C04 and C05, the progression of ASTM B258 and
// 1/58 Ω·mm²/m.
func TestGaugesAgainstElectricalC04AndC05(t *testing.T) {
	golden.Check(t, "C04.d18 = 1.0237 mm ± 0.01 %", Diameter(18))
	golden.Check(t, "C04.d16 = 1.2908 mm ± 0.01 %", Diameter(16))
	golden.Check(t, "C04.d14 = 1.6277 mm ± 0.01 %", Diameter(14))
	golden.Check(t, "C04.d12 = 2.0525 mm ± 0.01 %", Diameter(12))
	golden.Check(t, "C04.d10 = 2.5882 mm ± 0.01 %", Diameter(10))
	golden.Check(t, "C04.d8 = 3.2636 mm ± 0.01 %", Diameter(8))
	golden.Check(t, "C04.d6 = 4.1154 mm ± 0.01 %", Diameter(6))
	golden.Check(t, "C04.d4_0 = 11.684 mm ± 0.01 %", Diameter(-3))
	golden.Check(t, "C04.a18 = 0.8230 mm2 ± 0.02 %", AWG18.Area())
	golden.Check(t, "C04.a16 = 1.3087 mm2 ± 0.02 %", AWG16.Area())
	golden.Check(t, "C04.a14 = 2.0809 mm2 ± 0.02 %", AWG14.Area())
	golden.Check(t, "C04.a12 = 3.3088 mm2 ± 0.02 %", AWG12.Area())
	golden.Check(t, "C04.a10 = 5.2612 mm2 ± 0.02 %", AWG10.Area())
	golden.Check(t, "C04.a8 = 8.3656 mm2 ± 0.02 %", AWG8.Area())
	golden.Check(t, "C04.a6 = 13.302 mm2 ± 0.02 %", AWG6.Area())
	golden.Check(t, "C05.r18 = 20.948 ohm/km ± 0.02 %", AWG18.PerKm())
	golden.Check(t, "C05.r16 = 13.174 ohm/km ± 0.02 %", AWG16.PerKm())
	golden.Check(t, "C05.r14 = 8.2855 ohm/km ± 0.02 %", AWG14.PerKm())
	golden.Check(t, "C05.r12 = 5.2108 ohm/km ± 0.02 %", AWG12.PerKm())
	golden.Check(t, "C05.r10 = 3.2771 ohm/km ± 0.02 %", AWG10.PerKm())
	golden.Check(t, "C05.r8 = 2.0610 ohm/km ± 0.02 %", AWG8.PerKm())
	golden.Check(t, "C05.r6 = 1.2962 ohm/km ± 0.02 %", AWG6.PerKm())
}

// Figures: electrical.md C06, what the limit is above pure copper.
func TestMetricLimitsAgainstElectricalC06(t *testing.T) {
	ratio := func(g Gauge) float64 { return g.PerKm() / (1000 * Resistivity(20) / g.Area()) }
	golden.Check(t, "C06.ratio1_5 = 1.1571 ± 0.02 %", ratio(MM1_5))
	golden.Check(t, "C06.ratio2_5 = 1.1571 ± 0.02 %", ratio(MM2_5))
	golden.Check(t, "C06.ratio4 = 1.1484 ± 0.02 %", ratio(MM4))
	golden.Check(t, "C06.ratio6 = 1.1484 ± 0.02 %", ratio(MM6))
}

// Figures: electrical.md C07, C08 and C11, Ohm's law.
func TestDropAgainstElectricalC07C08AndC11(t *testing.T) {
	r := Run{Gauge: MM4, Length: 5, Copper: 20}
	golden.Check(t, "C07.rloop = 0.0495 ohm ± 0.1 %", float64(r.Resistance()))
	golden.Check(t, "C07.dv = 0.495 V ± 0.1 %", float64(r.Drop(10)))
	golden.Check(t, "C07.pct = 3.867 % ± 0.1 %", 100*float64(r.Share(10, 12.8)))
	golden.Check(t, "C07.loss = 4.95 W ± 0.1 %", float64(r.Heat(10)))
	r.Copper = 50
	golden.Check(t, "C08.dv = 0.55336 V ± 0.1 %", float64(r.Drop(10)))
	golden.Check(t, "C08.pct = 4.323 % ± 0.1 %", 100*float64(r.Share(10, 12.8)))

	i := qty.Ampere(600 / 0.9 / 11.5)
	lead := Run{Gauge: MM16, Length: 1, Copper: 20}
	golden.Check(t, "C11.i = 57.97 A ± 0.1 %", float64(i))
	golden.Check(t, "C11.dv = 0.1403 V ± 0.1 %", float64(lead.Drop(i)))
	golden.Check(t, "C11.pct = 1.220 % ± 0.1 %", 100*float64(lead.Share(i, 11.5)))
	golden.Check(t, "C11.loss = 8.133 W ± 0.1 %", float64(lead.Heat(i)))
}

// Figures: electrical.md C09 and C10. The 3 % is common practice, no source.
func TestSmallestAndLongestAgainstElectricalC09AndC10(t *testing.T) {
	l := Limit{Volts: 12.8, Amps: 10, Share: 0.03}
	golden.Check(t, "C09.rmax = 3.84 ohm/km ± 0.1 %", 1000*l.ohms()/(2*5))
	g, err := Smallest(Metric(), 5, 20, l)
	if err != nil {
		t.Fatal(err)
	}
	golden.Check(t, "C09.area = 6 mm2 ± 0", g.Area())
	golden.Check(t, "C09.pct = 2.578 % ± 0.1 %", 100*float64(Run{g, 5, 20}.Share(10, 12.8)))
	if a, err := Smallest(American(), 5, 20, l); a != AWG10 || err != nil {
		t.Errorf("C09.awg = 10 AWG: got %s, %v", a, err)
	}
	// Over all: 10 AWG has less copper than 6 mm², and resists less than its limit.
	if a, err := Smallest(All(), 5, 20, l); a != AWG10 || err != nil {
		t.Errorf("of all gauges: got %s, %v", a, err)
	}
	length, err := Longest(MM2_5, 20, Limit{Volts: 12.8, Amps: 5, Share: 0.03})
	if err != nil {
		t.Fatal(err)
	}
	golden.Check(t, "C10.len = 4.812 m ± 0.1 %", float64(length))
}

// Figures: electrical.md C12, circuit theory.
func TestConstantPowerAgainstElectricalC12(t *testing.T) {
	v, i, err := ConstantPower(12, 0.10, 100)
	if err != nil {
		t.Fatal(err)
	}
	golden.Check(t, "C12.v = 11.0990 V ± 0.01 %", float64(v))
	golden.Check(t, "C12.i = 9.0098 A ± 0.01 %", float64(i))
	golden.Check(t, "C12.pmax = 360 W ± 0.01 %", float64(MostPower(12, 0.10)))
	if v, i, err := ConstantPower(12, 0.10, 359.999); err != nil || v < 6 || i < 59 {
		t.Errorf("just under the most: %g V, %g A, %v", v, i, err)
	}
	var c *CollapseError
	v, i, err = ConstantPower(12, 0.10, 360.001)
	if !errors.As(err, &c) || v != 0 || i != 0 || math.Abs(float64(c.Most)-360) > 1e-9 || c.Asked != 360.001 {
		t.Errorf("above the most: %g V, %g A, %v", v, i, err)
	}
}

// Figures: electrical.md C13 and C14, IEC 60364-5-54 with the table's k.
func TestFaultAgainstElectricalC13AndC14(t *testing.T) {
	golden.Check(t, "C13.k_pvc = 114.8 ± 0.1 %", PVC.Derived())
	golden.Check(t, "C13.k_xlpe = 142.9 ± 0.1 %", XLPE.Derived())
	golden.Check(t, "C13.k_rubber = 140.7 ± 0.1 %", Rubber.Derived())
	golden.Check(t, "C13.k_pvc90 = 99.74 ± 0.1 %", PVC90.Derived())
	golden.Check(t, "C13.smin = 2.750 mm2 ± 0.1 %", PVC.Thinnest(1000, 0.1))
	golden.Check(t, "C13.tmax = 0.3306 s ± 0.1 %", PVC.Withstands(2.5, 500))

	i := Run{Gauge: MM2_5, Length: 2, Copper: 20}.ShortCircuit(12.8, 0.010)
	golden.Check(t, "C14.i = 305.3 A ± 0.1 %", float64(i))
	golden.Check(t, "C14.k2s2 = 82656 A2s ± 0.01 %", PVC.Withstands(MM2_5.Area(), 1))
	golden.Check(t, "C14.t = 0.8865 s ± 0.2 %", PVC.Withstands(MM2_5.Area(), i))
}

// Figures: electrical.md C15 and C16, NEC 690.8 and 690.9 from the trade press.
func TestPanelFusesAgainstElectricalC15AndC16(t *testing.T) {
	const isc = 5.95
	golden.Check(t, "C15.imax = 7.4375 A ± 0.01 %", float64(PanelCurrent(isc)))
	golden.Check(t, "C15.ocpd = 9.2969 A ± 0.01 %", float64(PanelFuse(isc)))
	golden.Check(t, "C16.rev2 = 7.4375 A ± 0.01 %", float64(BackFeed(isc, 2)))
	golden.Check(t, "C16.rev3 = 14.875 A ± 0.01 %", float64(BackFeed(isc, 3)))
	golden.Check(t, "C16.rev4 = 22.3125 A ± 0.01 %", float64(BackFeed(isc, 4)))
	for _, c := range []struct {
		strings int
		label   qty.Ampere
		need    bool
	}{{1, 15, false}, {2, 15, false}, {3, 15, false}, {4, 15, true}, {3, 10, true}, {2, 10, false}, {2, 7.4375, false}} {
		if NeedsFuses(isc, c.strings, c.label) != c.need {
			t.Errorf("C16: %d strings, label %g A: not %v", c.strings, c.label, c.need)
		}
	}
}

// Figures: electrical.md C17, 125 % by NEC 210.20(A) from memory, and C19,
// ratings that exist, from memory there and read in summaries since.
func TestBatteryFuseAgainstElectricalC17AndC19(t *testing.T) {
	golden.Check(t, "C17.min = 12.5 A ± 0.01 %", float64(BatteryFuse(10)))
	inverter := BatteryFuse(600 / 0.9 / 11.5)
	golden.Check(t, "C17.inv = 72.46 A ± 0.1 %", float64(inverter))
	for _, c := range []struct {
		s         Series
		need, got qty.Ampere
	}{
		{Cartridge, PanelFuse(5.95), 10}, {Cartridge, 12.5, 15}, {Cartridge, inverter, 80}, {Cartridge, 10, 10},
		{Cartridge, 0, 1}, {Cartridge, 100, 100}, {Blade, 6.2, 7.5}, {Blade, 12.5, 15}, {Blade, 40, 40},
	} {
		if got, ok := c.s.Next(c.need); got != c.got || !ok {
			t.Errorf("series %d, %g A: %g A, %v", c.s, c.need, got, ok)
		}
	}
	// C19 as it stands there; its rounding: 9.30 to 10, 12.5 to 15, 72.5 to 80.
	cartridge := []qty.Ampere{1, 3, 6, 10, 15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100}
	blade := []qty.Ampere{1, 2, 3, 5, 7.5, 10, 15, 20, 25, 30, 40}
	if !slices.Equal(Cartridge.Ratings(), cartridge) || !slices.Equal(Blade.Ratings(), blade) {
		t.Error("C19: other ratings")
	}
	for _, s := range []Series{Cartridge, Blade} {
		for _, i := range []qty.Ampere{100.01, qty.Ampere(math.NaN()), qty.Ampere(math.Inf(1))} {
			if got, ok := s.Next(i); ok || got != 0 {
				t.Errorf("series %d has a rating of %g A for %g A", s, got, i)
			}
		}
	}
}
