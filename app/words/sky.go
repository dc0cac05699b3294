package words

import (
	"math"
	"time"

	"duskline/calc/plan"
	"duskline/calc/qty"
)

// Fists words a height over the horizon in fists at arm's length, ten degrees
// each: "2.5 fists".
func Fists(degrees float64) string {
	if n := Plain(degrees/10, ""); n != "1" {
		return T("fists.many", n)
	}
	return T("fists.one")
}

// SkyState names the look of a day's sky.
func SkyState(s plan.SkyState) string { return T("sky_state." + string(s)) }

// ClearShare says how much of a clear day's light a look brings, to the next
// twentieth: nobody can see more from the ground.
func ClearShare(mean float64) string {
	if mean >= 0.975 {
		return T("sky.share_all")
	}
	return T("sky.share", Amount(5*math.Round(20*mean), 0, "%"))
}

// Surface names what the ground is covered with.
func Surface(s plan.Surface) string { return T("surface." + string(s)) }

// Haze puts a Linke turbidity into words.
func Haze(turbidity float64) string {
	switch {
	case turbidity < 2.5:
		return T("haze.mountain")
	case turbidity < 3.5:
		return T("haze.clear")
	case turbidity < 5.5:
		return T("haze.summer")
	case turbidity < 7:
		return T("haze.thick")
	}
	return T("haze.smoke")
}

// Day names a day of a trip with its date: "Friday 15 May".
func Day(t time.Time) string { return T("day.named", Weekday(t), Date(t)) }

// Insolation words light per area: "4.1 kWh/m²".
func Insolation(kWh float64) string { return Amount(kWh, 1, "kWh/m²") }

// High words where something stands at its highest: "58°, south".
func High(elevation, azimuth qty.Degree) string {
	return T("compass.bearing", Angle(elevation), Compass(azimuth))
}
