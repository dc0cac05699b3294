package weather_test

import (
	"fmt"
	"time"

	"duskline/calc/sun"
	"duskline/calc/weather"
)

// The weather of a long weekend from a file, here an invented one.
func Example() {
	file, err := weather.Synthetic(weather.Sample{
		Name:     "Inventia",
		Place:    sun.Place{Latitude: 46, Longitude: 9, Altitude: 900},
		Standard: time.Hour,
		Index:    func(day int) float64 { return 0.7 },
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	year, err := weather.Read(file)
	if err != nil {
		fmt.Println(err)
		return
	}
	trip := time.Date(2027, 7, 2, 16, 30, 0, 0, time.FixedZone("", 2*3600))
	cut, err := year.Cut(trip, 48)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(year.Name, year.Rows, year.Missing.Light)
	fmt.Println(cut.Start.Format("Mon 15:04 -0700"), len(cut.GHI), "hours, the first", cut.GHI[0], "W/m²")
	// Output:
	// Inventia 8760 0
	// Fri 15:00 +0100 49 hours, the first 519 W/m²
}

// Faults name the line and the column.
func ExampleRead_faults() {
	file, err := weather.Synthetic(weather.Sample{Row: func(row int, f []string) []string {
		if row == 12 {
			f[13] = "1700"
		}
		return f
	}})
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = weather.Read(file)
	fmt.Println(err)
	// Output:
	// weather: line 21, column 14 (ghi, at character 103), above extraterrestrial: "1700", 0 to 1302 W/m²
}
