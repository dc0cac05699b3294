package outlook

import (
	"math"
	"time"

	"duskline/calc/panel"
	"duskline/calc/plan"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

// The naive simulation's sky: exact positions instead of a track, everything
// found anew at every instant, the hours of a weather file from their own sums.
// Of the models it takes the sun's place, the clear sky, a look's mean and what
// a plane sees.
type naiveSky struct {
	p       plan.Plan
	place   sun.Place
	horizon sun.Horizon
	model   sun.SkyModel
	glass   sun.Glass
	albedo  qty.Fraction
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func newNaiveSky(p plan.Plan) *naiveSky {
	k := p.Sky
	s := &naiveSky{p: p, albedo: qty.Fraction(k.Albedo), glass: sun.ASHRAE,
		place: sun.Place{Latitude: qty.Degree(k.LatitudeDeg), Longitude: qty.Degree(k.LongitudeDeg), Altitude: qty.Metre(k.AltitudeM)}}
	if k.GlassModel == plan.GlassPhysical {
		s.glass = sun.Physical
	}
	if k.SkyModel == plan.Perez {
		s.model = sun.Perez
	}
	if k.Surface == plan.SurfaceSnow {
		s.albedo = sun.Snow.Albedo()
	}
	var points []sun.HorizonPoint
	for _, h := range k.Horizon {
		points = append(points, sun.HorizonPoint{Azimuth: qty.Degree(h.AzimuthDeg), Height: qty.Degree(h.HeightDeg)})
	}
	s.horizon = must(sun.NewHorizon(points))
	return s
}

func (s *naiveSky) sun(at time.Time) sun.Direction {
	return must(sun.PositionAt(at, s.place, s.place.StandardAir(at))).Direction()
}

func (s *naiveSky) clear(at time.Time, turbidity float64) sun.Light {
	air := must(sun.NewAtmosphere(s.place, turbidity))
	return air.ClearSky(s.sun(at), sun.Extraterrestrial(at.YearDay()))
}

// light is that of level ground.
func (s *naiveSky) light(at time.Time) sun.Light {
	k := s.p.Sky
	day := dateOf(at) - dateOf(s.p.Trip.Start)
	if k.Light == plan.ByWeatherFile {
		return s.hourly(at)
	}
	if s.sun(at).Elevation <= 0 {
		return sun.Light{}
	}
	if k.Light == plan.BySkyStates {
		look := k.SkyStates[min(day, len(k.SkyStates)-1)].State().Look()
		return sun.Clouded(s.clear(at, max(k.Turbidity, look.Turbidity)), look.Index.Mean(), s.sun(at), sun.Extraterrestrial(at.YearDay()))
	}
	return sun.Clouded(s.clear(at, k.Turbidity), k.ClearSkyIndex[min(day, len(k.ClearSkyIndex)-1)], s.sun(at), sun.Extraterrestrial(at.YearDay()))
}

// hourly gives an hour of the file the clear sky's shape, twice its height at
// most; the rest is even light of the sky. The beam is what the file calls so,
// but no more than comes through the cleanest air.
func (s *naiveSky) hourly(at time.Time) sun.Light {
	w, step := s.p.Sky.WeatherFile, time.Duration(s.p.Trip.StepMin)*time.Minute
	i := int(at.Sub(w.Start) / time.Hour)
	sum := 0.0
	for m := w.Start.Add(time.Duration(i)*time.Hour + step/2); m.Sub(w.Start) < time.Duration(i+1)*time.Hour; m = m.Add(step) {
		m = m.In(at.Location())
		if s.sun(m).Elevation > 0 {
			sum += float64(s.clear(m, s.p.Sky.Turbidity).GHI)
		}
	}
	mean := sum / float64(time.Hour/step)
	ratio := 0.0
	if mean > 0 {
		ratio = math.Min(w.GHI[i]/mean, 2)
	}
	if s.sun(at).Elevation <= 0 {
		even := qty.Irradiance(w.GHI[i] - ratio*mean)
		return sun.Light{GHI: even, DHI: even}
	}
	shaped := ratio * float64(s.clear(at, s.p.Sky.Turbidity).GHI)
	even := w.GHI[i] - ratio*mean
	beam := shaped * math.Min(math.Max(w.GHI[i]-w.DHI[i], 0)/(ratio*mean), 1)
	beam = math.Min(beam, float64(s.clear(at, 1).DNI)*s.sun(at).Up)
	if w.GHI[i] == 0 {
		shaped, even, beam = 0, 0, 0
	}
	return sun.Light{GHI: qty.Irradiance(shaped + even), DHI: qty.Irradiance(shaped + even - beam), DNI: qty.Irradiance(beam / s.sun(at).Up)}
}

// between reads a list of hourly means so long after its start.
func between(list []float64, after time.Duration) float64 {
	x := after.Hours() - 0.5
	i := int(math.Floor(x))
	return list[i]*(1-x+float64(i)) + list[i+1]*(x-float64(i))
}

// plane is how a panel lies at an instant of a day on which the sun rises and
// sets.
func (s *naiveSky) plane(l plan.Panel, at time.Time) sun.Plane {
	if l.Lie == plan.LieFixed || l.Lie == plan.LieOnLid {
		return must(sun.NewPlane(qty.Degree(l.TiltDeg), qty.Degree(l.AzimuthDeg)))
	}
	y, m, d := at.Date()
	day := must(sun.DayAt(time.Date(y, m, d, 0, 0, 0, 0, at.Location()), s.place))
	part := day.Set.Sub(day.Rise) / time.Duration(l.AimsPerDay)
	k := int(math.Floor(float64(at.Sub(day.Rise)) / float64(part)))
	k = min(max(k, 0), l.AimsPerDay-1)
	to := s.sun(day.Rise.Add(part*time.Duration(k) + part/2))
	azimuth := math.Mod(math.Atan2(to.East, to.North)*180/math.Pi+360, 360)
	if l.Lie == plan.LieTwoAxis {
		return must(sun.NewPlane(90-to.Elevation, qty.Degree(azimuth)))
	}
	return must(sun.NewPlane(qty.Degree(l.TiltDeg), qty.Degree(azimuth)))
}

// cableOf is the cable there and back, of copper at 40 °C: mΩ/m at 20 °C of IEC
// 60228 class 5, and 0.393 % more for each kelvin.
func cableOf(p plan.Panels) qty.Ohm {
	perMetre := map[string]float64{"4_mm2": 4.95e-3, "1.5_mm2": 13.3e-3}[p.CableGauge]
	return qty.Ohm(2 * p.CableM * perMetre * (1 + 0.00393*20))
}

// array is what the panels see and give at an instant, nil in the dark.
func (s *naiveSky) array(at time.Time, hour, air, wind float64) (*panel.Array, float64) {
	dir, light, model := s.sun(at), s.light(at), s.model
	if dir.Elevation <= 0 {
		model = sun.Isotropic // there is no sun to be brighter around
	}
	if !(light.GHI > 1e-9) || len(s.p.Panels.List) == 0 {
		return nil, 0
	}
	a := panel.Array{Drop: qty.Volt(s.p.Panels.BlockingV), Series: cableOf(s.p.Panels)}
	switch s.p.Panels.Joined {
	case plan.EndToEnd:
		a.Joined = panel.EndToEnd
	case plan.InStrings:
		a.Joined = panel.Strings
	}
	var on, watts float64
	for _, l := range s.p.Panels.List {
		view := sun.NewView(s.plane(l, at), &s.horizon, model, s.glass)
		parts := view.Light(light, dir, sun.Extraterrestrial(at.YearDay()), s.albedo, inHours(l.ShadeHours, hour))
		on += float64(parts.Total()) * l.RatedW * float64(l.Count)
		watts += l.RatedW * float64(l.Count)
		in := float64(view.Through(parts, dir)) * (1 - l.LossPct/100)
		cell := air + in/(25+6.84*wind)
		if l.Back == plan.BackCovered {
			cell = air + in/(16.61+0.85*wind)
		}
		technology := panel.Crystalline
		if l.Technology == plan.ThinFilm {
			technology = panel.ThinFilm
		}
		module := must(panel.FromWatts(qty.Watt(l.RatedW), technology))
		if l.AgeYears > 0 {
			module = must(module.Aged(l.AgeYears, technology))
		}
		a.Parts = append(a.Parts, panel.Part{Curve: module.At(qty.Irradiance(in), qty.Celsius(cell)), Count: l.Count, String: l.String})
	}
	return &a, on / watts
}
