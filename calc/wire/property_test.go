package wire

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"duskline/calc/qty"
)

func TestEveryGaugeHasItsNameAndAThickerOneResistsLess(t *testing.T) {
	for _, list := range [][]Gauge{Metric(), American()} {
		for k, g := range list {
			if got, ok := Named(g.String()); got != g || !ok {
				t.Errorf("%s is found as %s, %v", g, got, ok)
			}
			if k > 0 && (g.Area() <= list[k-1].Area() || g.PerKm() >= list[k-1].PerKm()) {
				t.Errorf("%s is not more than %s", g, list[k-1])
			}
			// No wire beats pure copper, none is more than a fifth worse.
			if x := g.PerKm() * g.Area() / (1000 * resistivity20); x < 1-1e-12 || x > 1.2 {
				t.Errorf("%s resists %.3f times as much as copper of its size", g, x)
			}
		}
	}
	if n := len(All()); n != len(Metric())+len(American()) || n != int(beyond) {
		t.Errorf("%d gauges in all", n)
	}
	for _, name := range []string{"", "4", "4_MM2", "4 mm2", "3_AWG", "1/0_AWG", "Gauge(19)"} {
		if g, ok := Named(name); ok {
			t.Errorf("%q is taken for %s", name, g)
		}
	}
	if g := beyond; g.String() != "Gauge(19)" || g.Area() != 0 || g.PerKm() != 0 || (Run{Gauge: g, Copper: 20}).Check() == nil {
		t.Error("a number that is no gauge passes for one")
	}
}

// No length: no drop, no heat, the load gets all of the volts.
func TestRunOfNoLengthLosesNothing(t *testing.T) {
	r := Run{Gauge: MM4, Copper: 20}
	if r.Check() != nil || r.Resistance() != 0 || r.Drop(100) != 0 || r.Heat(100) != 0 || r.Share(100, 12) != 0 {
		t.Errorf("%+v loses something", r)
	}
	v, i, err := ConstantPower(12, r.Resistance(), 120)
	if v != 12 || i != 10 || err != nil {
		t.Errorf("load on no wire: %g V, %g A, %v", v, i, err)
	}
}

func TestOutOfRangeNamesTheFigure(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	fine := Limit{Volts: 12, Amps: 10, Share: 0.03}
	smallest := func(length qty.Metre, copper qty.Celsius, l Limit) error {
		_, err := Smallest(All(), length, copper, l)
		return err
	}
	longest := func(g Gauge, copper qty.Celsius, l Limit) error {
		_, err := Longest(g, copper, l)
		return err
	}
	power := func(v, r, p float64) error {
		volts, amps, err := ConstantPower(qty.Volt(v), qty.Ohm(r), qty.Watt(p))
		if volts != 0 || amps != 0 {
			t.Errorf("an error comes with %g V and %g A", volts, amps)
		}
		return err
	}
	for _, c := range []struct {
		err  error
		what string
	}{
		{Run{MM4, -0.1, 20}.Check(), "Length"},
		{Run{MM4, 201, 20}.Check(), "Length"},
		{Run{MM4, qty.Metre(nan), 20}.Check(), "Length"},
		{Run{MM4, 5, 121}.Check(), "Copper"},
		{Run{MM4, 5, qty.Celsius(nan)}.Check(), "Copper"},
		{Run{beyond, 5, 20}.Check(), "Gauge"},
		{smallest(qty.Metre(nan), 20, fine), "Length"},
		{smallest(5, qty.Celsius(inf), fine), "Copper"},
		{smallest(5, 20, Limit{0, 10, 0.03}), "Volts"},
		{smallest(5, 20, Limit{12, 0, 0.03}), "Amps"},
		{smallest(5, 20, Limit{12, qty.Ampere(nan), 0.03}), "Amps"},
		{smallest(5, 20, Limit{12, 10, 3}), "Share"},
		{longest(MM4, 20, Limit{12, -1, 0.03}), "Amps"},
		{longest(beyond, 20, fine), "Gauge"},
		{longest(MM4, -100, fine), "Copper"},
		{power(nan, 0.1, 10), "source"},
		{power(0, 0.1, 10), "source"},
		{power(12, -0.1, 10), "r"},
		{power(12, nan, 10), "r"},
		{power(12, inf, 10), "r"},
		{power(12, 0.1, nan), "p"},
		{power(12, 0.1, -1), "p"},
		{power(12, 0.1, 1e300), "p"},
	} {
		var r *qty.RangeError
		if !errors.As(c.err, &r) || r.What != c.what {
			t.Errorf("want a fault of %s, got %v", c.what, c.err)
		}
	}
	for _, r := range []Run{{MM4, 0, -60}, {MM4, 200, 120}, {AWG2, 200, 120}} {
		if err := r.Check(); err != nil {
			t.Errorf("%+v: %v", r, err)
		}
	}
	for _, l := range []Limit{{1, 1000, 0.001}, {1000, 1e-9, 0.5}} {
		if err := l.Check(); err != nil {
			t.Errorf("%+v: %v", l, err)
		}
	}
	for _, c := range []struct {
		err  error
		what string
		min  float64
		max  float64
	}{
		{Run{MM4, 5, -61}.Check(), "Copper", -60, 120},
		{Run{MM4, 999, 0}.Check(), "Length", 0, 200},
		{Limit{1001, 1, 0.03}.Check(), "Volts", 1, 1000},
		{Limit{12, 1001, 0.03}.Check(), "Amps", math.SmallestNonzeroFloat64, 1000},
		{Limit{12, 1, 0.51}.Check(), "Share", 0.001, 0.5},
		{power(1001, 1, 1), "source", 1, 1000},
		{power(12, 1001, 0), "r", 0, 1000},
		{power(12, 0, 1.1e6), "p", 0, 1e6},
	} {
		var r *qty.RangeError
		if !errors.As(c.err, &r) || r.What != c.what || r.Min != c.min || r.Max != c.max {
			t.Errorf("want %s %g to %g, got %v", c.what, c.min, c.max, c.err)
		}
	}
	if g, err := Longest(MM4, 20, Limit{}); g != 0 || err == nil {
		t.Errorf("an error comes with %g m", g)
	}
	if g, err := Longest(beyond, 20, fine); g != 0 || err == nil {
		t.Errorf("an error comes with %g m", g)
	}
	if _, err := Smallest(All(), 200, 120, Limit{1, 1000, 0.001}); !errors.Is(err, ErrTooThin) {
		t.Errorf("no gauge does: %v", err)
	}
	if _, err := Smallest(nil, 1, 20, fine); !errors.Is(err, ErrTooThin) {
		t.Errorf("none to choose from: %v", err)
	}
}

// For any load that can be met, the answer meets both laws, is the higher of
// the two, and more watts leave fewer volts; for any other there is an error
// and no number.
func TestConstantPowerMeetsBothLaws(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 1))
	for range 20_000 {
		source, ohms := 1+60*r.Float64(), math.Exp(-9+10*r.Float64())
		most := float64(MostPower(qty.Volt(source), qty.Ohm(ohms)))
		watts := min(1.2*r.Float64()*most, 1e6)
		v, i, err := ConstantPower(qty.Volt(source), qty.Ohm(ohms), qty.Watt(watts))
		if watts > most*(1+1e-12) {
			var c *CollapseError
			if !errors.As(err, &c) || v != 0 || i != 0 {
				t.Fatalf("%g W of at most %g W: %g V, %g A, %v", watts, most, v, i, err)
			}
			continue
		}
		if watts > most*(1-1e-12) {
			continue // on the edge either answer is right
		}
		if err != nil || math.Abs(float64(v)*float64(i)-watts) > 1e-9*most ||
			math.Abs(source-ohms*float64(i)-float64(v)) > 1e-9*source || float64(v) < source/2 {
			t.Fatalf("%g V behind %g Ω, %g W: %g V, %g A, %v", source, ohms, watts, v, i, err)
		}
		if less, _, err := ConstantPower(qty.Volt(source), qty.Ohm(ohms), qty.Watt(watts/2)); err != nil || less < v {
			t.Fatalf("half the watts leave fewer volts: %g V, then %g V", v, less)
		}
	}
}

// Smallest meets its limit and the next thinner one does not; Longest is the
// length at which a gauge just does.
func TestSmallestAndLongestAgree(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 2))
	found := 0
	for range 5000 {
		l := Limit{qty.Volt(5 + 50*r.Float64()), qty.Ampere(0.1 + 60*r.Float64()), qty.Fraction(0.01 + 0.1*r.Float64())}
		length, copper := qty.Metre(0.1+30*r.Float64()), qty.Celsius(-20+90*r.Float64())
		for _, list := range [][]Gauge{Metric(), American()} {
			g, err := Smallest(list, length, copper, l)
			if err != nil {
				far, ferr := Longest(list[len(list)-1], copper, l)
				if !errors.Is(err, ErrTooThin) || ferr != nil || far >= length {
					t.Fatalf("%v, though the thickest reaches %g m of %g m", err, far, length)
				}
				continue
			}
			found++
			for _, o := range list {
				far, err := Longest(o, copper, l)
				share := float64(Run{o, far, copper}.Share(l.Amps, l.Volts))
				if err != nil || math.Abs(share/float64(l.Share)-1) > 1e-9 {
					t.Fatalf("%s: the longest run loses %g of %g, %v", o, share, l.Share, err)
				}
				if (far >= length) != (o.Area() >= g.Area()) {
					t.Fatalf("%s reaches %g m of %g m, and %s is the smallest", o, far, length, g)
				}
			}
		}
	}
	if found < 1000 {
		t.Errorf("only %d runs had a gauge", found)
	}
}

// A gauge that just meets its limit is kept, and of two alike the first.
func TestSmallestOnItsLimit(t *testing.T) {
	r := Run{MM4, 10, 20}
	l := Limit{Volts: 10, Amps: 1, Share: qty.Fraction(float64(r.Resistance()) / 10)}
	if l.ohms() != float64(r.Resistance()) {
		t.Fatalf("%g Ω is not %g Ω", l.ohms(), r.Resistance())
	}
	if g, err := Smallest(Metric(), 10, 20, l); g != MM4 || err != nil {
		t.Errorf("got %s, %v", g, err)
	}
}

// Twice as long, twice the drop; twice the amps, four times the heat; warmer
// copper loses more.
func TestRunFollowsOhm(t *testing.T) {
	for _, g := range All() {
		r := Run{g, 7, 30}
		long, warm := Run{g, 14, 30}, Run{g, 7, 60}
		if math.Abs(float64(long.Drop(3)/r.Drop(3))-2) > 1e-12 || math.Abs(float64(r.Heat(6)/r.Heat(3))-4) > 1e-12 {
			t.Errorf("%s: not in proportion", g)
		}
		if warm.Drop(3) <= r.Drop(3) {
			t.Errorf("%s: warmer copper loses less", g)
		}
		if math.Abs(float64(r.Heat(5))-float64(r.Resistance())*25) > 1e-12 {
			t.Errorf("%s: heat is not R·I²", g)
		}
	}
}

// A thicker wire bears a fault for longer, and what Thinnest asks for bears it
// for just so long.
func TestWithstandsAndThinnestAreInverse(t *testing.T) {
	for n := PVC; n <= Silicone; n++ {
		for _, i := range []qty.Ampere{20, 305, 2000} {
			for _, s := range []float64{0.01, 0.4, 5} {
				if back := n.Withstands(n.Thinnest(i, s), i); math.Abs(back/s-1) > 1e-12 {
					t.Errorf("insulation %d, %g A: %g s became %g s", n, i, s, back)
				}
			}
		}
	}
}

func BenchmarkConstantPower(b *testing.B) {
	r := Run{MM4, 5, 40}.Resistance()
	b.ReportAllocs()
	for b.Loop() {
		ConstantPower(12.8, r, 120)
	}
}
