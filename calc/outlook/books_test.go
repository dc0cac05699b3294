package outlook

import (
	"math"
	"testing"

	"duskline/calc/notice"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// A Ledger may miss a thousandth of its turnover and no more.
func TestOpenLedger(t *testing.T) {
	for _, c := range []struct {
		turnover, gap qty.WattHour
		open          bool
	}{
		{1000, 0.99, false}, {1000, -0.99, false}, {1000, 1.01, true}, {1000, -1.01, true},
		{0, 0, false}, {0, 1e-6, true}, {1000, qty.WattHour(math.NaN()), true},
	} {
		if l := (Ledger{Turnover: c.turnover, Gap: c.gap}); l.open() != c.open {
			t.Errorf("a gap of %g Wh in %g Wh: open %v", c.gap, c.turnover, l.open())
		}
	}
}

// The turnover is all that was there to spend: sources and drawdown.
func TestTurnover(t *testing.T) {
	p := bench()
	o := mustRun(t, p) // fills up: no drawdown
	l := &o.Ledger
	if l.Change < 0 || l.Turnover != l.Sources[0].Energy+l.Sources[1].Energy {
		t.Errorf("change %g Wh, turnover %g Wh", l.Change, l.Turnover)
	}
	p.Panels.List = nil
	o = mustRun(t, p)
	if l = &o.Ledger; l.Change >= 0 || l.Turnover != -l.Change {
		t.Errorf("in the dark: change %g Wh, turnover %g Wh", l.Change, l.Turnover)
	}
}

// What a device asks for in a day is told even if it gets nothing.
func TestDeviceADayIsWhatItAsksFor(t *testing.T) {
	p := bench() // its inverter is off
	p.Gear = append(p.Gear, deviceOf24h(plan.RouteAC, 20))
	f := mustRun(t, p).Figures
	if math.Abs(float64(f.DeviceADay[1])-480) > 1e-6 || math.Abs(float64(f.DeviceADay[0])-24) > 1e-6 || math.Abs(float64(f.GearADay)-24) > 1e-6 {
		t.Errorf("a lantern of 24 Wh a day and a lamp of 480 Wh that stays dark: %v, together %g", f.DeviceADay, f.GearADay)
	}
}

// A constant load meets alarm and cut-off at the charges that stand for them.
func TestMarksAsCharge(t *testing.T) {
	p := bench()
	p.Panels.List, p.Sky.WarmestC, p.Sky.ColdestC, p.Trip.LengthH = nil, 25, 25, 6
	p.Case.Battery.AlarmDelayS, p.Case.Battery.CutoffDelayS = 0, 0
	p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 80)}
	f := mustRun(t, p).Figures // no event yet: the mean draw is the load's
	p.Trip.LengthH = 12
	o := mustRun(t, p)
	for i, want := range []qty.Fraction{f.AlarmCharge, f.CutOffCharge} {
		if got := o.Events[i].Charge; math.Abs(float64(got-want)) > 0.002 {
			t.Errorf("%s at %.4f, its mark stands at %.4f", o.Events[i].Kind, got, want)
		}
	}
}

// Full is told once for each time, clipping once a day.
func TestFullAndClippedAreToldOnce(t *testing.T) {
	p := bench()
	p.Case.Controller.LimitA, p.Panels.List[0].RatedW, p.Trip.LengthH = 4, 200, 72
	p.Case.Battery.CapacityAh = 20
	p.Gear[0].PowerW = ptr(20)
	o := mustRun(t, p)
	if count(o, Full) != 4 || count(o, Clipped) != 4 {
		t.Errorf("the sun of four days: %v", kinds(o))
	}
}

// What the notices say is lost in a day is the Ledger's sum over the days: two
// days of a full battery, or of a limit that costs a tenth of the sun.
func TestNoticesTellLossesADay(t *testing.T) {
	p := bench()
	p.Trip.StartChargePct, p.Gear[0].PowerW = 100, ptr(0)
	o := mustRun(t, p)
	if got, _ := number(o, notice.FullEarly, "spilled"); math.Abs(got*2/float64(o.Ledger.NotTaken)-1) > 1e-9 || got < 50 {
		t.Errorf("%g Wh a day spilled, %g Wh not taken in two days", got, o.Ledger.NotTaken)
	}
	p.Trip.StartChargePct, p.Case.Battery.CapacityAh, p.Case.Controller.LimitA = 20, 500, 5
	o = mustRun(t, p)
	share := float64(o.Ledger.NotTaken / o.Ledger.Sources[0].Energy)
	if got, _ := number(o, notice.SunClipped, "lost"); math.Abs(got*2/float64(o.Ledger.NotTaken)-1) > 1e-9 || share < 0.05 || share > 0.2 {
		t.Errorf("%g Wh a day clipped, %g Wh not taken in two days, a share of %.2f", got, o.Ledger.NotTaken, share)
	}
	p.Case.Controller.LimitA = 6
	if o = mustRun(t, p); has(o, notice.SunClipped) || o.Ledger.NotTaken == 0 {
		t.Errorf("a limit that costs %g Wh of %g Wh is worth no notice", o.Ledger.NotTaken, o.Ledger.Sources[0].Energy)
	}
}
