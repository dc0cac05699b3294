package sun

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// published reads the inputs of one row of published_checks.csv.
type published map[string]string

func (p published) num(key string) float64 {
	v, err := strconv.ParseFloat(p[key], 64)
	if err != nil {
		panic(fmt.Sprintf("%s in %v: %v", key, p, err))
	}
	return v
}

func (p published) time(key string) time.Time {
	at, err := time.Parse("2006-01-02T15:04:05", p[key])
	if err != nil {
		panic(err)
	}
	return at
}

func (p published) place() Place {
	here := Place{Latitude: qty.Degree(p.num("lat_deg")), Longitude: qty.Degree(p.num("lon_deg"))}
	if p["altitude_m"] != "" {
		here.Altitude = qty.Metre(p.num("altitude_m"))
	}
	return here
}

// instant returns the time of the row and its Delta T.
func (p published) instant() (time.Time, float64) {
	if p["tt"] != "" {
		return p.time("tt"), p.num("delta_t_s")
	}
	return p.time("utc"), p.num("delta_t_s")
}

func (p published) geocentric() geocentric {
	at, deltaT := p.instant()
	return sunFromEarth(daysFrom2000(at), deltaT)
}

func (p published) position() Position {
	at, deltaT := p.instant()
	pos, err := PositionAt(at, p.place(), Air{qty.Pascal(p.num("pressure_pa")), qty.Celsius(p.num("temp_c")), deltaT})
	if err != nil {
		panic(err)
	}
	return pos
}

// day returns an event of the row's day, in hours after local midnight.
func (p published) day(event func(Day) time.Time) float64 {
	zone := time.FixedZone("", int(p.num("utc_offset_min"))*60)
	midnight, err := time.ParseInLocation("2006-01-02", p["local_date"], zone)
	if err != nil {
		panic(err)
	}
	d, err := DayAt(midnight, p.place())
	if err != nil {
		panic(err)
	}
	return event(d).Sub(midnight).Hours()
}

func (p published) direction() Direction { return Toward(qty.Degree(p.num("zenith_deg")), 0) }

func (p published) plane() Plane {
	plane, err := NewPlane(qty.Degree(p.num("tilt_deg")), qty.Degree(p.num("surface_azimuth_deg")))
	if err != nil {
		panic(err)
	}
	return plane
}

// hourAngleCosine is the incidence on a plane by declination and hour angle.
func (p published) hourAngleCosine() float64 {
	sinF, cosF := math.Sincos(p.num("lat_deg") * rad)
	sinD, cosD := math.Sincos(p.num("declination_deg") * rad)
	sinH, cosH := math.Sincos(p.num("hour_angle_deg") * rad)
	return p.plane().cosine(Direction{East: -cosD * sinH, North: sinD*cosF - cosD*cosH*sinF, Up: sinD*sinF + cosD*cosH*cosF})
}

// computed is how each published quantity of the sun comes out of this package.
var computed = map[string]func(published) float64{
	"julian_day":                   func(p published) float64 { at, _ := p.instant(); return daysFrom2000(at) + 2451545 },
	"earth_heliocentric_longitude": func(p published) float64 { return p.geocentric().heliocentric },
	"sun_distance":                 func(p published) float64 { return p.geocentric().distance },
	"true_obliquity":               func(p published) float64 { return p.geocentric().obliquity },
	"apparent_longitude":           func(p published) float64 { return fold360(p.geocentric().longitude) },
	"right_ascension":              func(p published) float64 { return p.geocentric().ascension },
	"declination":                  func(p published) float64 { return p.geocentric().declination },
	"equation_of_time":             func(p published) float64 { return p.geocentric().timeEquation },
	"geometric_elevation":          func(p published) float64 { return 90 - float64(p.position().Zenith) },
	"apparent_zenith":              func(p published) float64 { return float64(p.position().ApparentZenith) },
	"azimuth":                      func(p published) float64 { return float64(p.position().Azimuth) },
	"incidence_angle":              func(p published) float64 { return float64(p.plane().Incidence(p.position().Direction())) },
	"sunrise":                      func(p published) float64 { return p.day(func(d Day) time.Time { return d.Rise }) },
	"transit":                      func(p published) float64 { return p.day(func(d Day) time.Time { return d.Noon }) },
	"sunset":                       func(p published) float64 { return p.day(func(d Day) time.Time { return d.Set }) },
	"delta_t": func(p published) float64 {
		return DeltaT(time.Date(int(p.num("year")), time.Month(p.num("month")), 15, 0, 0, 0, 0, time.UTC))
	},
	"relative_airmass":            func(p published) float64 { return AirMass(p.direction()) },
	"eccentricity_factor_asce":    func(p published) float64 { return orbit(int(p.num("day_of_year"))) },
	"eccentricity_factor_spencer": func(p published) float64 { return float64(Extraterrestrial(int(p.num("day_of_year")))) / 1366.1 },
	"declination_cooper":          func(p published) float64 { return cooper(int(p.num("day_of_year"))) / rad },
	"cos_incidence_hour_angle":    published.hourAngleCosine,
	"daily_extraterrestrial": func(p published) float64 {
		// FAO 56 has its own solar constant, 0.0820 MJ/m² a minute; MJ/m² here
		return dailyOnLevel(0.0820e6/60, p.num("lat_rad"), p.num("declination_rad"), p.num("dr")) * 3600 / 1e6
	},
	// the standard atmosphere at 11 km, past the range of Place: the formula only
	"pressure": func(p published) float64 {
		return float64(Place{Altitude: qty.Metre(p.num("altitude_m"))}.Pressure())
	},
}

// Not of this package: Spencer's declination is not used, the cell temperature
// belongs to panel.
var elsewhere = map[string]bool{"declination_spencer": true, "temp_faiman": true}

// The worked examples of the literature, each with its own tolerance and
// source in the file.
func TestPublishedVectors(t *testing.T) {
	s := golden.Vectors(t, "sun", "published_checks.csv")
	worst := golden.Worst{What: "error over its tolerance", Limit: 1}
	for i := range s.Len() {
		name := s.Text(i, "quantity")
		compute, ok := computed[name]
		if !ok {
			if !elsewhere[name] {
				t.Errorf("row %d: nothing here computes %s", i+2, name)
			}
			continue
		}
		in := published{}
		for _, pair := range strings.Split(s.Text(i, "inputs"), ";") {
			key, value, _ := strings.Cut(strings.TrimSpace(pair), "=")
			in[key] = value
		}
		got, want := compute(in), s.Num(i, "value")
		diff := got - want
		if s.Text(i, "unit") == "deg" {
			diff = fold180(diff)
		}
		worst.Add(i, diff/s.Num(i, "tolerance"))
		if !(math.Abs(diff) <= s.Num(i, "tolerance")) {
			t.Errorf("%s, %s of %s: got %.10g, want %.10g", s.Text(i, "id"), name, s.Text(i, "source"), got, want)
		}
	}
	worst.Report(t)
}

// Handbook check H55 (formula of Duffie and Beckman, computed there), to 0.05 Wh/m².
func TestDailyExtraterrestrialAgainstH55(t *testing.T) {
	for _, c := range []struct {
		lat  qty.Degree
		day  int
		want float64 // Wh/m²
	}{
		{43, 105, 9381.894982},
		{33.45, 344, 4944.506223},
		{33.45, 162, 11513.11405},
		{0, 80, 10509.17311},
		{47.45, 344, 2554.732443},
	} {
		if got := DailyExtraterrestrial(c.lat, c.day); !(math.Abs(got-c.want) < 0.05) {
			t.Errorf("latitude %g, day %d: %.3f Wh/m², want %.3f", c.lat, c.day, got, c.want)
		}
	}
	golden.Near(t, "declination, °", cooper(105)/rad, 9.4149, 5)
	golden.Near(t, "declination, °", cooper(344)/rad, -23.0496, 6)
}

// Handbook check H56: clearness of three months, measured Wh over H55, to 0.0005.
func TestDailyExtraterrestrialAgainstH56(t *testing.T) {
	for _, c := range []struct {
		lat      qty.Degree
		day      int
		measured float64 // Wh/m² a day
		want     float64
	}{
		{33.45, 344, 3070, 0.6209},
		{33.45, 162, 8320, 0.7227},
		{47.45, 344, 890, 0.3484},
	} {
		if got := c.measured / DailyExtraterrestrial(c.lat, c.day); !(math.Abs(got-c.want) < 0.0005) {
			t.Errorf("latitude %g, day %d: clearness %.4f, want %.4f", c.lat, c.day, got, c.want)
		}
	}
}

// In the polar night nothing arrives; in the polar day the closed form is that
// of a sun that circles: 24 · constant · orbit · sin φ sin δ.
func TestDailyExtraterrestrialAtThePoles(t *testing.T) {
	for _, lat := range []qty.Degree{90, 80, -80, -90} {
		for _, day := range []int{172, 355} {
			sin := math.Sin(float64(lat)*rad) * math.Sin(cooper(day))
			want := 24 * 1367 * orbit(day) * math.Max(sin, 0)
			if got := DailyExtraterrestrial(lat, day); !(math.Abs(got-want) < 1e-6) {
				t.Errorf("latitude %g, day %d: %g, want %g", lat, day, got, want)
			}
		}
	}
}
