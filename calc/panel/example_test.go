package panel_test

import (
	"fmt"

	"duskline/calc/panel"
)

func ExampleMount_CellTemperature() {
	t, err := panel.OpenRack.CellTemperature(20, 900, 5)
	fmt.Printf("%.1f °C, %v\n", t, err)
	_, err = panel.OpenRack.CellTemperature(20, 900, 99)
	fmt.Println(err)
	// Output:
	// 35.2 °C, <nil>
	// wind 99 m/s is outside 0 to 30 m/s
}
