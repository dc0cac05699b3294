package plan

import (
	"bytes"
	"math"
	"reflect"
	"strings"
	"testing"
	"time"

	"duskline/calc/battery"
	"duskline/calc/golden"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// both returns what Check says of a plan and what Read says of its document,
// which must be the same but for the lines.
func both(t *testing.T, p Plan) Faults {
	t.Helper()
	memory := Check(p)
	var b bytes.Buffer
	write(&b, &document, &p, "\n")
	_, err := Read(b.Bytes())
	read, _ := err.(Faults)
	for i := range read {
		if read[i].Line < 2 {
			t.Errorf("line %d: %v", read[i].Line, read[i])
		}
		read[i].Line = 0
	}
	if !(len(memory) == 0 && len(read) == 0) && !reflect.DeepEqual(memory, read) {
		t.Errorf("Check says %v\nRead says %v", memory, read)
	}
	return memory
}

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
	m, ok := b.UsualMarks()
	if !ok {
		t.Fatalf("%s: the own table has no marks: %+v", from, m)
	}
	b.SetMarks(m)
	return p
}

// Each slip of a battery says what is wrong, where, and what is allowed. All
// limits are those of the table and of the relations; volts at rest are the
// chemistry's own.
func TestBatteryFaultsNameWhatIsAllowed(t *testing.T) {
	const at = "/case/battery/"
	full := func(c Chemistry) float64 {
		m, err := kindOf(c).Case.Battery.Model()
		if err != nil {
			t.Fatal(err)
		}
		return float64(m.Rest(0.99))
	}
	protected := func(edit func(*Protection)) func(*Battery) {
		return func(b *Battery) {
			q, _ := UsualProtection(LiFePO4, 40)
			edit(&q)
			b.Protection = &q
		}
	}
	row := func(i int, pct, volts float64) func(*Battery) {
		return func(b *Battery) { b.Own.Rest[i] = OwnPoint{pct, volts} }
	}
	before, _ := OwnOf(LiFePO4)
	for what, c := range map[string]struct {
		p    Plan
		edit func(*Battery)
		want Fault
	}{
		"capacity 0": {blank(), func(b *Battery) { b.CapacityAh = 0 },
			Fault{Pointer: at + "capacity_Ah", Kind: OutOfRange, Found: "0", Min: 1, Max: 1000, Unit: "Ah"}},
		"alarm and cut-off reversed": {blank(), func(b *Battery) { b.AlarmV, b.CutoffV = 11, 12 },
			Fault{Pointer: at + "alarm_V", Kind: NotAbove, Found: "11", Min: 12, Unit: "V", Other: at + "cutoff_V"}},
		"alarm at the charge volts": {kindOf(NMC), func(b *Battery) { b.AlarmV = 12.6 },
			Fault{Pointer: at + "alarm_V", Kind: NotBelow, Found: "12.6", Max: 12.6, Unit: "V", Other: at + "charge_V"}},
		"alarm above full": {kindOf(LiFePO4), func(b *Battery) { b.AlarmV = 14 },
			Fault{Pointer: at + "alarm_V", Kind: NeverRests, Found: "14", Max: full(LiFePO4), Unit: "V", Other: at + "chemistry"}},
		"alarm above full, flooded": {kindOf(Flooded), func(b *Battery) { b.AlarmV = 13 },
			Fault{Pointer: at + "alarm_V", Kind: NeverRests, Found: "13", Max: full(Flooded), Unit: "V", Other: at + "chemistry"}},
		"kept at -60 °C": {blank(), func(b *Battery) { b.KeptC = -60 },
			Fault{Pointer: at + "kept_C", Kind: OutOfRange, Found: "-60", Min: -20, Max: 60, Unit: "°C"}},
		"kept at 90 °C": {blank(), func(b *Battery) { b.KeptC = 90 },
			Fault{Pointer: at + "kept_C", Kind: OutOfRange, Found: "90", Min: -20, Max: 60, Unit: "°C"}},
		"charge from -60 °C": {blank(), func(b *Battery) { b.NoChargeBelowC = ptr(-60) },
			Fault{Pointer: at + "no_charge_below_C", Kind: OutOfRange, Found: "-60", Min: -40, Max: 20, Unit: "°C"}},
		"hot at 91 °C": {blank(), protected(func(q *Protection) { q.ChargeHotC = 91 }),
			Fault{Pointer: at + "protection/charge_hot_C", Kind: OutOfRange, Found: "91", Min: 30, Max: 90, Unit: "°C"}},
		"cold above the heat": {blank(), protected(func(q *Protection) { q.ChargeColdC = 31 }),
			Fault{Pointer: at + "protection/charge_cold_C", Kind: OutOfRange, Found: "31", Min: -40, Max: 20, Unit: "°C"}},
		"charge volts of lithium on NMC": {kindOf(NMC), func(b *Battery) { b.ChargeV = 14.4 },
			Fault{Pointer: at + "charge_V", Kind: OutOfBand, Found: "14.4", Min: 11.1, Max: 12.9, Unit: "V", Allowed: []string{"12.3", "12.6"}, Other: at + "chemistry"}},
		"charge volts of NMC on LiFePO4": {blank(), func(b *Battery) { b.ChargeV, b.ReconnectV = 12.6, 12.5 },
			Fault{Pointer: at + "charge_V", Kind: OutOfBand, Found: "12.6", Min: 13, Max: 15, Unit: "V", Allowed: []string{"14.2", "14.6"}, Other: at + "chemistry"}},
		"own row that falls": {ownPlan(t, LiFePO4), row(3, 20, 12),
			Fault{Pointer: at + "own/rest/3/volts", Kind: NotRising, Found: "12", Min: before.Rest[2].Volts, Max: 4, Unit: "V", Other: at + "own/rest/2/volts"}},
		"own row of the same charge": {ownPlan(t, LiFePO4), func(b *Battery) { b.Own.Rest[5].ChargePct = 30 },
			Fault{Pointer: at + "own/rest/5/charge_pct", Kind: NotRising, Found: "30", Min: 30, Max: 6, Unit: "%", Other: at + "own/rest/4/charge_pct"}},
		"own table from 5 %": {ownPlan(t, AGM), func(b *Battery) { b.Own.Rest = b.Own.Rest[1:] },
			Fault{Pointer: at + "own/rest/0/charge_pct", Kind: OutOfRange, Found: "5", Min: 0, Max: 0, Unit: "%", Other: at + "own/rest"}},
		"own table to 95 %": {ownPlan(t, AGM), func(b *Battery) { b.Own.Rest = b.Own.Rest[:12] },
			Fault{Pointer: at + "own/rest/11/charge_pct", Kind: OutOfRange, Found: "95", Min: 100, Max: 100, Unit: "%", Other: at + "own/rest"}},
		"own table missing": {blank(), func(b *Battery) { b.Chemistry = Own },
			Fault{Pointer: at + "own", Kind: Missing, Other: at + "chemistry"}},
		"own table beside a chemistry": {blank(), func(b *Battery) { b.Own = &before },
			Fault{Pointer: at + "own", Kind: OnlyWith, Allowed: []string{"own"}, Other: at + "chemistry"}},
		"own lithium with compensation": {ownPlan(t, NMC), func(b *Battery) { b.CompensationMVPerK = -12 },
			Fault{Pointer: at + "compensation_mV_per_K", Kind: OutOfRange, Found: "-12", Unit: "mV/K", Other: at + "chemistry"}},
		"protection: over under its back": {blank(), protected(func(q *Protection) { q.OverBackV = 14.9 }),
			Fault{Pointer: at + "protection/over_back_V", Kind: NotBelow, Found: "14.9", Max: 14.8, Unit: "V", Other: at + "protection/over_V"}},
		"protection: under over its back": {blank(), protected(func(q *Protection) { q.UnderV = 11.6 }),
			Fault{Pointer: at + "protection/under_back_V", Kind: NotAbove, Found: "11.6", Min: 11.6, Unit: "V", Other: at + "protection/under_V"}},
		"protection: backs crossed": {blank(), protected(func(q *Protection) { q.UnderBackV = 14 }),
			Fault{Pointer: at + "protection/under_back_V", Kind: NotBelow, Found: "14", Max: 14, Unit: "V", Other: at + "protection/over_back_V"}},
		"protection that never lets it be full": {blank(), protected(func(q *Protection) { q.OverV, q.OverBackV = 13.2, 13 }),
			Fault{Pointer: at + "protection/over_V", Kind: NeverFull, Found: "13.2", Min: full(LiFePO4), Unit: "V", Other: at + "chemistry"}},
		"protection that is always on": {blank(), protected(func(q *Protection) { q.UnderV, q.UnderBackV = 13.8, 13.9 }),
			Fault{Pointer: at + "protection/under_V", Kind: NeverRests, Found: "13.8", Max: full(LiFePO4), Unit: "V", Other: at + "chemistry"}},
	} {
		c.edit(&c.p.Case.Battery)
		if got := both(t, c.p); len(got) != 1 || !reflect.DeepEqual(got[0], c.want) {
			t.Errorf("%s:\n got %+v\nwant %+v", what, got, c.want)
		}
	}
}

// Every row that does not rise is named, not only the first.
func TestEveryRowThatDoesNotRiseIsNamed(t *testing.T) {
	p := ownPlan(t, AGM)
	rest := p.Case.Battery.Own.Rest
	rest[2].Volts, rest[4].ChargePct, rest[7].Volts = rest[1].Volts, rest[3].ChargePct, rest[6].Volts+0.00005
	var got []string
	for _, f := range both(t, p) {
		got = append(got, string(f.Kind)+f.Pointer[len("/case/battery/own/rest"):])
	}
	if want := "not_rising/2/volts not_rising/4/charge_pct not_rising/7/volts"; strings.Join(got, " ") != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// An age that leaves no capacity names the most years, or the most cycles; and
// that many are taken.
func TestWornOutNamesTheMostThatIsTaken(t *testing.T) {
	for _, c := range []struct {
		kind          Chemistry
		years, cycles float64
		keptC         float64
		pointer, unit string
	}{
		{AGM, 30, 0, 40, "/case/battery/age_years", "years"},
		{AGM, 30, 200, 30, "/case/battery/age_years", "years"},
		{Gel, 2, 20000, 20, "/case/battery/cycles", "cycles"},
		{Flooded, 30, 20000, 40, "/case/battery/cycles", "cycles"},
		{Own, 30, 20000, 20, "/case/battery/cycles", "cycles"},
	} {
		p := kindOf(c.kind)
		if c.kind == Own {
			p = ownPlan(t, AGM)
		}
		b := &p.Case.Battery
		b.AgeYears, b.Cycles, b.KeptC = c.years, c.cycles, c.keptC
		for range 3 { // one after the other, cycles first
			got := both(t, p)
			if len(got) == 0 {
				break
			}
			f := got[0]
			if len(got) != 1 || f.Kind != WornOut || f.Max <= 0 || f.Max >= max(c.years, c.cycles) {
				t.Fatalf("%+v: %v", c, got)
			}
			if c.pointer != "" && (f.Pointer != c.pointer || f.Unit != c.unit) {
				t.Errorf("%+v: %v", c, f)
			}
			c.pointer = "" // asked of the first only
			if f.Unit == "years" {
				b.AgeYears = f.Max
			} else {
				b.Cycles = f.Max
			}
		}
		if faults := both(t, p); faults != nil {
			t.Errorf("%+v: at the most that is allowed: %v", c, faults)
		}
		left, _, err := b.Health()
		if err != nil || left < 0.1 || left > 0.2 {
			t.Errorf("%+v: %g of the capacity left (%v)", c, left, err)
		}
	}
}

// The charge band does not refuse any document that an older version took:
// 13.2 to 15 V, LiFePO4 and AGM.
func TestChargeBandTakesWhatOlderVersionsTook(t *testing.T) {
	for _, c := range []Chemistry{LiFePO4, AGM} {
		for _, v := range []float64{13.2, 14.4, 15} {
			p := kindOf(c)
			p.Case.Battery.ChargeV, p.Case.Battery.ReconnectV = v, 12.9
			if faults := Check(p); faults != nil {
				t.Errorf("%s at %g V: %v", c, v, faults)
			}
		}
	}
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
