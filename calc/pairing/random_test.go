package pairing

import (
	"math/rand/v2"
	"testing"
	"time"

	"duskline/calc/plan"
)

// randomPlan is a sound plan of any kind, short so that many can be tried.
func randomPlan(r *rand.Rand) plan.Plan {
	pick := func(n int) int { return r.IntN(n) }
	p := plan.Blank("any", time.Date(2026, time.Month(1+pick(12)), 1+pick(28), pick(24), 0, 0, 0, time.FixedZone("", 3600*(pick(24)-11))))
	p.Trip.LengthH, p.Trip.StepMin, p.Trip.StartChargePct = float64(6+pick(60)), []int{5, 10, 15}[pick(3)], float64(pick(101))
	p.Sky.LatitudeDeg, p.Sky.ClearSkyIndex = float64(pick(181)-90), []float64{r.Float64(), 1.2 * r.Float64()}
	p.Sky.ColdestC = float64(pick(70) - 40)
	p.Sky.WarmestC = min(55, p.Sky.ColdestC+float64(pick(20)))
	p.Case.Battery.CapacityAh = []float64{7, 40, 200}[pick(3)]
	if pick(2) == 0 {
		p.Case.Battery.Chemistry = plan.AGM
		marks, _ := plan.UsualMarks(plan.AGM)
		p.Case.Battery.SetMarks(marks)
	}
	c := &p.Case.Controller
	c.Kind, c.LimitA, c.InputMaxV = []plan.ControllerKind{plan.PWM, plan.MPPT}[pick(2)], []float64{5, 10, 30}[pick(3)], []float64{25, 50, 100}[pick(3)]
	c.StartV = []float64{0, 0, 15, 24}[pick(4)]
	if pick(2) == 0 {
		p.Case.Vehicle = &plan.VehicleCharger{CurrentA: 8, EfficiencyPct: 88, SocketA: 10}
	}
	if pick(2) == 0 {
		p.Trip.GeneratorW = 100 + 900*r.Float64()
	}
	p.Trip.WallV = []float64{0, 120, 230, 264}[pick(4)]
	for range pick(3) {
		p.Gear = append(p.Gear, device(40*r.Float64(), plan.Window{FromH: float64(pick(12)), ToH: float64(13 + pick(11))}))
	}
	p.Panels.List = []plan.Panel{}
	p.Panels.Joined = []plan.Joined{plan.SideBySide, plan.EndToEnd, plan.InStrings}[pick(3)]
	p.Panels.BlockingV, p.Panels.CableM = 0.5*r.Float64(), 20*r.Float64()
	for range pick(4) {
		x := plan.NewPanel("x", float64(pick(91)), float64(pick(361)))
		x.RatedW, x.Count, x.String = float64(1+pick(200)), 1+pick(3), 1+pick(2)
		x.AgeYears, x.SeriesFuseA = float64(pick(30)), float64(pick(2)*15)
		if pick(3) == 0 {
			x.Technology, x.Back = plan.ThinFilm, plan.BackCovered
		}
		if pick(3) == 0 {
			x.ShadeHours, x.ShadedPct = []plan.Window{{FromH: 9, ToH: 14}}, float64(pick(101))
		}
		p.Panels.List = append(p.Panels.List, x)
	}
	switch pick(4) {
	case 0:
		p.Sky.Light, p.Sky.SkyStates = plan.BySkyStates, []plan.SkyState{plan.SkyHalfCloud, plan.SkyRain}
	case 1:
		p.Sky.Light, p.Sky.PeakSunHours = plan.ByPeakSun, []float64{0.2 + r.Float64()}
		if pick(2) == 0 {
			p.Sky.PeakSunOn = plan.OnPanels
		}
	}
	return p
}

// later says that a battery with charge in it takes longer than an empty one, by
// more than a day. Up to a day is right: an empty Case has its outlets cut off
// and draws less, which in weak sun decides whether an evening comes too soon.
func later(empty, now Hours, horizon float64) bool {
	return empty.Ok && empty.H <= horizon-24 && (!now.Ok || now.H > empty.H+24)
}

// Whatever the plan: no error, every figure a number, nothing dangerous
// recommended, and figures that fit together.
func TestAnyPlanGivesASoundLadder(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 12))
	plans := 60
	if testing.Short() {
		plans = 10
	}
	tried := 0
	for range plans {
		p := randomPlan(r)
		if plan.Check(p) != nil {
			continue // more peak sun than a winter's day has, and the like
		}
		tried++
		l := sound(t, p)
		for i, x := range append(l.Rungs[:len(l.Rungs):len(l.Rungs)], l.Owned...) {
			switch {
			case x.BackDays < 0 || x.BackDays > l.Days,
				x.LowestPct < 0 || x.LowestPct > p.Trip.StartChargePct+1e-6,
				x.FromEmpty.H > l.HorizonH, later(x.FromEmpty, x.FromNow, l.HorizonH),
				x.FromEmpty.Ok != (x.FullSunH > 0),
				x.ClippedWh < 0 || x.SpilledWh < 0 || x.PWMLossWh < 0 || x.HarvestWh < 0,
				x.PWMLossWh > 0 && p.Case.Controller.Kind == plan.MPPT,
				x.ClippedWh > 0 && p.Case.Controller.Kind == plan.PWM,
				x.MismatchW < 0 || x.MismatchW > x.SumW,
				(x.ColdV > x.LimitV) != has(x, OverVolts),
				x.FuseA > 0 && !x.Fuse:
				t.Fatalf("rung %d of %+v:\n%+v", i, p, x)
			}
		}
		for _, f := range l.Refill {
			if (f.FromEmpty.Ok || f.FromNow.Ok) && !f.There || later(f.FromEmpty, f.FromNow, l.HorizonH) {
				t.Fatalf("%+v of %+v", f, p)
			}
		}
		for _, m := range l.Mixes {
			if m.SideBySide.PanelW < 0 || m.EndToEnd.W > m.EndToEnd.PanelW || m.SideBySide.W > m.SideBySide.PanelW {
				t.Fatalf("%+v of %+v", m, p)
			}
		}
	}
	if tried < plans/2 {
		t.Errorf("only %d of %d plans are sound", tried, plans)
	}
}
