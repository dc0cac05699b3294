package outlook

import (
	"math"
	"testing"
	"time"

	"duskline/calc/notice"
	"duskline/calc/plan"
)

// The time that an alarm tells ends where the protection acts, if that is
// before the cut-off.
func TestAlarmTellsTheTimeToTheProtection(t *testing.T) {
	p := darkBench(40, 30)
	q := guarded(&p)
	q.UnderV, q.UnderBackV = 11.8, 12.9
	o := mustRun(t, p)
	alarms, offs := steadyAlarms(o), eventsOf(o, GuardOff)
	if len(alarms) == 0 || len(offs) == 0 || !alarms[0].At.Before(offs[0].At) {
		t.Fatalf("events %v", o.Events)
	}
	if told, took := alarms[0].Left, offs[0].At.Sub(alarms[0].At); (told - took).Abs() > 10*time.Second {
		t.Errorf("%v told, it took %v", told, took)
	}
}

// A protection that acts in the cold of the night, after the cut-off, gives
// back what there was: outlets that stay cut off until the reconnect volts.
func TestGuardBackAfterACutOffLeavesTheOutletsOff(t *testing.T) {
	for _, cut := range []bool{true, false} {
		p := darkBench(20, 90)
		p.Trip.LengthH = 48
		p.Sky.WarmestC, p.Sky.ColdestC = 25, -12
		p.Gear[0].PowerW = ptr(5.0)
		if cut {
			p.Trip.StartChargePct, p.Gear[0].PowerW = 10, ptr(60.0)
		}
		guarded(&p).DischargeColdC = 3
		o := mustRun(t, p)
		cuts, offs, backs := eventsOf(o, CutOff), eventsOf(o, GuardOff), eventsOf(o, GuardBack)
		if len(offs) == 0 || len(backs) == 0 || count(o, Reconnect) != 0 || (len(cuts) > 0 && cuts[0].At.Before(offs[0].At)) != cut {
			t.Fatalf("cut %v: events %v", cut, o.Events)
		}
		s := &o.Series
		for i := 1; i < len(s.AmpsOut); i++ {
			from, to := s.Time(i-1), s.Time(i)
			dark := from.After(offs[0].At) && to.Before(backs[0].At)
			after := from.After(backs[0].At) && (len(offs) < 2 || to.Before(offs[1].At))
			switch a := float64(s.AmpsOut[i]); {
			case dark && a != 0, after && cut && a > 0.2, after && !cut && a < 0.2:
				t.Fatalf("cut %v, row %d at %v: %g A", cut, i, to, a)
			}
		}
	}
}

// What is told of acid near freezing is the worst hour of the trip, not its
// first.
func TestFreezingIsToldOfTheWorstHour(t *testing.T) {
	p := darkBench(12, 60)
	agm(&p)
	p.Case.Battery.Chemistry = plan.Flooded
	p.Sky.WarmestC, p.Sky.ColdestC = -8, -20
	o := mustRun(t, p)
	spec := must(p.Case.Battery.Model())
	worst, at, least := math.Inf(1), 0, 1.0
	for i, core := range o.Series.Core {
		point, _ := spec.FreezesAt(o.Series.Charge[i])
		if d := float64(core - point); d < worst {
			worst, at, least = d, i, float64(o.Series.Charge[i])
		}
	}
	charge, ok := number(o, notice.BatteryFreezes, "charge")
	core, _ := number(o, notice.BatteryFreezes, "core")
	if at == 0 || !ok || math.Abs(charge-100*least) > 1e-9 || math.Abs(core-float64(o.Series.Core[at])) > 1e-9 {
		t.Errorf("told %v %g %% and %g °C, the worst is row %d with %g and %g", ok, charge, core, at, 100*least, o.Series.Core[at])
	}
}
