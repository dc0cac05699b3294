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

// A converter that is worse at little load, by the two figures of its label.
func ExampleController_Loss() {
	c := power.Controller{Kind: power.MPPT, Limit: 20, Efficiency: 0.96, Low: 0.9, InputMax: 60}
	for _, out := range []qty.Watt{5, 25.6, 256} {
		lost := c.Loss(out)
		fmt.Printf("%.4g W into the battery, %.2f W lost: %.1f %%\n", out, lost, 100*out/(out+lost))
	}
	// Output:
	// 5 W into the battery, 2.15 W lost: 70.0 %
	// 25.6 W into the battery, 2.84 W lost: 90.0 %
	// 256 W into the battery, 10.67 W lost: 96.0 %
}

// A day of an AGM battery in a cool shed: a charge that takes five hours, four
// more held, then gear after dark.
func ExampleCharging() {
	stages, _ := power.StagesFor(power.AGM)
	run := stages.Begin()
	names := []string{"bulk", "absorption", "floating", "resting"}
	for _, step := range []struct {
		hours float64
		held  bool
		volts qty.Volt
	}{{5, false, 13.4}, {1, true, 14.7}, {3, true, 14.7}, {2, false, 12.6}} {
		run.Advance(step.hours*3600, step.held, step.volts)
		hold, _ := run.Volts(12)
		fmt.Printf("after %.0f h at %.1f V: %s, holds at %.2f V\n", step.hours, step.volts, names[run.Stage()], hold)
	}
	// Output:
	// after 5 h at 13.4 V: bulk, holds at 14.71 V
	// after 1 h at 14.7 V: absorption, holds at 14.71 V
	// after 3 h at 14.7 V: floating, holds at 13.91 V
	// after 2 h at 12.6 V: bulk, holds at 14.71 V
}

// What a charger of 20 A asks of the fuse of a vehicle's socket.
func ExampleVehicleCharger_Draws() {
	c := power.VehicleCharger{Current: 20, Efficiency: 0.85, Socket: 15}
	fmt.Printf("%.1f A through a fuse of %.0f A: overloaded %v; it allows %.1f A into the battery\n",
		c.Draws(13.6, c.Current, power.SocketVolts), c.Socket, c.Overloads(13.6, power.SocketVolts), c.Allows(13.6, power.SocketVolts))
	// Output:
	// 24.6 A through a fuse of 15 A: overloaded true; it allows 12.2 A into the battery
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
