package civil_test

import (
	"fmt"
	"time"

	"duskline/calc/civil"
)

// A night in spring in which the clock goes from 2:00 to 3:00.
func Example() {
	spring := civil.Change{At: time.Date(2026, 3, 29, 1, 0, 0, 0, time.UTC), Offset: 2 * time.Hour}
	loc, err := civil.Location("Somewhere", time.Hour, []civil.Change{spring})
	if err != nil {
		panic(err)
	}
	start := time.Date(2026, 3, 28, 22, 0, 0, 0, loc)
	clock := civil.NewClock(start, 12*time.Hour)
	for after := 3.0; after <= 5; after++ {
		fmt.Println(clock.Hour(after*3600), start.Add(time.Duration(after)*time.Hour).Format(time.RFC3339))
	}
	fmt.Println(clock.Midnight(2).Sub(clock.Midnight(1)))
	// Output:
	// 1 2026-03-29T01:00:00+01:00
	// 3 2026-03-29T03:00:00+02:00
	// 4 2026-03-29T04:00:00+02:00
	// 23h0m0s
}
