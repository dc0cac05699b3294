package daylight

import (
	"errors"
	"math"
	"testing"
	"time"

	"duskline/calc/panel"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

// FuzzNew: whatever the figures are, a range error or finite light, never more
// on the panels than a sky can send.
func FuzzNew(f *testing.F) {
	f.Add(46.0, 7.0, 1180.0, int64(1778731200), 48.0, 3.0, 0.2, 0.6, 25.0, 180.0, 0.5, 22.0, 3.0, 30.0, uint16(0))
	f.Add(-90.0, 180.0, -430.0, int64(-631152000), 1.5, 10.0, 1.0, 1.2, 90.0, 360.0, 1.0, 0.0, 24.0, 90.0, uint16(0x1ff))
	f.Add(78.0, -180.0, 5500.0, int64(4133980799), 30.0, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 5.0, 5.0, 0.0, uint16(0x2a3))
	f.Add(0.0, 0.0, 0.0, int64(1785000000), 24.0, 5.0, 0.2, 300.0, 40.0, 90.0, 0.3, 8.0, 12.0, 10.0, uint16(0x15c))
	f.Fuzz(func(t *testing.T, lat, lon, alt float64, start int64, hours, haze, albedo, figure, tilt, azimuth, shaded, from, to, height float64, bits uint16) {
		s := hill(t)
		hours = math.Mod(hours, 100) // a long trip only takes long
		s.Start, s.Span = time.Unix(start, 0).In(time.FixedZone("", int(bits>>10)*45*60-12*3600)), time.Duration(hours*float64(time.Hour))
		s.Place = sun.Place{Latitude: qty.Degree(lat), Longitude: qty.Degree(lon), Altitude: qty.Metre(alt)}
		s.Turbidity, s.Albedo, s.Model = haze, qty.Fraction(albedo), sun.SkyModel(bits%3)
		s.Joined = panel.Joining(bits >> 2 & 1)
		h, err := sun.NewHorizon([]sun.HorizonPoint{{Azimuth: 100, Height: qty.Degree(height)}, {Azimuth: 250, Height: 2}})
		var e *qty.RangeError
		if err != nil {
			if !errors.As(err, &e) {
				t.Fatal(err)
			}
			return
		}
		s.Horizon = h
		switch bits >> 3 & 3 {
		case 0:
			s.Light = Light{Indexes: []float64{figure}}
		case 1:
			s.Light = Light{Kind: ByPeakSun, PeakSun: []float64{figure}, OnPanels: bits&0x200 != 0}
		case 2:
			s.Light = Light{Kind: ByMeter, Meter: []float64{figure, 0, figure / 2}, MeterAh: bits&0x200 != 0}
		}
		s.Panels = append(s.Panels, Panel{Module: watts(t, 60), Count: 2, Watts: 120, Clean: 1, Shaded: qty.Fraction(shaded), Shade: []Window{{from, to}},
			Lie: Lie{Kind: LieKind(bits >> 5 & 3), Tilt: qty.Degree(tilt), Azimuth: qty.Degree(azimuth), Aims: int(bits >> 7 & 7)}})
		c, err := New(s)
		if err != nil {
			if !errors.As(err, &e) {
				t.Fatal(err)
			}
			return
		}
		for after := 150.0; after < s.Span.Seconds(); after += 1500 {
			x := c.At(after)
			amps := x.Offer.Amps(13)
			if !(x.Light >= 0 && x.Light < 4000 && x.Level >= 0 && x.Level < 2500) || !(amps >= 0 && amps < 1000) || !(x.Elevation >= -90 && x.Elevation <= 90) {
				t.Fatalf("%g s: %+v, %g A", after, x, amps)
			}
		}
		for k, d := range c.Days() {
			for _, x := range []float64{d.OnPanels, d.Ceiling, d.OnLevel, d.LevelCeiling, d.Index} {
				if !(x >= 0 && x < 60) {
					t.Fatalf("day %d: %+v", k, d)
				}
			}
			for _, p := range c.Path(k) {
				if !(p.Azimuth >= 0 && p.Azimuth < 360) || !(p.Elevation >= -2) {
					t.Fatalf("day %d: %+v", k, p)
				}
			}
		}
	})
}
