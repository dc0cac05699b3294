package pairing

import (
	"testing"
	"time"

	"duskline/calc/plan"
)

// camp is an invented plan: 40 Ah, a 10 A PWM controller, a small fridge and a
// light, a week of June at 45° north with fair skies, one panel of 100 W.
func camp() plan.Plan {
	p := plan.Blank("camp", time.Date(2026, 6, 12, 8, 0, 0, 0, time.FixedZone("", 7200)))
	p.Sky.LongitudeDeg = 15
	p.Sky.ClearSkyIndex = []float64{0.8, 1, 0.5, 0.9}
	p.Trip.LengthH, p.Trip.StartChargePct = 7*24, 60
	p.Panels.List[0].TiltDeg = 30
	p.Gear = []plan.Device{device(12, plan.Window{FromH: 0, ToH: 24})}
	return p
}

// device is gear of so many watts on the DC sockets.
func device(watts float64, hours ...plan.Window) plan.Device {
	d := plan.NewDevice("gear", plan.RouteDC, hours...)
	d.PowerW = &watts
	return d
}

// run is Run for plans that are sound.
func run(t testing.TB, p plan.Plan) *Ladder {
	t.Helper()
	if faults := plan.Check(p); faults != nil {
		t.Fatal(faults)
	}
	l, err := Run(p, nil)
	if err != nil {
		t.Fatal(err)
	}
	return l
}
