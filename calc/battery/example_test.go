package battery_test

import (
	"fmt"

	"duskline/calc/battery"
)

// lamp is a bus with one lamp of constant watts.
type lamp struct{ watts float64 }

func (l lamp) Net(v float64) float64 { return -l.watts / v }

func ExampleBattery_Step() {
	b, err := battery.New(battery.Spec{
		Chemistry: battery.LiFePO4, Capacity: 40, Resistance: 0.020,
		Charge: 14.4, Alarm: 11.5, CutOff: 10.5, Reconnect: 12.8,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("holds %.0f Wh\n", b.Energy(1))

	st := b.Step(b.Rested(0.80, 25), battery.Around{Air: 25}, 300, lamp{40})
	fmt.Printf("after five minutes of 40 W: %.2f %%, %.2f V, %.2f A\n", 100*st.State.Charge, st.Volts, st.Amps)

	seconds, crossed := b.Until(b.Rested(0.80, 25), battery.Around{Air: 25}, 24*3600, lamp{40}, 11.5)
	fmt.Printf("alarm after %.1f h: %v\n", seconds/3600, crossed)
	// Output:
	// holds 523 Wh
	// after five minutes of 40 W: 79.37 %, 13.20 V, -3.03 A
	// alarm after 10.1 h: true
}

func ExampleOwnTable() {
	c, err := battery.OwnTable(battery.Own{
		Rest:      []battery.Point{{Charge: 0, Volts: 11.8}, {Charge: 0.5, Volts: 12.2}, {Charge: 1, Volts: 12.7}},
		Coulombic: 0.85, AcceptHours: 1, CyclesTo80: 400,
	})
	fmt.Println(c.Name, len(c.Rest), err)

	_, err = battery.OwnTable(battery.Own{
		Rest:      []battery.Point{{Charge: 0, Volts: 11.8}, {Charge: 0.5, Volts: 11.8}, {Charge: 1, Volts: 12.7}},
		Coulombic: 0.85, AcceptHours: 1, CyclesTo80: 400,
	})
	fmt.Println(err)
	// Output:
	// own 3 <nil>
	// row 2: volts 11.8 does not rise from the row before
}
