package power_test

import (
	"fmt"

	"duskline/calc/power"
)

// What a stepped wave of 120 V is: to a wire, to a capacitor, to a plain meter
// and to a motor.
func ExampleModifiedSine() {
	w := power.ModifiedSine(120, 90)
	fmt.Printf("RMS %.0f V, peak %.1f V, a plain meter shows %.1f V\n", w.RMS(), w.Peak, w.PlainMeter())
	fmt.Printf("distortion %.1f %%, %.0f %% of it turns a motor\n", 100*w.THD(), 100*w.Fundamental())
	fmt.Printf("the least a stepped wave can have: %.1f %%\n", 100*power.Wave{Peak: 1, Pulse: power.LeastTHD()}.THD())
	// Output:
	// RMS 120 V, peak 169.7 V, a plain meter shows 94.2 V
	// distortion 48.3 %, 90 % of it turns a motor
	// the least a stepped wave can have: 29.0 %
}

// What the main switch costs while nothing is plugged in.
func ExampleStanding_At() {
	inverter, _ := power.NewInverter(300, 600, 8, 0.88)
	s := power.Standing{
		Meters: 0.02, Controller: 0.01, Night: 0.01,
		DC: power.Outlet{Efficiency: 1}, USB: power.Outlet{Standby: 0.02, Efficiency: 0.9},
		Fitted: true, Inverter: inverter,
	}
	for _, position := range power.Switches {
		i := s.At(position, 12.8, true)
		fmt.Printf("DC %v, AC %v: %.2f W, %.0f Wh in a night of 10 h\n", i.DC, i.AC, i.Watts(), i.Over(10))
	}
	// Output:
	// DC true, AC false: 0.64 W, 6 Wh in a night of 10 h
	// DC true, AC true: 8.64 W, 86 Wh in a night of 10 h
	// DC false, AC true: 8.38 W, 84 Wh in a night of 10 h
}
