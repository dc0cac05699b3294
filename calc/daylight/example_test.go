package daylight_test

import (
	"fmt"
	"time"

	"duskline/calc/daylight"
	"duskline/calc/panel"
	"duskline/calc/power"
	"duskline/calc/sun"
)

// An invented camp in the hills: a clear day, then an overcast one.
func camp() daylight.Spec {
	module, _ := panel.FromWatts(100, panel.Crystalline)
	return daylight.Spec{
		Start: time.Date(2026, 9, 18, 6, 0, 0, 0, time.FixedZone("", 2*3600)), Span: 48 * time.Hour,
		Place: sun.Place{Latitude: 46, Longitude: 7, Altitude: 1180}, Turbidity: 3, Albedo: 0.2,
		Warmest: 19, Coldest: 6, Wind: 1,
		Light:      daylight.Light{Kind: daylight.ByState, States: []sun.State{sun.Clear, sun.Overcast}},
		Panels:     []daylight.Panel{{Module: module, Count: 1, Watts: 100, Clean: 1}},
		Controller: power.Controller{Kind: power.MPPT, Limit: 20, Efficiency: 0.97, InputMax: 60},
	}
}

func ExampleScene_Days() {
	c, err := daylight.New(camp())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, d := range c.Days() {
		fmt.Printf("%s: sun from %s to %s, %.1f of %.1f kWh/m² on the panel\n",
			d.Midnight.Format("Monday"), d.Rise.Format("15:04"), d.Set.Format("15:04"), d.OnPanels, d.Ceiling)
	}
	noon := c.At((7 * time.Hour).Seconds())
	fmt.Printf("at one o'clock: %.0f W/m², %.1f A into a battery of 13.3 V\n", noon.Light, float64(noon.Offer.Amps(13.3)))
	// Output:
	// Friday: sun from 07:13 to 19:37, 5.5 of 5.5 kWh/m² on the panel
	// Saturday: sun from 07:15 to 19:35, 2.0 of 5.4 kWh/m² on the panel
	// Sunday: sun from 07:16 to 19:33, 1.9 of 5.4 kWh/m² on the panel
	// at one o'clock: 754 W/m², 5.0 A into a battery of 13.3 V
}

func ExampleScene_BestLie() {
	s := camp()
	s.Light.States = []sun.State{sun.Clear}
	c, err := daylight.New(s)
	if err != nil {
		fmt.Println(err)
		return
	}
	a, err := c.BestLie(0)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("face %.0f°, lean %.0f°: %+.0f %% over flat\n", float64(a.Best.Lie.Azimuth), float64(a.Best.Lie.Tilt), 100*a.Best.OverFlat)
	for _, x := range a.Choices {
		if x.Kind == daylight.TurnedThrice {
			fmt.Printf("turned three times a day, lean %.0f°: %+.0f %%\n", float64(x.Lie.Tilt), 100*x.OverFlat)
		}
	}
	// Output:
	// face 180°, lean 46°: +43 % over flat
	// turned three times a day, lean 60°: +88 %
}
