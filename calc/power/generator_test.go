package power

import (
	"errors"
	"math"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// The load is that of electrical.md C43, 163.6 W; that a generator gives four
// fifths of its label hour after hour is common practice, no source.
func TestGeneratorRunsTheChargerOfElectricalC43(t *testing.T) {
	load := WallCharger{Current: 10, Efficiency: 0.88}.Mains(14.4, 10)
	golden.Check(t, "C43.pac = 163.6 W ± 0.1 %", float64(load))
	least := GeneratorFor(load)
	golden.Near(t, "least label, W", float64(least), 163.636/0.8, 6)
	for _, c := range []struct {
		rated qty.Watt
		runs  bool
	}{{0, true}, {100, false}, {200, false}, {least * 0.999, false}, {least * 1.001, true}, {1000, true}} {
		if got := (Generator{c.rated}).Runs(load); got != c.runs {
			t.Errorf("%g W runs %g W: %v", c.rated, load, got)
		}
	}
	if !(Generator{500}).Runs(400) || (Generator{500}).Runs(400.1) {
		t.Error("500 W run 400 W for hours, and no more")
	}
	if !(Generator{500}).Runs(0) {
		t.Error("nothing is too much")
	}
}

func TestGeneratorCheck(t *testing.T) {
	for _, c := range []struct {
		rated qty.Watt
		ok    bool
	}{{0, true}, {100, true}, {20000, true}, {99, false}, {20001, false}, {-5, false}, {qty.Watt(math.NaN()), false}} {
		err := Generator{c.rated}.Check()
		var r *qty.RangeError
		if (err == nil) != c.ok || err != nil && (!errors.As(err, &r) || r.What != "Rated") {
			t.Errorf("%g W: %v", c.rated, err)
		}
	}
}
