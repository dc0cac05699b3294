package words

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"golang.org/x/text/language"

	"duskline/calc/plan"
)

// labelled is a plan with one panel of which the label is known.
func labelled() plan.Plan {
	p := plan.Blank("Label", time.Date(2026, 6, 12, 18, 0, 0, 0, time.UTC))
	p.Panels.List[0].Datasheet = &plan.Datasheet{IscA: 6.1, VocV: 22.4, ImpA: 5.6, VmpV: 17.9, AlphaIscPctPerK: 0.05, BetaVocPctPerK: -0.3, Cells: 36}
	return p
}

// What a person reads at the field, aloud: the figure's range, and why.
func TestSentencesOfBadInput(t *testing.T) {
	SetLanguage(language.English)
	half, low := 97.0, 100.0
	sleep := 0.05
	for name, c := range map[string]struct {
		edit func(*plan.Plan)
		want string
	}{
		"Vmp above Voc": {func(p *plan.Plan) { p.Panels.List[0].Datasheet.VmpV = 22.5 },
			"Must be below 22.4 V, the value of “Open-circuit volts”. A panel shows its most volts with nothing connected."},
		"Imp above Isc": {func(p *plan.Plan) { p.Panels.List[0].Datasheet.ImpA = 6.2 },
			"Must be below 6.1 A, the value of “Short-circuit current”. A panel never gives more amps than into a short circuit."},
		"beta of the wrong sign": {func(p *plan.Plan) { p.Panels.List[0].Datasheet.BetaVocPctPerK = 0.3 },
			"Must be between −0.6 %/K and −0.1 %/K. A panel's volts always fall as it gets warm, so this is minus some tenths of a percent."},
		"beta of nothing": {func(p *plan.Plan) { p.Panels.List[0].Datasheet.BetaVocPctPerK = 0 },
			"Must be between −0.6 %/K and −0.1 %/K. A panel's volts always fall as it gets warm, so this is minus some tenths of a percent."},
		"40 panels": {func(p *plan.Plan) { p.Panels.List[0].Count = 40 }, "Must be between 1 and 20."},
		"40 kinds": {func(p *plan.Plan) {
			for len(p.Panels.List) < 40 {
				p.Panels.List = append(p.Panels.List, p.Panels.List[0])
			}
		}, "Must have 16 entries at most."},
		"age": {func(p *plan.Plan) { p.Panels.List[0].AgeYears = 41 }, "Must be between 0 years and 40 years."},
		"compensation of lithium": {func(p *plan.Plan) { p.Case.Battery.CompensationMVPerK = -24 },
			"Must be 0 mV/K. “Kind of battery” sets that. Charging volts go down as a lead-acid battery gets warm, and stay the same for lithium."},
		"float over charge": {func(p *plan.Plan) { p.Case.Battery.AfterFull, p.Case.Battery.FloatV = plan.AfterFloat, 14.5 },
			"Must be between 10 V and 14.4 V. “Charging stops at” sets that."},
		"sleep that nothing wakes": {func(p *plan.Plan) { p.Case.Inverter.SleepA = &sleep },
			"Must be between 0.1 W and 500 W. “Inverter draw asleep” sets that. An inverter that sleeps must be woken by something it can carry."},
		// 300 W at 88 % with 6.4 W standby lose 34.5 W by load: at 150 W a quarter
		// of that, if all grows with the square, to a half.
		"half load": {func(p *plan.Plan) { p.Case.Inverter.EfficiencyHalfPct = &half },
			"Must be between 86.38 % and 90.89 %. “Inverter efficiency at rated power” sets that. What it loses at half power has to fit its standby draw and what it loses at rated power."},
		"a tenth": {func(p *plan.Plan) {
			p.Case.Controller.Kind, p.Case.Controller.EfficiencyLowPct = plan.MPPT, &low
		}, "What it loses at low power has to fit what it loses at full power."},
		"power factor in percent": {func(p *plan.Plan) {
			d := plan.NewDevice("Fan", plan.RouteAC, plan.Window{FromH: 8, ToH: 9})
			w := 30.0
			d.PowerW, d.PowerFactor = &w, 60
			p.Gear = append(p.Gear, d)
		}, "Must be between 0.1 and 1. Watts are at most volt-amps. 60 % is 0.6."},
		"mains the wrong way round": {func(p *plan.Plan) { p.Case.WallCharger.InputMinV, p.Case.WallCharger.InputMaxV = 240, 100 },
			"Must be below 100 V, the value of “Most mains volts”. Its label states the lower figure first."},
	} {
		p := labelled()
		c.edit(&p)
		faults := plan.Check(p)
		if len(faults) != 1 {
			t.Errorf("%s: %v", name, faults)
			continue
		}
		got := strings.ReplaceAll(Fault(faults[0]), Space, " ")
		if got != c.want && !(name == "a tenth" && strings.HasSuffix(got, c.want)) {
			t.Errorf("%s:\n got %s\nwant %s", name, got, c.want)
		}
	}
}

var figure = regexp.MustCompile(`[−\d][\d.]*`)

// A label that fits no curve: the figure is named, with a range, and either end
// of the range as it is told does.
func TestRangeThatIsToldIsTaken(t *testing.T) {
	SetLanguage(language.English)
	told := map[string]int{}
	for _, imp := range []float64{3.2, 4, 5.6, 5.9, 6, 6.05} {
		for _, vmp := range []float64{11.5, 12.3, 14, 17.9, 19, 20, 20.3, 21, 22} {
			for _, beta := range []float64{-0.15, -0.3, -0.5} {
				p := labelled()
				d := p.Panels.List[0].Datasheet
				d.ImpA, d.VmpV, d.BetaVocPctPerK = imp, vmp, beta
				p.Panels.List[0].RatedW = imp * vmp
				faults := plan.Check(p)
				if len(faults) == 0 {
					continue
				}
				f := faults[0]
				if len(faults) > 1 || f.Kind != plan.NoCurve {
					t.Errorf("%g A, %g V, %g: %v", imp, vmp, beta, faults)
					continue
				}
				text := strings.ReplaceAll(Fault(f), Space, " ")
				end := f.Pointer[strings.LastIndex(f.Pointer, "/")+1:]
				told[end]++
				if end == "datasheet" {
					if f.Max <= 0 || !strings.Contains(text, "at most") {
						t.Errorf("%+v: %s", f, text)
					}
					continue
				}
				if f.Max == 0 && f.Min == 0 {
					t.Errorf("%+v has no range", f)
					continue
				}
				for _, s := range figure.FindAllString(text, -1) {
					x, ok := Number(strings.TrimRight(s, "."))
					if !ok {
						t.Fatalf("%q in %s", s, text)
					}
					q := labelled()
					e := q.Panels.List[0].Datasheet
					*e = *d
					switch end {
					case "imp_A":
						e.ImpA = x
					case "vmp_V":
						e.VmpV = x
					case "beta_voc_pct_per_K":
						e.BetaVocPctPerK = x
					case "cells":
						e.Cells = int(x)
					default:
						t.Fatalf("%s is blamed", f.Pointer)
					}
					q.Panels.List[0].RatedW = math.Max(1, e.ImpA*e.VmpV)
					more := plan.Check(q)
					if len(more) == 1 && strings.HasSuffix(more[0].Pointer, "/cells") && end != "cells" {
						continue // the curve is there now; what is wrong next is the cells
					}
					if len(more) > 0 {
						t.Errorf("%g A, %g V, %g %%/K: %s\n%g is refused: %v", imp, vmp, beta, text, x, more)
					}
				}
			}
		}
	}
	if told["imp_A"]+told["vmp_V"] < 20 {
		t.Errorf("told %v", told)
	}
	t.Log(told)
}

func TestInwardKeepsWhatIsShort(t *testing.T) {
	for _, c := range []struct{ v, down, up float64 }{
		{14.4, 14.4, 14.4}, {0.1, 0.1, 0.1}, {5000, 5000, 5000}, {0, 0, 0}, {-0.6, -0.6, -0.6},
		{5.69968, 5.699, 5.7}, {-0.31239, -0.3124, -0.3123}, {1400.5, 1400, 1401},
	} {
		if d, u := inward(c.v, math.Floor), inward(c.v, math.Ceil); math.Abs(d-c.down) > 1e-12 || math.Abs(u-c.up) > 1e-12 {
			t.Errorf("%g: %g and %g, want %g and %g", c.v, d, u, c.down, c.up)
		}
	}
}

// Every way to state a battery that cannot be, aloud: what is wrong, and what
// is allowed.
func TestSentencesOfBadBatteries(t *testing.T) {
	SetLanguage(language.English)
	own := func(b *plan.Battery) *plan.OwnBattery {
		o, _ := plan.OwnOf(b.Chemistry)
		b.Chemistry, b.Own = plan.Own, &o
		return &o
	}
	// twenty is the row of 20 % and its number.
	n := 0
	twenty := func(b *plan.Battery) *plan.OwnPoint {
		o := own(b)
		for n = 0; o.Rest[n].ChargePct < 20; n++ {
		}
		return &o.Rest[n]
	}
	guard := func(b *plan.Battery) *plan.Protection {
		p, _ := plan.UsualProtection(b.Chemistry, b.CapacityAh)
		b.Protection = &p
		return &p
	}
	for name, c := range map[string]struct {
		edit func(*plan.Battery)
		want string
	}{
		"reversed":    {func(b *plan.Battery) { b.AlarmV, b.CutoffV = 11, 12 }, "Must be above 12 V, the value of “Shuts off at”."},
		"no capacity": {func(b *plan.Battery) { b.CapacityAh = 0 }, "Must be between 1 Ah and 1 000 Ah."},
		"alarm over full": {func(b *plan.Battery) { b.AlarmV, b.ReconnectV = 13.9, 14 },
			"Must be below 13.3"},
		"charged as another": {func(b *plan.Battery) { b.ChargeV = 16 }, "Must be between 13 V and 15 V for this kind of battery. Usual are 14.2 V to 14.6 V."},
		"cold of the moon":   {func(b *plan.Battery) { b.KeptC = -60 }, "Must be between −20 °C and 60 °C."},
		"heat of an oven":    {func(b *plan.Battery) { b.KeptC = 90 }, "Must be between −20 °C and 60 °C."},
		"row that sinks":     {func(b *plan.Battery) { twenty(b).Volts = 12 }, "Row # must be above 12.7"},
		"charge that sinks":  {func(b *plan.Battery) { twenty(b).ChargePct = 10 }, "Row # must be above 10 %, the row before it."},
		"no full row":        {func(b *plan.Battery) { o := own(b); o.Rest[len(o.Rest)-1].ChargePct = 99.5 }, "Must be 100 %. “Volts at rest” sets that."},
		"protection under full": {func(b *plan.Battery) { p := guard(b); p.OverV, p.OverBackV = 13, 12.5 },
			"Must be above 13.3"},
		"protection reversed": {func(b *plan.Battery) { p := guard(b); p.OverBackV = 14.9 }, "Must be below 14.8 V, the value of “Stops charging at”."},
		"too many cycles":     {func(b *plan.Battery) { b.Cycles = 20001 }, "Must be between 0 cycles and 20 000 cycles."},
		"too many trips":      {func(b *plan.Battery) { b.UsesPerYear = 400 }, "Must be between 0 a year and 366 a year."},
		"table without kind":  {func(b *plan.Battery) { own(b); b.Chemistry = plan.LiFePO4 }, "Makes sense only where “Kind of battery” is own."},
	} {
		p := labelled()
		c.edit(&p.Case.Battery)
		c.want = strings.Replace(c.want, "#", strconv.Itoa(n+1), 1)
		faults := plan.Check(p)
		if len(faults) == 0 {
			t.Errorf("%s: taken", name)
			continue
		}
		if got := strings.ReplaceAll(Fault(faults[0]), Space, " "); got != c.want && !(strings.HasPrefix(got, c.want) && !strings.HasSuffix(c.want, ".")) {
			t.Errorf("%s: %s\n got %s\nwant %s", name, faults[0].Pointer, got, c.want)
		}
	}
	for f, want := range map[*plan.Fault]string{
		{Kind: plan.WornOut, Pointer: "/case/battery/age_years", Max: 18, Unit: "years"}: "Nothing would be left of this battery. Must be 18 years at most.",
		{Kind: plan.WornOut, Pointer: "/case/battery/age_years", Unit: "years"}:          "Nothing would be left of this battery.",
	} {
		if got := strings.ReplaceAll(Fault(*f), Space, " "); got != want {
			t.Errorf("got %s\nwant %s", got, want)
		}
	}
}

func TestWhatIsFoldedAwayOfABattery(t *testing.T) {
	SetLanguage(language.English)
	p := labelled()
	b := &p.Case.Battery
	for _, c := range []struct {
		edit func()
		says func(plan.Battery) string
		want string
	}{
		{func() {}, BatteryAge, "as new"},
		{func() { b.AgeYears = 1 }, BatteryAge, "1 year"},
		{func() { b.AgeYears, b.Cycles = 2.5, 1200 }, BatteryAge, "2.5 years, 1 200 cycles"},
		{func() {}, func(b plan.Battery) string { return BatteryLeft(b, 0.786, 1.3) },
			"It is reckoned with about 79 % of its capacity, 31.4 Ah, and 30 % more resistance."},
		{func() { h := 83.0; b.HealthPct = &h }, BatteryAge, "83 % left"},
		{func() {}, BatteryFiner, "25 mΩ, over 20 h"},
		{func() { x, y, z := 1.2, 3.0, -10.0; b.Peukert, b.SelfDischargePctMonth, b.NoChargeBelowC = &x, &y, &z }, BatteryFiner,
			"25 mΩ, over 20 h, Peukert 1.2, loses 3 % a month, no charge under −10 °C"},
		{func() {}, Waits, "5 s, 5 s, 60 s"},
		{func() {}, Guard, ""},
		{func() { p, _ := plan.UsualProtection(plan.NMC, 40); b.Protection = &p }, Guard, "8.4 V to 12.75 V"},
		{func() {}, OwnTable, ""},
		{func() {
			b.Own = &plan.OwnBattery{Rest: []plan.OwnPoint{{ChargePct: 0, Volts: 10.5}, {ChargePct: 100, Volts: 12.8}}}
		}, OwnTable, "2 rows, 10.5 V to 12.8 V"},
	} {
		c.edit()
		if got := strings.ReplaceAll(c.says(*b), Space, " "); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}
