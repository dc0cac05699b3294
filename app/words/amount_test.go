package words

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"duskline/calc/plan"
	"duskline/calc/qty"
)

func ExampleAmount() {
	fmt.Println(strings.ReplaceAll(Amount(1180, 0, "m"), Space, "_"))
	fmt.Println(strings.ReplaceAll(Amount(-0.04, 1, "°C"), Space, "_"))
	// Output:
	// 1_180_m
	// 0.0_°C
}

func ExampleT() {
	fmt.Println(T("reason.cut", "Saturday at 06:30"))
	fmt.Println(T("no.such.key"))
	// Output:
	// The power shuts off on Saturday at 06:30.
	// [no.such.key]
}

func TestFiguresForTheLanguage(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Amount(31, 0, "h"), "31_h"},
		{Amount(1234567.25, 2, "Wh"), "1_234_567.25_Wh"},
		{Amount(999.96, 1, ""), "1_000.0"},
		{Amount(-4, 0, "°C"), "−4_°C"},
		{Amount(math.NaN(), 1, "V"), "–"},
		{Amount(math.Inf(-1), 1, "V"), "–"},
		{Plain(0.05, "A"), "0.05_A"},
		{Plain(1000, "Ah"), "1_000_Ah"},
		{Plain(12.8, "V"), "12.8_V"},
		{Plain(13.19999999, "V"), "13.2_V"},
		{Plain(0, "W"), "0_W"},
		{Plain(-0.6, "%/K"), "−0.6_%/K"},
		{Percent(0.334), "33_%"},
		{TightPercent(0.334), "33%"},
		{Energy(48.2), "48_Wh"},
		{Energy(7.54), "7.5_Wh"},
		{Energy(8.98), "9_Wh"},
		{Energy(0.01), "0_Wh"},
		{Volts(12.04), "12.0_V"},
		{Volts(230), "230_V"},
		{Energy(999.4), "999_Wh"},
		{Energy(1149), "1.15_kWh"},
		{Energy(12345), "12.3_kWh"},
		{Amps(9.96), "10_A"},
		{Amps(4.21), "4.2_A"},
		{Watts(7.5), "7.5_W"},
		{Watts(6), "6_W"},
		{Temperature(-0.4), "−0.4_°C"},
		{Temperature(0.01), "0_°C"},
		{Temperature(17.4), "17_°C"},
		{Latitude(46), "46.0°_N"},
		{Longitude(-7.44), "7.4°_W"},
		{Bearing(158), "158°, south-south-east"},
		{Compass(349), "north"},
		{Compass(-90), "west"},
		{Compass(qty.Degree(math.NaN())), "–"},
	} {
		if got := strings.ReplaceAll(c.got, Space, "_"); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

func TestTimes(t *testing.T) {
	zone := time.FixedZone("", 2*3600)
	at := func(day, hour, minute int) time.Time { return time.Date(2026, 5, day, hour, minute, 0, 0, zone) }
	for _, c := range []struct{ got, want string }{
		{Duration(45 * time.Minute), "45_min"},
		{Duration(0), "0_min"},
		{Duration(4*time.Hour + 30*time.Minute), "4_h 30_min"},
		{Duration(31*time.Hour + 59*time.Minute), "31_h"},
		{Duration(52 * time.Hour), "2_d 4_h"},
		{Duration(48 * time.Hour), "2_d"},
		{Duration(-90 * time.Minute), "−1_h 30_min"},
		{Hours(7), "7_h"},
		{Hours(math.NaN()), "–"},
		{Clock(at(14, 6, 5)), "06:05"},
		{ClockOfHours(24), "24:00"},
		{ClockOfHours(6.5), "06:30"},
		{ClockOfHours(-1), "–"},
		{Windows([]plan.Window{{FromH: 22, ToH: 6}, {FromH: 12, ToH: 13.5}}), "22:00\u2060–\u206006:00, 12:00\u2060–\u206013:30"},
		{Windows([]plan.Window{{FromH: 0, ToH: 24}}), "all day"},
		{Windows(nil), "never"},
		{Weekday(at(16, 0, 0)), "Saturday"},
		{ShortWeekday(at(16, 0, 0)), "Sat"},
		{FullDate(at(14, 0, 0)), "14_May 2026"},
		{Dates(at(14, 18, 0), at(17, 12, 0)), "14\u2060–\u206017_May"},
		{Dates(at(14, 18, 0), at(15, 0, 0)), "14_May"},
		{Dates(at(30, 18, 0), at(33, 12, 0)), "30_May–2_June"},
		{Moment(at(16, 6, 30).UTC(), at(14, 18, 0)), "Saturday at 06:30"},
		{Moment(at(20, 23, 59), at(14, 18, 0)), "Wednesday at 23:59"},
		{Moment(at(21, 0, 0), at(14, 18, 0)), "Thursday 21_May at 00:00"},
		{Nights(at(14, 18, 0), 66*time.Hour), "three nights"},
		{Nights(at(14, 18, 0), 12*time.Hour), "one night"},
		{Nights(at(14, 8, 0), 9*time.Hour), "9_h"},
		{Nights(at(14, 8, 0), 720*time.Hour), "30 nights"},
	} {
		if got := strings.ReplaceAll(c.got, Space, "_"); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

// TestNumberReadsWhatAmountWrites closes the loop between the two.
func TestNumberReadsWhatAmountWrites(t *testing.T) {
	for _, v := range []float64{0, -3, 12.5, 1180, 0.125, -1234567.25} {
		if got, ok := Number(Amount(v, 3, "")); !ok || got != v {
			t.Errorf("%q gave %g, %v", Amount(v, 3, ""), got, ok)
		}
	}
}

func BenchmarkT(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		T("event.alarm_on", "14 %", "12.0 V")
	}
}

func BenchmarkAmount(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		Amount(1180, 0, "m")
	}
}
