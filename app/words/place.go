package words

import (
	"duskline/calc/coords"
	"duskline/calc/qty"
)

// CoordsFault says why a text is no position, to stand beside it.
func CoordsFault(e *coords.Error) string {
	key := "coords." + string(e.Kind)
	if about := key + "_" + e.What; e.What != "" && Has(about) {
		key = about
	}
	figure := e.Got
	if e.Kind == coords.TooLong {
		figure = e.Max
	}
	unit := ""
	if e.What == coords.Latitude || e.What == coords.Longitude {
		unit = "°"
	}
	return T(key, e.Found, Plain(figure, unit))
}

// Position words a position in degrees, minutes and tenths: "52° 24.0′ N, 15°
// 36.0′ E".
func Position(lat, lon qty.Degree) string { return coords.Format(lat, lon) }

// Distance words a distance on the map: "3.2 km", "48 km".
func Distance(km float64) string {
	if km < 9.95 {
		return Amount(km, 1, "km")
	}
	return Amount(km, 0, "km")
}
