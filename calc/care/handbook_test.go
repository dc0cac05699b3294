package care

import (
	"strconv"
	"strings"
	"testing"

	"duskline/calc/battery"
	"duskline/calc/golden"
	"duskline/calc/qty"
)

// The handbook's pack: four LiFePO4 cells, 40 Ah, 20 mΩ, and nothing else of
// what the battery knows: no hysteresis, no slow part, no wells, no loss by
// itself. It goes through the same course as a plan's.
func handbookPack(t testing.TB) *house {
	t.Helper()
	c := battery.LiFePO4
	c.Swing, c.Shift, c.Ohms, c.Cold, c.SlowShare, c.Free, c.Exchange, c.SelfDischarge = 0, nil, nil, nil, 0, 0, 0, 0
	b, err := battery.New(battery.Spec{Chemistry: c, Capacity: 40, Resistance: 0.020, Charge: 14.4, Alarm: 12, CutOff: 10, Reconnect: 13})
	if err != nil {
		t.Fatal(err)
	}
	return &house{battery: b, spec: b.Spec(), cuts: []cut{{at: 8.01}}, mean: 25}
}

func (h *house) atAmps(amps float64) course {
	return h.run(h.battery.Rested(1, 25), 25, pull{amps: amps}, longest)
}

// checks calls test with the key and value of every row of one check.
func checks(t *testing.T, name string, test func(row int, key string, want, slack float64)) {
	t.Helper()
	s := golden.Vectors(t, "care", "checks.csv")
	n := 0
	for k := range s.Len() {
		if s.Text(k, "check") == name {
			test(k, s.Text(k, "key"), s.Num(k, "value"), s.Num(k, "tol_abs"))
			n++
		}
	}
	if n == 0 {
		t.Fatalf("no rows of %s", name)
	}
}

// named reads volts and amps off a key: "alarm_12.5_at_20".
func named(t *testing.T, key, before string) (mark, amps float64) {
	t.Helper()
	v, a, ok := strings.Cut(strings.TrimPrefix(key, before), "_at_")
	mark, err := strconv.ParseFloat(v, 64)
	amps, err2 := strconv.ParseFloat(a, 64)
	if !ok || err != nil || err2 != nil {
		t.Fatalf("key %q", key)
	}
	return mark, amps
}

// Handbook H08: a fixed-volt alarm under load, four LiFePO4 cells, 20 mΩ. Its
// tolerance is 0.05 points of charge.
func TestAlarmVectorAgainstHandbookH08(t *testing.T) {
	w := golden.Worst{What: "charge at the alarm, points", Limit: 0.05}
	h := handbookPack(t)
	checks(t, "H08", func(row int, key string, want, _ float64) {
		mark, amps := named(t, key, "alarm_")
		if amps == 0 {
			w.Add(row, 100*float64(h.battery.Charge(qty.Volt(mark)))-want)
			return
		}
		c := h.atAmps(amps)
		m, ok := c.falls(qty.Volt(mark), 0)
		if !ok {
			t.Fatalf("%s: never", key)
		}
		w.Add(row, 100*float64(m.st.Charge)-want)
	})
	w.Report(t)
}

// Handbook H09: minutes from the alarm to the empty battery, 0.1 min.
func TestMinutesVectorAgainstHandbookH09(t *testing.T) {
	w := golden.Worst{What: "minutes after the alarm", Limit: 0.1}
	h := handbookPack(t)
	checks(t, "H09", func(row int, key string, want, _ float64) {
		mark, amps := named(t, key, "minutes_left_")
		c := h.atAmps(amps)
		m, ok := c.falls(qty.Volt(mark), 0)
		if !ok || !c.dead {
			t.Fatalf("%s: %v, dead %v", key, ok, c.dead)
		}
		w.Add(row, (c.last().t-m.t)/60-want)
	})
	w.Report(t)
}

// Handbook H10: energy out before an alarm of 12.0 V at 50 A, and what is then
// still inside, 0.1 Wh.
func TestEnergyVectorAgainstHandbookH10(t *testing.T) {
	h := handbookPack(t)
	c := h.atAmps(50)
	m, _ := c.falls(12, 0)
	out, on := 0.0, &bus{amps: 50}
	st, left := h.battery.Rested(1, 25), m.t
	for left > 0 { // minute by minute, by the battery alone
		step := min(left, 60)
		s := h.battery.Step(st, battery.Around{Air: 25}, step, on)
		out -= float64(s.Volts) * float64(s.Amps) * step / 3600
		st, left = s.State, left-step
	}
	checks(t, "H10", func(_ int, key string, want, slack float64) {
		got := map[string]float64{"Wh_out_before_alarm": out, "Wh_left_inside": float64(h.battery.Energy(m.st.Charge))}
		near(t, key, got[key], want, slack)
	})
}
