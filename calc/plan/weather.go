package plan

import (
	"math"
	"strconv"
	"time"

	"duskline/calc/qty"
	"duskline/calc/sun"
)

// Bounds of a weather file's light. Files are rounded to whole W/m², their
// hours may be counted half an hour off, and the light of the sky is often
// reckoned apart from that of level ground: common practice, no source. What
// lies beyond them is a slip: another unit, hours shifted by more than that,
// another place.
const (
	brightMargin  = 20.0             // W/m² over what arrives above the air
	brightest     = 1415.0           // W/m² above the air when the sun is nearest
	brightAround  = 30 * time.Minute // by which hours may be counted off
	diffuseShare  = 1.05             // of GHI that DHI may be
	diffuseMargin = 10.0             // W/m² that DHI may be over that
)

// relateWeather holds a weather file against itself, the trip and the sun.
func relateWeather(p *Plan, s *sheet) {
	const at = "/sky/weather_file"
	w := p.Sky.WeatherFile
	if w == nil || !s.sound(at) {
		return
	}
	n := len(w.GHI)
	whole := s.sound(at + "/ghi_W_m2")
	for _, l := range []struct {
		name string
		n    int
		none bool
	}{{"dhi_W_m2", len(w.DHI), false}, {"air_C", len(w.AirC), true}, {"wind_m_per_s", len(w.WindMs), true}} {
		pointer := at + "/" + l.name
		if whole && s.sound(pointer) && l.n != n && !(l.none && l.n == 0) {
			f := Fault{Pointer: pointer, Kind: BadCount, Found: strconv.Itoa(l.n), Min: float64(n), Max: float64(n), Unit: entries, Other: at + "/ghi_W_m2"}
			if l.none {
				f.Allowed = []string{"0"}
			}
			s.note(f)
		}
	}
	if s.soundUnder(at+"/ghi_W_m2") && s.soundUnder(at+"/dhi_W_m2") {
		for i, dhi := range w.DHI {
			if most := min(w.GHI[i]*diffuseShare+diffuseMargin, brightest); dhi > most {
				s.note(Fault{Pointer: at + "/dhi_W_m2/" + strconv.Itoa(i), Kind: OutOfRange, Found: jsonNumber(dhi),
					Max: math.Round(most), Unit: "W/m²", Other: at + "/ghi_W_m2/" + strconv.Itoa(i)})
			}
		}
	}
	if !s.sound(at + "/start") {
		return
	}
	if w.Start.Minute() != 0 {
		s.note(Fault{Pointer: at + "/start", Kind: NotFullHour, Found: jsonText(w.Start.Format(startForm))})
		return
	}
	if p.Sky.Light == ByWeatherFile && s.sound("/trip/start", "/trip/length_h") {
		coverTrip(w, &p.Trip, s)
	}
	if whole && s.sound("/sky/latitude_deg", "/sky/longitude_deg", "/sky/altitude_m") {
		brightHours(w, p.Sky.Sun(), s)
	}
}

// coverTrip notes hours of the trip for which the file has no weather.
func coverTrip(w *Weather, t *Trip, s *sheet) {
	const at = "/sky/weather_file"
	if late := w.Start.Sub(t.Start).Hours(); late > 0 {
		s.note(Fault{Pointer: at + "/start", Kind: StartsLate, Found: jsonText(w.Start.Format(startForm)), Max: late, Unit: "h", Other: "/trip/start"})
		return
	}
	need := math.Ceil(t.Start.Sub(w.Start).Hours() + t.LengthH - 1e-6)
	if n := len(w.GHI); s.sound(at+"/ghi_W_m2") && float64(n) < need {
		s.note(Fault{Pointer: at + "/ghi_W_m2", Kind: BadCount, Found: strconv.Itoa(n), Min: need, Max: max(need, MaxHours), Unit: entries, Other: "/trip/length_h"})
	}
}

// brightHours notes hours in which more light arrives than the sun sends above
// the air. Each hour is judged by the highest stand of the sun in it, or half
// an hour before or after.
func brightHours(w *Weather, place sun.Place, s *sheet) {
	const at = "/sky/weather_file/ghi_W_m2/"
	from := w.Start.Add(-brightAround)
	track, err := sun.NewTrack(from, w.Start.Add(time.Duration(len(w.GHI))*time.Hour+brightAround), place)
	if err != nil {
		s.refused("/sky/weather_file", "", err)
		return
	}
	level := func(i int) float64 { // half hour i after from
		after := time.Duration(i) * brightAround
		space := float64(sun.Extraterrestrial(sun.DayOfYear(from.Add(after))))
		return space * math.Max(0, track.At(after).Up)
	}
	a, b := level(0), level(1)
	for i, ghi := range w.GHI {
		c, d := level(2*i+2), level(2*i+3)
		most := min(max(a, b, c, d)+brightMargin, brightest)
		a, b = c, d
		if pointer := at + strconv.Itoa(i); ghi > most && !s.bad[pointer] {
			s.note(Fault{Pointer: pointer, Kind: TooBright, Found: jsonNumber(ghi), Max: math.Round(most), Unit: "W/m²"})
		}
	}
}

// relateHorizon asks the model whether the points make one line around.
func relateHorizon(p *Plan, s *sheet) {
	const at = "/sky/horizon"
	if len(p.Sky.Horizon) == 0 || !s.soundUnder(at) {
		return
	}
	_, err := p.Sky.horizon()
	if err == nil {
		return
	}
	e, ok := err.(*qty.RangeError)
	switch {
	case ok && e.What == "horizon points at one azimuth":
		s.note(Fault{Pointer: at, Kind: SameAzimuth, Max: e.Max})
	case ok && e.What == "horizon turns":
		s.note(Fault{Pointer: at, Kind: NotClockwise, Max: e.Max})
	default:
		s.refused(at, "", err)
	}
}

func (k Sky) horizon() (sun.Horizon, error) {
	points := make([]sun.HorizonPoint, len(k.Horizon))
	for i, h := range k.Horizon {
		points[i] = sun.HorizonPoint{Azimuth: qty.Degree(h.AzimuthDeg), Height: qty.Degree(h.HeightDeg)}
	}
	return sun.NewHorizon(points)
}
