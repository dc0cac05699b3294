package load_test

import (
	"fmt"

	"duskline/calc/load"
)

func ExampleNew() {
	cooler, err := load.New(load.Spec{
		Count: 1, Route: load.DC, Draw: load.Watts(45),
		Duty: 0.4, Cooler: &load.Cooler{At: 32, Inside: 4},
		Hours: []load.Window{{From: 0, To: 24}},
	})
	fmt.Println(err)
	fmt.Printf("noon, 32 °C: %.1f W\n", cooler.Demand(12, 32).Watts)
	fmt.Printf("night, 18 °C: %.1f W\n", cooler.Demand(2, 18).Watts)

	_, err = load.New(load.Spec{Count: 1, Draw: load.Watts(5), Duty: 1, Hours: []load.Window{{From: 18, To: 25}}})
	fmt.Println(err)
	// Output:
	// <nil>
	// noon, 32 °C: 18.0 W
	// night, 18 °C: 9.0 W
	// to of window 0 25 h is outside 0 to 24 h
}
