package panel

import (
	"errors"
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

func TestCellTemperatureNamesTheBadNumber(t *testing.T) {
	_, err := OpenRack.CellTemperature(20, 900, 99)
	var r *qty.RangeError
	if !errors.As(err, &r) || r.What != "wind" {
		t.Fatalf("got %v, want a RangeError about wind", err)
	}
}
