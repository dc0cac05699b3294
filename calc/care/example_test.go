package care_test

import (
	"fmt"
	"time"

	"duskline/calc/care"
	"duskline/calc/plan"
)

func trip() plan.Plan {
	p := plan.Blank("Three days out", time.Date(2026, 6, 12, 8, 0, 0, 0, time.UTC))
	watts := 45.0
	fridge := plan.NewDevice("Cool box", plan.RouteDC, plan.Window{FromH: 0, ToH: 24})
	fridge.PowerW, fridge.DutyPct, fridge.SurgeW = &watts, 40, 150
	p.Gear = append(p.Gear, fridge)
	return p
}

// Why volts mislead: one and the same reading, on the plateau of LiFePO4, and
// what is left when the meter shows it.
func ExampleNewTide() {
	p := trip()
	p.Case.Battery.AlarmV = 12.9
	t, err := care.NewTide(p)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range t.Lines {
		if l.Kind != care.OnCharge {
			fmt.Printf("%-12s falls to %.1f V with %.0f %% left\n", l.Kind, t.Marks.Alarm, 100*l.Alarm.Charge)
		}
	}
	// Output:
	// rest         falls to 12.9 V with 19 % left
	// after_charge falls to 12.9 V with 18 % left
	// usual        falls to 12.9 V with 24 % left
	// largest      falls to 12.9 V with 99 % left
	// cold         falls to 12.9 V with 24 % left
}

func ExampleNewAlarms() {
	a, err := care.NewAlarms(trip())
	if err != nil {
		fmt.Println(err)
		return
	}
	best := a.Candidates[a.Chosen]
	fmt.Printf("alarm at %.1f V: %v\n", best.Volts, a.Why[0].Code)
	fmt.Printf("a full hour to the cut-off: %v\n", best.Usual.Minutes >= 60)
	for _, d := range a.Do {
		fmt.Println("then:", d.Code)
	}
	// Output:
	// alarm at 12.5 V: fair
	// a full hour to the cut-off: true
	// then: charge
	// then: switch_off
}
