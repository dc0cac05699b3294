package plan

import (
	"math"
	"slices"
	"testing"
	"time"

	"duskline/calc/battery"
	"duskline/calc/golden"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// kindOf puts a chemistry with its usual marks into a plan.
func kindOf(c Chemistry) Plan {
	p := blank()
	b := &p.Case.Battery
	b.Chemistry = c
	m, _ := UsualMarks(c)
	b.SetMarks(m)
	return p
}

// ownPlan has the own table that starts from a chemistry.
func ownPlan(t *testing.T, from Chemistry) Plan {
	t.Helper()
	p := blank()
	b := &p.Case.Battery
	o, ok := OwnOf(from)
	if !ok {
		t.Fatal(from)
	}
	b.Chemistry, b.Own = Own, &o
	// A table of few rows, whose places the tests name.
	o.Rest = slices.DeleteFunc(o.Rest, func(r OwnPoint) bool {
		return slices.Contains([]float64{1, 2, 3, 98, 99}, r.ChargePct)
	})
	m, ok := b.UsualMarks()
	if !ok {
		t.Fatalf("%s: the own table has no marks: %+v", from, m)
	}
	b.SetMarks(m)
	return p
}

// Every figure of version 4 arrives at its model, in the model's unit.
func TestBatteryFiguresReachTheirModels(t *testing.T) {
	p := full()
	b := p.Case.Battery
	m, err := b.Model()
	if err != nil {
		t.Fatal(err)
	}
	s := m.Spec()
	same := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
			t.Errorf("%s: %g, want %g", what, got, want)
		}
	}
	same("rated hours", s.RatedHours, 5)
	same("exponent", s.Peukert, 1.05)
	same("health", float64(s.Health), 0.91)
	same("growth", s.Growth, 1.09)
	same("heat, J/K", s.HeatCapacity, 6000)
	same("cooling, W/K", s.Cooling, 0.8)
	if s.NoChargeBelow == nil || s.SelfDischarge == nil {
		t.Fatal("the overrides are lost")
	}
	same("no charge below, °C", float64(*s.NoChargeBelow), -5)
	same("self-discharge", float64(*s.SelfDischarge), 0.025)

	c := s.Chemistry
	if c.Name != "own" || len(c.Rest) != len(b.Own.Rest) || !c.Lithium || c.AcceptHours != 0.25 {
		t.Errorf("%+v", c)
	}
	same("swing, whole battery, V", float64(c.Swing)*float64(c.Cells), 0.04)
	same("coulombic", c.CoulombicAt(0.5), b.Own.CoulombicPct/100)
	for i, r := range b.Own.Rest {
		same("charge of a row", float64(c.Rest[i].Charge), r.ChargePct/100)
		same("volts of a row", float64(c.Rest[i].Volts), r.Volts)
	}
	if want := battery.OwnLife(3000, true); c.Life != want {
		t.Errorf("life %+v, want %+v", c.Life, want)
	}

	if got, want := b.Use(), (battery.Use{Years: 2.5, Kept: 15, KeptAt: 0.6, Cycles: 120, Depth: 0.5, Rate: 0.2, During: 25}); got != want {
		t.Errorf("use %+v, want %+v", got, want)
	}
	want := battery.GuardSpec{On: true, OverV: 14.8, OverBack: 14, UnderV: 10, UnderBack: 11.6, VoltsDelay: 2 * time.Second,
		ChargeA: 40, DischargeA: 80, AmpsDelay: 10 * time.Second, ChargeCold: 1, ChargeHot: 50, DischargeCold: -20, DischargeHot: 60,
		HotBack: 3, Release: 5 * time.Second}
	if got := b.Guard(); got != want {
		t.Errorf("guard %+v, want %+v", got, want)
	}
}

// A blank plan's battery is new, unprotected and as its chemistry is.
func TestBlankBatteryIsNew(t *testing.T) {
	b := blank().Case.Battery
	m, err := b.Model()
	if err != nil {
		t.Fatal(err)
	}
	s := m.Spec()
	if s.Health != 1 || s.Growth != 1 || s.Peukert != 0 || s.RatedHours != 20 || s.HeatCapacity != 0 || s.Cooling != 0 || s.NoChargeBelow != nil || s.SelfDischarge != nil {
		t.Errorf("%+v", s)
	}
	if b.Guard() != (battery.GuardSpec{}) || blank().Case.Stands != Shade {
		t.Error("not neutral")
	}
}

// By hand, from the law that calc/battery states for lead-acid: a fifth of the
// capacity in 4 to 8 years at 25 °C, common practice, and half as long for 10 K
// more; in the middle of the band.
func TestAgedBatteryHoldsLess(t *testing.T) {
	p := kindOf(AGM)
	b := &p.Case.Battery
	b.AgeYears, b.KeptC = 2, 35
	left, growth, err := b.Health()
	if err != nil {
		t.Fatal(err)
	}
	loss := 2 * 2 * (0.2/4 + 0.2/8) / 2
	golden.Near(t, "left", float64(left), 1-loss, 6)
	golden.Near(t, "resistance", growth, 1+battery.LeadAcidLife.OhmsPerLoss*loss, 6)
	m, err := b.Model()
	if err != nil {
		t.Fatal(err)
	}
	golden.Near(t, "health handed on", float64(m.Spec().Health), 1-loss, 6)
	golden.Near(t, "growth handed on", m.Spec().Growth, growth, 6)

	b.HealthPct = ptr(60) // measured: counts instead
	if left, growth, err = b.Health(); left != 0.6 || math.Abs(growth-2) > 1e-12 || err != nil {
		t.Errorf("%g %g %v", left, growth, err)
	}
	// What was measured is never worn out.
	b.AgeYears, b.Cycles = 30, 20000
	if faults := both(t, p); faults != nil {
		t.Error(faults)
	}
}

// The chemistries of the document, of the battery and of the chargers are the
// same; of a table of one's own chargers know nothing.
func TestEveryChemistryIsKnownToItsModels(t *testing.T) {
	words, _ := Choices("/case/battery/chemistry")
	chargers := map[power.Chemistry]bool{}
	for _, w := range words {
		c := Chemistry(w)
		charger, ok := c.Charging()
		if c == Own {
			if ok {
				t.Error("a charger knows an own table")
			}
			continue
		}
		kind, err := Battery{Chemistry: c}.Kind()
		if err != nil || kind.Name != w || !ok {
			t.Errorf("%s is %q to the battery, known to chargers: %v (%v)", w, kind.Name, ok, err)
		}
		if kind.Lithium != charger.Lithium() || kind.Lithium != (Battery{Chemistry: c}).Lithium() {
			t.Errorf("%s: lithium is %v, %v, %v", w, kind.Lithium, charger.Lithium(), Battery{Chemistry: c}.Lithium())
		}
		chargers[charger] = true
		// The usual stages pass beside the usual marks.
		st, _ := power.StagesFor(charger)
		p := kindOf(c)
		b := &p.Case.Battery
		b.ChargeV, b.AbsorptionH, b.FloatV, b.ResumeV = float64(st.Absorb), st.Hours, float64(st.Float), float64(st.Resume)
		b.AfterFull, b.CompensationMVPerK = AfterFloat, 1000*st.Compensation
		if st.After == power.Rest {
			b.AfterFull = AfterRest
		}
		if faults := both(t, p); faults != nil {
			t.Errorf("%s: the usual stages: %v", w, faults)
		}
	}
	if len(words) != len(battery.Named())+1 || len(chargers) != len(words)-1 {
		t.Errorf("%q; %d chemistries have names, chargers tell %d apart", words, len(battery.Named()), len(chargers))
	}
}

// An own table that starts from a chemistry rests as that does, at its rows,
// and has marks that pass, as has the protection that is usual.
func TestOwnTableStartsFromAChemistry(t *testing.T) {
	for _, kind := range battery.Named() {
		c := Chemistry(kind.Name)
		p := ownPlan(t, c)
		b := &p.Case.Battery
		if faults := both(t, p); faults != nil {
			t.Errorf("%s: %v", c, faults)
			continue
		}
		own, err := b.Model()
		if err != nil {
			t.Fatal(err)
		}
		named, err := kindOf(c).Case.Battery.Model()
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range b.Own.Rest {
			if got, want := own.Rest(qty.Fraction(r.ChargePct/100)), named.Rest(qty.Fraction(r.ChargePct/100)); math.Abs(float64(got-want)) > 0.00051 {
				t.Errorf("%s at %g %%: rests at %g V, want %g V", c, r.ChargePct, got, want)
			}
		}
		for _, q := range []Plan{p, kindOf(c)} {
			guard, ok := UsualProtection(c, 1000)
			if !ok {
				t.Fatal(c)
			}
			q.Case.Battery.Protection = &guard
			if faults := both(t, q); faults != nil {
				t.Errorf("%s with its protection: %v", c, faults)
			}
			if guard.OverV <= q.Case.Battery.ChargeV {
				t.Errorf("%s: charging stops at %g V, its protection acts at %g V", c, q.Case.Battery.ChargeV, guard.OverV)
			}
			if guard.UnderV >= q.Case.Battery.CutoffV {
				t.Errorf("%s: cut-off at %g V, its protection acts at %g V", c, q.Case.Battery.CutoffV, guard.UnderV)
			}
		}
	}
	for _, c := range []Chemistry{Own, "wood"} {
		if _, ok := OwnOf(c); ok {
			t.Errorf("a table of %s", c)
		}
		if _, ok := UsualProtection(c, 40); ok {
			t.Errorf("a protection of %s", c)
		}
	}
	flat := blank().Case.Battery
	flat.Chemistry, flat.Own = Own, &OwnBattery{Rest: []OwnPoint{{0, 12.8}, {100, 12.81}}, Lithium: true}
	if m, ok := flat.UsualMarks(); ok {
		t.Errorf("a flat table has marks: %+v", m)
	}
}
