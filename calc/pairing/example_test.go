package pairing_test

import (
	"fmt"
	"time"

	"duskline/calc/pairing"
	"duskline/calc/plan"
)

func ExampleRun() {
	p := plan.Blank("Three days out", time.Date(2026, 6, 12, 8, 0, 0, 0, time.UTC))
	watts := 15.0
	fridge := plan.NewDevice("Cool box", plan.RouteDC, plan.Window{FromH: 0, ToH: 24})
	fridge.PowerW = &watts
	p.Gear = append(p.Gear, fridge)
	l, err := pairing.Run(p, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("the least that holds:", l.Rungs[l.Least].W, "W")
	fmt.Println("to pack:", l.Rungs[l.Pack].W, "W")
	for _, r := range l.Rungs {
		if r.Fit.Bars() {
			fmt.Println("too much for 10 A:", r.W, "W")
			break
		}
	}
	// Output:
	// the least that holds: 80 W
	// to pack: 80 W
	// too much for 10 A: 160 W
}
