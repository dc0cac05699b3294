package wire_test

import (
	"fmt"

	"duskline/calc/wire"
)

// A lead of 5 m to a panel that gives 10 A, and what would lose less.
func Example() {
	r := wire.Run{Gauge: wire.MM4, Length: 5, Copper: 50}
	fmt.Printf("%s: %.1f mΩ, %.2f V, %.1f W\n", r.Gauge, 1000*r.Resistance(), r.Drop(10), r.Heat(10))

	limit := wire.Limit{Volts: 12.8, Amps: 10, Share: 0.03}
	g, err := wire.Smallest(wire.Metric(), 5, 50, limit)
	fmt.Println(g, err)

	_, _, err = wire.ConstantPower(12, 0.1, 400)
	fmt.Println(err)
	// Output:
	// 4_mm2: 55.3 mΩ, 0.55 V, 5.5 W
	// 6_mm2 <nil>
	// 400 W cannot arrive through this wire: 360 W is the most
}
