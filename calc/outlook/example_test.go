package outlook_test

import (
	"fmt"
	"time"

	"duskline/calc/outlook"
	"duskline/calc/plan"
)

func ExampleIdle() {
	p := plan.Blank("A night out", time.Date(2026, 6, 12, 18, 0, 0, 0, time.UTC))
	list, err := outlook.Idle(p)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, x := range list {
		fmt.Printf("%s: %.1f W, %.0f %% of the battery a day\n", x.Switch, x.Watts, 100*x.Share)
	}
	// Output:
	// dc_only: 0.8 W, 4 % of the battery a day
	// dc_and_ac: 7.2 W, 33 % of the battery a day
	// ac_only: 6.9 W, 32 % of the battery a day
}

func ExampleRun() {
	p := plan.Blank("A night out", time.Date(2026, 6, 12, 18, 0, 0, 0, time.UTC))
	if faults := plan.Check(p); len(faults) > 0 {
		fmt.Println(faults)
		return
	}
	o, err := outlook.Run(p)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(o.Verdict, len(o.Series.Charge), "rows")
	// Output: holds 865 rows
}
