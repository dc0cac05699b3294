package draw

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// crowd is a Ledger with many devices, of which most are small.
func crowd(n int) (*outlook.Outlook, plan.Plan) {
	o, p := synthetic(2, 15*time.Minute, 46, 1)
	o.Ledger.Uses, p.Gear = nil, nil
	for i := range n {
		wh := 900 / math.Pow(1.5, float64(i))
		o.Ledger.Uses = append(o.Ledger.Uses, outlook.Flow{Name: outlook.GearFlow, Index: i, Energy: qty.WattHour(wh)})
		p.Gear = append(p.Gear, plan.Device{Name: fmt.Sprintf("Device with a rather long name %d", i), Count: 1})
	}
	return o, p
}

func TestLedgerNamesNeverMeet(t *testing.T) {
	for _, n := range []int{0, 1, 2, 5, 12, 64} {
		for _, f := range []Frame{{"l", 360, 260}, {"l", 440, 300}, {"l", 820, 300}, {"l", 320, 200}} {
			t.Run(fmt.Sprintf("%d devices/%gx%g", n, f.Width, f.Height), func(t *testing.T) {
				o, p := crowd(n)
				list := read(t, Ledger(o, p, f))
				clear(t, list, f)
				if len(list) > 40 {
					t.Errorf("%d nodes", len(list))
				}
			})
		}
	}
}

func TestEmptyLedgerSaysSo(t *testing.T) {
	for _, o := range []*outlook.Outlook{{}, {Ledger: outlook.Ledger{
		Sources: []outlook.Flow{{Name: outlook.SunFlow, Index: -1, Energy: qty.WattHour(math.NaN())}}}}} {
		list := read(t, Ledger(o, plan.Plan{}, Phone))
		if n := len(list); n != 2 || list[1].text == "" {
			t.Errorf("%d nodes", n)
		}
	}
}

// At the bar in the middle what comes in is as thick as what goes out, and
// thickness is energy: the picture closes as the Ledger does.
func TestBandsAreAsThickAsTheirEnergy(t *testing.T) {
	o, p := synthetic(2, 15*time.Minute, 46, 1)
	var uses, losses qty.WattHour
	for _, f := range o.Ledger.Uses {
		uses += f.Energy
	}
	for _, f := range o.Ledger.Losses {
		losses += f.Energy
	}
	if gap := o.Ledger.Sources[0].Energy - o.Ledger.Change - uses - losses; gap != 0 {
		t.Fatalf("the sample does not close by %g", gap)
	}
	thick := map[bool]float64{}
	edge := regexp.MustCompile(`^M([\d.]+) [\d.]+.*l0(?: |)(-?[\d.]+)c`)
	var perWh float64
	for _, e := range read(t, Ledger(o, p, Desk)) {
		m := edge.FindStringSubmatch(e.attrs["d"])
		if m == nil {
			continue
		}
		h, err := strconv.ParseFloat(m[2], 64)
		if err != nil {
			t.Fatal(err)
		}
		thick[m[1] == "0"] += h
		if e.attrs["data-s"] == "from-sun" {
			perWh = h / 1410
		}
	}
	if in, out := thick[true], thick[false]; in < 50 || math.Abs(in-out) > 0.8 { // eight bands, rounded to a tenth
		t.Errorf("in is %.1f thick, out %.1f", in, out)
	}
	if want := 1722 * perWh; math.Abs(thick[true]-want) > 0.3 {
		t.Errorf("in is %.1f thick, its energy says %.1f", thick[true], want)
	}
}

func TestLedgerTableHasEveryFlow(t *testing.T) {
	o, p := synthetic(2, 15*time.Minute, 46, 1)
	table := LedgerTable(o, p)
	all := strings.Builder{}
	for _, r := range table.Rows {
		if len(r) != len(table.Head) {
			t.Errorf("row %v", r)
		}
		fmt.Fprintln(&all, strings.Join(r, "|"))
	}
	got := strings.ReplaceAll(all.String(), "\u00a0", " ")
	for _, want := range []string{"in|Sun|1.41 kWh|82 %", "in|From battery|312 Wh|18 %", "out|Audio recorders ×2|126 Wh|7 %",
		"out|Lantern|14 Wh|1 %", "out|Battery heat|20 Wh|1 %", "beside it|Sun not taken|80 Wh|"} {
		if !strings.Contains(got, want+"\n") {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
}

func TestStripTableHasEveryEvent(t *testing.T) {
	for _, days := range []float64{1, 7, 10, 30} {
		o, p := synthetic(days, 5*time.Minute, 46, 1.4)
		table := StripTable(o, p)
		said := 0
		for _, r := range table.Rows {
			if len(r) != len(table.Head) {
				t.Errorf("row %v", r)
			}
			said += strings.Count(r[5], ".\u00a0") // none: sentences end a cell or precede a plain space
			said += strings.Count(r[5], " V.") + strings.Count(r[5], "\u00a0V.")
		}
		if said != len(o.Events) {
			t.Errorf("%g days: %d events, the table tells %d", days, len(o.Events), said)
		}
		if n := len(table.Rows); float64(n) < 2*days || n > 60+2*len(o.Events)+int(2*days) {
			t.Errorf("%g days: %d rows", days, n)
		}
	}
}

func TestHoursOverMidnight(t *testing.T) {
	for _, c := range []struct {
		list []plan.Window
		want string
	}{
		{nil, "[]"},
		{[]plan.Window{{FromH: 0, ToH: 24}}, "[{0 1}]"},
		{[]plan.Window{{FromH: 18, ToH: 6}}, "[{0 0.25} {0.75 1}]"},
		{[]plan.Window{{FromH: 12, ToH: 18}, {FromH: 6, ToH: 12}}, "[{0.25 0.75}]"},
		{[]plan.Window{{FromH: 0, ToH: 12}, {FromH: 6, ToH: 9}}, "[{0 0.5}]"},
		{[]plan.Window{{FromH: 6, ToH: 6}, {FromH: math.NaN(), ToH: 3}, {FromH: -1, ToH: 30}}, "[]"},
		{[]plan.Window{{FromH: 18, ToH: 0}, {FromH: 24, ToH: 6}}, "[{0 0.25} {0.75 1}]"},
	} {
		if got := fmt.Sprint(Hours(c.list)); got != c.want {
			t.Errorf("%v: got %s, want %s", c.list, got, c.want)
		}
	}
}

func ExampleHours() {
	fmt.Println(Hours([]plan.Window{{FromH: 18, ToH: 6}}))
	// Output: [{0 0.25} {0.75 1}]
}

func BenchmarkStrip(b *testing.B) {
	for _, c := range []struct {
		days float64
		step time.Duration
	}{{3, 5 * time.Minute}, {7, 5 * time.Minute}, {30, 15 * time.Minute}} {
		o, p := synthetic(c.days, c.step, 46, 1.2)
		b.Run(fmt.Sprintf("days=%g/step=%v", c.days, c.step), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Strip(o, p, Phone)
			}
		})
	}
}

func BenchmarkStripTable(b *testing.B) {
	o, p := synthetic(7, 5*time.Minute, 46, 1.2)
	b.ReportAllocs()
	for b.Loop() {
		StripTable(o, p)
	}
}

func BenchmarkLedger(b *testing.B) {
	o, p := crowd(12)
	b.ReportAllocs()
	for b.Loop() {
		Ledger(o, p, Phone)
	}
}
