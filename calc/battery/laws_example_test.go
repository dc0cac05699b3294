package battery_test

import (
	"fmt"
	"time"

	"duskline/calc/battery"
)

func ExampleChemistry_YearsTo() {
	weekly := battery.Use{Kept: 20, KeptAt: 0.5, Cycles: 52, Depth: 0.8, Rate: 0.2, During: 25}
	hot := weekly
	hot.Kept, hot.KeptAt = 35, 1
	for _, u := range []battery.Use{weekly, hot} {
		low, high, _, err := battery.AGM.YearsTo(battery.Wear{}, 0.2, u)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("kept at %.0f °C: %.1f to %.1f years, practice: %v\n", u.Kept, low, high, !battery.AGM.Life.Law.Published())
	}
	// Output:
	// kept at 20 °C: 2.9 to 4.9 years, practice: true
	// kept at 35 °C: 1.5 to 2.7 years, practice: true
}

func ExampleGuard() {
	g, err := battery.NewGuard(battery.GuardSpec{
		On: true, UnderV: 10, UnderBack: 11.2, VoltsDelay: 2 * time.Second, Release: 30 * time.Second,
		ChargeCold: 0, ChargeHot: 50, DischargeCold: -20, DischargeHot: 65, HotBack: 3,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(g.Left(9.8, -20, 15), "s left")
	turn := g.Advance(2, 9.8, -20, 15)
	_, out := g.Allows()
	fmt.Println(turn.DischargeOff, out)
	// Output:
	// 2 s left
	// under_volts false
}
