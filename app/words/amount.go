package words

import (
	"math"
	"strings"
	"unicode"

	"golang.org/x/text/number"

	"duskline/calc/qty"
)

// Space is the no-break space: a figure and its unit, and the groups of a
// long figure, stay on one line. Groups are set off by a space in every
// language, as the SI asks, so that 1 180 is never taken for 1.18.
const Space = "\u00a0"

// Amount words a figure with its unit: "31 h", "33 %", "1 180 m". The decimal
// sign and the digits are the language's. decimals is 0 to 6. With unit "" the
// bare figure comes back. A figure that is not finite gives a dash: the screen
// stays whole and nobody takes it for a number.
func Amount(v float64, decimals int, unit string) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "–"
	}
	scale := math.Pow10(decimals)
	if math.Abs(v) < 0.5/scale {
		v = 0 // no "-0"
	}
	s := current.Load().printer.Sprint(number.Decimal(v, number.NoSeparator(),
		number.MinFractionDigits(decimals), number.MaxFractionDigits(decimals)))
	s = group(strings.Replace(s, "-", "−", 1))
	switch unit {
	case "":
		return s
	case "°":
		return s + unit
	}
	return s + Space + unit
}

// group sets a space before every third digit from the right of the whole
// part.
func group(s string) string {
	r := []rune(s)
	from := 0
	for from < len(r) && !unicode.IsDigit(r[from]) {
		from++
	}
	to := from
	for to < len(r) && unicode.IsDigit(r[to]) {
		to++
	}
	if to-from < 4 {
		return s
	}
	var b strings.Builder
	for i, c := range r {
		if i > from && i < to && (to-i)%3 == 0 {
			b.WriteString(Space)
		}
		b.WriteRune(c)
	}
	return b.String()
}

// Plain words a figure with as many of four significant digits as it needs:
// 0.05, 12.8, 1 000. Fields and limits are written so.
func Plain(v float64, unit string) string {
	decimals := 0
	if a := math.Abs(v); a > 0 && a < 1000 {
		decimals = min(3-int(math.Floor(math.Log10(a))), 6)
	}
	for decimals > 0 {
		less := math.Pow10(decimals - 1)
		if math.Abs(math.Round(v*less)/less-v) > 0.4999/math.Pow10(decimals) {
			break
		}
		decimals--
	}
	return Amount(v, decimals, unit)
}

// Percent words a share of one in whole percent: "33 %".
func Percent(share qty.Fraction) string { return Amount(100*float64(share), 0, "%") }

// TightPercent is Percent without the space, for a flag in a picture.
func TightPercent(share qty.Fraction) string {
	return T("percent.tight", Amount(100*float64(share), 0, ""))
}

// Energy words watt-hours with about three digits: "7.5 Wh", "48 Wh",
// "1.15 kWh".
func Energy(e qty.WattHour) string {
	switch a := math.Abs(float64(e)); {
	case a < 0.05:
		return Amount(0, 0, "Wh")
	case a < 9.95 && math.Abs(a-math.Round(a)) >= 0.05:
		return Amount(float64(e), 1, "Wh")
	case a < 999.5:
		return Amount(float64(e), 0, "Wh")
	case a < 9995:
		return Amount(float64(e)/1000, 2, "kWh")
	default:
		return Amount(float64(e)/1000, 1, "kWh")
	}
}

// Volts words volts as a panel meter shows them, "12.8 V", and those of the
// mains without a decimal: "230 V".
func Volts(v qty.Volt) string {
	if math.Abs(float64(v)) >= 99.95 {
		return Amount(float64(v), 0, "V")
	}
	return Amount(float64(v), 1, "V")
}

// Amps words amps: "4.2 A", "85 A".
func Amps(i qty.Ampere) string {
	if math.Abs(float64(i)) < 9.95 {
		return Amount(float64(i), 1, "A")
	}
	return Amount(float64(i), 0, "A")
}

// Watts words watts: "7.5 W", "300 W".
func Watts(w qty.Watt) string {
	if a := math.Abs(float64(w)); a < 9.95 && math.Abs(float64(w)-math.Round(float64(w))) > 0.05 {
		return Amount(float64(w), 1, "W")
	}
	return Amount(float64(w), 0, "W")
}

// Temperature words whole degrees, and tenths near freezing, where the side
// of zero matters: "17 °C", "−0.4 °C".
func Temperature(c qty.Celsius) string {
	if a := math.Abs(float64(c)); a >= 0.05 && a < 1 {
		return Amount(float64(c), 1, "°C")
	}
	return Amount(float64(c), 0, "°C")
}

// Angle words degrees: "25°".
func Angle(d qty.Degree) string { return Amount(float64(d), 0, "°") }

// Latitude words a latitude: "46.0° N".
func Latitude(d qty.Degree) string { return side(d, "side.north", "side.south") }

// Longitude words a longitude: "7.4° E".
func Longitude(d qty.Degree) string { return side(d, "side.east", "side.west") }

func side(d qty.Degree, plus, minus string) string {
	key := plus
	if d < 0 {
		key = minus
	}
	return T(key, Amount(math.Abs(float64(d)), 1, "°"))
}

// Compass names the nearest of the sixteen points of the compass:
// "south-south-east". azimuth is clockwise from north, any turn.
func Compass(azimuth qty.Degree) string {
	points := [...]string{"n", "nne", "ne", "ene", "e", "ese", "se", "sse", "s", "ssw", "sw", "wsw", "w", "wnw", "nw", "nnw"}
	turn := math.Mod(float64(azimuth), 360)
	if turn < 0 {
		turn += 360
	}
	if math.IsNaN(turn) {
		return "–"
	}
	return T("compass." + points[int(turn/22.5+0.5)%16])
}

// Bearing words a direction both ways: "158°, south-south-east".
func Bearing(azimuth qty.Degree) string {
	return T("compass.bearing", Angle(azimuth), Compass(azimuth))
}
