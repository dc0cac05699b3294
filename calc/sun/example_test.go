package sun_test

import (
	"fmt"
	"time"

	"duskline/calc/sun"
)

// A tilted panel in an invented camp on a hazy summer day, clear and with clouds
// that let 60 % through: at noon, and in the evening when a wall to the west
// hides the sun.
func Example() {
	zone := time.FixedZone("", 2*3600)
	camp := sun.Place{Latitude: 46, Longitude: 9, Altitude: 900}
	from := time.Date(2027, 7, 1, 0, 0, 0, 0, zone)

	track, err := sun.NewTrack(from, from.Add(24*time.Hour), camp)
	if err != nil {
		fmt.Println(err)
		return
	}
	air, err := sun.NewAtmosphere(camp, 4.5)
	if err != nil {
		fmt.Println(err)
		return
	}
	panel, err := sun.NewPlane(30, 180)
	if err != nil {
		fmt.Println(err)
		return
	}
	wall, err := sun.NewHorizon([]sun.HorizonPoint{
		{Azimuth: 240, Height: 0}, {Azimuth: 240, Height: 30}, {Azimuth: 300, Height: 30}, {Azimuth: 300, Height: 0},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	view := sun.NewView(panel, &wall, sun.HayDavies, sun.ASHRAE)
	fmt.Printf("it sees %.2f of the sky\n", view.Sky())
	n := sun.DayOfYear(from)
	extra := sun.Extraterrestrial(n)
	for _, hour := range []time.Duration{13, 19} {
		d := track.At(hour * time.Hour)
		fmt.Printf("%d:00 elevation %.1f° hidden %v\n", hour, d.Elevation, wall.Hides(d))
		for _, index := range []float64{1, 0.6} {
			l := sun.Clouded(air.ClearSky(d, extra), index, d, extra)
			fmt.Printf("index %g: %.0f W/m² on the panel\n", index, view.Through(view.Light(l, d, extra, 0.2, false), d))
		}
	}
	// Output:
	// it sees 0.89 of the sky
	// 13:00 elevation 66.4° hidden false
	// index 1: 982 W/m² on the panel
	// index 0.6: 519 W/m² on the panel
	// 19:00 elevation 21.1° hidden true
	// index 1: 46 W/m² on the panel
	// index 0.6: 125 W/m² on the panel
}

func ExampleDayAt() {
	midnight := time.Date(2027, 7, 1, 0, 0, 0, 0, time.FixedZone("", 2*3600))
	for _, p := range []sun.Place{{Latitude: 46, Longitude: 9}, {Latitude: 72, Longitude: 9}} {
		d, err := sun.DayAt(midnight, p)
		if err != nil {
			fmt.Println(err)
			return
		}
		if d.State == sun.PolarDay {
			fmt.Println("the sun stays up")
		} else {
			fmt.Println(d.Rise.Format("15:04"), d.Noon.Format("15:04"), d.Set.Format("15:04"))
		}
	}
	// Output:
	// 05:36 13:27 21:18
	// the sun stays up
}

func ExampleIndexForPeakSunHours() {
	camp := sun.Place{Latitude: 46, Longitude: 9, Altitude: 900}
	air, err := sun.NewAtmosphere(camp, 4.5)
	if err != nil {
		fmt.Println(err)
		return
	}
	midnight := time.Date(2027, 7, 1, 0, 0, 0, 0, time.FixedZone("", 2*3600))
	index, err := sun.IndexForPeakSunHours(camp, air, midnight, 4)
	fmt.Printf("%.2f %v\n", index, err)
	_, err = sun.IndexForPeakSunHours(camp, air, midnight, 14)
	fmt.Println(err)
	// Output:
	// 0.50 <nil>
	// hours 14 kWh/m² is outside 0 to 11.57 kWh/m²
}
