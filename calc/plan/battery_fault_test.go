package plan

import (
	"bytes"
	"reflect"
	"strings"
	"testing"
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
	before := *ownPlan(t, LiFePO4).Case.Battery.Own
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
		// Of NMC the resistance is the first to go.
		{NMC, 0, 20000, 20, "/case/battery/cycles", "cycles"},
		{NMC, 30, 3000, 60, "/case/battery/age_years", "years"},
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
		left, growth, err := b.Health()
		if err != nil || left < 0.1 || growth > 10 || left > 0.2 && growth < 9.5 {
			t.Errorf("%+v: %g of the capacity left, %g times the resistance (%v)", c, left, growth, err)
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
