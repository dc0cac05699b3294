package plan

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
	"time"

	"duskline/calc/civil"
)

// equal compares two Plans; a start is the same if its instant and its offset
// are.
func equal(a, b Plan) bool {
	_, x := a.Trip.Start.Zone()
	_, y := b.Trip.Start.Zone()
	if !a.Trip.Start.Equal(b.Trip.Start) || x != y {
		return false
	}
	a.Trip.Start = b.Trip.Start
	return reflect.DeepEqual(a, b)
}

func ptr(x float64) *float64 { return &x }

// full is a Plan in which every optional value is there.
func full() Plan {
	p := Blank("Full", time.Date(2026, 6, 12, 18, 0, 0, 0, time.FixedZone("", 2*3600)))
	hours := []Window{{22, 6}, {8, 8.5}}
	p.Case.InverterHours = []Window{{0, 24}}
	p.Trip.WallHours = []Window{{9, 17}}
	p.Gear = []Device{
		{Name: "Cooler <&> \u2028", Count: 1, Route: RouteDC, PowerW: ptr(45), RefillEfficiencyPct: 90, DutyPct: 35, DutyAtC: ptr(25), InsideC: ptr(4), Hours: hours, PowerFactor: 1, Sensitivity: SensitivityUnsaid},
		{Name: "Fan", Count: 3, Route: RouteAC, CurrentA: ptr(0.1), RefillEfficiencyPct: 90, DutyPct: 100, SurgeW: 90, SurgeS: 2, Hours: hours, LifeSupport: true, PowerFactor: 0.6, Sensitivity: SensitivityInductionMotor},
		{Name: "Tablet", Count: 2, Route: RouteUSB, RefillWh: ptr(28), RefillsPerDay: 1.5, RefillEfficiencyPct: 85, DutyPct: 100, Hours: hours, PowerFactor: 1, Sensitivity: SensitivityCharger},
	}
	b, i := &p.Case.Battery, &p.Case.Inverter
	b.AfterFull, b.AbsorptionH, b.FloatV, b.ResumeV = AfterFloat, 1.5, 13.6, 13.1
	own, _ := OwnOf(LiFePO4)
	own.AcceptH, own.HysteresisMV, own.CyclesTo80 = 0.25, 40, 3000
	b.Chemistry, b.Own, b.RatedHours, b.Peukert = Own, &own, 5, ptr(1.05)
	b.AgeYears, b.Cycles, b.HealthPct, b.KeptC, b.KeptPct, b.UsesPerYear = 2.5, 120, ptr(91), 15, 60, 24
	b.SelfDischargePctMonth, b.NoChargeBelowC, b.HeatKJPerK, b.CoolingWPerK = ptr(2.5), ptr(-5), ptr(6), ptr(0.8)
	b.Protection = &Protection{OverV: 14.8, OverBackV: 14, UnderV: 10, UnderBackV: 11.6, VoltsDelayS: 2, ChargeA: 40, DischargeA: 80, AmpsDelayS: 10,
		ChargeColdC: 1, ChargeHotC: 50, DischargeColdC: -20, DischargeHotC: 60, ReleaseS: 5}
	p.Case.Stands = InSun
	p.Case.Controller.StartV, p.Case.Controller.EfficiencyLowPct, p.Case.Controller.NightA = 9.5, ptr(90), ptr(0.004)
	p.Case.WallCharger.InputMinV, p.Case.WallCharger.InputMaxV = 200, 250
	p.Case.Vehicle = &VehicleCharger{CurrentA: 8, EfficiencyPct: 80, SocketA: 10}
	i.SurgeS, i.Wave, i.PulseDeg, i.SleepA, i.WakeW = 3, ModifiedSine, 120, ptr(0.05), 8
	i.EfficiencyHalfPct, i.LowCutoffV, i.LowReconnectV = ptr(89.5), 10.5, 12.4
	p.Panels.BlockingV, p.Panels.CableM, p.Panels.CableGauge = 0.5, 6, "12_AWG"
	l := &p.Panels.List[0]
	l.Technology, l.AgeYears, l.Back, l.String, l.SeriesFuseA = ThinFilm, 3.5, BackCovered, 2, 10
	p.Trip.WallV, p.Trip.EngineHours, p.Trip.GeneratorHours, p.Trip.GeneratorW = 230, []Window{{7, 8}}, []Window{{19, 20.5}}, 1000
	p.Panels.List[0].Datasheet = &Datasheet{IscA: 6.1, VocV: 22.4, ImpA: 5.6, VmpV: 18, AlphaIscPctPerK: 0.05, BetaVocPctPerK: -0.3, Cells: 36}
	p.Sky.PeakSunHours = []float64{5, 4.25}
	p.Sky.Horizon = []HorizonPoint{{0, 10}, {90, 5.5}, {90, 20}, {200, 0}}
	p.Sky.SkyStates = []SkyState{SkyClear, SkyRain}
	p.Sky.LastThreeDays = []float64{120, 300.5, 80}
	p.Sky.WeatherFile = weatherOf(p, 74)
	p.Panels.List[0].ShadeHours = []Window{{6, 9}}
	p.SetZone("Land/Lake", 2*time.Hour, []civil.Change{{At: time.Date(2026, 6, 14, 1, 0, 0, 0, time.UTC), Offset: 3 * time.Hour}})
	return p
}

// day is full for a trip of a day: its weather file is a third as long, and the
// most of the document otherwise.
func day() Plan {
	p := full()
	p.Trip.LengthH = 24
	w := p.Sky.WeatherFile
	w.GHI, w.DHI, w.AirC, w.WindMs = w.GHI[:26], w.DHI[:26], w.AirC[:26], w.WindMs[:26]
	return p
}

// weatherOf is a dull sky over a plan in summer.
func weatherOf(p Plan, hours int) *Weather {
	w := &Weather{Name: "Dull, invented", Start: p.Trip.Start.Truncate(time.Hour).Add(-time.Hour).UTC()}
	for i := range hours {
		noon := math.Mod(float64(w.Start.Hour()+i)+p.Sky.LongitudeDeg/15, 24) - 11.5
		ghi := math.Round(math.Max(0, 400*math.Cos(noon/8*math.Pi/2)))
		w.GHI, w.DHI = append(w.GHI, ghi), append(w.DHI, ghi/2)
		w.AirC, w.WindMs = append(w.AirC, 15.5), append(w.WindMs, 2)
	}
	return w
}

func TestBlankIsSoundInEveryZone(t *testing.T) {
	for offset := -12 * 3600; offset <= 14*3600; offset += 900 {
		start := time.Date(2026, 11, 25, 9, 30, 59, 999, time.FixedZone("x", offset+17))
		p := Blank("x", start)
		if f := Check(p); f != nil {
			t.Fatalf("offset %d: %v", offset, f)
		}
		if d := start.Sub(p.Trip.Start); d < 0 || d >= time.Minute {
			t.Errorf("start moved by %v", d)
		}
	}
}

func TestWriteAndReadBack(t *testing.T) {
	for _, p := range []Plan{full(), Blank("x", time.Date(2100, 12, 31, 23, 59, 0, 0, time.UTC))} {
		data, err := Write(p)
		if err != nil {
			t.Fatal(err)
		}
		q, err := Read(data)
		if err != nil {
			t.Fatal(err)
		}
		if !equal(p, q) {
			t.Errorf("read back other:\n%+v\n%+v", p, q)
		}
	}
	for name, data := range documents(t, "good") {
		p, err := Read(data)
		if err != nil {
			t.Fatal(err)
		}
		again, err := Write(p)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if q, err := Read(again); err != nil || !equal(p, q) {
			t.Errorf("%s: read back other: %v", name, err)
		}
	}
}

// TestWriteLeavesNothingOut compares with what encoding/json makes of the same
// Plan by reflection: a member of the Go types that the table lacks shows.
func TestWriteLeavesNothingOut(t *testing.T) {
	p := full()
	data, err := Write(p)
	if err != nil {
		t.Fatal(err)
	}
	other, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	var a, b any
	if err := errors.Join(json.Unmarshal(data, &a), json.Unmarshal(other, &b)); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(a, b) {
		t.Errorf("written:\n%s\nby reflection:\n%s", data, other)
	}
}

func TestWriteRefusesWhatReadWould(t *testing.T) {
	p := full()
	p.Sky.Albedo = math.NaN()
	data, err := Write(p)
	var faults Faults
	if data != nil || !errors.As(err, &faults) || len(faults) != 1 || faults[0].Pointer != "/sky/albedo" || faults[0].Found != "NaN" {
		t.Errorf("%s %v", data, err)
	}
}

// TestCheckSaysWhatReadSays spoils Plans at random and compares the faults of
// the Plan with those of its document.
func TestCheckSaysWhatReadSays(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	found := 0
	for range 3000 {
		p := day()
		for range 1 + r.IntN(4) {
			spoil(r, &document, &p)
		}
		memory := Check(p)
		var b bytes.Buffer
		write(&b, &document, &p, "\n") // as Write, but unchecked
		data := b.Bytes()
		_, err := Read(data)
		read, _ := err.(Faults)
		for i := range read {
			read[i].Line = 0
		}
		if !(len(memory) == 0 && len(read) == 0) && !reflect.DeepEqual(memory, read) {
			t.Fatalf("memory:\n%v\nread:\n%v\n%s", memory, read, data)
		}
		found += len(memory)
	}
	if found < 3000 {
		t.Errorf("only %d faults were compared", found)
	}
}

// spoil changes one value somewhere below target.
func spoil(r *rand.Rand, rule *rule, target any) {
	switch v := target.(type) {
	case *float64:
		l := rule.limit
		*v = []float64{l.Min - 1, l.Min, l.Max, l.Max + 1, 0, -1e300, l.Min + r.Float64()*(l.Max-l.Min)}[r.IntN(7)]
	case *int:
		*v = []int{-1, 0, 1, 2, 7, 1000, 1 << 40}[r.IntN(7)]
		if rule == &document.fields[0] && *v >= firstVersion && *v < Version {
			*v = 0 // read by the rules of another version
		}
	case *string:
		*v = []string{"", "x", strings.Repeat("é", 600), "peak_sun_hours", "AGM", "\x00", "MPPT", "weather_file", "last_three_days", "rain", "Etc/GMT+5", "strings", "rest", "thin_film", "2_AWG"}[r.IntN(15)]
	case *bool:
		*v = !*v
	case *time.Time:
		*v = []time.Time{v.Add(time.Second), v.AddDate(-100, 0, 0), v.AddDate(0, 7, 0), v.UTC()}[r.IntN(4)]
	default:
		switch rule.shape {
		case object:
			f := &rule.fields[r.IntN(len(rule.fields))]
			if member := f.at(target); member != nil {
				spoil(r, f, member)
			} else {
				f.give(target)
			}
		case list:
			if n := rule.count(target); n == 0 || r.IntN(4) == 0 {
				rule.grow(target)
			} else if r.IntN(8) == 0 {
				rule.clear(target)
			} else {
				spoil(r, rule.item, rule.entry(target, r.IntN(n)))
			}
		}
	}
}

func TestCheckFindsWhatJSONCannotSay(t *testing.T) {
	p := full()
	p.Case.Battery.CapacityAh = math.Inf(1)
	p.Sky.WarmestC = math.NaN()
	p.Gear[0].PowerW = ptr(math.NaN())
	p.Trip.Start = p.Trip.Start.In(time.FixedZone("", 1172)) // 19 min 32 s
	var got []string
	for _, f := range Check(p) {
		got = append(got, f.Pointer+" "+f.Found)
	}
	want := []string{"/case/battery/capacity_Ah +Inf", "/gear/0/power_W NaN", "/sky/warmest_C NaN", `/trip/start "2026-06-12T16:19:32+00:19"`}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %q\nwant %q", got, want)
	}
}

func TestLimitOf(t *testing.T) {
	for _, c := range []struct {
		pointer string
		want    Limit
		ok      bool
	}{
		{"/case/battery/capacity_Ah", Limit{Min: 1, Max: 1000, Unit: "Ah", Step: 1, Decimals: 1}, true},
		{"/gear/3/power_W", Limit{Min: 0, Max: 5000, Unit: "W", Step: 1, Decimals: 1}, true},
		{"/gear/63/hours/7/to_h", Limit{Min: 0, Max: 24, Unit: "h", Step: 0.5, Decimals: 2}, true},
		{"/panels/list/0/datasheet/cells", Limit{Min: 4, Max: 200, Step: 1}, true},
		{"/sky/peak_sun_hours/30", Limit{Min: 0, Max: 12, Unit: "kWh/m²", Step: 0.25, Decimals: 2}, true},
		{"/case/inverter/rated_W", Limit{Min: 30, Max: 5000, Unit: "W", Step: 50, OrZero: true}, true},
		{"/case/controller/start_V", Limit{Min: 5, Max: 200, Unit: "V", Step: 1, Decimals: 1, OrZero: true}, true},
		{"/case/battery/compensation_mV_per_K", Limit{Min: -60, Max: 0, Unit: "mV/K", Step: 1, Decimals: 1}, true},
		{"/case/vehicle_charger/current_A", Limit{Min: 0.5, Max: 100, Unit: "A", Step: 1, Decimals: 1}, true},
		{"/panels/list/0/age_years", Limit{Min: 0, Max: 40, Unit: "years", Step: 1, Decimals: 1}, true},
		{"/panels/cable_gauge", Limit{}, false},
		{"/name", Limit{Min: 1, Max: 80, Unit: "characters"}, true},
		{"/gear", Limit{Min: 0, Max: 64, Unit: "entries"}, true},
		{"/case/switch", Limit{}, false},
		{"/gear/x/power_W", Limit{}, false},
		{"/gear/03/power_W", Limit{}, false},
		{"/gear//power_W", Limit{}, false},
		{"/gear/0/nothing", Limit{}, false},
		{"/name/x", Limit{}, false},
		{"name", Limit{}, false},
		{"", Limit{}, false},
	} {
		if got, ok := LimitOf(c.pointer); got != c.want || ok != c.ok {
			t.Errorf("%q: %+v %v, want %+v %v", c.pointer, got, ok, c.want, c.ok)
		}
	}
}

// TestEveryNumberCanBeStepped: a stepper moves and shows that it moved.
func TestEveryNumberCanBeStepped(t *testing.T) {
	var walk func(r *rule, at string)
	walk = func(r *rule, at string) {
		for i := range r.fields {
			walk(&r.fields[i], at+"/"+r.fields[i].name)
		}
		switch l := r.limit; r.shape {
		case list:
			walk(r.item, at+"/0")
		case number, integer:
			if !(l.Step > 0 && l.Step <= max(1, l.Max-l.Min)) || l.Step < math.Pow10(-l.Decimals)*(1-1e-9) {
				t.Errorf("%s: step %g, %d decimals, %g to %g", at, l.Step, l.Decimals, l.Min, l.Max)
			}
			if r.shape == integer && (l.Decimals != 0 || l.Step != 1) {
				t.Errorf("%s: a whole number with %d decimals, step %g", at, l.Decimals, l.Step)
			}
		}
	}
	walk(&document, "")
}

func TestChoices(t *testing.T) {
	words, ok := Choices("/case/switch")
	if !ok || !reflect.DeepEqual(words, []string{"dc_only", "dc_and_ac", "ac_only"}) {
		t.Error(words, ok)
	}
	words[0] = "changed"
	if again, _ := Choices("/case/switch"); again[0] != "dc_only" {
		t.Error("the table can be changed from outside")
	}
	if steps, _ := Choices("/trip/step_min"); strings.Join(steps, " ") != "1 2 3 5 10 15" {
		t.Error(steps)
	}
	if _, ok := Choices("/name"); ok {
		t.Error("a name is not chosen")
	}
}

// Examples of RFC 6901 section 5.
func TestPointerAgainstRFC6901Section5(t *testing.T) {
	for name, want := range map[string]string{"a/b": "a~1b", "m~n": "m~0n", "c%d": "c%d", "": "", " ": " ", "~1": "~01"} {
		if got := escape(name); got != want || unescape(got) != name {
			t.Errorf("%q: %q, back %q", name, got, unescape(got))
		}
	}
}

func TestNewerIsTheOnlyFault(t *testing.T) {
	_, err := Read([]byte(`{"duskline": 7, "name": 3, "rest": "unknown"}`))
	if !errors.Is(err, ErrNewer) || len(err.(Faults)) != 1 {
		t.Error(err)
	}
	if _, err := Read([]byte(`{"duskline": 0}`)); errors.Is(err, ErrNewer) {
		t.Error("version 0 is not newer")
	}
}

// TestReadKeepsTheOffsetNotTheMachinesZone: time.Parse would hand back the
// machine's own zone if the offset happens to be the same.
func TestReadKeepsTheOffsetNotTheMachinesZone(t *testing.T) {
	start, ok := parseStart("2026-06-12T18:00:00+02:00")
	if !ok || start.Location() == time.Local {
		t.Fatal(start, ok)
	}
	if name, offset := start.Zone(); name != "" || offset != 7200 {
		t.Errorf("%q %d", name, offset)
	}
}

// TestDocumentOfTheLimitIsRead: 256 KiB pass, a byte more does not.
func TestDocumentOfTheLimitIsRead(t *testing.T) {
	data, err := Write(full())
	if err != nil {
		t.Fatal(err)
	}
	data = append(data, strings.Repeat(" ", MaxBytes-len(data))...)
	if _, err := Read(data); err != nil {
		t.Error(err)
	}
	if _, err := Read(append(data, ' ')); err == nil {
		t.Error("a byte over the limit was read")
	}
}

// TestLargestDocumentFits: what Check takes, Write must not make too long to
// be read back.
func TestLargestDocumentFits(t *testing.T) {
	p := full()
	d := p.Gear[0]
	d.Name = strings.Repeat("𝄞", 60)
	x := 23.999999999999996
	d.Hours = nil
	for range MaxWindows {
		d.Hours = append(d.Hours, Window{x, 1.2345678901234567})
	}
	d.DutyPct, d.RefillEfficiencyPct, d.SurgeW = 99.99999999999999, 99.99999999999999, 14999.999999999998
	d.PowerFactor, d.SurgeS, d.Sensitivity = 0.12345678901234567, 12.345678901234567, SensitivityInductionMotor
	p.Gear = nil
	for range MaxDevices {
		p.Gear = append(p.Gear, d)
	}
	l := p.Panels.List[0]
	l.Name, l.ShadeHours = d.Name, d.Hours
	l.AgeYears, l.SeriesFuseA, l.String = 12.345678901234567, 12.345678901234567, 16
	p.Panels.List = nil
	for range MaxPanels {
		p.Panels.List = append(p.Panels.List, l)
	}
	p.Sky.Horizon = nil
	for i := range MaxHorizon {
		p.Sky.Horizon = append(p.Sky.Horizon, HorizonPoint{9.87654321098765 * float64(i+1), 12.345678901234567})
	}
	own := &OwnBattery{Rest: make([]OwnPoint, MaxRest), CoulombicPct: 99.99999999999999, CyclesTo80: 1234.5678901234567}
	for i := range own.Rest {
		own.Rest[i] = OwnPoint{2.5 * float64(i), 11.70123456789012 + 0.026789012345678*float64(i)}
	}
	p.Case.Battery.Own = own
	w := weatherOf(p, MaxHours)
	w.Name = strings.Repeat("𝄞", 120)
	for i := range w.GHI {
		w.GHI[i], w.DHI[i] = w.GHI[i]*0.7654321098765432, w.DHI[i]*0.7654321098765432
		w.AirC[i], w.WindMs[i] = -12.345678901234567, 1.2345678901234567
	}
	p.Sky.WeatherFile = w
	data, err := Write(p)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Read(data); err != nil {
		t.Error(err)
	}
	t.Logf("%d of %d bytes", len(data), MaxBytes)
}

// FuzzRead: whatever comes, no panic; what is read is in range, writes, and
// reads back equal.
func FuzzRead(f *testing.F) {
	for _, kind := range []string{"good", "bad", "beyond", "v1/good", "v2/good", "v3/good"} {
		for _, data := range documents(f, kind) {
			if len(data) < 1<<14 {
				f.Add(data)
			}
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := Read(data)
		if err != nil {
			faults, ok := err.(Faults)
			if !ok || len(faults) == 0 {
				t.Fatalf("%T %v", err, err)
			}
			last := 1
			for _, x := range faults {
				if len([]rune(x.Found)) > 60 || x.Kind == "" || x.Line < last {
					t.Fatalf("%+v", x)
				}
				last = x.Line
			}
			return
		}
		if faults := Check(p); faults != nil {
			t.Fatalf("read, but Check says %v", faults)
		}
		again, err := Write(p)
		if err != nil {
			t.Fatal(err)
		}
		q, err := Read(again)
		if err != nil || !equal(p, q) {
			t.Fatalf("read back other (%v):\n%s\n%s", err, data, again)
		}
	})
}

func benchPlan(b *testing.B) []byte {
	p := full()
	for len(p.Gear) < 12 {
		p.Gear = append(p.Gear, p.Gear[len(p.Gear)%3])
	}
	data, err := Write(p)
	if err != nil {
		b.Fatal(err)
	}
	return data
}

// The dear ones: a month of hourly weather, and figures that only the panels
// themselves can judge.
func BenchmarkCheckOf(b *testing.B) {
	for name, edit := range map[string]func(*Plan){
		"light=clear_sky_index": func(p *Plan) {},
		"light=weather_file": func(p *Plan) {
			p.Sky.Light, p.Sky.WeatherFile = ByWeatherFile, weatherOf(*p, MaxHours)
		},
		"light=last_three_days":         func(p *Plan) { p.Sky.Light = ByLastThreeDays },
		"light=peak_sun_hours/on=panel": func(p *Plan) { p.Sky.Light, p.Sky.PeakSunOn = ByPeakSun, OnPanels },
	} {
		b.Run(name+"/days=30", func(b *testing.B) {
			p := full()
			p.Trip.LengthH = 720
			edit(&p)
			b.ReportAllocs()
			for b.Loop() {
				if f := Check(p); f != nil {
					b.Fatal(f)
				}
			}
		})
	}
}

func BenchmarkRead(b *testing.B) {
	data := benchPlan(b)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read(data); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCheck(b *testing.B) {
	p, err := Read(benchPlan(b))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if f := Check(p); f != nil {
			b.Fatal(f)
		}
	}
}
