package pairing

import (
	"encoding/json"
	"errors"
	"math"
	"reflect"
	"slices"
	"testing"

	"duskline/calc/outlook"
	"duskline/calc/plan"
)

// Under a simple sky more watts never bring less, and never take longer.
func TestMoreWattsNeverBringLess(t *testing.T) {
	for _, kind := range []plan.ControllerKind{plan.PWM, plan.MPPT} {
		for _, start := range []float64{20, 60, 100} {
			p := camp()
			p.Case.Controller.Kind, p.Trip.StartChargePct = kind, start
			p.Sky.ClearSkyIndex = []float64{0.8}
			l := run(t, p)
			for i := 1; i < len(l.Rungs); i++ {
				a, b := l.Rungs[i-1], l.Rungs[i]
				// A Case that was cut off early rests at a little more than one that
				// came back for an hour: where it runs out the lowest says nothing.
				lower := b.LowestPct < a.LowestPct-1e-6 && a.Verdict != Verdict(outlook.RunsOut)
				if b.HarvestWh < a.HarvestWh*(1-1e-6) || lower || b.Verdict > a.Verdict {
					t.Errorf("%s from %g %%: %g W: %.2f Wh, %.1f %%, %v; %g W: %.2f Wh, %.1f %%, %v", kind, start,
						a.W, a.HarvestWh, a.LowestPct, a.Verdict, b.W, b.HarvestWh, b.LowestPct, b.Verdict)
				}
				for _, h := range [][2]Hours{{a.FromEmpty, b.FromEmpty}, {a.FromNow, b.FromNow}} {
					if h[0].Ok && (!h[1].Ok || h[1].H > h[0].H) {
						t.Errorf("%s from %g %%: %g W refills in %+v, %g W in %+v", kind, start, a.W, h[0], b.W, h[1])
					}
				}
			}
		}
	}
}

// mixed is a plan with three unlike kinds of panels, one of them twice.
func mixed() plan.Plan {
	p := camp()
	p.Case.Controller.Kind, p.Case.Controller.InputMaxV = plan.MPPT, 100
	a, b, c := plan.NewPanel("a", 30, 180), plan.NewPanel("b", 10, 200), plan.NewPanel("c", 50, 120)
	a.RatedW, b.RatedW, c.RatedW, c.Count = 60, 20, 40, 2
	c.ShadeHours, c.ShadedPct = []plan.Window{{FromH: 15, ToH: 17}}, 40
	p.Panels.List = []plan.Panel{a, b, c}
	p.Trip.LengthH = 48
	return p
}

// The order in which the panels stand in the plan moves no figure.
func TestOrderOfPanelsMovesNoFigure(t *testing.T) {
	p := mixed()
	l := run(t, p)
	order := []int{2, 0, 1}
	q := p
	q.Panels.List = nil
	for _, i := range order {
		q.Panels.List = append(q.Panels.List, p.Panels.List[i])
	}
	// Generic panels lie as the first: they are not of this test.
	m := run(t, q)
	if len(l.Owned) != len(m.Owned) || len(l.Mixes) != len(m.Mixes) {
		t.Fatalf("%d and %d rungs, %d and %d mixes", len(l.Owned), len(m.Owned), len(l.Mixes), len(m.Mixes))
	}
	back := func(kinds []int) []int {
		var out []int
		for _, k := range kinds {
			out = append(out, order[k])
		}
		slices.Sort(out)
		return out
	}
	near := func(a, b float64) bool { return math.Abs(a-b) <= 1e-6*math.Max(1, math.Abs(a)) }
	for _, r := range l.Owned {
		found := false
		for _, s := range m.Owned {
			if !slices.Equal(r.Kinds, back(s.Kinds)) || r.Panels.Joined != s.Panels.Joined || r.W != s.W || r.AsIs != s.AsIs {
				continue
			}
			found = true
			if !near(r.HarvestWh, s.HarvestWh) || !near(r.LowestPct, s.LowestPct) || !near(r.ColdV, s.ColdV) || !near(r.MismatchW, s.MismatchW) ||
				r.FromEmpty != s.FromEmpty || r.Verdict != s.Verdict || r.Fit != s.Fit || r.Strings != s.Strings {
				t.Errorf("%v %s:\n%+v\n%+v", r.Kinds, r.Panels.Joined, r, s)
			}
		}
		if !found {
			t.Errorf("%v %s is missing in the other order", r.Kinds, r.Panels.Joined)
		}
	}
	a, b := l.Owned[l.OwnedPack], m.Owned[m.OwnedPack]
	if !slices.Equal(a.Kinds, back(b.Kinds)) || a.Panels.Joined != b.Panels.Joined {
		t.Errorf("to pack of one's own: %v %s, and %v %s", a.Kinds, a.Panels.Joined, back(b.Kinds), b.Panels.Joined)
	}
}

func TestRunIsTheSameTwice(t *testing.T) {
	if a, b := run(t, mixed()), run(t, mixed()); !reflect.DeepEqual(a, b) {
		t.Error("two runs of one plan differ")
	}
}

// Run leaves the plan as it was, with the lists in it.
func TestRunLeavesThePlan(t *testing.T) {
	p := mixed()
	before, _ := json.Marshal(p)
	run(t, p)
	if after, _ := json.Marshal(p); string(after) != string(before) {
		t.Error("the plan has changed")
	}
}

func TestRunTellsHowFarItIsAndStops(t *testing.T) {
	var shares []float64
	if _, err := Run(mixed(), func(s float64) bool { shares = append(shares, s); return true }); err != nil {
		t.Fatal(err)
	}
	if !slices.IsSorted(shares) || shares[0] <= 0 || shares[len(shares)-1] != 1 || len(shares) < len(generic)+7 {
		t.Errorf("shares %v", shares)
	}
	for stop := range shares {
		n := 0
		l, err := Run(mixed(), func(float64) bool { n++; return n <= stop })
		if l != nil || !errors.Is(err, ErrStopped) || n != stop+1 {
			t.Fatalf("stopped at %d: %v, %v, asked %d times", stop, l, err, n)
		}
	}
}

// A ladder is written and read back by encoding/json, as it goes through a
// worker.
func TestLadderGoesThroughJSON(t *testing.T) {
	for _, p := range []plan.Plan{mixed(), camp()} {
		l := run(t, p)
		data, err := json.Marshal(l)
		if err != nil {
			t.Fatal(err)
		}
		var back Ladder
		if err := json.Unmarshal(data, &back); err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(*l, back) {
			t.Error("it comes back changed")
		}
	}
	var v Verdict
	if err := v.UnmarshalText([]byte("maybe")); !errors.Is(err, ErrWord) {
		t.Errorf("got %v", err)
	}
}

// Every figure of a rung is a number, whatever the plan.
func finite(t *testing.T, v reflect.Value, name string) {
	switch v.Kind() {
	case reflect.Float64:
		if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			t.Errorf("%s is %g", name, x)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			finite(t, v.Field(i), name+"."+v.Type().Field(i).Name)
		}
	case reflect.Slice:
		for i := range v.Len() {
			finite(t, v.Index(i), name)
		}
	case reflect.Pointer:
		if !v.IsNil() && v.Elem().Kind() == reflect.Struct {
			finite(t, v.Elem(), name)
		}
	}
}

// What is gravest is told first, and decides the fit; each reason has the
// numbers that its code names.
func TestReasonsAreInOrder(t *testing.T) {
	p := mixed()
	p.Case.Controller.Kind, p.Case.Controller.InputMaxV = plan.PWM, 40
	l := run(t, p)
	seen := map[Code]bool{}
	for _, r := range append(slices.Clone(l.Rungs), l.Owned...) {
		fit := Fits
		for i, x := range r.Reasons {
			seen[x.Code] = true
			if i == 0 {
				fit = x.Fit
			} else if x.Fit.rank() > r.Reasons[i-1].Fit.rank() {
				t.Errorf("%g W: %s behind a milder one", r.W, x.Code)
			}
			if !slices.Contains(Codes, x.Code) || len(x.Values) == 0 {
				t.Errorf("%g W: %+v", r.W, x)
			}
		}
		if fit != r.Fit {
			t.Errorf("%g W: fit %s, reasons %+v", r.W, r.Fit, r.Reasons)
		}
	}
	for _, c := range []Code{OverVolts, OverAmps, Mismatch, ThrownAway, RunsOut, NotBack} {
		if !seen[c] {
			t.Errorf("nowhere %s", c)
		}
	}
}
