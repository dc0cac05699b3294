package outlook_test

import (
	"fmt"
	"time"

	"duskline/calc/outlook"
	"duskline/calc/plan"
)

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
