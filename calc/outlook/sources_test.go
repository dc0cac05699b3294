package outlook

import (
	"math"
	"math/rand/v2"
	"testing"

	"duskline/calc/plan"
	"duskline/calc/qty"
)

// source returns a source of the Ledger by its name, and whether it has one.
func source(o *Outlook, name FlowName) (qty.WattHour, bool) {
	for _, f := range o.Ledger.Sources {
		if f.Name == name {
			return f.Energy, true
		}
	}
	return 0, false
}

// An hour of engine puts the vehicle charger's amps in, and takes from the
// vehicle what its efficiency makes of them. A Plan without a vehicle has no
// such line.
func TestVehicleByHand(t *testing.T) {
	p := bench()
	p.Gear, p.Panels.List, p.Trip.StartChargePct = nil, nil, 50
	if _, ok := source(mustRun(t, p), VehicleFlow); ok {
		t.Error("a Plan without a vehicle charger has a vehicle in its ledger")
	}
	p.Case.Vehicle = &plan.VehicleCharger{CurrentA: 8, EfficiencyPct: 80, SocketA: 15}
	p.Trip.EngineHours = []plan.Window{{FromH: 9.5, ToH: 10.5}}
	o := mustRun(t, p) // two mornings
	if got := ampHoursIn(o); math.Abs(got-16) > 1e-6 {
		t.Errorf("8 A for two hours: %.4f Ah", got)
	}
	var battery float64
	for i, a := range o.Series.AmpsIn {
		battery += float64(a) * float64(o.Series.Volts[i]) * o.Series.Step.Hours()
	}
	got, _ := source(o, VehicleFlow)
	if math.Abs(float64(got)/(battery/0.8)-1) > 1e-3 {
		t.Errorf("%.2f Wh from the vehicle, %.2f Wh at 80 %% to the battery", got, battery)
	}
	for _, f := range o.Ledger.Losses {
		if f.Name == VehicleLoss && math.Abs(float64(f.Energy)/(0.2*float64(got))-1) > 1e-9 {
			t.Errorf("lost %.3f Wh of %.3f Wh", f.Energy, got)
		}
	}
}

// In hours of both, the charger hangs on the wall; in others on the generator.
// A generator that is too small, or mains that do not fit, give nothing.
func TestGeneratorAndWallShareTheCharger(t *testing.T) {
	p := bench()
	p.Gear, p.Panels.List, p.Trip.StartChargePct, p.Case.Battery.CapacityAh = nil, nil, 10, 300
	p.Trip.WallHours, p.Trip.GeneratorHours = []plan.Window{{FromH: 9, ToH: 11}}, []plan.Window{{FromH: 10, ToH: 14}}
	p.Trip.GeneratorW = 250
	o := mustRun(t, p)
	wall, _ := source(o, WallFlow)
	generator, _ := source(o, GeneratorFlow)
	if math.Abs(ampHoursIn(o)-2*5*10) > 1e-6 || math.Abs(float64(generator/wall)-1.5) > 0.01 {
		t.Errorf("%.2f Ah, %.1f Wh from the wall in two hours, %.1f Wh from the generator in three", ampHoursIn(o), wall, generator)
	}
	p.Trip.GeneratorW = 200
	if o = mustRun(t, p); math.Abs(ampHoursIn(o)-2*2*10) > 1e-6 {
		t.Errorf("a generator that is too small: %.2f Ah", ampHoursIn(o))
	}
	p.Trip.GeneratorW, p.Trip.WallV, p.Case.WallCharger.InputMaxV = 250, 230, 127
	if o = mustRun(t, p); math.Abs(ampHoursIn(o)-2*4*10) > 1e-6 {
		t.Errorf("mains that do not fit: %.2f Ah", ampHoursIn(o))
	}
	if wall, _ = source(o, WallFlow); wall != 0 {
		t.Errorf("%.2f Wh from mains that do not fit", wall)
	}
	p.Case.WallCharger.CurrentA = 0
	if o = mustRun(t, p); ampHoursIn(o) != 0 {
		t.Errorf("%.2f Ah without a charger", ampHoursIn(o))
	}
}

// A controller that draws less at night saves the difference for as long as it
// is dark: as many hours as the sun is down, and no more.
func TestNightDrawByHand(t *testing.T) {
	p := bench()
	p.Gear, p.Case.Battery.CapacityAh, p.Trip.StartChargePct = nil, 300, 50
	p.Trip.StepMin = 1
	p.Case.Controller.StandbyA, p.Case.Controller.NightA = 0.5, ptr(0.5)
	plain := mustRun(t, p)
	p.Case.Controller.NightA = ptr(0.1)
	o := mustRun(t, p)
	dark, saved := 0.0, 0.0
	for i := range o.Series.AmpsOut {
		saved += float64(plain.Series.AmpsOut[i]-o.Series.AmpsOut[i]) * o.Series.Step.Hours()
		if i > 0 && o.Series.Light[i] == 0 {
			dark += o.Series.Step.Hours()
		}
	}
	if math.Abs(saved-0.4*dark) > 1e-6 || dark < 17 || dark > 19 {
		t.Errorf("%.4f Ah saved in %.2f h of two nights", saved, dark)
	}
	if o.Figures.NoSun <= plain.Figures.NoSun {
		t.Errorf("without sun %v, with more draw at night %v", o.Figures.NoSun, plain.Figures.NoSun)
	}
}

// Sun taken and not taken together are the same with a full battery and with
// an empty one, clipped or not, though the converter loses a part that is there
// at any load: that part counts once.
func TestSunTakenAndNotTakenWithALossAtAnyLoad(t *testing.T) {
	sum := func(start, limit float64) float64 {
		p := bench()
		p.Gear, p.Trip.StartChargePct, p.Case.Battery.CapacityAh = []plan.Device{deviceOf24h(plan.RouteDC, 25)}, start, 500
		p.Case.Controller.LimitA, p.Case.Controller.EfficiencyPct, p.Case.Controller.EfficiencyLowPct = limit, 90, ptr(65)
		p.Sky.ColdestC = p.Sky.WarmestC
		p.Gear[0].Hours = []plan.Window{{FromH: 8, ToH: 18}}
		o := mustRun(t, p)
		return float64(o.Ledger.Sources[0].Energy + o.Ledger.NotTaken)
	}
	all := sum(20, 8)
	if got := sum(100, 8); math.Abs(got/all-1) > 2e-3 {
		t.Errorf("a full battery: %.2f Wh, want %.2f Wh", got, all)
	}
}

// The higher the start volts, the less sun; those of a panel's own open circuit
// leave nothing, and the controller then draws as in the dark.
func TestStartVolts(t *testing.T) {
	p := bench()
	p.Gear, p.Case.Battery.CapacityAh, p.Trip.StartChargePct = nil, 300, 50
	p.Case.Controller.NightA = ptr(0)
	before := math.Inf(1)
	for _, v := range []float64{0, 10, 15, 19, 20, 24} {
		p.Case.Controller.StartV = v
		o := mustRun(t, p)
		got, _ := source(o, SunFlow)
		if float64(got) > before {
			t.Errorf("starting at %g V brings %.2f Wh, less volts %.2f Wh", v, got, before)
		}
		before = float64(got)
		if v == 24 && (got != 0 || o.Series.AmpsOut[200] != o.Series.AmpsOut[20]) {
			t.Errorf("a panel of 22 V gives %.2f Wh to a controller that starts at 24 V", got)
		}
	}
}

// Four hundred random Cases with everything that may charge and everything
// that the inverter may do: none crashes, every Ledger closes, no event is out
// of order, nothing comes in while charging rests.
func TestRandomCasesAreSound(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 2026))
	in := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	maybe := func(v float64) *float64 {
		if r.IntN(2) == 0 {
			return nil
		}
		return &v
	}
	hours := func() (list []plan.Window) {
		for range r.IntN(3) {
			list = append(list, plan.Window{FromH: in(0, 24), ToH: in(0, 24)})
		}
		return list
	}
	pick := func(list ...string) string { return list[r.IntN(len(list))] }
	ran, seen := 0, map[EventKind]int{}
	for i := range 400 {
		p := bench()
		if r.IntN(2) == 0 {
			agm(&p)
		}
		b := &p.Case.Battery
		b.CapacityAh, b.ResistanceMohm = math.Exp(in(1, 5)), math.Exp(in(1, 5))
		b.AfterFull, b.AbsorptionH = plan.AfterFull(pick("hold", "float", "rest")), []float64{0, in(0, 3)}[r.IntN(2)]
		b.FloatV, b.ResumeV = in(13.2, 14.2), in(12, 13.2)
		if b.Chemistry == plan.AGM {
			b.CompensationMVPerK = -in(0, 60)
		}
		c := &p.Case.Controller
		c.Kind = plan.ControllerKind(pick("PWM", "MPPT"))
		c.NightA, c.StartV = maybe(in(0, 0.5)), []float64{0, in(5, 30)}[r.IntN(2)]
		if c.Kind == plan.MPPT {
			c.EfficiencyLowPct = maybe(in(85, 98))
		}
		if r.IntN(2) == 0 {
			p.Case.Vehicle = &plan.VehicleCharger{CurrentA: in(0.5, 40), EfficiencyPct: in(50, 100), SocketA: in(0, 30)}
		}
		p.Trip.WallHours, p.Trip.EngineHours, p.Trip.GeneratorHours = hours(), hours(), hours()
		p.Trip.GeneratorW, p.Trip.WallV = []float64{0, in(100, 600)}[r.IntN(2)], []float64{0, 120, 230}[r.IntN(3)]
		p.Case.WallCharger.CurrentA, p.Case.WallCharger.InputMaxV = in(0, 30), []float64{127, 240}[r.IntN(2)]
		v := &p.Case.Inverter
		v.Wave, v.PulseDeg = plan.Wave(pick("pure_sine", "modified_sine")), in(60, 180)
		if r.IntN(2) == 0 {
			v.SleepA, v.WakeW = ptr(in(0, 0.5)), in(1, 60)
		}
		if r.IntN(2) == 0 {
			v.LowCutoffV = in(11, 12.8)
			v.LowReconnectV = v.LowCutoffV + in(0.1, 1)
		}
		v.EfficiencyHalfPct, v.SurgeS = maybe(in(88, 89)), in(0, 3)
		p.Case.Switch = plan.Switch(pick("dc_only", "dc_and_ac", "dc_and_ac", "ac_only"))
		p.Case.InverterHours = append(hours(), plan.Window{FromH: 0, ToH: 12})
		p.Sky.WarmestC = in(-10, 45)
		p.Sky.ColdestC = p.Sky.WarmestC - in(0, 18)
		p.Sky.ClearSkyIndex = []float64{in(0.2, 1), in(0.2, 1)}
		p.Trip.StartChargePct, p.Trip.StepMin = in(5, 100), []int{1, 5, 15}[r.IntN(3)]
		for range r.IntN(5) {
			d := deviceOf24h(plan.Route(pick("dc", "usb", "ac", "ac", "ac")), math.Exp(in(0, 5)))
			d.Hours, d.DutyPct = append(hours(), plan.Window{FromH: in(0, 24), ToH: in(0, 24)}), []float64{100, in(0, 100)}[r.IntN(2)]
			d.PowerFactor, d.SurgeW, d.SurgeS = in(0.4, 1), in(0, 700), in(0, 4)
			d.Sensitivity = plan.Sensitivity(pick("unsaid", "resistive", "universal_motor", "induction_motor", "clock", "charger", "medical", "audio"))
			p.Gear = append(p.Gear, d)
		}
		if f := plan.Check(neutral(p)); len(f) > 0 {
			t.Log(f)
			continue
		}
		ran++
		o := mustRun(t, p)
		for _, e := range o.Events {
			seen[e.Kind]++
		}
		for _, list := range [][]Flow{o.Ledger.Uses} {
			for k, f := range list {
				if asked := float64(o.Figures.DeviceADay[k]) * p.Trip.LengthH / 24; float64(f.Energy) > asked*(1+1e-9)+1e-9 {
					t.Errorf("device %d gets %g Wh and asks for %g Wh", k, f.Energy, asked)
				}
			}
		}
		if t.Failed() {
			t.Fatalf("plan %d: %+v", i, p)
		}
	}
	t.Logf("%d plans, events %v", ran, seen)
	if ran < 300 {
		t.Errorf("only %d of 400 random plans were good ones", ran)
	}
	for _, k := range []EventKind{Float, Resting, ChargesAgain, InverterLow, InverterBack, Overload, Full, CutOff} {
		if seen[k] == 0 {
			t.Errorf("no plan has a %s", k)
		}
	}
}
