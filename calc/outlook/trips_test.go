package outlook

import (
	"math"
	"slices"
	"testing"

	"duskline/calc/notice"
	"duskline/calc/plan"
)

// A device whose start trips the inverter never starts, at any step: it trips
// the inverter for as long as it wants to run.
func TestAStartThatTripsTripsForItsHours(t *testing.T) {
	for _, step := range []int{1, 15} {
		p := bench()
		p.Case.Switch, p.Trip.StepMin = plan.DCAndAC, step
		pump, lamp := deviceOf24h(plan.RouteAC, 100), deviceOf24h(plan.RouteAC, 10)
		pump.SurgeW, pump.Hours = 900, []plan.Window{{FromH: 20, ToH: 21}}
		p.Gear = []plan.Device{pump, lamp}
		o := mustRun(t, p)
		if o.Ledger.Uses[0].Energy != 0 || math.Abs(float64(o.Ledger.Uses[1].Energy)-460) > 1e-6 {
			t.Errorf("pump %g Wh, lamp %g Wh, want 0 and 460", o.Ledger.Uses[0].Energy, o.Ledger.Uses[1].Energy)
		}
		if want := []EventKind{Overload, OverloadOver, Overload, OverloadOver}; !slices.Equal(onlyTrips(o), want) {
			t.Errorf("events %v", kinds(o))
		}
		// One that the inverter lifts starts once, not again in every step.
		p.Gear[0].SurgeW, p.Gear[0].PowerW = 580, ptr(250)
		if o = mustRun(t, p); count(o, Overload) != 0 {
			t.Errorf("a surge of 580 W beside 10 W on 600 W: %v", kinds(o))
		}
		p.Gear[0].SurgeW = 595
		if o = mustRun(t, p); count(o, Overload) != 2 || o.Events[0].Index != 0 {
			t.Errorf("a surge of 595 W beside 10 W on 600 W: %v", o.Events)
		}
	}
}

func onlyTrips(o *Outlook) (list []EventKind) {
	for _, k := range kinds(o) {
		if k == Overload || k == OverloadOver {
			list = append(list, k)
		}
	}
	return list
}

// Gear that comes and goes asks for its mean, but trips by what it draws
// while it runs.
func TestRunningWattsTripNotTheirMean(t *testing.T) {
	p := bench()
	p.Case.Switch = plan.DCAndAC
	heater := deviceOf24h(plan.RouteAC, 280)
	heater.DutyPct, heater.Count = 20, 2
	p.Gear = []plan.Device{heater}
	if o := mustRun(t, p); count(o, Overload) != 0 {
		t.Errorf("one of 280 W at a time on 300 W: %v", o.Events)
	}
	p.Gear = append(p.Gear, deviceOf24h(plan.RouteAC, 25))
	o := mustRun(t, p)
	if count(o, Overload) != 1 || o.Events[0].Index != 0 {
		t.Fatalf("280 W beside 25 W on 300 W: %v", o.Events)
	}
	if asked, _ := number(o, notice.InverterTrips, "asked"); math.Abs(asked-305) > 1e-9 {
		t.Errorf("asked %g W, want 305", asked)
	}
}

// A cut-off while the inverter is tripped says nothing of the inverter.
func TestCutOffWhileTripped(t *testing.T) {
	p := bench()
	p.Case.Switch, p.Panels.List, p.Trip.StartChargePct = plan.DCAndAC, nil, 15
	kettle := deviceOf24h(plan.RouteAC, 1000)
	p.Gear = []plan.Device{kettle, deviceOf24h(plan.RouteDC, 40)}
	o := mustRun(t, p)
	if got := onlyTrips(o); len(got) != 1 || count(o, CutOff) != 1 {
		t.Errorf("events %v, want one overload and one cut-off", kinds(o))
	}
}

// While the outlets are cut off nothing trips and nothing is switched on again.
func TestNoTripsWithoutPower(t *testing.T) {
	p := bench()
	p.Case.Switch, p.Panels.List, p.Trip.StartChargePct = plan.DCAndAC, nil, 0
	kettle := deviceOf24h(plan.RouteAC, 1000)
	kettle.Hours = []plan.Window{{FromH: 20, ToH: 21}}
	p.Gear = []plan.Device{kettle}
	o := mustRun(t, p)
	if len(onlyTrips(o)) != 0 || has(o, notice.InverterTrips) {
		t.Errorf("an inverter without power trips: %v, %v", kinds(o), o.Notices)
	}
	p.Trip.StartChargePct = 8
	p.Gear[0].Hours[0].FromH = 18
	p.Gear = append(p.Gear, deviceOf24h(plan.RouteDC, 40))
	o = mustRun(t, p)
	if got := onlyTrips(o); len(got) != 1 || !o.Figures.FirstCutOff.Before(p.Trip.Start.Add(3*3600e9)) {
		t.Errorf("the kettle's hours end in a cut-off: %v", o.Events)
	}
}

// A device that runs has started: what joins it later adds no surge of its.
// When power comes back, all of them start anew.
func TestGearStartsOnceAndAfterACutOff(t *testing.T) {
	p := bench()
	p.Case.Switch, p.Panels.List = plan.DCAndAC, nil
	pump, lamp := deviceOf24h(plan.RouteAC, 200), deviceOf24h(plan.RouteAC, 40)
	pump.SurgeW = 580
	lamp.Hours = []plan.Window{{FromH: 18.5, ToH: 24}}
	p.Gear, p.Trip.LengthH, p.Trip.StartChargePct = []plan.Device{pump, lamp}, 12, 40
	o := mustRun(t, p)
	if count(o, Overload) != 0 || count(o, CutOff) != 1 {
		t.Fatalf("events %v, want a cut-off alone", kinds(o))
	}
	// The lamp joins while the outlets are cut off.
	cut := o.Figures.FirstCutOff.Sub(p.Trip.Start).Hours() + 18
	if cut > 20.9 {
		t.Fatalf("cut off at %.2f h", cut)
	}
	p.Gear[1].Hours[0].FromH = 20.95
	p.Trip.WallHours = []plan.Window{{FromH: 21, ToH: 24}}
	o = mustRun(t, p)
	k := slices.Index(kinds(o), Reconnect)
	if k < 0 || k+1 >= len(o.Events) || o.Events[k+1].Kind != Overload || !o.Events[k+1].At.Equal(o.Events[k].At) {
		t.Errorf("pump and lamp starting together ask 620 W of 600 W: %v", o.Events)
	}
}
