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

// A panel of which only the watts are known, on a hot noon: at its best, and
// held at the volts of a battery.
func ExampleFromWatts() {
	m, err := panel.FromWatts(100, panel.Crystalline)
	if err != nil {
		fmt.Println(err)
		return
	}
	c := m.At(900, 55)
	v, i := c.MaxPower()
	fmt.Printf("best %.1f V × %.2f A = %.1f W\n", v, i, float64(v)*float64(i))
	fmt.Printf("at 13.3 V %.2f A = %.1f W\n", c.Current(13.3), 13.3*float64(c.Current(13.3)))
	// Output:
	// best 15.7 V × 5.02 A = 78.6 W
	// at 13.3 V 5.34 A = 71.0 W
}

// A label that promises more volts than its own Voc allows.
func ExampleFromDatasheet() {
	d := panel.Datasheet{Isc: 5.95, Imp: 5.56, Voc: 22, Vmp: 20.5, AlphaIsc: 0.003, BetaVoc: -0.077, Cells: 36}
	_, err := panel.FromDatasheet(d)
	fmt.Println(err)
	d.Vmp = 18
	m, err := panel.FromDatasheet(d)
	fmt.Printf("Rs %.3f Ω, %v\n", m.Series, err)
	// Output:
	// no single-diode curve goes through these figures: the series resistance would be negative: Vmp 20.5 V is outside 16.19 to 19.19 V
	// Rs 0.236 Ω, <nil>
}

// Two unequal panels: side by side they keep what they have, end to end the
// weak one holds the strong one back.
func ExampleArray_MaxPower() {
	m, err := panel.FromWatts(100, panel.Crystalline)
	if err != nil {
		fmt.Println(err)
		return
	}
	a := panel.Array{Parts: []panel.Part{{Curve: m.At(1000, 25), Count: 1}, {Curve: m.At(500, 25), Count: 1}}}
	for _, a.Joined = range []panel.Joining{panel.SideBySide, panel.EndToEnd} {
		v, i := a.MaxPower()
		fmt.Printf("%.1f W at %.1f V\n", float64(v)*float64(i), v)
	}
	// Output:
	// 150.1 W at 18.0 V
	// 108.8 W at 38.1 V
}
