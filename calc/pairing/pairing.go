// Package pairing says which panels belong with a Case, its Gear and its Sky:
// a ladder of panel sizes, each tried in the plan by the same simulation.
//
// It has no physics of its own. A rung is one [outlook.Run] of the plan with
// other panels in it, and short runs with the gear off; what the labels say
// comes from calc/panel, calc/power and calc/wire.
//
// Missing: panels of one's own on two controllers, how a kind would lie
// better when it is alone, odds over many weathers.
package pairing

import (
	"errors"
	"slices"
	"strconv"

	"duskline/calc/battery"
	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// ErrStopped says that hear has asked to stop.
var ErrStopped = errors.New("pairing: stopped")

// ErrWord says that a text is none of the words that are allowed.
var ErrWord = errors.New("pairing: unknown word")

// Run tries the ladder in a Plan that plan.Check finds no fault with.
//
// A generic panel is the one that calc/panel makes of its watts alone: new,
// crystalline, lying, soiled, shaded and cabled as the plan's first panel. In a
// plan without panels it faces the equator and leans by the latitude, at 60° at
// the most: common practice, no source.
//
// The results, each the first rung from below of which all this is true:
//
//   - Least: the trip Holds and its Fit does not bar it.
//   - Most: the next rung brings under 5 % more harvest, or is barred, or
//     there is none; and it brings something itself. It is not under Least:
//     what it takes to hold is of use. The 5 % are our rule.
//   - Pack: it Holds, is not barred, the use is put back on more than half of
//     the days, and it is not above Most. If no rung up to Most is so, it is
//     Least, and if nothing holds there is none. Our rule; that a panel should
//     put back the day's use is common practice, no source.
//   - OwnedPack, of one's own panels: as Pack, with the fewest watts; else the
//     one that ends best, and of those the one with the greatest harvest. A
//     barred joining and what charges nothing is never it.
//
// A day is put back if the outlets had power all through it, and the charge at
// its end is not under that of its start or the battery was full in it while it
// was being charged. Days are spans of 24 h from the trip's
// start; what is left over after the last whole one does not count, and a trip
// of less than a day counts as one.
//
// The order of the plan's panels changes the order of Owned and nothing else.
//
// hear, if not nil, is told the share that is done, 0 to 1, after each rung; if
// it returns false, Run ends with [ErrStopped].
//
// Errors: those of [outlook.Run], none for a checked Plan; [ErrStopped].
func Run(p plan.Plan, hear func(share float64) bool) (*Ladder, error) {
	t, err := newTrial(p)
	if err != nil {
		return nil, err
	}
	owned, whole := joinings(p.Panels)
	mixes := mixtures(p.Panels)
	l := &Ladder{
		Rungs: make([]Rung, 0, len(generic)), Owned: make([]Rung, 0, len(owned)), OwnedWhole: whole,
		Mixes: make([]Mix, 0, len(mixes)), Days: t.days, HorizonH: t.horizon, Sky: t.frozen,
	}
	parts := float64(len(generic) + len(owned) + 1)
	tell := func() error {
		if done := float64(len(l.Rungs) + len(l.Owned) + 1); hear != nil && !hear(done/parts) {
			return ErrStopped
		}
		return nil
	}
	if err := tell(); err != nil {
		return nil, err
	}
	hint := Hours{}
	for _, w := range generic {
		r, err := t.rung(choice{panels: genericPanels(p, w), kinds: []int{}}, hint)
		if err != nil {
			return nil, err
		}
		hint = r.FromEmpty // more watts never take longer
		l.Rungs = append(l.Rungs, r)
		if err := tell(); err != nil {
			return nil, err
		}
	}
	for _, c := range owned {
		r, err := t.rung(c, Hours{})
		if err != nil {
			return nil, err
		}
		l.Owned = append(l.Owned, r)
		if err := tell(); err != nil {
			return nil, err
		}
	}
	for _, kinds := range mixes {
		m, err := t.mix(kinds)
		if err != nil {
			return nil, err
		}
		l.Mixes = append(l.Mixes, m)
	}
	if l.Refill, err = t.table(l); err != nil {
		return nil, err
	}
	l.choose()
	return l, nil
}

// A trial is what all rungs share.
type trial struct {
	p       plan.Plan        // with a sky that does not hang on its panels
	base    *outlook.Outlook // of the plan as it stands
	frozen  *plan.Sky
	battery *battery.Battery
	control power.Controller
	coldest qty.Celsius // air, of the trip
	hottest qty.Celsius
	days    int
	perDay  float64 // steps
	horizon float64 // h
}

func newTrial(p plan.Plan) (*trial, error) {
	t := &trial{p: p, control: p.Case.Controller.Model()}
	var err error
	if t.battery, err = p.Case.Battery.Model(); err != nil {
		return nil, err
	}
	if t.base, err = outlook.Run(p); err != nil {
		return nil, err
	}
	t.freeze()
	t.coldest, t.hottest = qty.Celsius(p.Sky.ColdestC), qty.Celsius(p.Sky.WarmestC)
	if w := p.Sky.WeatherFile; p.Sky.Light == plan.ByWeatherFile && w != nil && len(w.AirC) > 0 {
		t.coldest, t.hottest = slices.Min(t.base.Series.Air), slices.Max(t.base.Series.Air)
	}
	t.perDay = 24 * 60 / float64(p.Trip.StepMin)
	t.days = max(1, int(p.Trip.LengthH/24))
	t.horizon = horizon(p)
	return t, nil
}

// freeze parts the sky from the panels. Meter readings, and peak sun hours on
// the panels, say what the sky is like by what the plan's own panels made of
// it: with others in their place they would tell of another sky.
func (t *trial) freeze() {
	s := &t.p.Sky
	onPanels := s.Light == plan.ByPeakSun && s.PeakSunOn == plan.OnPanels
	if s.Light != plan.ByLastThreeDays && !onPanels {
		return
	}
	s.ClearSkyIndex, s.Light = make([]float64, 0, len(t.base.Days)), plan.ByClearSky
	level := make([]float64, 0, len(t.base.Days))
	bright := false
	for _, d := range t.base.Days {
		s.ClearSkyIndex = append(s.ClearSkyIndex, d.ClearSkyIndex)
		level = append(level, d.OnLevel)
		bright = bright || d.ClearSkyIndex > brightest
	}
	if bright { // an index as the document has none: the same light, counted on the level
		s.ClearSkyIndex, s.Light = []float64{}, plan.ByPeakSun
		s.PeakSunHours, s.PeakSunOn = level, plan.OnLevel
	}
	t.frozen = s
}

// brightest is the greatest clear-sky index of a document.
const brightest = 1.2

// steepest is how far a generic panel leans in a plan without panels, °.
const steepest = 60

// genericPanels returns the plan's panels with one generic panel in their
// place.
func genericPanels(p plan.Plan, watts float64) plan.Panels {
	one := plan.NewPanel("", min(abs(p.Sky.LatitudeDeg), steepest), 180)
	if p.Sky.LatitudeDeg < 0 {
		one.AzimuthDeg = 0
	}
	if len(p.Panels.List) > 0 {
		first := p.Panels.List[0]
		one.Lie, one.TiltDeg, one.AzimuthDeg, one.AimsPerDay = first.Lie, first.TiltDeg, first.AzimuthDeg, first.AimsPerDay
		one.Back, one.LossPct, one.ShadeHours, one.ShadedPct = first.Back, first.LossPct, first.ShadeHours, first.ShadedPct
	}
	one.Name, one.RatedW = strconv.FormatFloat(watts, 'f', -1, 64)+" W", watts
	out := p.Panels
	out.Joined, out.List = plan.SideBySide, []plan.Panel{one}
	return out
}

func abs(x float64) float64 { return max(x, -x) }
