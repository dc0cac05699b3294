package outlook

import (
	"math"
	"math/rand/v2"
	"testing"

	"duskline/calc/plan"
)

// More light never harvests less while the battery has room.
func TestMoreSunNeverHarvestsLess(t *testing.T) {
	for _, kind := range []plan.ControllerKind{plan.PWM, plan.MPPT} {
		before := -1.0
		for index := 0.0; index <= 0.9; index += 0.05 {
			p := bench()
			p.Case.Controller.Kind, p.Case.Controller.LimitA = kind, 30
			p.Case.Battery.CapacityAh, p.Trip.StartChargePct = 500, 40
			p.Sky.ClearSkyIndex = []float64{index}
			got := float64(mustRun(t, p).Ledger.Sources[0].Energy)
			// A brighter sky is a hotter panel and a fuller battery: a part in
			// a thousand may go the other way.
			if got < before*0.999 {
				t.Errorf("%s: index %.2f harvests %.1f Wh, less than %.1f Wh before", kind, index, got, before)
			}
			before = got
		}
	}
}

// A finer step moves the result little: half the step under 0.5 points of
// charge at the end, a fifth of it under 1 point.
func TestHalfTheStepMovesTheResultLittle(t *testing.T) {
	p := bench()
	p.Case.Switch = plan.DCAndAC
	p.Gear = append(p.Gear, deviceOf24h(plan.RouteAC, 25))
	p.Sky.ClearSkyIndex = []float64{0.5}
	end := func(step int) float64 {
		p.Trip.StepMin = step
		c := mustRun(t, p).Series.Charge
		return 100 * float64(c[len(c)-1])
	}
	five := end(5)
	for step, limit := range map[int]float64{10: 0.5, 1: 0.5, 15: 1} {
		if d := math.Abs(end(step) - five); d > limit {
			t.Errorf("steps of %d min end %.3f points from steps of 5 min", step, d)
		} else {
			t.Logf("steps of %d min end %.4f points from steps of 5 min", step, d)
		}
	}
}

// Peak sun hours on level ground are what a level panel without losses in
// the model sees: the day's light sums to the figure.
func TestPeakSunHoursSumToTheFigure(t *testing.T) {
	p := bench()
	p.Sky.Light, p.Sky.ClearSkyIndex, p.Sky.PeakSunHours = plan.ByPeakSun, []float64{}, []float64{3.5}
	p.Panels.List = nil // the light is then that on level ground
	p.Trip.Start = p.Trip.Start.Add(6 * 3600e9)
	p.Trip.LengthH = 24
	o := mustRun(t, p)
	sum := 0.0
	for _, l := range o.Series.Light[1:] {
		sum += float64(l) * o.Series.Step.Hours() / 1000
	}
	if math.Abs(sum-3.5) > 0.01 {
		t.Errorf("the day sums to %.4f kWh/m², want 3.5", sum)
	}
}

// Four hundred random Plans, good ones by the reader's own rule: none
// crashes, none gives a number that is none, every Ledger closes.
func TestRandomPlansAreSound(t *testing.T) {
	r := rand.New(rand.NewPCG(20261125, 7))
	in := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	ran := 0
	for i := 0; i < 400; i++ {
		p := bench()
		if r.IntN(2) == 0 {
			agm(&p)
		}
		p.Case.Battery.CapacityAh = math.Exp(in(0, math.Log(400)))
		p.Case.Battery.ResistanceMohm = math.Exp(in(0, math.Log(300)))
		delay := func(most float64) float64 { return []float64{0, in(0, most)}[r.IntN(2)] }
		p.Case.Battery.CutoffDelayS, p.Case.Battery.AlarmDelayS, p.Case.Battery.ReconnectS = delay(600), delay(600), delay(7200)
		p.Case.InverterHours = []plan.Window{{FromH: in(0, 24), ToH: in(0, 24)}, {FromH: in(0, 24), ToH: in(0, 24)}}
		p.Case.Controller.Kind = []plan.ControllerKind{plan.PWM, plan.MPPT}[r.IntN(2)]
		p.Case.Switch = []plan.Switch{plan.DCOnly, plan.DCAndAC, plan.ACOnly}[r.IntN(3)]
		p.Trip.StartChargePct = []float64{0, 100, in(0, 100)}[r.IntN(3)]
		p.Trip.LengthH, p.Trip.StepMin = float64(6+r.IntN(90)), []int{1, 2, 3, 5, 10, 15}[r.IntN(6)]
		p.Sky.LatitudeDeg, p.Sky.LongitudeDeg = in(-90, 90), in(-180, 180)
		p.Sky.WarmestC = in(-30, 50)
		p.Sky.ColdestC = p.Sky.WarmestC - in(0, 18)
		p.Sky.ClearSkyIndex = []float64{in(0, 1.2), in(0, 1.2)}
		p.Panels.Joined = []plan.Joined{plan.SideBySide, plan.EndToEnd}[r.IntN(2)]
		p.Panels.List = append(p.Panels.List, plan.Panel{Name: "Second", Lie: plan.LieFixed, AimsPerDay: 1, Count: 1 + r.IntN(3), RatedW: in(5, 300),
			TiltDeg: in(0, 90), AzimuthDeg: in(0, 360), LossPct: in(0, 50)})
		for j := r.IntN(5); j > 0; j-- {
			d := deviceOf24h([]plan.Route{plan.RouteDC, plan.RouteUSB, plan.RouteAC}[r.IntN(3)], math.Exp(in(0, 6)))
			d.Hours = []plan.Window{{FromH: in(0, 24), ToH: in(0, 24)}}
			d.DutyPct, d.SurgeW = in(0, 100), in(0, 900)
			switch r.IntN(4) {
			case 0:
				d.PowerW, d.CurrentA = nil, ptr(in(0, 20))
			case 1:
				d.DutyAtC, d.InsideC = ptr(in(10, 40)), ptr(in(-10, 9))
			case 2:
				d.PowerW, d.RefillWh, d.RefillsPerDay, d.DutyPct = nil, ptr(in(0, 100)), in(0, 5), 100
			}
			p.Gear = append(p.Gear, d)
		}
		if r.IntN(2) == 0 {
			p.Trip.WallHours = []plan.Window{{FromH: in(0, 24), ToH: in(0, 24)}}
		}
		if f := plan.Check(neutral(p)); len(f) > 0 {
			t.Log(f)
			continue
		}
		ran++
		mustRun(t, p)
		if t.Failed() {
			t.Fatalf("plan %d: %+v", i, p)
		}
	}
	if ran < 300 {
		t.Errorf("only %d of 400 random plans were good ones", ran)
	}
}
