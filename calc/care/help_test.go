package care

import (
	"math"
	"testing"
	"time"

	"duskline/calc/battery"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// camp is an invented plan: 40 Ah, 20 mΩ, a fridge and a light on DC, a kettle
// for a quarter of an hour on AC, nothing that is too much for it.
func camp() plan.Plan {
	p := plan.Blank("camp", time.Date(2026, 6, 12, 8, 0, 0, 0, time.FixedZone("", 7200)))
	p.Case.Battery.ResistanceMohm = 20
	p.Case.Switch = plan.DCAndAC
	p.Case.InverterHours = []plan.Window{{FromH: 7, ToH: 9}}
	p.Gear = []plan.Device{
		gear("fridge", plan.RouteDC, 40, plan.Window{FromH: 0, ToH: 24}),
		gear("light", plan.RouteDC, 10, plan.Window{FromH: 18, ToH: 23}),
		gear("kettle", plan.RouteAC, 200, plan.Window{FromH: 7, ToH: 7.25}),
	}
	p.Gear[0].DutyPct = 40
	return p
}

func gear(name string, route plan.Route, watts float64, hours ...plan.Window) plan.Device {
	d := plan.NewDevice(name, route, hours...)
	d.PowerW = &watts
	return d
}

// kind puts in another chemistry with its usual marks.
func kind(p plan.Plan, c plan.Chemistry) plan.Plan {
	b := &p.Case.Battery
	b.Chemistry = c
	if m, ok := b.UsualMarks(); ok {
		b.SetMarks(m)
	}
	if b.Lithium() {
		b.CompensationMVPerK = 0
	}
	b.FloatV, b.ResumeV = b.ChargeV-0.6, b.ChargeV-1
	return p
}

var kinds = []plan.Chemistry{plan.LiFePO4, plan.NMC, plan.AGM, plan.Gel, plan.Flooded}

// sound fails for a plan that could not come in by the door.
func sound(t testing.TB, p plan.Plan) plan.Plan {
	t.Helper()
	if faults := plan.Check(p); faults != nil {
		t.Fatal(faults)
	}
	return p
}

func houseOf(t testing.TB, p plan.Plan) *house {
	t.Helper()
	h, err := newHouse(&p)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

func alarmsOf(t testing.TB, p plan.Plan) *Alarms {
	t.Helper()
	a, err := NewAlarms(sound(t, p))
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func ptr[T any](v T) *T { return &v }

func near(t testing.TB, what string, got, want, slack float64) {
	t.Helper()
	if !(math.Abs(got-want) <= slack) {
		t.Errorf("%s: got %.6g, want %.6g ± %.3g", what, got, want, slack)
	}
}

// seconds is a discharge in steps of a second: another way to the same marks.
type seconds struct {
	h      *house
	around battery.Around
	st     battery.State
	t      float64
}

// until steps on with a draw until the volts were at or under a mark for a
// delay, or the battery gives out.
func (s *seconds) until(d pull, mark qty.Volt, delay, most float64) bool {
	b := &bus{watts: d.watts, amps: d.amps}
	low := 0.0
	for end := s.t + most; s.t < end; {
		st := s.h.battery.Step(s.st, s.around, 1, b)
		if st.Empty || st.Short {
			return false
		}
		s.st, s.t = st.State, s.t+1
		if st.EndVolts > mark {
			low = 0
			continue
		}
		if low++; low > delay {
			return true
		}
	}
	return false
}

// outlast steps on until the outlets lose power.
func (s *seconds) outlast(d pull, most float64) {
	s.until(d, s.h.spec.CutOff, s.h.spec.CutOffDelay.Seconds(), most)
}
