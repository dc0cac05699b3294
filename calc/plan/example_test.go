package plan_test

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"duskline/calc/plan"
)

func ExampleRead() {
	start := time.Date(2026, 6, 12, 18, 0, 0, 0, time.FixedZone("", 2*3600))
	data, err := plan.Write(plan.Blank("Heron lake", start))
	if err != nil {
		fmt.Println(err)
		return
	}
	// Two slips: an alarm under the cut-off and a day of 25 hours.
	text := strings.Replace(string(data), `"alarm_V": 12`, `"alarm_V": 10.8`, 1)
	text = strings.Replace(text, `"wall_hours": []`, `"wall_hours": [{"from_h": 20, "to_h": 25}]`, 1)

	_, err = plan.Read([]byte(text))
	var faults plan.Faults
	errors.As(err, &faults)
	for _, f := range faults {
		fmt.Println(f.Line, f.Pointer, f.Kind, f.Found, f.Min, f.Max, f.Unit, f.Other)
	}
	// Output:
	// 24 /case/battery/alarm_V not_above 10.8 11 0 V /case/battery/cutoff_V
	// 121 /trip/wall_hours/0/to_h out_of_range 25 0 24 h
}

func ExampleLimitOf() {
	l, _ := plan.LimitOf("/gear/3/power_W")
	fmt.Println(l.Min, l.Max, l.Unit, l.Step)
	// Output: 0 5000 W 1
}
