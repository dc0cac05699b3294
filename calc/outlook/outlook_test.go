package outlook

import (
	"math"
	"slices"
	"testing"
	"time"

	"duskline/calc/notice"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

func ptr(v float64) *float64 { return &v }

// bench is a plain plan for tests: LiFePO4 50 Ah, MPPT, one 100 W panel, a
// lantern at night, two clear days in May at 46° N. Everything in it is
// invented.
func bench() plan.Plan {
	start := time.Date(2026, 5, 14, 18, 0, 0, 0, time.FixedZone("", 2*3600))
	return plan.Plan{
		Duskline: plan.Version, Name: "Test bench",
		Case: plan.Case{
			Name: "Bench case",
			Battery: plan.Battery{
				Chemistry: plan.LiFePO4, CapacityAh: 50, ResistanceMohm: 20, ChargeV: 14.4,
				AlarmV: 12, AlarmDelayS: 10, CutoffV: 11, CutoffDelayS: 10, ReconnectV: 12.8, ReconnectS: 60,
			},
			Controller:  plan.Controller{Kind: plan.MPPT, LimitA: 15, EfficiencyPct: 96, InputMaxV: 50, StandbyA: 0.01},
			WallCharger: plan.WallCharger{CurrentA: 10, EfficiencyPct: 88},
			Inverter: plan.Inverter{RatedW: 300, SurgeW: 600, Wave: plan.PureSine, StandbyA: 0.5,
				EfficiencyPct: 88, OutputV: 230},
			DC:     plan.Outlet{StandbyA: 0.01, EfficiencyPct: 98},
			USB:    plan.Outlet{StandbyA: 0.02, EfficiencyPct: 88},
			Meters: plan.Meters{StandbyA: 0.02}, Switch: plan.DCOnly,
			InverterHours: []plan.Window{{FromH: 0, ToH: 24}},
		},
		Gear: []plan.Device{{Name: "Lantern", Count: 1, Route: plan.RouteUSB, PowerW: ptr(6),
			RefillEfficiencyPct: 100, DutyPct: 100, Hours: []plan.Window{{FromH: 20, ToH: 24}}}},
		Sky: plan.Sky{LatitudeDeg: 46, LongitudeDeg: 7, AltitudeM: 1180, WarmestC: 22, ColdestC: 8, WindMs: 1,
			Turbidity: 3, Albedo: 0.2, Surface: plan.SurfaceOwn, SkyModel: plan.HayDavies, GlassModel: plan.GlassASHRAE,
			Light: plan.ByClearSky, ClearSkyIndex: []float64{1}, PeakSunHours: []float64{}, PeakSunOn: plan.OnLevel, MeterUnit: plan.MeterWh},
		Panels: plan.Panels{Joined: plan.SideBySide, List: []plan.Panel{
			{Name: "Panel", Lie: plan.LieFixed, AimsPerDay: 1, Count: 1, RatedW: 100, TiltDeg: 25, AzimuthDeg: 180, LossPct: 3}}},
		Trip: plan.Trip{Start: start, LengthH: 48, StepMin: 5, StartChargePct: 80, ReservePct: 20},
	}
}

// device is a device on a route that runs all day.
func deviceOf24h(route plan.Route, watts float64) plan.Device {
	return plan.Device{Name: "Device", Count: 1, Route: route, PowerW: ptr(watts), RefillEfficiencyPct: 100,
		DutyPct: 100, Hours: []plan.Window{{FromH: 0, ToH: 24}}}
}

// neutral gives what a test says nothing of the value that documents of older
// versions have for it.
func neutral(p plan.Plan) plan.Plan {
	set := func(v *float64, to float64) {
		if *v == 0 {
			*v = to
		}
	}
	b := &p.Case.Battery
	set(&b.RatedHours, 20)
	set(&b.KeptC, 20)
	set(&b.KeptPct, 50)
	set(&b.UsesPerYear, 12)
	if p.Case.Stands == "" {
		p.Case.Stands = plan.Shade
	}
	set(&b.FloatV, 13.5)
	set(&b.ResumeV, 13.2)
	if b.AfterFull == "" {
		b.AfterFull = plan.AfterHold
	}
	set(&p.Case.WallCharger.InputMinV, 100)
	set(&p.Case.WallCharger.InputMaxV, 240)
	set(&p.Case.Inverter.PulseDeg, 126)
	if p.Panels.CableGauge == "" {
		p.Panels.CableGauge = "4_mm2"
	}
	p.Gear, p.Panels.List = slices.Clone(p.Gear), slices.Clone(p.Panels.List)
	for i := range p.Gear {
		g := &p.Gear[i]
		set(&g.PowerFactor, 1)
		if g.Sensitivity == "" {
			g.Sensitivity = plan.SensitivityUnsaid
		}
	}
	for i := range p.Panels.List {
		l := &p.Panels.List[i]
		if l.Technology == "" {
			l.Technology, l.Back, l.String = plan.Crystalline, plan.BackFree, 1
		}
	}
	return p
}

func mustRun(t testing.TB, p plan.Plan) *Outlook {
	t.Helper()
	p = neutral(p)
	if faults := plan.Check(p); len(faults) > 0 {
		t.Fatalf("the plan of this test is faulty: %v", faults)
	}
	o, err := Run(p)
	if err != nil {
		t.Fatal(err)
	}
	sound(t, p, o)
	return o
}

// sound checks what must be true of every Outlook.
func sound(t testing.TB, p plan.Plan, o *Outlook) {
	t.Helper()
	s := &o.Series
	want := int(math.Round(p.Trip.LengthH*60/float64(p.Trip.StepMin))) + 1
	for what, n := range map[string]int{"charge": len(s.Charge), "volts": len(s.Volts), "amps in": len(s.AmpsIn),
		"amps out": len(s.AmpsOut), "light": len(s.Light), "air": len(s.Air), "elevation": len(s.Elevation), "cloud": len(s.Cloud)} {
		if n != want {
			t.Fatalf("%s has %d rows, want %d", what, n, want)
		}
	}
	for i := range s.Charge {
		for what, v := range map[string]float64{"charge": float64(s.Charge[i]), "volts": float64(s.Volts[i]),
			"in": float64(s.AmpsIn[i]), "out": float64(s.AmpsOut[i]), "light": float64(s.Light[i]), "elevation": float64(s.Elevation[i])} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("row %d: %s is %g", i, what, v)
			}
		}
		if s.Charge[i] < 0 || s.Charge[i] > 1 || s.AmpsIn[i] < 0 || s.AmpsOut[i] < 0 || s.Light[i] < 0 {
			t.Fatalf("row %d is out of range: charge %g, in %g, out %g, light %g", i, s.Charge[i], s.AmpsIn[i], s.AmpsOut[i], s.Light[i])
		}
	}
	for i := 1; i < len(o.Events); i++ {
		if o.Events[i].At.Before(o.Events[i-1].At) {
			t.Errorf("event %d (%s at %v) is before the one ahead of it (%s at %v)", i, o.Events[i].Kind, o.Events[i].At,
				o.Events[i-1].Kind, o.Events[i-1].At)
		}
	}
	// The Ledger closes; Run checks 0.1 %, rounding alone is far less.
	if gap := math.Abs(float64(o.Ledger.Gap)); gap > 1e-6*float64(o.Ledger.Turnover)+1e-9 {
		t.Errorf("the ledger is open by %g Wh of %g Wh", gap, float64(o.Ledger.Turnover))
	}
	for _, list := range [][]Flow{o.Ledger.Sources, o.Ledger.Uses, o.Ledger.Losses} {
		for _, f := range list {
			// A battery in the cold may take heat from around it, more than it
			// loses by itself if it does little else.
			if least := -1e-9 - 1e-3*(o.Ledger.Turnover+qty.WattHour(p.Case.Battery.CapacityAh)); f.Energy < -1e-9 && (f.Name != BatteryHeat || f.Energy < least) {
				t.Errorf("flow %s %d is %g Wh", f.Name, f.Index, f.Energy)
			}
		}
	}
	low := slices.Min(s.Charge)
	if row := slices.Index(s.Charge, low); o.Figures.Lowest != low || !o.Figures.LowestAt.Equal(s.Time(row)) {
		t.Errorf("lowest charge %g at %v, in the series %g at %v", o.Figures.Lowest, o.Figures.LowestAt, low, s.Time(row))
	}
}

func has(o *Outlook, c notice.Code) bool {
	for _, n := range o.Notices {
		if n.Code == c {
			return true
		}
	}
	return false
}

// count says how often a thing happened, rows of it included.
func count(o *Outlook, k EventKind) (n int) {
	for _, e := range o.Events {
		if e.Kind == k {
			n += e.Times
		}
	}
	return n
}

func TestAPlainPlanHolds(t *testing.T) {
	o := mustRun(t, bench())
	if o.Verdict != Holds {
		t.Errorf("verdict %s, want holds; lowest %g", o.Verdict, o.Figures.Lowest)
	}
	if count(o, Full) == 0 {
		t.Error("100 W of panel over two clear days fills 50 Ah that a lantern empties; no full event")
	}
	if len(o.Days) != 3 {
		t.Errorf("%d days, want 3: the trip touches 14, 15 and 16 May", len(o.Days))
	}
}

// Hand arithmetic: 512 Wh that can be used, 40 W at a DC outlet of 95 %, no
// other draw, no sun. The battery gives P = 40/0.95 W at its terminals over R,
// its resistance fast and slow; V is its mean rest voltage on the side of
// discharge, 8 mV a cell under the middle. The current is
// I = (V - sqrt(V² - 4RP))/2R, and of every volt of rest voltage I·R stays in
// the battery, so the time is 512 Wh · (1 - I·R/V) / P. The bound well lags
// behind: at the end it keeps back I/(Q·k') of the charge, at the mean volts.
func TestHandArithmeticFortyWatts(t *testing.T) {
	p := bench()
	const watts, efficiency, ohm, usable = 40.0, 0.95, 0.020 * 1.5, 512.0
	const swing, exchange = 4 * 0.008, 22.0
	p.Case.Battery.SelfDischargePctMonth = ptr(0)
	p.Case.DC = plan.Outlet{EfficiencyPct: efficiency * 100}
	p.Case.USB, p.Case.Meters, p.Case.Controller.StandbyA = plan.Outlet{EfficiencyPct: 88}, plan.Meters{}, 0
	p.Case.Battery.AlarmV, p.Case.Battery.CutoffV = 10.6, 10.5
	p.Case.Battery.AlarmDelayS, p.Case.Battery.CutoffDelayS = 0, 0
	p.Sky.WarmestC, p.Sky.ColdestC = 25, 25 // where the stated resistance holds
	p.Panels.List = nil
	p.Trip.StartChargePct = 100
	p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, watts)}
	p.Trip.LengthH = 24

	// As many amp-hours as make 512 Wh between full and the cut-off.
	unit, err := (plan.Battery{Chemistry: plan.LiFePO4, CapacityAh: 1, ResistanceMohm: 20, ChargeV: 14.4,
		AlarmV: 10.6, CutoffV: 10.5, ReconnectV: 12.8, RatedHours: 20}).Model()
	if err != nil {
		t.Fatal(err)
	}
	atBus := watts / efficiency
	low := unit.Charge(10.5 + 3.3*ohm*1.5 + swing) // 3.3 A, and the resistance is half as much again near empty
	perAh := float64(unit.Energy(1) - unit.Energy(low))
	p.Case.Battery.CapacityAh = usable / perAh
	v := perAh/(1-float64(low)) - swing // mean rest volts
	i := (v - math.Sqrt(v*v-4*ohm*atBus)) / (2 * ohm)
	keeps := i / (p.Case.Battery.CapacityAh * exchange) * p.Case.Battery.CapacityAh * v
	want := (usable*v/(v+swing)*(1-i*ohm/v) - keeps) / atBus

	o := mustRun(t, p)
	got := o.Figures.FirstCutOff.Sub(p.Trip.Start).Hours()
	t.Logf("%.4f h, by hand %.4f h", got, want)
	if math.Abs(got/want-1) > 0.005 {
		t.Errorf("40 W last %.3f h, by hand %.3f h", got, want)
	}
	if dark := o.Figures.NoSun.Hours(); dark > got || dark < got-0.1 {
		t.Errorf("hours without sun %.3f, the cut-off came after %.3f h", dark, got)
	}
}

// Common practice, no source: meters and USB converters alone draw about
// 0.1 A. The bench case stands so for a day with nothing plugged in.
func TestTradeStandbyDraw(t *testing.T) {
	p := bench()
	p.Gear, p.Panels.List = nil, nil
	p.Case.Meters.StandbyA, p.Case.USB.StandbyA, p.Case.DC.StandbyA, p.Case.Controller.StandbyA = 0.05, 0.03, 0.01, 0.01
	o := mustRun(t, p)
	if a := float64(o.Series.AmpsOut[10]); math.Abs(a-0.1) > 0.005 {
		t.Errorf("standing draw %g A, want about 0.1 A", a)
	}
}

// Common practice, no source: a 10 A controller goes with about 120 W of
// panel. On a PWM controller in full sun that panel gives under 10 A, and 200
// W give more.
func TestTradeTenAmpController(t *testing.T) {
	p := bench()
	p.Case.Controller = plan.Controller{Kind: plan.PWM, LimitA: 10, EfficiencyPct: 100, InputMaxV: 50}
	p.Trip.StartChargePct, p.Trip.LengthH = 20, 24
	most := func(watts float64) (a float64) {
		p.Panels.List[0].RatedW = watts
		o := mustRun(t, p)
		for _, in := range o.Series.AmpsIn {
			a = max(a, float64(in))
		}
		return a
	}
	if a := most(120); a > 10 || a < 5 {
		t.Errorf("120 W give %g A, want 5 to 10 A", a)
	}
	if a := most(200); a <= 10 {
		t.Errorf("200 W give %g A, want above 10 A", a)
	}
}

// Common practice, no source: 10 A refill 40 Ah in about four hours.
func TestTradeRefillFromTheWall(t *testing.T) {
	p := bench()
	p.Gear, p.Panels.List = nil, nil
	p.Case.Battery.CapacityAh = 40
	p.Trip.StartChargePct, p.Trip.LengthH = 0, 24
	p.Trip.WallHours = []plan.Window{{FromH: 0, ToH: 24}}
	o := mustRun(t, p)
	for _, e := range o.Events {
		if e.Kind == Full {
			if h := e.At.Sub(p.Trip.Start).Hours(); h < 3.9 || h > 4.4 {
				t.Errorf("full after %.2f h, want about 4 h", h)
			}
			return
		}
	}
	t.Error("never full")
}
