package desk

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"duskline/app/words"
	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/web/demo"
)

func heron(t testing.TB) plan.Plan {
	t.Helper()
	text, _ := demo.Document("bird-count")
	p, err := plan.Read(text)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func Example() {
	text, _ := demo.Document("bird-count")
	p, _ := plan.Read(text)
	d := New(p)
	d.Enter("/case/battery/capacity_Ah", "5o")
	fmt.Println(d.Text("/case/battery/capacity_Ah"), "|", d.Plan().Case.Battery.CapacityAh)
	d.Enter("/case/battery/capacity_Ah", "60")
	fmt.Println(d.Text("/case/battery/capacity_Ah"), "|", d.Plan().Case.Battery.CapacityAh, d.Fault("/case/battery/capacity_Ah"))
	// Output:
	// 5o | 50
	// 60 | 60
}

func TestRefusedValueWaitsAndTheOutlookStays(t *testing.T) {
	const at = "/case/battery/capacity_Ah"
	d := New(heron(t))
	before := d.Outlook()
	d.Enter(at, "0")
	if d.Outlook() != before || d.Plan().Case.Battery.CapacityAh != 50 {
		t.Error("a refused value got through")
	}
	if d.Text(at) != "0" || d.Fault(at) == "" || len(d.Waiting()) != 1 {
		t.Errorf("shows %q, fault %q, waiting %v", d.Text(at), d.Fault(at), d.Waiting())
	}
	d.Leave(at)
	if d.Text(at) != "0" {
		t.Errorf("leaving the field lost the text: %q", d.Text(at))
	}
	d.Enter("/trip/reserve_pct", "35") // edits elsewhere go on
	if d.Plan().Trip.ReservePct != 35 || d.Outlook() == before {
		t.Error("an edit elsewhere was held up")
	}
	if d.Text(at) != "0" || d.Fault(at) == "" {
		t.Errorf("the edit elsewhere took the text: %q", d.Text(at))
	}
	d.Drop(at)
	if d.Text(at) != "50" || d.Fault(at) != "" || len(d.Waiting()) != 0 {
		t.Errorf("after escape: %q, %q", d.Text(at), d.Fault(at))
	}
}

func TestTypedSpellingStaysUntilTheFieldIsLeft(t *testing.T) {
	const at = "/case/battery/capacity_Ah"
	d := New(heron(t))
	for _, c := range []struct {
		typed string
		want  float64
	}{{"45,", 45}, {"45,5", 45.5}, {"045.50", 45.5}} {
		d.Enter(at, c.typed)
		if d.Text(at) != c.typed || d.Plan().Case.Battery.CapacityAh != c.want {
			t.Errorf("%q shows %q, is %g", c.typed, d.Text(at), d.Plan().Case.Battery.CapacityAh)
		}
	}
	d.Leave(at)
	if d.Text(at) != "45.5" {
		t.Errorf("after leaving: %q", d.Text(at))
	}
}

// On the way to 6000 one types 600; it must not stay behind when 6000 is
// refused.
func TestRefusedValueLeavesNoPartOfItselfBehind(t *testing.T) {
	const at = "/case/battery/capacity_Ah"
	d := New(heron(t))
	for _, typed := range []string{"6", "60", "600", "6000"} {
		d.Enter(at, typed)
	}
	if got := d.Plan().Case.Battery.CapacityAh; got != 50 || d.Text(at) != "6000" || d.Fault(at) == "" {
		t.Errorf("plan has %g Ah, field shows %q, fault %q", got, d.Text(at), d.Fault(at))
	}
	d.Enter(at, "600") // one key back
	if got := d.Plan().Case.Battery.CapacityAh; got != 600 || d.Fault(at) != "" {
		t.Errorf("plan has %g Ah, fault %q", got, d.Fault(at))
	}
	d.Enter(at, "x") // all of it replaced: 600 was meant
	if got := d.Plan().Case.Battery.CapacityAh; got != 600 {
		t.Errorf("plan has %g Ah, want the last good 600", got)
	}
	d.Leave(at)
	d.Enter(at, "60")
	d.Enter(at, "60o")
	if got := d.Plan().Case.Battery.CapacityAh; got != 600 {
		t.Errorf("plan has %g Ah after 60o", got)
	}
}

// Alarm and cut-off can only pass each other in two steps; the first waits.
func TestValuesThatNeedEachOtherAreTakenTogether(t *testing.T) {
	d := New(heron(t)) // alarm 12.2, cut-off 11.2
	d.Enter("/case/battery/cutoff_V", "12.4")
	if f := d.Fault("/case/battery/cutoff_V"); f == "" || d.Plan().Case.Battery.CutoffV != 11.2 {
		t.Fatalf("taken above the alarm; fault %q", f)
	}
	d.Enter("/case/battery/alarm_V", "12.6")
	if b := d.Plan().Case.Battery; b.CutoffV != 12.4 || b.AlarmV != 12.6 {
		t.Errorf("alarm %g, cut-off %g", b.AlarmV, b.CutoffV)
	}
	if len(d.Waiting()) != 0 {
		t.Errorf("still waiting: %v", d.Waiting())
	}
}

// A label's volts and the panel's watts wait for each other; when they fit each
// other and no panel has the label, that is what both are told, not the range
// that the old label or the old watts would set.
func TestValuesThatNeedEachOtherAreToldWhatIsWrongWithBoth(t *testing.T) {
	const at = "/panels/list/0"
	d := New(heron(t))
	d.Enter(at+"/label", "true")
	label := *d.Plan().Panels.List[0].Datasheet
	volts := 0.97 * label.VocV // nearly square: no cell has it
	d.Enter(at+"/datasheet/vmp_V", words.Plain(volts, ""))
	alone := d.Fault(at + "/datasheet/vmp_V")
	d.Enter(at+"/rated_W", words.Plain(volts*label.ImpA, ""))
	if n := len(d.Waiting()); n != 2 {
		t.Fatalf("%d wait: %s", n, d.Fault(at+"/rated_W"))
	}
	for _, p := range []string{"/datasheet/vmp_V", "/rated_W"} {
		if f := d.Fault(at + p); !strings.Contains(f, "No solar panel has these") {
			t.Errorf("%s: %q", p, f)
		}
	}
	// Without the other one each is told of itself again.
	d.Drop(at + "/rated_W")
	if f := d.Fault(at + "/datasheet/vmp_V"); f != alone {
		d.Enter(at+"/name", "x") // any edit tries what waits again
		if f = d.Fault(at + "/datasheet/vmp_V"); f != alone {
			t.Errorf("alone again: %q, want %q", f, alone)
		}
	}
	// And together they are taken as soon as they can be.
	volts = 1.02 * label.VmpV
	d.Enter(at+"/rated_W", words.Plain(volts*label.ImpA*1.03, ""))
	d.Enter(at+"/datasheet/vmp_V", words.Plain(volts, ""))
	if len(d.Waiting()) != 0 {
		t.Errorf("still waiting: %v, %s", d.Waiting(), d.Fault(at+"/datasheet/vmp_V"))
	}
}

func TestHoursMayBeEmptyOnTheWayToOthers(t *testing.T) {
	d := New(heron(t))
	at := "/gear/0/hours"
	was := d.Plan().Gear[0].Hours
	d.EnterHours(at, nil)
	if d.Fault(at) == "" || !reflect.DeepEqual(d.Plan().Gear[0].Hours, was) || len(d.Hours(at)) != 0 {
		t.Fatalf("no hours: fault %q, plan %v, shown %v", d.Fault(at), d.Plan().Gear[0].Hours, d.Hours(at))
	}
	d.EnterHours(at, []plan.Window{{FromH: 3, ToH: 4}})
	if got := d.Plan().Gear[0].Hours; len(got) != 1 || got[0].FromH != 3 || d.Fault(at) != "" {
		t.Errorf("%v, fault %q", got, d.Fault(at))
	}
	d.Enter(at+"/0/to_h", "5:15")
	if got := d.Plan().Gear[0].Hours[0].ToH; got != 5.25 {
		t.Errorf("to %g", got)
	}
	d.Enter(at+"/0/to_h", "5:1")
	if d.Text(at+"/0/to_h") != "5:1" || d.Fault(at+"/0/to_h") == "" {
		t.Errorf("half an hour typed: %q, %q", d.Text(at+"/0/to_h"), d.Fault(at+"/0/to_h"))
	}
}

func TestHourTypedIntoAListThatWaits(t *testing.T) {
	d := New(heron(t))
	at := "/gear/0/hours"
	d.EnterHours(at, []plan.Window{{FromH: 3, ToH: 3}}) // no length: refused
	if d.Fault(at) == "" {
		t.Fatal("taken")
	}
	if got := d.Text(at + "/0/to_h"); got != "03:00" {
		t.Errorf("the field of the list that waits shows %q", got)
	}
	d.Enter(at+"/0/to_h", "4")
	if got := d.Plan().Gear[0].Hours; len(got) != 1 || got[0].ToH != 4 {
		t.Errorf("%v, waiting %v", got, d.Waiting())
	}
}

func TestListsKeepWhatWaitsWithItsEntry(t *testing.T) {
	d := New(heron(t))
	names := func() (s []string) {
		for _, g := range d.Plan().Gear {
			s = append(s, g.Name)
		}
		return s
	}
	was := names()
	d.Enter("/gear/1/count", "0") // refused
	if f := d.Move("/gear", 1, 3); f != nil {
		t.Fatal(f)
	}
	if got := names(); got[3] != was[1] || got[1] != was[2] {
		t.Errorf("moved to %v", got)
	}
	if d.Text("/gear/3/count") != "0" || d.Fault("/gear/3/count") == "" || d.Fault("/gear/1/count") != "" {
		t.Errorf("what waits did not move along: %v", d.Waiting())
	}
	d.Copy("/gear", 0)
	if got := names(); len(got) != len(was)+1 || got[1] != was[0] || d.Text("/gear/4/count") != "0" {
		t.Errorf("copied to %v, waiting %v", got, d.Waiting())
	}
	d.Remove("/gear", 4)
	if len(d.Waiting()) != 0 {
		t.Errorf("waits for a device that is gone: %v", d.Waiting())
	}
	d.Undo()
	if got := names(); got[4] != was[1] {
		t.Errorf("undo gave %v", got)
	}
	if _, _, ok := d.Undoable(); ok {
		t.Error("undo twice")
	}
}

func TestListRefusedSaysWhy(t *testing.T) {
	d := New(heron(t))
	for range plan.MaxDevices {
		d.Copy("/gear", 0)
	}
	if n := len(d.Plan().Gear); n != plan.MaxDevices {
		t.Errorf("%d devices", n)
	}
	if d.Fault("/gear") == "" {
		t.Error("nothing said")
	}
	d.Remove("/gear", 0)
	if f := d.Fault("/gear"); f != "" {
		t.Errorf("still said: %s", f)
	}
}

func TestChoicesBringTheirFields(t *testing.T) {
	d := New(heron(t))
	for _, kind := range []string{"current_A", "refill_Wh", "power_W", "refill_Wh", "current_A", "power_W"} {
		d.Enter("/gear/0/draw", kind)
		if got := d.Text("/gear/0/draw"); got != kind || len(d.Waiting()) != 0 {
			t.Errorf("%s: %s, waiting %v: %s", kind, got, d.Waiting(), d.Fault("/gear/0/draw"))
		}
	}
	d.Enter("/gear/0/cooler", "true")
	if g := d.Plan().Gear[0]; g.DutyAtC == nil || g.InsideC == nil {
		t.Errorf("cooler: %v", d.Fault("/gear/0/cooler"))
	}
	d.Enter("/gear/0/draw", "refill_Wh")
	if g := d.Plan().Gear[0]; g.DutyAtC != nil || g.RefillWh == nil {
		t.Errorf("a battery to refill is no cooler: %v", d.Fault("/gear/0/draw"))
	}
	for _, w := range []string{"1", "60", "999"} {
		d.Enter("/panels/list/0/label", "false")
		d.Enter("/panels/list/0/rated_W", w)
		d.Enter("/panels/list/0/label", "true")
		if d.Plan().Panels.List[0].Datasheet == nil {
			t.Errorf("%s W: %s", w, d.Fault("/panels/list/0/label"))
		}
	}
	d.Enter("/sky/light", string(plan.ByPeakSun))
	if s := d.Plan().Sky; s.Light != plan.ByPeakSun || len(s.PeakSunHours) == 0 {
		t.Errorf("peak sun: %s", d.Fault("/sky/light"))
	}
}

func TestStartInThreeFields(t *testing.T) {
	d := New(heron(t))
	d.Enter(StartDate, "2026-06-01")
	d.Enter(StartClock, "07:05")
	d.Enter(StartOffset, "-3.5")
	if got := d.Plan().Trip.Start.Format("2006-01-02T15:04Z07:00"); got != "2026-06-01T07:05-03:30" {
		t.Errorf("start %s", got)
	}
	d.Leave(StartDate)
	d.Enter(StartDate, "")
	if d.Fault(StartDate) == "" || d.Plan().Trip.Start.Day() != 1 {
		t.Errorf("an empty date: %q", d.Fault(StartDate))
	}
}

// leaves lists the pointers of all single values of a document.
func leaves(pointer string, v any) []string {
	var list []string
	switch v := v.(type) {
	case map[string]any:
		for k, x := range v {
			list = append(list, leaves(pointer+"/"+k, x)...)
		}
	case []any:
		for i, x := range v {
			list = append(list, leaves(pointer+"/"+strconv.Itoa(i), x)...)
		}
	default:
		list = []string{pointer}
	}
	return list
}

// Typing what a field shows changes nothing, in any field.
func TestEveryFieldReadsWhatItShows(t *testing.T) {
	for _, name := range demo.Names() {
		text, _ := demo.Document(name)
		p, err := plan.Read(text)
		if err != nil {
			t.Fatal(err)
		}
		before, _ := plan.Write(p)
		var doc any
		if err := json.Unmarshal(before, &doc); err != nil {
			t.Fatal(err)
		}
		d := New(p)
		n := 0
		for _, at := range leaves("", doc) {
			if at == "/trip/start" {
				continue
			}
			n++
			shown := d.Text(at)
			d.Enter(at, shown)
			d.Leave(at)
			if d.Text(at) != shown || d.Fault(at) != "" {
				t.Errorf("%s: %q became %q, %s", at, shown, d.Text(at), d.Fault(at))
			}
		}
		if n < 100 {
			t.Errorf("%s: only %d fields", name, n)
		}
		for _, at := range []string{StartDate, StartClock, StartOffset} {
			d.Enter(at, d.Text(at))
		}
		if after, _ := plan.Write(*d.Plan()); !bytes.Equal(before, after) {
			t.Errorf("%s changed:\n%s\n%s", name, before, after)
		}
	}
}

func TestCloneSharesNothing(t *testing.T) {
	p := heron(t)
	c := Clone(p)
	if !reflect.DeepEqual(p, c) {
		t.Fatal("not the same")
	}
	c.Gear[0].Hours[0].FromH = 23.9
	c.Sky.ClearSkyIndex = append(c.Sky.ClearSkyIndex[:0], 0.123)
	for i := range c.Gear {
		if c.Gear[i].PowerW != nil {
			*c.Gear[i].PowerW = -1
		}
	}
	if again := heron(t); !reflect.DeepEqual(p, again) {
		t.Error("the first one changed")
	}
}

// Whatever is typed anywhere, the Plan on the desk stays a sound one.
func FuzzEnter(f *testing.F) {
	p := heron(f)
	var doc any
	text, _ := plan.Write(p)
	json.Unmarshal(text, &doc)
	all := append(leaves("", doc), StartDate, StartClock, StartOffset, "/gear/0/draw", "/gear/1/cooler", "/panels/list/0/label")
	for i, s := range []string{"12", "-1", "", "1e9", "NaN", "true", "22:00", "\x00", "2026-02-30", strings.Repeat("9", 400)} {
		f.Add(uint(i*7), s, uint(i*3), "5")
	}
	f.Fuzz(func(t *testing.T, a uint, x string, b uint, y string) {
		d := &Desk{good: Clone(p), typed: map[string]string{}, runs: map[string]run{}, compute: func(plan.Plan) (*outlook.Outlook, error) { return nil, nil }}
		for _, e := range []struct {
			at   uint
			text string
		}{{a, x}, {b, y}, {a, y}} {
			at := all[e.at%uint(len(all))]
			d.Enter(at, e.text)
			if faults := plan.Check(d.good); faults != nil {
				t.Fatalf("%q at %s got through: %v", e.text, at, faults)
			}
			if len(d.Waiting()) > 0 && d.Waiting()[len(d.Waiting())-1] == at && d.Fault(at) == "" {
				t.Fatalf("%q at %s waits without a word", e.text, at)
			}
		}
	})
}
