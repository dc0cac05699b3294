package desk

import "testing"

// A figure that is pasted with its unit is that figure; another unit is not
// guessed at.
func TestNumberWithItsUnit(t *testing.T) {
	for _, c := range []struct {
		at, text string
		want     float64
		ok       bool
	}{
		{"/gear/0/power_W", " 61.5 W ", 61.5, true},
		{"/gear/0/power_W", "61,5W", 61.5, true},
		{"/trip/reserve_pct", "30 %", 30, true},
		{"/case/battery/capacity_Ah", "50Ah", 50, true},
		{"/case/battery/capacity_Ah", "50 A", 0, false},
		{"/gear/0/power_W", "0.06 kW", 0, false},
		{"/gear/0/power_W", "W", 0, false},
		{"/gear/0/count", "2", 2, true},
	} {
		got, ok := number(c.at, c.text)
		if ok != c.ok || got != c.want {
			t.Errorf("%s %q: %g, %v", c.at, c.text, got, ok)
		}
	}
}
