package plan

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"time"

	"duskline/calc/daylight"
	"duskline/calc/panel"
	"duskline/calc/qty"
	"duskline/calc/sun"
	"duskline/calc/wire"
)

// Daylight returns what the trip's light is made of. Words that the document
// does not know, as a Plan in memory may have, count as their field's first.
//
// Errors: those of [Panel.Module] and [sun.NewHorizon], none for a checked
// Plan.
func (p Plan) Daylight() (daylight.Spec, error) {
	k := p.Sky
	p.Trip.locate()
	s := daylight.Spec{
		Start: p.Trip.Start, Span: time.Duration(p.Trip.LengthH * float64(time.Hour)), Step: time.Duration(p.Trip.StepMin) * time.Minute,
		Place: k.Sun(), Turbidity: k.Turbidity, Albedo: k.albedo(), Model: k.SkyModel.model(), Glass: k.GlassModel.model(),
		Warmest: qty.Celsius(k.WarmestC), Coldest: qty.Celsius(k.ColdestC), Wind: qty.MetrePerSecond(k.WindMs),
		Light:      k.light(),
		Controller: p.Case.Controller.Model(),
	}
	var err error
	if s.Horizon, err = k.horizon(); err != nil {
		return daylight.Spec{}, err
	}
	s.Joined, s.Drop, s.Series = p.Panels.Joined.joining(), qty.Volt(p.Panels.BlockingV), p.Panels.Cable().Resistance()
	for _, l := range p.Panels.List {
		module, err := l.Module()
		if err != nil {
			return daylight.Spec{}, err
		}
		d := daylight.Panel{
			Module: module, Count: l.Count, Watts: qty.Watt(l.RatedW * float64(l.Count)),
			Lie:   daylight.Lie{Kind: l.Lie.kind(), Tilt: qty.Degree(l.TiltDeg), Azimuth: qty.Degree(l.AzimuthDeg), Aims: l.AimsPerDay},
			Clean: qty.Fraction(1 - l.LossPct/100), Shaded: qty.Fraction(l.ShadedPct / 100),
			Mount: l.Back.mount(), String: l.String,
		}
		for _, w := range l.ShadeHours {
			d.Shade = append(d.Shade, daylight.Window{From: w.FromH, To: w.ToH})
		}
		s.Panels = append(s.Panels, d)
	}
	return s, nil
}

// cableHeat is how warm a cable in the sun is taken to be while the panels
// give the most: common practice, no source.
const cableHeat qty.Celsius = 40

// Cable returns the cable from the joined panels to the Case, its copper at
// 40 °C as in the sun. A gauge that the document does not know counts as the
// one of most panel leads.
func (p Panels) Cable() wire.Run {
	g, ok := wire.Named(p.CableGauge)
	if !ok {
		g, _ = wire.Named(usualGauge)
	}
	return wire.Run{Gauge: g, Length: qty.Metre(p.CableM), Copper: cableHeat}
}

func (j Joined) joining() panel.Joining {
	switch j {
	case EndToEnd:
		return panel.EndToEnd
	case InStrings:
		return panel.Strings
	}
	return panel.SideBySide
}

func (b Back) mount() panel.Mount {
	if b == BackCovered {
		return panel.Covered
	}
	return panel.OpenRack
}

func (k Sky) light() daylight.Light {
	l := daylight.Light{
		Indexes: k.ClearSkyIndex, PeakSun: k.PeakSunHours, OnPanels: k.PeakSunOn == OnPanels,
		Meter: k.LastThreeDays, MeterAh: k.MeterUnit == MeterAh,
	}
	switch k.Light {
	case ByPeakSun:
		l.Kind = daylight.ByPeakSun
	case BySkyStates:
		l.Kind = daylight.ByState
	case ByLastThreeDays:
		l.Kind = daylight.ByMeter
	case ByWeatherFile:
		l.Kind = daylight.ByWeather
	default:
		l.Kind = daylight.ByIndex
	}
	for _, s := range k.SkyStates {
		l.States = append(l.States, s.State())
	}
	if w := k.WeatherFile; w != nil && l.Kind == daylight.ByWeather {
		l.Weather = &daylight.Weather{Start: w.Start, GHI: w.GHI, DHI: w.DHI, Air: known(w.AirC), Wind: known(w.WindMs)}
	}
	return l
}

// known is a list, nil if it is empty.
func known(list []float64) []float64 {
	if len(list) == 0 {
		return nil
	}
	return list
}

// State returns the look of the sky as the model has it.
func (s SkyState) State() sun.State {
	switch s {
	case SkyThinVeil:
		return sun.ThinVeil
	case SkyHalfCloud:
		return sun.HalfCloud
	case SkyOvercast:
		return sun.Overcast
	case SkyRain:
		return sun.Rain
	case SkySmoke:
		return sun.Smoke
	case SkyDust:
		return sun.Dust
	}
	return sun.Clear
}

// Ground returns the surface as the model has it; false for SurfaceOwn, whose
// albedo the Sky gives.
func (s Surface) Ground() (sun.Surface, bool) {
	switch s {
	case SurfaceGrass:
		return sun.Grass, true
	case SurfaceSand:
		return sun.Sand, true
	case SurfaceSnow:
		return sun.Snow, true
	case SurfaceOldSnow:
		return sun.OldSnow, true
	case SurfaceWater:
		return sun.Water, true
	case SurfaceEarth:
		return sun.Earth, true
	case SurfaceAsphalt:
		return sun.Asphalt, true
	case SurfaceConcrete:
		return sun.Concrete, true
	}
	return 0, false
}

func (k Sky) albedo() qty.Fraction {
	if g, ok := k.Surface.Ground(); ok {
		return g.Albedo()
	}
	return qty.Fraction(k.Albedo)
}

func (m SkyModel) model() sun.SkyModel {
	switch m {
	case Perez:
		return sun.Perez
	case Isotropic:
		return sun.Isotropic
	}
	return sun.HayDavies
}

func (m GlassModel) model() sun.Glass {
	if m == GlassPhysical {
		return sun.Physical
	}
	return sun.ASHRAE
}

func (l Lie) kind() daylight.LieKind {
	switch l {
	case LieTurned:
		return daylight.Turned
	case LieTwoAxis:
		return daylight.TwoAxis
	case LieOnLid:
		return daylight.OnLid
	}
	return daylight.Fixed
}

// modelDaylight asks the model where a figure is limited by what the panels, as
// they lie, can get or bring.
func modelDaylight(p *Plan, s *sheet) {
	spec, err := p.Daylight()
	if p.Sky.Light == ByLastThreeDays {
		spec.Span = min(spec.Span, 24*time.Hour) // the days before it are what is judged
	}
	if err == nil {
		_, err = daylight.New(spec)
	}
	if err == nil {
		return
	}
	f := Fault{Pointer: "/sky", Kind: ModelRefuses}
	e := (*qty.RangeError)(nil)
	if !errors.As(err, &e) {
		s.note(f)
		return
	}
	f.Min, f.Max, f.Unit = e.Min, e.Max, e.Unit
	for _, l := range []struct {
		what, pointer string
		list          []float64
	}{
		{"peak sun hours of day ", "/sky/peak_sun_hours/", p.Sky.PeakSunHours},
		{"meter of day ", "/sky/last_three_days/", p.Sky.LastThreeDays},
	} {
		if number, ok := strings.CutPrefix(e.What, l.what); ok {
			day, _ := strconv.Atoi(number)
			day = min(day, len(l.list)-1)
			f.Pointer, f.Kind, f.Found = l.pointer+strconv.Itoa(day), NotPhysical, jsonNumber(l.list[day])
		}
	}
	if strings.HasPrefix(e.What, "weather's GHI of day ") {
		f.Pointer, f.Kind, f.Found = "/sky/weather_file/ghi_W_m2", NotPhysical, jsonNumber(math.Round(e.Got*1000)/1000)
	}
	if !s.bad[f.Pointer] {
		s.note(f)
	}
}
