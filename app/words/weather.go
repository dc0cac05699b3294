package words

import (
	"strings"

	"duskline/calc/weather"
)

// epwKinds are the keys of what can be wrong with a weather file.
var epwKinds = map[weather.Kind]string{
	weather.Empty: "empty", weather.TooBig: "too_big", weather.NotWeather: "not_weather", weather.Header: "header",
	weather.Fields: "fields", weather.NotNumber: "number", weather.Range: "range", weather.Order: "order",
	weather.Rows: "rows", weather.Periods: "periods", weather.Bright: "bright", weather.Dim: "dim",
	weather.Dark: "dark", weather.NoLight: "no_light", weather.Damaged: "damaged",
}

// WeatherFault says what is wrong with a weather file, and where: "Line 12,
// column 14 (light on level ground): “bright” is no number."
func WeatherFault(e *weather.Error) string {
	said := weatherFault(e)
	switch {
	case e.Column > 0:
		return T("epw.at_column", Amount(float64(e.Line), 0, ""), e.Column, T("epw_field."+e.Field), said)
	case e.Line > 0:
		return T("epw.at_line", Amount(float64(e.Line), 0, ""), said)
	}
	return said
}

func weatherFault(e *weather.Error) string {
	key := "epw." + epwKinds[e.Kind]
	least, most := Plain(e.Min, e.Unit), Plain(e.Max, e.Unit)
	switch e.Kind {
	case weather.TooBig:
		const MiB = 1 << 20
		found, _ := Number(e.Found)
		return T(key, Amount(found/MiB, 1, "MiB"), Amount(e.Max/MiB, 0, "MiB"))
	case weather.NotWeather:
		if strings.HasPrefix(e.Found, "PK") { // how an archive begins
			return T("epw.zip")
		}
		return T(key, printable(e.Found), e.Want)
	case weather.Header:
		return T(key, e.Want)
	case weather.Fields:
		return T(key, e.Found, least, most)
	case weather.NotNumber:
		return T(key, printable(e.Found))
	case weather.Range:
		return T(key, printable(e.Found), least, most)
	case weather.Order:
		return T(key, e.Found, e.Want)
	case weather.Rows:
		return T(key, e.Found, e.Want)
	case weather.Periods:
		return T(key, printable(e.Found))
	case weather.Bright:
		return T(key, printable(e.Found), most)
	case weather.Dim:
		return T(key, printable(e.Found), least)
	}
	return T(key)
}

// printable leaves out of a piece of a file what no letter shows.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7F || r == 0xFFFD {
			return -1
		}
		return r
	}, s)
}
