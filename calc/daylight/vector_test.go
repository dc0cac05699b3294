package daylight

import (
	"testing"
	"time"

	"duskline/calc/golden"
	"duskline/calc/power"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

// Figures: day_totals.csv, pvlib-python 0.15.2 (see testdata/daylight/README.md).
//
// Bound: the vectors ask for 1e-8 of the full algorithm; the track is
// interpolated to 2.2e-7°, of which a short winter day makes up to 2e-7.
func TestDayTotalsVector(t *testing.T) {
	s := golden.Vectors(t, "daylight", "day_totals.csv")
	onPlane := golden.Worst{What: "on the plane, share", Limit: 2e-7}
	onLevel := golden.Worst{What: "on the level, share", Limit: 2e-7}
	steps := golden.Worst{What: "sum of steps on the plane, share", Limit: 2e-7}
	ceiling := golden.Worst{What: "ceiling over expected of a clear day, share", Limit: 0}
	for r := range s.Len() {
		num := func(col string) float64 { return s.Num(r, col) }
		zone := time.FixedZone("", int(num("utc_offset_min"))*60)
		c := scene(t, Spec{
			Start: time.Unix(int64(num("local_midnight_unix_s")), 0).In(zone), Span: 24 * time.Hour,
			Place:     sun.Place{Latitude: qty.Degree(num("lat_deg")), Longitude: qty.Degree(num("lon_deg")), Altitude: qty.Metre(num("altitude_m"))},
			Turbidity: num("linke_turbidity"), Albedo: qty.Fraction(num("albedo")), Warmest: 20, Coldest: 5, Wind: 1,
			Light: Light{Indexes: []float64{1}},
			Panels: []Panel{{Module: watts(t, 100), Count: 1, Watts: 100, Clean: 1,
				Lie: Lie{Tilt: qty.Degree(num("surface_tilt_deg")), Azimuth: qty.Degree(num("surface_azimuth_deg"))}}},
			Controller: power.Controller{Kind: power.MPPT, Limit: 20, Efficiency: 0.97, InputMax: 60},
		})
		days := c.Days()
		if len(days) != 1 {
			t.Fatalf("row %d: %d days", r+2, len(days))
		}
		d := days[0]
		onPlane.Add(r, d.OnPanels/num("poa_kwh_m2")-1)
		onLevel.Add(r, d.OnLevel/num("ghi_kwh_m2")-1)
		steps.Add(r, sumOf(c, 0, 5*time.Minute, light)/num("poa_kwh_m2")-1)
		ceiling.Add(r, d.Ceiling/d.OnPanels-1)
	}
	for _, w := range []*golden.Worst{&onPlane, &onLevel, &steps, &ceiling} {
		w.Report(t)
	}
}
