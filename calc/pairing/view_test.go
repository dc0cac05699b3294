package pairing

import (
	"math"
	"testing"

	"duskline/calc/plan"
	"duskline/calc/power"
)

func viewOf(t *testing.T, p plan.Plan) *View {
	t.Helper()
	if faults := plan.Check(p); faults != nil {
		t.Fatal(faults)
	}
	w, err := NewView(p)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// The picture at every hour of a day: curves that fall, the best point on top
// of all, the working point on the curve.
func TestViewIsConsistent(t *testing.T) {
	for _, kind := range []plan.ControllerKind{plan.PWM, plan.MPPT} {
		p := mixed()
		p.Case.Controller.Kind, p.Case.Controller.LimitA = kind, 6
		w := viewOf(t, p)
		lit, clipped := 0, 0
		for after := 0.0; after <= w.Length(); after += 1800 {
			iv := w.At(after)
			if !iv.Lit {
				if iv.Charging || iv.Best != (Point{}) || len(iv.Joined.Points) != 0 {
					t.Errorf("dark at %g s: %+v", after, iv)
				}
				continue
			}
			lit++
			if len(iv.Kinds) != 3 || len(iv.CellC) != 3 || iv.Light <= 0 || iv.BatteryV < 9 {
				t.Fatalf("at %g s: %d kinds, %v °C, %g W/m², %g V", after, len(iv.Kinds), iv.CellC, iv.Light, iv.BatteryV)
			}
			for _, c := range append(iv.Kinds, iv.Joined) {
				for k, q := range c.Points {
					if k > 0 && (q.V < c.Points[k-1].V || q.A > c.Points[k-1].A+1e-9) || q.A < 0 || math.IsNaN(q.A) {
						t.Fatalf("at %g s, kind %d: point %d is %+v", after, c.Kind, k, q)
					}
					if c.Kind < 0 && q.V*q.A > iv.BestW*(1+1e-9) {
						t.Errorf("at %g s: %g W at %g V, best %g W", after, q.V*q.A, q.V, iv.BestW)
					}
				}
			}
			if !iv.Charging {
				continue
			}
			if iv.WorkW > iv.BestW*(1+1e-9) || iv.IntoW > iv.WorkW*(1+1e-6) {
				t.Errorf("at %g s: works at %g W of %g W, %g W into the battery", after, iv.WorkW, iv.BestW, iv.IntoW)
			}
			switch {
			case kind == plan.PWM && math.Abs(iv.Work.V-iv.BatteryV-float64(power.SwitchDrop)) > 1e-9:
				t.Errorf("at %g s: PWM works at %g V, battery %g V", after, iv.Work.V, iv.BatteryV)
			case iv.Clipped:
				clipped++
				if math.Abs(iv.IntoA-6) > 1e-9 || iv.Work.V <= iv.Best.V || math.Abs(iv.WorkW*0.96-iv.IntoW) > 1e-3 {
					t.Errorf("at %g s: clipped to %g A, %+v", after, iv.IntoA, iv.Work)
				}
			case kind == plan.MPPT && iv.Work != iv.Best:
				t.Errorf("at %g s: MPPT works at %+v, best is %+v", after, iv.Work, iv.Best)
			}
		}
		if lit < 20 || kind == plan.MPPT && clipped == 0 {
			t.Errorf("%s: lit %d times, clipped %d", kind, lit, clipped)
		}
	}
}

// One panel alone is its own picture; no panels, none.
func TestViewOfOnePanelAndOfNone(t *testing.T) {
	p := camp()
	noon := viewOf(t, p).At(5 * 3600)
	if !noon.Lit || len(noon.Kinds) != 0 || !noon.Charging {
		t.Errorf("%+v", noon)
	}
	p.Panels.List = []plan.Panel{}
	if iv := viewOf(t, p).At(5 * 3600); iv.Lit || iv.BatteryV < 9 {
		t.Errorf("%+v", iv)
	}
}

// A panel whose volts are too low has a best point, and works nowhere.
func TestViewOfAPanelTooLow(t *testing.T) {
	p := camp()
	p.Panels.List = []plan.Panel{generic100(18, 2)}
	if iv := viewOf(t, p).At(5 * 3600); !iv.Lit || iv.Charging || iv.WorkW != 0 || iv.BestW < 30 {
		t.Errorf("18 cells at noon: %+v", iv)
	}
}
