package outlook

import (
	"math"
	"slices"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/notice"
	"duskline/calc/plan"
)

func eventsOf(o *Outlook, kind EventKind) (list []Event) {
	for _, e := range o.Events {
		if e.Kind == kind {
			list = append(list, e)
		}
	}
	return list
}

// Figures: electrical.md C42, a battery of six cells whose volts go by -3, -4
// and -5 mV a cell and kelvin from 14.4 V at 25 °C: what an AGM battery on the
// wall stands at in air of 0 and 40 °C.
func TestCompensationAgainstElectricalC42(t *testing.T) {
	for _, c := range []struct {
		air, perCell float64
		check        string
	}{
		{0, -3, "C42.m3_0 = 14.85 V ± 0.001"}, {40, -3, "C42.m3_40 = 14.13 V ± 0.001"},
		{0, -4, "C42.m4_0 = 15.00 V ± 0.001"}, {40, -4, "C42.m4_40 = 14.04 V ± 0.001"},
		{0, -5, "C42.m5_0 = 15.15 V ± 0.001"}, {40, -5, "C42.m5_40 = 13.95 V ± 0.001"},
	} {
		p := bench()
		agm(&p)
		p.Gear, p.Panels.List, p.Trip.StartChargePct = nil, nil, 95
		p.Trip.WallHours = []plan.Window{{FromH: 0, ToH: 24}}
		p.Sky.WarmestC, p.Sky.ColdestC = c.air, c.air
		p.Case.Battery.CoolingWPerK = ptr(50) // or its gassing warms it
		p.Case.Battery.CompensationMVPerK = 6 * c.perCell
		o := mustRun(t, p)
		golden.Check(t, c.check, float64(o.Series.Volts[len(o.Series.Volts)-1]))
	}
}

// Absorption is over, and a charge begins anew, at the same instants at any
// step.
func TestStagesDoNotHangOnTheStep(t *testing.T) {
	for _, after := range []plan.AfterFull{plan.AfterRest, plan.AfterFloat} {
		p := bench()
		p.Panels.List, p.Trip.LengthH, p.Trip.StartChargePct = nil, 24, 90
		p.Sky.WarmestC, p.Sky.ColdestC = 25, 25 // the air would be that of other middles
		p.Trip.WallHours = []plan.Window{{FromH: 0, ToH: 24}}
		p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 40)}
		b := &p.Case.Battery
		b.AfterFull, b.AbsorptionH, b.ResumeV, b.FloatV = after, 0.6, 13.1, 13.5
		var first []Event
		for _, step := range []int{1, 2, 5, 10, 15} {
			p.Trip.StepMin = step
			got := mustRun(t, p).Events
			if first == nil {
				first = got
			}
			if len(got) != len(first) {
				t.Fatalf("%s: steps of %d min give %d events, of a minute %d", after, step, len(got), len(first))
			}
			for i := range got {
				if d := got[i].At.Sub(first[i].At).Seconds(); got[i].Kind != first[i].Kind || math.Abs(d) > 4*float64(i+1) && got[i].Kind != Full { // each round hands on what the one before was late
					t.Errorf("%s: steps of %d min: %s at %.2f s, of a minute %s at %.2f s", after, step, got[i].Kind, seconds(p, got[i]), first[i].Kind, seconds(p, first[i]))
				}
			}
		}
		if after == plan.AfterRest && len(first) < 3 || after == plan.AfterFloat && len(first) < 2 {
			t.Errorf("%s: only %d events", after, len(first))
		}
	}
}

// Absorption lasts as long as it is set to: from the instant at which the
// battery comes to be held.
func TestAbsorptionLastsItsHours(t *testing.T) {
	at := func(hours float64) float64 {
		p := bench()
		p.Panels.List, p.Gear, p.Trip.LengthH, p.Trip.StartChargePct = nil, nil, 24, 60
		p.Trip.WallHours = []plan.Window{{FromH: 18.3, ToH: 18}}
		b := &p.Case.Battery
		b.AfterFull, b.AbsorptionH, b.ResumeV = plan.AfterRest, hours, 12.5
		rests := eventsOf(mustRun(t, p), Resting)
		if len(rests) != 1 {
			t.Fatalf("%g h: %d rests", hours, len(rests))
		}
		return seconds(p, rests[0]) / 3600
	}
	begin := at(0)
	for _, hours := range []float64{0.05, 0.5, 2, 7.25} {
		if got := at(hours) - begin; math.Abs(got-hours) > 1e-4 {
			t.Errorf("an absorption of %g h lasts %.5f h", hours, got)
		}
	}
}

// A battery that starts above the volts of absorption has it behind it after
// its hours, though the charger gives nothing: at any step.
func TestAbsorptionOfAFullBattery(t *testing.T) {
	for _, step := range []int{1, 5, 15} {
		p := bench()
		p.Panels.List, p.Gear, p.Trip.StartChargePct, p.Trip.StepMin, p.Trip.LengthH = nil, nil, 100, step, 6
		p.Trip.WallHours = []plan.Window{{FromH: 0, ToH: 24}}
		p.Case.Battery.AfterFull, p.Case.Battery.AbsorptionH = plan.AfterRest, 0.11
		rests := eventsOf(mustRun(t, p), Resting)
		if len(rests) != 1 || math.Abs(seconds(p, rests[0])-396) > 0.01 {
			t.Errorf("steps of %d min: rests %v, want one after 396 s", step, rests)
		}
	}
}

// While charging rests nothing comes in: gear runs from the battery and the
// sun stays in the panels, all of it counted.
func TestRestingTakesNothing(t *testing.T) {
	p := bench()
	p.Trip.StartChargePct, p.Sky.ColdestC = 97, p.Sky.WarmestC
	b := &p.Case.Battery
	b.AfterFull, b.ResumeV = plan.AfterRest, 12.5
	p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 6)}
	o := mustRun(t, p)
	rests := eventsOf(o, Resting)
	if len(rests) != 1 || count(o, ChargesAgain) != 0 {
		t.Fatalf("events %v", kinds(o))
	}
	s := &o.Series
	for i := range s.AmpsIn {
		if s.Time(i).After(rests[0].At.Add(s.Step)) && s.AmpsIn[i] != 0 {
			t.Fatalf("row %d: %g A while charging rests", i, s.AmpsIn[i])
		}
	}
	b.AfterFull = plan.AfterHold
	held := mustRun(t, p)
	all, want := o.Ledger.Sources[0].Energy+o.Ledger.NotTaken, held.Ledger.Sources[0].Energy+held.Ledger.NotTaken
	if math.Abs(float64(all/want)-1) > 2e-3 {
		t.Errorf("sun taken and not taken: %.2f Wh resting, %.2f Wh held", all, want)
	}
	if o.Figures.Lowest >= held.Figures.Lowest {
		t.Errorf("lowest %.4f resting, %.4f held", o.Figures.Lowest, held.Figures.Lowest)
	}
	wantNotice(t, o, notice.FullEarly, true)
}

// Under the volts of its float a battery is held there; above them the charger
// gives nothing until gear has drawn it down.
func TestFloatIsHeldOrWaitedFor(t *testing.T) {
	p := bench()
	agm(&p)
	p.Panels.List, p.Trip.LengthH, p.Trip.StartChargePct = nil, 24, 97
	p.Sky.WarmestC, p.Sky.ColdestC = 25, 25
	p.Trip.WallHours = []plan.Window{{FromH: 0, ToH: 24}}
	p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 12)}
	b := &p.Case.Battery
	b.AfterFull, b.AbsorptionH, b.FloatV, b.ResumeV = plan.AfterFloat, 1, 13.5, 12.6
	o := mustRun(t, p)
	if last := o.Series.Volts[len(o.Series.Volts)-1]; last != 13.5 || count(o, Float) != 1 {
		t.Errorf("lead-acid floats at %.4f V, events %v", last, kinds(o))
	}

	p = bench() // LiFePO4 that was charged to 14.4 V stands over its float
	p.Panels.List, p.Trip.LengthH, p.Trip.StartChargePct = nil, 12, 99
	p.Trip.WallHours = []plan.Window{{FromH: 0, ToH: 24}}
	p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 12)}
	b = &p.Case.Battery
	b.AfterFull, b.AbsorptionH, b.FloatV, b.ResumeV = plan.AfterFloat, 0.1, 13.5, 13
	o = mustRun(t, p)
	floats := eventsOf(o, Float)
	if len(floats) != 1 {
		t.Fatalf("events %v", kinds(o))
	}
	s := &o.Series
	for i := range s.Volts {
		switch after := s.Time(i).Sub(floats[0].At); {
		case after <= 2*s.Step: // it stands above for some minutes
		// The gear's sag more, and so much once more that the battery recovers
		// by when the charger carries the gear; and a row in which it goes over.
		case s.Volts[i] > 13.55 && s.AmpsIn[i] > 0 && s.AmpsIn[i-1] > 0:
			t.Fatalf("row %d: %.3f A into %.3f V", i, s.AmpsIn[i], s.Volts[i])
		case s.Volts[i] < 13.49:
			t.Fatalf("row %d: %.3f V, the float holds 13.5 V", i, s.Volts[i])
		}
	}
	if slices.Min(s.AmpsIn[1:]) > 0.5 { // of the gear's 1 A, for a part of a step
		t.Error("the charger never waits")
	}
	if last := len(s.Volts) - 1; s.AmpsIn[last] <= 0 || math.Abs(float64(s.Volts[last])-13.5) > 0.06 {
		t.Errorf("in the end %.3f A at %.3f V: the float carries the gear", s.AmpsIn[last], s.Volts[last])
	}
}

// A charge that begins anew in the dark is told when the sun brings something.
func TestChargesAgainIsToldWithTheSun(t *testing.T) {
	p := bench()
	b := &p.Case.Battery
	b.AfterFull, b.AbsorptionH, b.ResumeV = plan.AfterRest, 0.2, 13.2
	p.Trip.StartChargePct, p.Trip.LengthH = 90, 60
	p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 10)}
	o := mustRun(t, p)
	again := eventsOf(o, ChargesAgain)
	if len(again) == 0 || len(eventsOf(o, Resting)) < 2 {
		t.Fatalf("events %v", kinds(o))
	}
	for _, e := range again {
		day := o.Days[e.At.YearDay()-o.Days[0].Midnight.YearDay()]
		if e.At.Before(day.Rise) || e.At.After(day.Set) {
			t.Errorf("a charge begins at %v in the dark", e.At)
		}
	}
}

// Gear that pulls the volts under the mark as soon as nothing charges does not
// make the charger chatter: it rests for a minute each time.
func TestChargingRestsForAMinuteAtLeast(t *testing.T) {
	p := bench()
	p.Panels.List, p.Trip.StartChargePct, p.Trip.LengthH, p.Trip.StepMin = nil, 99, 6, 1
	b := &p.Case.Battery
	b.AfterFull, b.ResumeV, b.ResistanceMohm = plan.AfterRest, 13.2, 100
	p.Case.WallCharger.CurrentA = 20
	p.Trip.WallHours = []plan.Window{{FromH: 18.005, ToH: 24}}
	p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 60)}
	p.Gear[0].Hours = []plan.Window{{FromH: 18.05, ToH: 18.085}}
	o := unfolded(t, p)
	rests, again := eventsOf(o, Resting), eventsOf(o, ChargesAgain)
	if len(again) < 2 {
		t.Fatalf("events %v", kinds(o))
	}
	for i, e := range again {
		if rested := e.At.Sub(rests[i].At).Seconds(); rested < 60-1e-3 {
			t.Errorf("rest %d lasts %.3f s", i, rested)
		}
	}
}

// In frost a lithium battery is not held by its charger but by the cold: no
// absorption passes.
func TestNoAbsorptionWhileChargeIsRefused(t *testing.T) {
	p := bench()
	p.Sky.WarmestC, p.Sky.ColdestC = -3, -12
	p.Trip.WallHours = []plan.Window{{FromH: 0, ToH: 24}}
	b := &p.Case.Battery
	for _, b.AbsorptionH = range []float64{0, 0.5} {
		b.AfterFull = plan.AfterRest
		if o := mustRun(t, p); count(o, Resting) != 0 {
			t.Errorf("%g h: events %v", b.AbsorptionH, kinds(o))
		}
	}
}

// Stages of a battery that is never held change nothing at all.
func TestStagesOfABatteryThatIsNeverHeld(t *testing.T) {
	p := bench()
	p.Trip.StartChargePct, p.Case.Battery.CapacityAh = 20, 300
	plain := mustRun(t, p)
	b := &p.Case.Battery
	b.AfterFull, b.AbsorptionH, b.ResumeV = plan.AfterRest, 1, 12
	sameSeries(t, plain, mustRun(t, p), 0)
}
