package load

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

var allDay = []Window{{0, 24}}

func must(t testing.TB, s Spec) Device {
	t.Helper()
	d, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// check calls test with the key and value of every row of one check.
func check(t *testing.T, name string, test func(row int, key string, want float64)) {
	t.Helper()
	s := golden.Vectors(t, "load", "checks.csv")
	for k := range s.Len() {
		if s.Text(k, "check") == name {
			test(k, s.Text(k, "key"), s.Num(k, "value"))
		}
	}
}

// Handbook H45: an inverter left on, 8 W (assumed), is 8 × 24 Wh a day.
func TestDayVectorAgainstHandbookH45(t *testing.T) {
	w := golden.Worst{What: "idle inverter a day, Wh", Limit: 1e-9}
	check(t, "H45", func(row int, key string, want float64) {
		d := must(t, Spec{Count: 1, Route: AC, Draw: Watts(8), Duty: 1, Hours: allDay})
		w.Add(row, float64(d.Day(20, 12.8))-want)
	})
	w.Report(t)
}

// Handbook H68: kWh a year = W × hours × days / 1000, US Department of Energy.
func TestDayVectorAgainstDoeH68(t *testing.T) {
	w := golden.Worst{What: "device, kWh a year", Limit: 1e-6}
	check(t, "H68", func(row int, key string, want float64) {
		switch key {
		case "kWh_pc": // computer 120 W and monitor 150 W, 4 h a day, 365 days
			hours := []Window{{9, 13}}
			pc := must(t, Spec{Count: 1, Route: AC, Draw: Watts(120), Duty: 1, Hours: hours})
			monitor := must(t, Spec{Count: 1, Route: AC, Draw: Watts(150), Duty: 1, Hours: hours})
			w.Add(row, float64(pc.Day(20, 12.8)+monitor.Day(20, 12.8))*365/1000-want)
		case "kWh_fan": // 200 W, 4 h a day over midnight, 120 days
			fan := must(t, Spec{Count: 1, Route: AC, Draw: Watts(200), Duty: 1, Hours: []Window{{22, 2}}})
			w.Add(row, float64(fan.Day(20, 12.8))*120/1000-want)
		}
	})
	w.Report(t)
}

// Handbook H69: cooler of 45 W that keeps 4 °C; from its duty at 32 °C
// follow those at other temperatures, by the heat through its walls. The
// handbook's constants are assumed.
func TestDutyVectorAgainstHeatBalanceH69(t *testing.T) {
	duty := golden.Worst{What: "cooler duty", Limit: 1e-4}
	day := golden.Worst{What: "cooler, Wh a day", Limit: 0.01} // 45 W × 24 h × 1e-5, the rounding of the duty handed in
	var at32 float64
	check(t, "H69", func(_ int, key string, want float64) {
		if key == "duty_32" {
			at32 = want
		}
	})
	d := must(t, Spec{Count: 1, Draw: Watts(45), Duty: qty.Fraction(at32), Cooler: &Cooler{At: 32, Inside: 4}, Hours: allDay})
	check(t, "H69", func(row int, key string, want float64) {
		var air float64
		if _, err := fmt.Sscanf(key[strings.LastIndex(key, "_")+1:], "%g", &air); err != nil {
			t.Fatal(err)
		}
		if strings.HasPrefix(key, "duty") {
			duty.Add(row, float64(d.Duty(qty.Celsius(air)))-want)
		} else {
			day.Add(row, float64(d.Day(qty.Celsius(air), 12.8))-want)
		}
	})
	duty.Report(t)
	day.Report(t)
}

func TestCoolerAtTheEndsOfItsLaw(t *testing.T) {
	d := must(t, Spec{Count: 2, Draw: Watts(45), Duty: 0.5, Cooler: &Cooler{At: 25, Inside: 5}, Hours: allDay})
	for _, c := range []struct{ air, want float64 }{
		{5, 0}, {-20, 0}, {15, 0.25}, {25, 0.5}, {45, 1}, {60, 1},
	} {
		golden.Near(t, fmt.Sprint("duty at ", c.air), float64(d.Duty(qty.Celsius(c.air))), c.want, 6)
	}
	if a := d.Demand(12, 5); a.Running || a.Watts != 0 {
		t.Errorf("a cooler in air as cold as its inside asks for %+v", a)
	}
	if a := d.Demand(12, 60); !a.Running || a.Watts != 90 {
		t.Errorf("two coolers in great heat ask for %+v, want 90 W", a)
	}
}

func TestHours(t *testing.T) {
	for _, c := range []struct {
		list []Window
		in   []float64
		out  []float64
		sum  float64
	}{
		{[]Window{{0, 24}}, []float64{0, 12, 23.999}, nil, 24},
		{[]Window{{8, 10}}, []float64{8, 9.99}, []float64{7.99, 10, 0}, 2},
		{[]Window{{22, 6}}, []float64{22, 23.5, 0, 5.99}, []float64{6, 12, 21.99}, 8},
		{[]Window{{24, 6}}, []float64{0, 5.99}, []float64{6, 23.99}, 6},
		{[]Window{{22, 0}}, []float64{22, 23.99}, []float64{0, 21}, 2},
		{[]Window{{8, 12}, {10, 14}, {9, 11}}, []float64{8, 13.9}, []float64{14}, 6},
		{[]Window{{22, 6}, {5, 7}, {23, 1}}, []float64{6.5, 23, 0.5}, []float64{7, 12}, 9},
		{nil, nil, []float64{0, 12}, 0},
	} {
		for _, h := range c.in {
			if !In(c.list, h) {
				t.Errorf("%v: %g h is out", c.list, h)
			}
		}
		for _, h := range c.out {
			if In(c.list, h) {
				t.Errorf("%v: %g h is in", c.list, h)
			}
		}
		golden.Near(t, fmt.Sprint("hours of ", c.list), length(c.list), c.sum, 9)
		// The count of minutes is another way to the same figure.
		minutes := 0
		for m := range 24 * 60 {
			if In(c.list, (float64(m)+0.5)/60) {
				minutes++
			}
		}
		golden.Near(t, fmt.Sprint("counted hours of ", c.list), float64(minutes)/60, c.sum, 9)
	}
}

// Arithmetic by hand: amps times the route's volts, efficiency, hours.
func TestDemandByHand(t *testing.T) {
	evening := []Window{{18, 22}}
	for _, c := range []struct {
		name        string
		spec        Spec
		watts, amps float64
		day         float64 // at 12.5 V
	}{
		{"lamps", Spec{Count: 3, Route: DC, Draw: Watts(5), Duty: 1, Hours: evening}, 15, 0, 60},
		{"radio in amps on DC", Spec{Count: 2, Route: DC, Draw: Amps(1.5), Duty: 0.5, Hours: evening}, 0, 1.5, 75},
		{"camera in amps on USB", Spec{Count: 2, Route: USB, Draw: Amps(1), Duty: 1, Hours: evening}, 10, 0, 40},
		{"amps on AC", Spec{Count: 1, Route: AC, Mains: 120, Draw: Amps(0.5), Duty: 0.25, Hours: evening}, 15, 0, 60},
		{"two refills of 18 Wh at 0.9", Spec{Count: 1, Route: USB, Draw: Refill(18, 2, 0.9), Duty: 1, Hours: evening}, 10, 0, 40},
		{"nothing", Spec{Count: 1, Route: DC, Draw: Watts(0), Duty: 1, Hours: evening}, 0, 0, 0},
	} {
		d := must(t, c.spec)
		a := d.Demand(20, 25)
		golden.Near(t, c.name+", W", float64(a.Watts), c.watts, 9)
		golden.Near(t, c.name+", A", float64(a.Amps), c.amps, 9)
		golden.Near(t, c.name+", Wh a day", float64(d.Day(25, 12.5)), c.day, 9)
		if !a.Running {
			t.Errorf("%s is not running in its hours", c.name)
		}
		if a := d.Demand(17.9, 25); a != (Demand{}) || d.On(17.9) {
			t.Errorf("%s asks for %+v outside its hours", c.name, a)
		}
	}
}

func TestSurgeOver(t *testing.T) {
	d := must(t, Spec{Count: 3, Route: AC, Draw: Watts(50), Duty: 1, Surge: 300, Hours: allDay})
	golden.Near(t, "surge over the running watts of one", float64(d.SurgeOver(d.Demand(1, 20))), 250, 9)
	d = must(t, Spec{Count: 1, Route: AC, Draw: Watts(50), Duty: 1, Surge: 20, Hours: allDay})
	golden.Near(t, "surge under the running watts", float64(d.SurgeOver(d.Demand(1, 20))), 0, 9)
}

// A refill in a blink of an eye must not become endless watts.
func TestRefillInAnInstantStaysFinite(t *testing.T) {
	d := must(t, Spec{Count: 100, Draw: Refill(5000, 24, 0.5), Duty: 1, Hours: []Window{{0, 1e-300}}})
	if a := d.Demand(0, 20); !(a.Watts < 1e10) {
		t.Errorf("got %g W", a.Watts)
	}
}

func TestNewNamesTheBadNumber(t *testing.T) {
	good := Spec{Count: 1, Route: AC, Mains: 230, Draw: Watts(5), Duty: 1, Hours: allDay}
	for _, c := range []struct {
		what string
		edit func(*Spec)
	}{
		{"count", func(s *Spec) { s.Count = 0 }},
		{"count", func(s *Spec) { s.Count = 101 }},
		{"route", func(s *Spec) { s.Route = 3 }},
		{"power", func(s *Spec) { s.Draw = Watts(-1) }},
		{"power", func(s *Spec) { s.Draw = Watts(qty.Watt(math.NaN())) }},
		{"current", func(s *Spec) { s.Draw = Amps(101) }},
		{"mains", func(s *Spec) { s.Draw, s.Mains = Amps(1), 12 }},
		{"refill", func(s *Spec) { s.Draw = Refill(5001, 1, 0.9) }},
		{"refills a day", func(s *Spec) { s.Draw = Refill(50, 25, 0.9) }},
		{"refill efficiency", func(s *Spec) { s.Draw = Refill(50, 1, 0.4) }},
		{"duty of a refill", func(s *Spec) { s.Draw, s.Duty = Refill(50, 1, 0.9), 0.5 }},
		{"duty", func(s *Spec) { s.Duty = 1.01 }},
		{"surge", func(s *Spec) { s.Surge = -1 }},
		{"duty seen at", func(s *Spec) { s.Cooler = &Cooler{At: 61, Inside: 4} }},
		{"inside", func(s *Spec) { s.Cooler = &Cooler{At: 4, Inside: 4} }},
		{"windows", func(s *Spec) { s.Hours = nil }},
		{"windows", func(s *Spec) { s.Hours = make([]Window, 9) }},
		{"to of window 0", func(s *Spec) { s.Hours = []Window{{1, 25}} }},
		{"from of window 1", func(s *Spec) { s.Hours = []Window{{1, 2}, {math.NaN(), 3}} }},
		{"length of window 0", func(s *Spec) { s.Hours = []Window{{6, 6}} }},
	} {
		s := good
		c.edit(&s)
		_, err := New(s)
		var r *qty.RangeError
		if !errors.As(err, &r) || r.What != c.what {
			t.Errorf("got %v, want a RangeError about %s", err, c.what)
		}
	}
	must(t, good)
}

// A device keeps what it was made from, whatever its maker does afterwards.
func TestDeviceIsItsOwn(t *testing.T) {
	hours, cooler := []Window{{0, 24}}, &Cooler{At: 30, Inside: 5}
	d := must(t, Spec{Count: 1, Draw: Watts(40), Duty: 0.5, Cooler: cooler, Hours: hours})
	before := d.Demand(3, 20)
	hours[0], cooler.Inside = Window{4, 5}, -20
	if after := d.Demand(3, 20); after != before {
		t.Errorf("%+v became %+v", before, after)
	}
}

// Whatever New accepts asks for finite, non-negative figures, and no more a
// day than its hours allow.
func FuzzDemand(f *testing.F) {
	f.Add(uint8(0), 3, 5.0, 1.0, 0.9, 1.0, 8.0, 18.0, 12.0, 20.0, 32.0, 4.0)
	f.Add(uint8(2), 1, 60.0, 2.0, 0.8, 1.0, 22.0, 6.0, 23.0, -40.0, 4.0, 30.0)
	f.Add(uint8(1), 100, 100.0, 24.0, 0.5, 0.3, 24.0, 0.0, 0.0, 60.0, 60.0, 30.0)
	f.Fuzz(func(t *testing.T, kind uint8, count int, figure, perDay, efficiency, duty, from, to, hour, air, at, inside float64) {
		s := Spec{Count: count, Route: Route(kind / 3 % 3), Duty: qty.Fraction(duty), Hours: []Window{{from, to}}, Mains: 230}
		switch kind % 3 {
		case 0:
			s.Draw = Watts(qty.Watt(figure))
		case 1:
			s.Draw = Amps(qty.Ampere(figure))
		default:
			s.Draw = Refill(qty.WattHour(figure), perDay, qty.Fraction(efficiency))
		}
		if kind >= 128 {
			s.Cooler = &Cooler{At: qty.Celsius(at), Inside: qty.Celsius(inside)}
		}
		d, err := New(s)
		if err != nil {
			return
		}
		a := d.Demand(hour, qty.Celsius(air))
		w, i := float64(a.Watts), float64(a.Amps)
		if !(w >= 0 && w < 1e11) || !(i >= 0 && i <= 1e4) {
			t.Fatalf("%+v asks for %+v", s, a)
		}
		if day := float64(d.Day(qty.Celsius(air), 12.8)); !(day >= 0 && day <= (d.watts+d.amps*12.8)*24) {
			t.Fatalf("%+v takes %g Wh a day", s, day)
		}
	})
}

func BenchmarkDemand(b *testing.B) {
	d := must(b, Spec{Count: 2, Draw: Watts(45), Duty: 0.5, Cooler: &Cooler{At: 25, Inside: 5}, Hours: []Window{{6, 9}, {22, 2}}})
	b.ReportAllocs()
	for b.Loop() {
		d.Demand(23, 18)
	}
}
