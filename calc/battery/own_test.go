package battery

import (
	"errors"
	"math"
	"testing"

	"duskline/calc/qty"
)

// ownLithium is a table of four cells that somebody measured, invented.
func ownLithium() Own {
	return Own{
		Rest:      []Point{{0, 10.8}, {0.1, 12.8}, {0.5, 13.1}, {0.9, 13.3}, {1, 13.6}},
		Coulombic: 0.98, Swing: 0.03, CyclesTo80: 3000, Lithium: true,
	}
}

func TestOwnTableIsWhatWasMeasured(t *testing.T) {
	c, err := OwnTable(ownLithium())
	if err != nil {
		t.Fatal(err)
	}
	b := must(t, spec(c))
	for _, p := range ownLithium().Rest {
		if got := b.Rest(p.Charge); math.Abs(float64(got-p.Volts)) > 1e-12 {
			t.Errorf("rests at %g V at %g, the table says %g", got, p.Charge, p.Volts)
		}
	}
	up, down := b.RestAt(0.5, 25, 1), b.RestAt(0.5, 25, -1)
	if math.Abs(float64(up-down)-0.06) > 1e-12 {
		t.Errorf("hysteresis of %g V, twice 0.03 were given", up-down)
	}
	if c.CoulombicAt(0.3) != 0.98 || c.NoChargeBelow != 0 || c.AcceptHours != 0 || !c.Lithium || c.Hydrogen(5) != 0 {
		t.Errorf("%+v", c)
	}
	o := ownLithium()
	o.Lithium, o.AcceptHours = false, 2
	if c, err = OwnTable(o); err != nil || c.NoChargeBelow > -100 || c.AcceptHours != 2 || c.Freezing != nil || c.Life == (Life{}) {
		t.Errorf("lead-acid: %+v, %v", c, err)
	}
}

// The table is the caller's: changing it afterwards changes nothing here.
func TestOwnTableIsCopied(t *testing.T) {
	o := ownLithium()
	c, _ := OwnTable(o)
	o.Rest[2].Volts = 5
	if c.Rest[2].Volts != 13.1 {
		t.Error("shared with the caller")
	}
	if LiFePO4.Name != "LiFePO4" || LiFePO4.Cells != 4 || AGM.Vents == 0 {
		t.Error("the chemistry it was made from has changed")
	}
}

func TestOwnTableNamesTheRow(t *testing.T) {
	for _, c := range []struct {
		what string
		row  int // -1: no row
		edit func(*Own)
	}{
		{"rows", -1, func(o *Own) { o.Rest = o.Rest[:1] }},
		{"rows", -1, func(o *Own) { o.Rest = make([]Point, 42) }},
		{"charge", 0, func(o *Own) { o.Rest[0].Charge = 0.01 }},
		{"charge", 4, func(o *Own) { o.Rest[4].Charge = 0.99 }},
		{"charge", 2, func(o *Own) { o.Rest[2].Charge = 0.1 }},
		{"charge", 3, func(o *Own) { o.Rest[3].Charge = 1 }},
		{"charge", 1, func(o *Own) { o.Rest[1].Charge = qty.Fraction(math.NaN()) }},
		{"volts", 2, func(o *Own) { o.Rest[2].Volts = 12.8 }},
		{"volts", 3, func(o *Own) { o.Rest[3].Volts = 13 }},
		{"volts", 0, func(o *Own) { o.Rest[0].Volts = 4.9 }},
		{"volts", 4, func(o *Own) { o.Rest[4].Volts = 20.1 }},
		{"volts", 1, func(o *Own) { o.Rest[1].Volts = qty.Volt(math.NaN()) }},
		{"coulombic", -1, func(o *Own) { o.Coulombic = 0.4 }},
		{"accept hours", -1, func(o *Own) { o.AcceptHours = 25 }},
		{"swing", -1, func(o *Own) { o.Swing = 0.6 }},
		{"cycles to 80 %", -1, func(o *Own) { o.CyclesTo80 = 9 }},
	} {
		o := ownLithium()
		c.edit(&o)
		_, err := OwnTable(o)
		var out *qty.RangeError
		var row *RowError
		if !errors.As(err, &out) || out.What != c.what {
			t.Errorf("%s: %v", c.what, err)
		}
		if errors.As(err, &row) != (c.row >= 0) || row != nil && row.Row != c.row {
			t.Errorf("%s in row %d: %v", c.what, c.row, err)
		}
		if falls := c.row == 2 || c.what == "volts" && c.row == 3; row != nil && row.Falls != falls {
			t.Errorf("%s in row %d: %v", c.what, c.row, err)
		}
	}
}

// Every table that is let in makes a battery whose volts rise with its charge.
func FuzzOwnTable(f *testing.F) {
	f.Add(0.3, 11.0, 0.5, 13.0, 0.98, 0.03, true)
	f.Add(0.5, 12.0, 0.5001, 12.0001, 0.5, 0.5, false)
	f.Fuzz(func(t *testing.T, s1, v1, s2, v2, coulombic, swing float64, lithium bool) {
		c, err := OwnTable(Own{
			Rest:      []Point{{0, 10}, {qty.Fraction(s1), qty.Volt(v1)}, {qty.Fraction(s2), qty.Volt(v2)}, {1, 14}},
			Coulombic: qty.Fraction(coulombic), Swing: qty.Volt(swing), CyclesTo80: 500, Lithium: lithium,
		})
		if err != nil {
			return
		}
		b := must(t, spec(c))
		last := qty.Volt(0)
		for k := range 101 {
			v := b.Rest(qty.Fraction(k) / 100)
			if !(v > last) {
				t.Fatalf("%g V at %d %%, %g a hundredth before", v, k, last)
			}
			last = v
		}
	})
}
