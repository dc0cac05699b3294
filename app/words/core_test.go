package words

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"golang.org/x/text/language"

	"duskline/calc/battery"
	"duskline/calc/notice"
	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/qty"
	"duskline/calc/ref"
)

// eachLanguage runs a test in every language and goes back to the first.
func eachLanguage(t *testing.T, test func(t *testing.T)) {
	t.Cleanup(func() { SetLanguage(language.English) })
	for _, l := range Languages() {
		SetLanguage(l.Tag)
		t.Run(l.Tag.String(), test)
	}
}

// sound fails on what no text may contain.
func sound(t *testing.T, of, text string) {
	t.Helper()
	for _, bad := range []string{"%!", "[", "]", "<", ">", "NaN", "  ", " .", "–."} {
		if strings.Contains(text, bad) {
			t.Errorf("%s: %q contains %q", of, text, bad)
		}
	}
	if strings.TrimSpace(text) == "" {
		t.Errorf("%s has no words", of)
	}
}

// constants lists the values of the constants of one type in a source file of
// the core: a kind that is added there without words here fails.
func constants(t *testing.T, path, typ string) []string {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	ast.Inspect(file, func(n ast.Node) bool {
		v, ok := n.(*ast.ValueSpec)
		if !ok {
			return true
		}
		if id, ok := v.Type.(*ast.Ident); ok && id.Name == typ {
			s, ok := literal(v.Values[0])
			if !ok {
				t.Errorf("%s: %s is not a literal", path, v.Names[0].Name)
			}
			list = append(list, s)
		}
		return true
	})
	if len(list) == 0 {
		t.Fatalf("%s has no constants of type %s", path, typ)
	}
	return list
}

var start = time.Date(2026, 5, 14, 18, 0, 0, 0, time.FixedZone("", 2*3600))

func heron() plan.Plan {
	return plan.Plan{
		Name: "Heron count",
		Gear: []plan.Device{{Name: "Audio recorders", Count: 2}, {Name: "Cooler", Count: 1}, {Name: "Lantern", Count: 1}},
		Trip: plan.Trip{Start: start, LengthH: 66, ReservePct: 20},
	}
}

// samples has a figure for each unit that a notice may carry, and how its
// words look in English.
var samples = map[string]struct {
	v    float64
	want string
}{
	"s after start": {36.5 * 3600, "Saturday at 06:30"},
	"%":             {33, "33\u00a0%"},
	"V":             {12.04, "12.0\u00a0V"},
	"A":             {84.6, "85\u00a0A"},
	"W":             {900, "900\u00a0W"},
	"VA":            {1250, "1\u00a0250\u00a0VA"},
	"s":             {2.5, "2.5\u00a0s"},
	"°C":            {-0.4, "−0.4\u00a0°C"},
	"Wh a day":      {1149, "1.15\u00a0kWh"},
	"index":         {0, "Audio recorders\u00a0×2"},
	"1":             {4, "4"},
	"days":          {3, "3\u00a0d"},
	"min":           {25, "25\u00a0min"},
	"l":             {3.21, "3.2\u00a0l"},
	"Ah":            {12.34, "12.3\u00a0Ah"},
	"reason":        {1, "volts too high"},
}

// TestEveryNoticeHasWords reads from the comments in calc/notice/codes.go
// which numbers each code carries, and looks for every one of them in the
// words, for all codes and languages.
func TestEveryNoticeHasWords(t *testing.T) {
	source, err := os.ReadFile("../../calc/notice/codes.go")
	if err != nil {
		t.Fatal(err)
	}
	line := regexp.MustCompile(`Code = "(\w+)"\s*// ?([^:\n]*)`)
	number := regexp.MustCompile(`(\w[\w ]*?) \(([^)]+)\)`)
	carries := map[notice.Code][]notice.Value{}
	for _, m := range line.FindAllStringSubmatch(string(source), -1) {
		values := []notice.Value{}
		for _, n := range number.FindAllStringSubmatch(m[2], -1) {
			n[2], _, _ = strings.Cut(n[2], " of ") // "% of the day's draw" is a percentage
			s, ok := samples[n[2]]
			if !ok {
				t.Errorf("%s: unit %q is new: word it in noticeNumber", m[1], n[2])
			}
			values = append(values, notice.Value{Name: n[1], Number: s.v, Unit: n[2]})
		}
		carries[notice.Code(m[1])] = values
	}
	eachLanguage(t, func(t *testing.T) {
		for _, code := range notice.Codes {
			values, ok := carries[code]
			if !ok {
				t.Errorf("%s: its line in codes.go was not understood", code)
				continue
			}
			var names []string
			for _, v := range values {
				names = append(names, v.Name)
			}
			if got, ok := noticeNumbers[code]; !ok || !slices.Equal(got, names) {
				t.Errorf("%s carries %v, advice.go knows %v", code, names, got)
			}
			a := Notice(notice.Notice{Code: code, Grade: notice.Warning, Values: values}, heron(), start)
			sound(t, string(code), a.String())
			for _, v := range values {
				if want := samples[v.Unit].want; Current() == language.English && !strings.Contains(a.What, want) {
					t.Errorf("%s does not say %s: %q lacks %q", code, v.Name, a.What, want)
				}
			}
			if General(code) {
				sound(t, string(code)+", short", a.Short)
				for _, v := range values {
					if want := samples[v.Unit].want; Current() == language.English && !strings.Contains(a.Short, want) {
						t.Errorf("%s in short does not say %s: %q lacks %q", code, v.Name, a.Short, want)
					}
				}
				if n := len([]rune(a.Short)); n > 70 {
					t.Errorf("%s in short takes %d characters", code, n)
				}
			}
			if n := len([]rune(a.What + a.Do)); n > 240 {
				t.Errorf("%s takes %d characters", code, n)
			}
		}
	})
	for code := range noticeNumbers {
		if !slices.Contains(notice.Codes, code) {
			t.Errorf("%s has words, but is no code", code)
		}
	}
}

func TestNoticeWithoutItsNumbersShowsDashes(t *testing.T) {
	a := Notice(notice.Notice{Code: notice.SunClipped}, heron(), start)
	if !strings.Contains(a.What, "stops at –") || a.Signal != "NOTICE" {
		t.Errorf("got %q", a)
	}
}

// TestCautionsDefer holds the words where people can be hurt to the one who
// may decide: local code, licensed practice, maker, clinician.
func TestCautionsDefer(t *testing.T) {
	SetLanguage(language.English)
	for code, to := range map[notice.Code][]string{
		notice.MainsVolts:   {"Local codes", "licensed electrician"},
		notice.HighCurrent:  {"Local codes", "licensed electrician"},
		notice.PanelOverPWM: {"local code", "manual"},
		notice.LifeSupport:  {"backup", "clinician"},
		notice.ColdCharge:   {"battery maker"},
		notice.ColdNear:     {"battery maker"},
		notice.Gassing:      {"maker", "open air"},
		notice.BatteryHot:   {"maker"},

		notice.BatteryFreezes: {"maker", "Never charge"},
		notice.GuardTrips:     {"Never bridge it", "maker"},

		notice.EngineExhaust: {"open", "maker"},
		notice.SocketFuse:    {"workshop"},
		notice.WallTooHigh:   {"Do not plug it in"},
		notice.WaveMedical:   {"maker", "clinician"},
	} {
		for _, s := range to {
			if a := Notice(notice.Notice{Code: code}, heron(), start); !strings.Contains(a.Do, s) {
				t.Errorf("%s does not defer to %q: %q", code, s, a.Do)
			}
		}
	}
}

func TestEveryFaultHasWords(t *testing.T) {
	eachLanguage(t, func(t *testing.T) {
		for _, kind := range constants(t, "../../calc/plan/fault.go", "FaultKind") {
			f := plan.Fault{Kind: plan.FaultKind(kind), Pointer: "/gear/3/power_W", Found: "9000", Min: 2, Max: 5000, Unit: "W", Line: 7}
			switch f.Kind {
			case plan.NotAbove, plan.NotBelow, plan.OnlyWith, plan.NotDivided, plan.WrongOffset, plan.NotNear:
				f.Other = "/case/battery/alarm_V"
			case plan.BadWord, plan.WrongType:
				f.Allowed = []string{"number", "string"}
			case plan.BadDate:
				f.Allowed = []string{"2026-05-14T18:00:00+02:00"}
			case plan.NotOne:
				f.Pointer, f.Allowed = "/gear/3", []string{"power_W", "current_A", "refill_Wh"}
			}
			sound(t, kind, Fault(f))
			sound(t, kind, FaultLine(f))
			if f.Kind == plan.OnlyWith {
				f.Found, f.Allowed = "", []string{"own"}
				if says := Fault(f); !strings.Contains(says, "own") {
					t.Errorf("does not say with which word: %s", says)
				}
			}
			f.Min, f.Allowed, f.Other = 0, []string{"number"}, "/case/battery/alarm_V"
			sound(t, kind, Fault(f))
			f.Min = f.Max
			sound(t, kind, Fault(f))
			f.Min, f.Other = 0, ""
			sound(t, kind, Fault(f))
			f.Allowed = nil
			if f.Kind != plan.WrongType && f.Kind != plan.BadWord && f.Kind != plan.BadDate && f.Kind != plan.NotOne {
				sound(t, kind, Fault(f))
			}
		}
	})
}

func TestFaultsSayTheRange(t *testing.T) {
	SetLanguage(language.English)
	for _, c := range []struct {
		f    plan.Fault
		want string
	}{
		{plan.Fault{Kind: plan.OutOfRange, Min: 1, Max: 1000, Unit: "Ah"}, "Must be between 1 Ah and 1 000 Ah."},
		{plan.Fault{Kind: plan.OutOfRange, Min: 30, Max: 5000, Unit: "W", Allowed: []string{"0"}}, "Must be between 30 W and 5 000 W, or 0."},
		{plan.Fault{Kind: plan.NotAbove, Min: 11.5, Unit: "V", Other: "/case/battery/cutoff_V"}, "Must be above 11.5 V, the value of “Shuts off at”."},
		{plan.Fault{Kind: plan.BadCount, Min: 3, Max: 3, Allowed: []string{"0"}}, "Must have 3 entries, or 0."},
		{plan.Fault{Kind: plan.BadCount, Min: 72, Max: 72, Other: "/sky/weather_file/ghi_W_m2"}, "Must have 72 entries, as many as “Light on level ground, hour by hour”."},
		{plan.Fault{Kind: plan.WrongOffset, Max: 120, Unit: "min", Other: "/trip/clock_changes/0/offset_min"},
			"The clock there stands 120 min ahead of UTC at that time. “Minutes ahead of UTC from then on” sets that."},
		{plan.Fault{Kind: plan.NotNear, Max: 32, Unit: "days", Other: "/trip/start"}, "Must be within 32 days of “Start”."},
		{plan.Fault{Kind: plan.StartsLate, Max: 5, Unit: "h", Other: "/trip/start"}, "The first 5 h of the trip are missing. Take the weather file again: its year is not on this device."},
		{plan.Fault{Kind: plan.BadLength, Max: 80, Unit: "characters"}, "Must be 80 characters long at most."},
		{plan.Fault{Kind: plan.NotOne, Pointer: "/gear/0", Allowed: []string{"power_W", "current_A", "refill_Wh"}},
			"Give one of these and no other: Power while running, Current while running or One refill takes."},
	} {
		if got := strings.ReplaceAll(Fault(c.f), Space, " "); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
	f := plan.Fault{Kind: plan.OutOfRange, Pointer: "/gear/3/hours/1/to_h", Min: 0, Max: 24, Unit: "h", Found: "25", Line: 40}
	want := "Line 40: Gear 4: Hours of the day 2: On until: Must be between 0 h and 24 h. Found: 25."
	if got := strings.ReplaceAll(FaultLine(f), Space, " "); got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// TestEveryFieldHasAName walks the document's types.
func TestEveryFieldHasAName(t *testing.T) {
	seen := map[string]bool{}
	var walk func(typ reflect.Type, at string)
	walk = func(typ reflect.Type, at string) {
		for typ.Kind() == reflect.Pointer {
			typ = typ.Elem()
		}
		switch {
		case typ.Kind() == reflect.Slice:
			walk(typ.Elem(), at+"/3")
			return
		case typ.Kind() == reflect.Struct && typ != reflect.TypeFor[time.Time]():
			for i := range typ.NumField() {
				name, _, _ := strings.Cut(typ.Field(i).Tag.Get("json"), ",")
				walk(typ.Field(i).Type, at+"/"+name)
			}
		}
		if at != "" {
			path, _ := fieldPath(at)
			seen["field."+path] = true
			if FieldName(at) == at {
				t.Errorf("no name for %s", at)
			}
			sound(t, at, FieldName(at))
			if help := "help." + path; Has(help) {
				sound(t, help, T(help))
			}
		}
	}
	walk(reflect.TypeFor[plan.Plan](), "")
	for key := range texts(0) {
		if strings.HasPrefix(key, "field.") && key != "field." && !seen[key] {
			t.Errorf("%s names no field", key)
		}
	}
}

func TestEveryKindHasAName(t *testing.T) {
	eachLanguage(t, func(t *testing.T) {
		p := heron()
		for _, k := range constants(t, "../../calc/outlook/result.go", "EventKind") {
			e := outlook.Event{Kind: outlook.EventKind(k), Charge: 0.14, Volts: 12, Index: 1}
			sound(t, k, Event(e, p))
			sound(t, k, EventName(e.Kind))
		}
		for _, n := range constants(t, "../../calc/outlook/result.go", "FlowName") {
			sound(t, n, Flow(outlook.Flow{Name: outlook.FlowName(n), Index: 2}, p))
		}
		for typ, name := range map[string]func(string) string{
			"Chemistry": func(s string) string { return Chemistry(plan.Chemistry(s)) + ChemistryHelp(plan.Chemistry(s)) },
			"ControllerKind": func(s string) string {
				return ControllerKind(plan.ControllerKind(s)) + ControllerHelp(plan.ControllerKind(s))
			},
			"Wave":       func(s string) string { return Wave(plan.Wave(s)) },
			"Switch":     func(s string) string { return Switch(plan.Switch(s)) },
			"Route":      func(s string) string { return Route(plan.Route(s)) },
			"LightKind":  func(s string) string { return LightKind(plan.LightKind(s)) },
			"Joined":     func(s string) string { return Joined(plan.Joined(s)) },
			"Surface":    func(s string) string { return Surface(plan.Surface(s)) },
			"SkyModel":   func(s string) string { return SkyModel(plan.SkyModel(s)) },
			"GlassModel": func(s string) string { return GlassModel(plan.GlassModel(s)) },
			"SkyState":   func(s string) string { return SkyState(plan.SkyState(s)) + SkyStateHelp(plan.SkyState(s)) },
			"PeakSunOn":  func(s string) string { return PeakSunOn(plan.PeakSunOn(s)) },
			"MeterUnit":  func(s string) string { return MeterUnit(plan.MeterUnit(s)) },
			"Lie":        func(s string) string { return LieKind(plan.Lie(s)) },

			"Stands":      func(s string) string { return Stands(plan.Stands(s)) },
			"AfterFull":   func(s string) string { return AfterFull(plan.AfterFull(s)) },
			"Sensitivity": func(s string) string { return Sensitivity(plan.Sensitivity(s)) },
			"Technology":  func(s string) string { return Technology(plan.Technology(s)) },
			"Back":        func(s string) string { return Back(plan.Back(s)) },
		} {
			source := "../../calc/plan/plan.go"
			switch typ {
			case "LightKind", "Surface", "SkyModel", "GlassModel", "SkyState", "PeakSunOn", "MeterUnit":
				source = "../../calc/plan/sky.go"
			}
			for _, s := range constants(t, source, typ) {
				sound(t, typ+" "+s, name(s))
			}
		}
		for v := outlook.Holds; v <= outlook.RunsOut; v++ {
			sound(t, v.String(), Verdict(v))
		}
		for i := range 16 {
			sound(t, "compass "+strconv.Itoa(i), Compass(qty.Degree(22.5*float64(i))))
		}
	})
}

func TestReasonNamesWhatDecided(t *testing.T) {
	SetLanguage(language.English)
	dawn := start.Add(36*time.Hour + 30*time.Minute)
	for _, c := range []struct {
		o    outlook.Outlook
		want string
	}{
		{outlook.Outlook{Verdict: outlook.Holds, Figures: outlook.Figures{Lowest: 0.33, LowestAt: dawn}},
			"Lowest charge 33 % on Saturday at 06:30, above the alarm all the way."},
		{outlook.Outlook{Verdict: outlook.Tight, Figures: outlook.Figures{Lowest: 0.14, LowestAt: dawn}},
			"Lowest charge 14 % on Saturday at 06:30, inside your reserve of 20 %."},
		{outlook.Outlook{Verdict: outlook.Tight, Figures: outlook.Figures{Lowest: 0.5, LowestAt: dawn, Unserved: []int{0, 1, 2}}},
			"Lowest charge 50 % on Saturday at 06:30, above the alarm all the way. Audio recorders ×2 and 2 more devices get less than they ask for."},
		{outlook.Outlook{Verdict: outlook.RunsOut, Figures: outlook.Figures{FirstAlarm: dawn, Lowest: 0.09}},
			"The alarm sounds on Saturday at 06:30. Lowest charge 9 %."},
		{outlook.Outlook{Verdict: outlook.RunsOut, Figures: outlook.Figures{FirstAlarm: dawn, Lowest: 0.37},
			Events: []outlook.Event{{Kind: outlook.AlarmOn, At: dawn, Index: -1, Cause: outlook.Early}}},
			"The alarm sounds early on Saturday at 06:30: the load pulls the volts down. Lowest charge 37 %."},
		{outlook.Outlook{Verdict: outlook.RunsOut, Figures: outlook.Figures{FirstAlarm: dawn, FirstCutOff: dawn.Add(9 * time.Hour)}},
			"The alarm sounds on Saturday at 06:30, the power shuts off on Saturday at 15:30."},
		{outlook.Outlook{Verdict: outlook.RunsOut, Figures: outlook.Figures{FirstGuardOff: dawn}},
			"The battery's own protection cuts it off on Saturday at 06:30."},
	} {
		lead, why := Reason(&c.o, heron())
		if got := strings.ReplaceAll(why, Space, " "); got != c.want || lead != "Heron count, three nights." {
			t.Errorf("got %q %q, want %q", lead, got, c.want)
		}
	}
}

// An alarm says what it means; how long there is left is never rounded up.
func TestAlarmsSayWhatTheyMean(t *testing.T) {
	SetLanguage(language.English)
	for _, c := range []struct {
		e    outlook.Event
		want string
	}{
		{outlook.Event{Kind: outlook.AlarmOn, Charge: 0.2, Volts: 12.5, Index: -1, Cause: outlook.InTime, Left: 119*time.Minute + 59*time.Second},
			"Alarm sounds at 20 %, 12.5 V. At this draw about 1 h 59 min to the shut-off."},
		{outlook.Event{Kind: outlook.AlarmOn, Charge: 0.7, Volts: 12, Index: -1, Cause: outlook.Early, Left: 6 * time.Hour},
			"Alarm sounds at 70 %, 12.0 V. Early: the load pulls the volts down. At this draw about 6 h to the shut-off."},
		{outlook.Event{Kind: outlook.AlarmOn, Charge: 0.7, Volts: 12, Index: 1, Cause: outlook.Early, Left: 6 * time.Hour},
			"Alarm sounds at 70 %, 12.0 V. Early: Cooler starts and pulls the volts down for a moment."},
		{outlook.Event{Kind: outlook.AlarmOn, Charge: 0.03, Volts: 12, Index: -1, Cause: outlook.Late, Left: 12 * time.Minute},
			"Alarm sounds at 3 %, 12.0 V. Late: at this draw about 12 min to the shut-off."},
		{outlook.Event{Kind: outlook.AlarmOn, Charge: 0.1, Volts: 12, Index: -1, Cause: outlook.InTime, Left: outlook.NoSunLimit},
			"Alarm sounds at 10 %, 12.0 V. At this draw more than 30 d to the shut-off."},
		{outlook.Event{Kind: outlook.GuardOff, Charge: 0.03, Volts: 11, Index: -1, Reason: "under_volts"},
			"The battery's protection cuts it off at 3 %, 11.0 V: volts too low. All of the Case is dark."},
	} {
		if got := strings.ReplaceAll(Event(c.e, heron()), Space, " "); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
	if got := strings.ReplaceAll(SafeLeast(outlook.Safe{Least: 0.2, Kind: ref.Practice}), Space, " "); got != "about 20 %, as the trade does" {
		t.Errorf("got %q", got)
	}
	if got := strings.ReplaceAll(SafeLeast(outlook.Safe{Least: 0.6, Kind: ref.Published}), Space, " "); got != "about 60 %" {
		t.Errorf("got %q", got)
	}
}

// Every reason of a battery's protection has its words, by its number too.
func TestEveryGuardReasonHasWords(t *testing.T) {
	for r := battery.OverVolts; r <= battery.DischargeHot; r++ {
		sound(t, r.String(), GuardReason(r.String()))
		if a := Notice(notice.Notice{Code: notice.GuardTrips, Values: []notice.Value{{Name: "reason", Number: float64(r), Unit: "reason"}}}, heron(), start); !strings.Contains(a.What, GuardReason(r.String())) {
			t.Errorf("%v: %q", r, a.What)
		}
	}
	sound(t, "none", GuardReason(""))
}
