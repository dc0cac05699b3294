package power_test

import (
	"fmt"

	"duskline/calc/power"
	"duskline/calc/qty"
)

// sunny is a panel that gives 8 A up to 17 V.
type sunny struct{}

func (sunny) Current(v qty.Volt) qty.Ampere {
	if v > 17 {
		return 0
	}
	return 8
}
func (sunny) MaxPower() (qty.Volt, qty.Ampere) { return 17, 8 }

// The same panel on both kinds of controller, and what each loses.
func ExampleController_Offer() {
	for _, c := range []power.Controller{
		{Kind: power.PWM, Limit: 10},
		{Kind: power.MPPT, Limit: 10, Efficiency: 0.95},
	} {
		o := c.Offer(sunny{})
		const v = 13.2
		i := o.Amps(v)
		p := o.PanelPower(v, i)
		fmt.Printf("%.2f A of %.2f A, panel %.1f W, lost %.1f W\n", i, o.Unlimited(v), p, p-qty.Power(v, i))
	}
	// Output:
	// 8.00 A of 8.00 A, panel 108.8 W, lost 3.2 W
	// 9.79 A of 9.79 A, panel 136.0 W, lost 6.8 W
}

// An inverter by its label, and one whose standby is too much for the
// efficiency it claims.
func ExampleNewInverter() {
	i, err := power.NewInverter(300, 600, 8, 0.88)
	fmt.Printf("idle %.0f W; 60 W take %.1f W from the battery, %v\n", i.Draw(0), i.Draw(60), err)
	_, err = power.NewInverter(300, 600, 45, 0.88)
	fmt.Println(err)
	// Output:
	// idle 8 W; 60 W take 71.9 W from the battery, <nil>
	// standby 45 W is outside 0 to 40.91 W
}
