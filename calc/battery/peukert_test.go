package battery

import (
	"errors"
	"math"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// Handbook H17, 0.0005 h: t = H (C/(I H))^k, computed; keys name capacity and amps.
func TestRuntimeVectorAgainstPeukertH17(t *testing.T) {
	w := golden.Worst{What: "H17 hours to empty", Limit: 0.0005}
	checks(t, "H17", func(row int, key string, want float64) {
		p := Peukert{Capacity: 100, Hours: 20, Exponent: 1.2}
		amps := map[string]qty.Ampere{
			"peukert_100Ah_5A": 5, "peukert_100Ah_10A": 10, "peukert_100Ah_20A": 20, "peukert_100Ah_50A": 50,
			"peukert_40Ah_2A": 2, "peukert_40Ah_10A": 10, "peukert_40Ah_20A": 20, "peukert_40Ah_40A": 40,
		}[key]
		if key[:12] == "peukert_40Ah" {
			p.Capacity, p.Exponent = 40, 1.05
		}
		got, within, err := p.Runtime(amps)
		if err != nil || !within {
			t.Errorf("%s: within %v, %v", key, within, err)
		}
		w.Add(row, got-want)
		out, _, _ := p.Delivered(amps)
		golden.Near(t, key+", Ah", float64(out), want*float64(amps), 8)
	})
	w.Report(t)
}

// Handbook H17: at the rated amps the answer is the rated hours for every
// exponent; below, the law promises more than the label and is capped aloud.
func TestRuntimeAtAndBelowRatedAmpsH17(t *testing.T) {
	for n := range 7 {
		k := 1 + float64(n)/10
		p := Peukert{Capacity: 100, Hours: 20, Exponent: k}
		hours, within, err := p.Runtime(5)
		if math.Abs(hours-20) > 1e-12 || !within || err != nil {
			t.Errorf("exponent %.1f: %v h, within %v, %v", k, hours, within, err)
		}
		out, within, err := p.Delivered(1)
		if out != 100 || within || err != nil {
			t.Errorf("exponent %.1f, 1 A: %v Ah, within %v, %v", k, out, within, err)
		}
	}
}

// Handbook H18, 0.0001: 5 A for 20 h and 16 A for 5 h.
func TestExponentOfVectorH18(t *testing.T) {
	w := golden.Worst{What: "H18 exponent", Limit: 0.0001}
	checks(t, "H18", func(row int, _ string, want float64) {
		for _, turned := range []bool{false, true} {
			a, ah, b, bh := qty.Ampere(5), 20.0, qty.Ampere(16), 5.0
			if turned {
				a, ah, b, bh = b, bh, a, ah
			}
			got, err := ExponentOf(a, ah, b, bh)
			if err != nil {
				t.Error(err)
			}
			w.Add(row, got-want)
		}
	})
	w.Report(t)
	// And back: rows that the law itself makes.
	p := Peukert{Capacity: 70, Hours: 10, Exponent: 1.33}
	h1, _, _ := p.Runtime(11)
	h2, _, _ := p.Runtime(40)
	k, err := ExponentOf(11, h1, 40, h2)
	if err != nil || math.Abs(k-1.33) > 1e-12 {
		t.Errorf("exponent of its own rows %v, %v", k, err)
	}
}

func TestPeukertRefusesWhatIsNoBattery(t *testing.T) {
	good := Peukert{Capacity: 100, Hours: 20, Exponent: 1.2}
	for _, c := range []struct {
		what string
		p    Peukert
		amps qty.Ampere
	}{
		{"capacity", Peukert{0, 20, 1.2}, 5}, {"capacity", Peukert{qty.AmpHour(math.NaN()), 20, 1.2}, 5},
		{"rated hours", Peukert{100, 0, 1.2}, 5},
		{"exponent", Peukert{100, 20, 0.99}, 5}, {"exponent", Peukert{100, 20, 1.61}, 5},
		{"amps", good, 0}, {"amps", good, -3}, {"amps", good, qty.Ampere(math.NaN())},
	} {
		_, _, err := c.p.Runtime(c.amps)
		if r := (*qty.RangeError)(nil); !errors.As(err, &r) || r.What != c.what {
			t.Errorf("%+v at %v A: %v, want one about %s", c.p, c.amps, err, c.what)
		}
	}
	for _, c := range []struct {
		what         string
		a, ah, b, bh float64
	}{
		{"first amps", 0, 20, 16, 5}, {"second hours", 5, 20, 16, -1},
		{"ratio of amps", 5, 20, 5.1, 19}, // too near each other to say anything
		{"exponent", 5, 20, 10, 11},       // more out at the higher rate
		{"exponent", 5, 20, 10, 3},        // 2.7: two cut-offs
	} {
		_, err := ExponentOf(qty.Ampere(c.a), c.ah, qty.Ampere(c.b), c.bh)
		if r := (*qty.RangeError)(nil); !errors.As(err, &r) || r.What != c.what {
			t.Errorf("%+v: %v", c, err)
		}
	}
}
