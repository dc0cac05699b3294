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

// Two strings of two panels, one panel of the second string dark. At full volts
// only the first string gives; at half of them both strings give what one panel
// each can. Behind blocking diodes and a cable the better place is the other.
func ExampleArray_strings() {
	m, err := panel.FromWatts(100, panel.Crystalline)
	if err != nil {
		fmt.Println(err)
		return
	}
	lit := m.At(1000, 25)
	a := panel.Array{Joined: panel.Strings, Parts: []panel.Part{
		{Curve: lit, Count: 2, String: 1},
		{Curve: lit, Count: 1, String: 2},
		{Curve: m.At(0, 25), Count: 1, String: 2},
	}}
	v, i := a.MaxPower()
	fmt.Printf("%.0f W at %.1f V, %.0f W lost by joining\n", float64(v)*float64(i), v, a.MismatchLoss())
	a.Drop, a.Series = 0.4, 0.1
	v, i = a.MaxPower()
	fmt.Printf("%.0f W at %.1f V behind diodes and cable\n", float64(v)*float64(i), v)
	// Output:
	// 203 W at 18.3 V, 97 W lost by joining
	// 195 W at 35.1 V behind diodes and cable
}

// A film of 100 W after ten years.
func ExampleModule_Aged() {
	m, err := panel.FromWatts(100, panel.ThinFilm)
	if err != nil {
		fmt.Println(err)
		return
	}
	old, err := m.Aged(10, panel.ThinFilm)
	v, i := old.At(1000, 25).MaxPower()
	fmt.Printf("%.0f W, %v\n", float64(v)*float64(i), err)
	// Output: 90 W, <nil>
}
