package pairing

import (
	"math"
	"time"

	"duskline/calc/battery"
	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// How long the battery takes to be full. The decision: it is a run of the same
// plan with the gear off, in steps of a quarter of an hour, from the trip's
// first instant, night included, and the event that the battery is full ends
// it. So does a charger that ends its charge before with little missing: what
// it takes from then on to a last half percent, if it takes it at all, is no
// refill that anybody waits for.

const (
	refillStep = 15.0     // min
	longest    = 7 * 24.0 // h; who waits longer has the wrong panel
	quick      = 24.0     // h, tried first of what is plugged in
)

// horizon returns how far the runs to refill are followed: a week; in the hours
// of a weather file, what it covers of that.
func horizon(p plan.Plan) float64 {
	w := p.Sky.WeatherFile
	if p.Sky.Light != plan.ByWeatherFile || w == nil {
		return longest
	}
	left := w.Start.Sub(p.Trip.Start).Hours() + float64(len(w.GHI))
	return math.Max(p.Trip.LengthH-math.Mod(p.Trip.LengthH, refillStep/60), math.Min(longest, math.Floor(left)))
}

// loudest is the highest alarm of a battery, V. That of these runs is set as
// high as it goes. Nobody listens to it; but it ends at once the run without
// sun that an Outlook makes beside its own, which takes weeks with the gear off.
const loudest = 14

// idle returns the plan with its gear off and nothing that charges it.
func (t *trial) idle(pct, hours float64) plan.Plan {
	q := t.p
	q.Gear, q.Case.InverterHours, q.Case.Switch = []plan.Device{}, []plan.Window{}, plan.DCOnly
	q.Panels.List = []plan.Panel{}
	q.Trip.WallHours, q.Trip.EngineHours, q.Trip.GeneratorHours = []plan.Window{}, []plan.Window{}, []plan.Window{}
	q.Trip.StepMin, q.Trip.LengthH, q.Trip.StartChargePct = refillStep, hours, pct
	q.Case.Battery.AlarmV, q.Case.Battery.AlarmDelayS = math.Min(loudest, q.Case.Battery.ChargeV-0.01), 0
	return q
}

// until runs a plan until the battery is full. fill adds what charges it;
// light is what fell on the panels until then, kWh/m². first is how long is
// tried first, h.
func (t *trial) until(pct, first float64, fill func(q *plan.Plan)) (out Hours, light float64, err error) {
	if pct >= full*100 {
		return Hours{0, true}, 0, nil
	}
	for _, hours := range []float64{math.Min(first, t.horizon), t.horizon} {
		q := t.idle(pct, hours)
		fill(&q)
		o, err := outlook.Run(q)
		if err != nil {
			return Hours{}, 0, err
		}
		if at, ok := charged(o); ok {
			s := &o.Series
			for k := 1; k < len(s.Light) && !s.Time(k).After(at); k++ {
				light += float64(s.Light[k]) * s.Step.Hours() / 1000
			}
			return Hours{at.Sub(t.p.Trip.Start).Hours(), true}, light, nil
		}
		if hours == t.horizon {
			break
		}
	}
	return Hours{}, 0, nil
}

// nearly is the charge from which a battery counts as charged once the charger
// has ended its charge. Common practice, no source.
const nearly = 0.9

// charged returns the instant at which the battery of a run is full, or at
// which the charge has ended before and it is nearly so.
func charged(o *outlook.Outlook) (time.Time, bool) {
	s := &o.Series
	for _, e := range o.Events {
		switch {
		case e.Kind == outlook.Full, (e.Kind == outlook.Float || e.Kind == outlook.Resting) && e.Charge >= nearly:
			return e.At, true
		case e.Kind == outlook.Float || e.Kind == outlook.Resting: // at much current, with more to come
			for k := range s.Charge {
				if !s.Time(k).Before(e.At) && s.Charge[k] >= nearly {
					return s.Time(k), true
				}
			}
		}
	}
	return time.Time{}, false
}

// refills finds how long the panels of a rung take by themselves.
func (t *trial) refills(r *Rung, o *outlook.Outlook, hint Hours) (err error) {
	if !r.Charges {
		return nil
	}
	sun := func(q *plan.Plan) { q.Panels = r.Panels }
	start := t.p.Trip.StartChargePct
	if first, ok := t.guess(o, 0); ok {
		if hint.Ok {
			first = math.Min(first, math.Ceil(hint.H)+1)
		}
		if r.FromEmpty, r.FullSunH, err = t.until(0, first, sun); err != nil {
			return err
		}
	}
	if first, ok := t.guess(o, start/100); ok || r.FromEmpty.Ok {
		if r.FromEmpty.Ok {
			first = math.Min(first, math.Ceil(r.FromEmpty.H)+1)
		}
		r.FromNow, _, err = t.until(start, first, sun)
	}
	return err
}

// Bounds of a guess: sure is the share of the missing energy that all sun must
// be under to say without a run that it does not fill the battery; roomy and
// spare are what is added to the time that the mean day would take.
const (
	sure  = 0.8
	roomy = 1.2
	spare = 16.0 // h
)

// guess returns how long a run must be, in h, for the sun that there was in a
// run, taken or not, to fill the battery from a charge; not ok if there is too
// little of it by far within the horizon. A guess too short costs time, and
// nothing else.
func (t *trial) guess(o *outlook.Outlook, from float64) (hours float64, ok bool) {
	sun := float64(o.Ledger.NotTaken)
	for _, f := range o.Ledger.Sources {
		if f.Name == outlook.SunFlow {
			sun += float64(f.Energy)
		}
	}
	need := missing(t.battery, from)
	if t.p.Trip.LengthH >= t.horizon && sun < sure*need {
		return t.horizon, false
	}
	days := roomy * need * t.p.Trip.LengthH / 24 / sun // sun 0: without end, or nothing is missing
	return math.Min(t.horizon, math.Ceil(24*days+spare)), true
}

// missing returns the energy between a charge and full, W·h.
func missing(b *battery.Battery, from float64) float64 {
	return float64(b.Energy(full) - b.Energy(qty.Fraction(from)))
}

// sources are the rows of the table of refills.
var sources = []Source{Sun, Wall, Vehicle, Generator, All}

// allDay are the hours of what is plugged in without a break.
var allDay = []plan.Window{{FromH: 0, ToH: 24}}

// there says whether the plan has a source. Mains that the wall charger is not
// made for are none; neither is a generator too weak for it.
func (t *trial) there(s Source) bool {
	k, trip := &t.p.Case, &t.p.Trip
	charger := k.WallCharger.CurrentA > 0
	switch s {
	case Sun:
		return len(t.p.Panels.List) > 0
	case Wall:
		return charger && (trip.WallV == 0 || k.WallCharger.Model().Fits(qty.Volt(trip.WallV)))
	case Vehicle:
		return k.Vehicle != nil
	case Generator:
		load := k.WallCharger.Model()
		watts := load.Mains(qty.Volt(k.Battery.ChargeV), load.Current)
		return charger && (len(trip.GeneratorHours) > 0 || trip.GeneratorW > 0) &&
			power.Generator{Rated: qty.Watt(trip.GeneratorW)}.Runs(watts)
	}
	return true
}

// plug adds a source to a plan that nothing charges.
func (t *trial) plug(q *plan.Plan, s Source) {
	if !t.there(s) {
		return
	}
	switch s {
	case Sun:
		q.Panels = t.p.Panels
	case Wall:
		q.Trip.WallHours = allDay
	case Vehicle:
		q.Trip.EngineHours = allDay
	case Generator:
		q.Trip.GeneratorHours = allDay
	}
}

// table makes the table of refills. The wall charger has one plug: of wall and
// generator, All takes the wall if it is there.
func (t *trial) table(l *Ladder) ([]Refill, error) {
	out := make([]Refill, 0, len(sources))
	start := t.p.Trip.StartChargePct
	for _, s := range sources {
		r := Refill{Source: s, There: t.there(s)}
		fill := func(q *plan.Plan) { t.plug(q, s) }
		switch s {
		case Sun:
			if r.There {
				asIs := l.Owned[0]
				r.FromEmpty, r.FromNow = asIs.FromEmpty, asIs.FromNow
				out = append(out, r)
				continue
			}
		case All:
			fill = func(q *plan.Plan) {
				r.There = false
				for _, s := range sources[:len(sources)-1] {
					if s == Generator && t.there(Wall) {
						continue
					}
					t.plug(q, s)
					r.There = r.There || t.there(s)
				}
			}
			fill(&plan.Plan{})
		}
		if r.There {
			var err error
			if r.FromEmpty, _, err = t.until(0, quick, fill); err != nil {
				return nil, err
			}
			if r.FromNow, _, err = t.until(start, quick, fill); err != nil {
				return nil, err
			}
		}
		out = append(out, r)
	}
	return out, nil
}
