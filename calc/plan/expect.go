package plan

import (
	"math"

	"duskline/calc/daylight"
	"duskline/calc/sun"
)

// The weather said in another way, for a person who changes how it is given:
// what the plan expects so far is carried over as well as the new way can say
// it. It is a start to edit from.

// ChooseLight gives the weather in another way. What that way names is filled
// from what the plan expects so far if there is nothing in it yet: looks of the
// sky by their nearest mean, other lists as they come out, meter readings as
// those of three half clouded days. A weather file cannot be made up: without
// one, Check refuses the choice.
//
// Where the plan's light cannot be worked out, fair weather is filled in.
func (p *Plan) ChooseLight(kind LightKind) {
	was := *p
	p.Sky.Light = kind
	k := &p.Sky
	switch {
	case kind == ByClearSky && len(k.ClearSkyIndex) == 0:
		k.ClearSkyIndex = was.byDay(0.8, func(d daylight.Day) float64 { return math.Round(d.Index*20) / 20 })
	case kind == ByPeakSun && len(k.PeakSunHours) == 0:
		k.PeakSunHours = was.byDay(3, func(d daylight.Day) float64 {
			if k.PeakSunOn == OnPanels {
				return math.Floor(d.OnPanels*20) / 20
			}
			return math.Floor(d.OnLevel*20) / 20
		})
	case kind == BySkyStates && len(k.SkyStates) == 0:
		k.SkyStates = was.statesByDay()
	case kind == ByLastThreeDays && len(k.LastThreeDays) == 0:
		k.LastThreeDays = was.halfCloudedDays()
	}
}

// RestateMeter gives the meter's readings in another unit, counted at the volts
// of a battery under charge.
func (k *Sky) RestateMeter(unit MeterUnit) {
	factor := 1.0
	switch {
	case k.MeterUnit == MeterWh && unit == MeterAh:
		factor = 1 / float64(daylight.MeterVolts)
	case k.MeterUnit == MeterAh && unit == MeterWh:
		factor = float64(daylight.MeterVolts)
	}
	k.MeterUnit = unit
	for i, x := range k.LastThreeDays {
		k.LastThreeDays[i] = math.Floor(x*factor*10+1e-9) / 10
	}
}

// expected returns the light of the trip's days.
func (p Plan) expected() []daylight.Day {
	spec, err := p.Daylight()
	if err != nil {
		return nil
	}
	scene, err := daylight.New(spec)
	if err != nil {
		return nil
	}
	days := scene.Days()
	return days[:min(len(days), MaxDays)]
}

// byDay is a figure of each day, without an end that says nothing new.
func (p Plan) byDay(fair float64, figure func(daylight.Day) float64) []float64 {
	var list []float64
	for _, d := range p.expected() {
		list = append(list, figure(d))
	}
	if list == nil {
		return []float64{fair}
	}
	return withoutTail(list)
}

// withoutTail leaves out the end of a list by day that says nothing new.
func withoutTail[T comparable](list []T) []T {
	n := len(list)
	for n > 1 && list[n-1] == list[n-2] {
		n--
	}
	return list[:n]
}

func (p Plan) statesByDay() []SkyState {
	if p.Sky.Light == ByClearSky && len(p.Sky.ClearSkyIndex) > 0 { // no need to work out the light
		var list []SkyState
		for _, x := range p.Sky.ClearSkyIndex {
			list = append(list, nearestState(x))
		}
		return withoutTail(list)
	}
	var list []SkyState
	for _, d := range p.expected() {
		list = append(list, nearestState(d.Index))
	}
	if list == nil {
		return []SkyState{SkyThinVeil}
	}
	return withoutTail(list)
}

// nearestState is the look of the sky whose mean index is nearest. Smoke and
// dust are not among them: nothing but a person can tell them from cloud.
func nearestState(index float64) SkyState {
	best, off := SkyClear, math.Inf(1)
	for _, s := range []SkyState{SkyClear, SkyThinVeil, SkyHalfCloud, SkyOvercast, SkyRain} {
		if d := math.Abs(s.State().Look().Index.Mean() - index); d < off {
			best, off = s, d
		}
	}
	return best
}

// halfCloudedDays returns what the panels would have brought on each of the
// three days before the trip's first under a half clouded sky, in the meter's
// unit.
func (p Plan) halfCloudedDays() []float64 {
	spec, err := p.Daylight()
	if err != nil {
		return make([]float64, threeDays)
	}
	list, err := daylight.Readings(spec, sun.HalfCloud.Look().Index.Mean())
	if err != nil {
		return make([]float64, threeDays)
	}
	coarse := 10.0 // Wh
	if spec.Light.MeterAh {
		coarse = 1
	}
	for k, x := range list {
		list[k] = math.Floor(x/coarse) * coarse
	}
	return list
}
