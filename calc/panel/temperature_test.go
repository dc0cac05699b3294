package panel

import (
	"errors"
	"math"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// Figures: pvlib-python 6382338a7, tests/test_temperature.py, test_faiman_default and
// test_faiman_list, five digits.
func TestCellTemperatureAgainstPvlibFaiman(t *testing.T) {
	for _, c := range []struct {
		name string
		air  qty.Celsius
		sun  qty.Irradiance
		wind qty.MetrePerSecond
		want float64
	}{
		{"bright and windy", 20, 900, 5, 35.203},
		{"half sun, same wind", 10, 500, 5, 18.446},
		{"night", 5, 0, 0, 5},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := OpenRack.CellTemperature(c.air, c.sun, c.wind)
			if err != nil {
				t.Fatal(err)
			}
			golden.Near(t, "cell temperature, °C", float64(got), c.want, 5)
		})
	}
}

// Figures: cell_temperature.csv, pvlib-python 0.15.2 (see
// testdata/panel/README.md). Its heat-loss columns are the same formula with
// U0 and U1 over the share of the light that turns to heat. Its columns of
// the Sandia model have nothing to check here.
func TestCellTemperatureAgainstPvlibVector(t *testing.T) {
	s := golden.Vectors(t, "panel", "cell_temperature.csv")
	rack := golden.Worst{What: "cell temperature, open rack, share", Limit: 1e-10}
	other := golden.Worst{What: "cell temperature, other mounts, share", Limit: 1e-10}
	loss := golden.Worst{What: "cell temperature, heat-loss form, share", Limit: 1e-10}
	for r := range s.Len() {
		num := func(col string) float64 { return s.Num(r, col) }
		add := func(w *golden.Worst, m Mount, want float64) {
			if err := m.Check(); err != nil {
				t.Errorf("row %d: %v", r+2, err)
			}
			air, sun, wind := qty.Celsius(num("temp_air_c")), qty.Irradiance(num("poa_w_m2")), qty.MetrePerSecond(num("wind_speed_m_s"))
			got, err := m.CellTemperature(air, sun, wind)
			if err != nil {
				t.Errorf("row %d: %v", r+2, err)
			}
			if loop := m.Cell(air, sun, wind); loop != got {
				t.Errorf("row %d: Cell %g °C, CellTemperature %g °C", r+2, loop, got)
			}
			// Share of the absolute size, but not of a figure near 0 °C,
			// whose twelve digits are finer than a sum of larger ones.
			w.Add(r, (float64(got)-want)/max(math.Abs(want), 1))
		}
		add(&rack, OpenRack, num("t_faiman_25_6p84_c"))
		add(&other, Mount{num("faiman_u0_w_m2_k"), num("faiman_u1_w_s_m3_k")}, num("t_faiman_c"))
		heat := num("heatloss_absorptance") * (1 - num("heatloss_efficiency"))
		add(&loss, Mount{num("heatloss_uc_w_m2_k") / heat, num("heatloss_uv_w_s_m3_k") / heat}, num("t_heatloss_c"))
	}
	rack.Report(t)
	other.Report(t)
	loss.Report(t)
}

// Figures: electrical.md C25. A nominal operating temperature is a Mount
// without wind: U0 = 800/(NOCT − 20).
func TestCellTemperatureAgainstElectricalC25(t *testing.T) {
	golden.Check(t, "C25.tc_noct = 56.25 °C ± 0.01", float64(Mount{U0: 800 / (45.0 - 20)}.Cell(25, 1000, 7)))
	golden.Check(t, "C25.tc_faiman = 56.41 °C ± 0.01", float64(OpenRack.Cell(25, 1000, 1)))
}

func TestCellTemperatureNamesTheBadNumber(t *testing.T) {
	for _, c := range []struct {
		sun  qty.Irradiance
		wind qty.MetrePerSecond
		what string
	}{{900, 99, "wind"}, {900, -1, "wind"}, {1501, 5, "sun"}, {qty.Irradiance(math.NaN()), 5, "sun"}} {
		_, err := OpenRack.CellTemperature(20, c.sun, c.wind)
		var r *qty.RangeError
		if !errors.As(err, &r) || r.What != c.what {
			t.Errorf("%g W/m², %g m/s: got %v, want a RangeError about %s", c.sun, c.wind, err, c.what)
		}
	}
	for _, m := range []Mount{{}, {25, -1}, {math.NaN(), 0}} {
		if m.Check() == nil {
			t.Errorf("%+v passes", m)
		}
	}
}

// Figures: the formula and the coefficients of King2004 for an insulated back
// as pvlib-python documents them, exp(a + b·wind) with a −2.81, b −0.0455, wind
// at 10 m. Covered is its chord from 0 to 5 m/s.
func TestCoveredAgainstKing2004InsulatedBack(t *testing.T) {
	for wind := 0.0; wind <= 10; wind += 0.5 {
		want := 1000 * math.Exp(-2.81-0.0455*wind)
		got := float64(Covered.Cell(0, 1000, qty.MetrePerSecond(wind)))
		limit := 0.4 // K of a rise of 60
		if wind > 5 {
			limit = 2 // off the chord: hotter than the source, the safe side
			if got < want {
				t.Errorf("%g m/s: %.2f K over the air, the source has %.2f K", wind, got, want)
			}
		}
		if math.Abs(got-want) > limit {
			t.Errorf("%g m/s: %.2f K over the air, want %.2f K", wind, got, want)
		}
	}
	if err := Covered.Check(); err != nil {
		t.Error(err)
	}
	// What the comment says of still air.
	if more := Covered.Cell(20, 1000, 0) - OpenRack.Cell(20, 1000, 0); more < 19.5 || more > 21 {
		t.Errorf("covered, still air: %.1f K hotter than a rack", more)
	}
}
