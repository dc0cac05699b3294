package qty_test

import (
	"fmt"

	"duskline/calc/qty"
)

func ExampleInRange() {
	fmt.Println(qty.InRange("wind", 12, 0, 30, "m/s"))
	fmt.Println(qty.InRange("wind", 99, 0, 30, "m/s"))
	// Output:
	// <nil>
	// wind 99 m/s is outside 0 to 30 m/s
}
