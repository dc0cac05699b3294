package battery

import (
	"errors"
	"math"
	"testing"
	"time"

	"duskline/calc/qty"
)

// Constant watts above what the battery can give: Short, half the rest volts,
// energy closed.
func TestCollapseIsReported(t *testing.T) {
	for _, c := range []Chemistry{plain(LiFePO4), plain(AGM)} {
		b := must(t, spec(c))
		for _, h := range []float64{0, 1, 300} {
			st := b.step(1, warm, h, &draw{0, 5000})
			if !st.Short || st.Amps >= 0 || math.Abs(float64(st.Volts-b.Rest(1)/2)) > 1e-9 {
				t.Errorf("%s, %g s: %+v", c.Name, h, st)
			}
			sound(t, b, b.Rested(1, warm), h, &st)
			if open, turnover := gap(b, 1, h, &st); math.Abs(open) > 1e-9*turnover {
				t.Errorf("%g of %g Wh are open", open, turnover)
			}
		}
	}
}

// A battery of 1 Ah under a load for a hundred: empty inside the first step.
func TestTinyBatteryUnderAHugeLoad(t *testing.T) {
	for _, c := range []Chemistry{plain(LiFePO4), plain(AGM)} {
		s := spec(c)
		s.Capacity = 1
		b := must(t, s)
		for _, bus := range []draw{{0, 1200}, {-100, 0}, {-1e6, 0}, {0, 1e6}} {
			st := b.step(1, warm, 300, &bus)
			sound(t, b, b.Rested(1, warm), 300, &st)
			if !st.Empty || st.State.Charge != 0 {
				t.Errorf("%s, %+v: %+v", c.Name, bus, st)
			}
			if got := -float64(st.Amps) * 300 / 3600; math.Abs(got-1) > 1e-12 {
				t.Errorf("%s gave %g Ah of 1", c.Name, got)
			}
			if open, turnover := gap(b, 1, 300, &st); math.Abs(open) > 1e-9*turnover {
				t.Errorf("%g of %g Wh are open", open, turnover)
			}
		}
		// At 1200 W it runs for about half a minute.
		seconds, crossed := b.until(1, warm, 300, &draw{0, 1200}, 0)
		if !crossed || seconds < 15 || seconds > 40 {
			t.Errorf("%s: %g s, %v", c.Name, seconds, crossed)
		}
	}
}

func TestStartEmpty(t *testing.T) {
	for _, c := range []Chemistry{plain(LiFePO4), plain(AGM)} {
		b := must(t, spec(c))
		st := b.step(0, warm, 300, &draw{-2, 10})
		sound(t, b, b.Rested(0, warm), 300, &st)
		if !st.Empty || st.Amps != 0 || st.State.Charge != 0 {
			t.Errorf("%s drawn when empty: %+v", c.Name, st)
		}
		st = b.step(0, warm, 300, &draw{0, 0})
		if !st.Empty || st.Amps != 0 || st.Volts != b.Rest(0) {
			t.Errorf("%s left alone when empty: %+v", c.Name, st)
		}
		st = b.step(0, warm, 300, &draw{5, 10})
		sound(t, b, b.Rested(0, warm), 300, &st)
		if st.Empty || st.State.Charge <= 0 || st.Short {
			t.Errorf("%s charged when empty: %+v", c.Name, st)
		}
	}
}

// A full battery with a charger on takes nothing more and the charger carries
// the gear, for as long as it lasts.
func TestStartFullWithAChargerOn(t *testing.T) {
	for _, c := range []Chemistry{plain(LiFePO4), plain(AGM)} {
		b := must(t, spec(c))
		st := b.step(1, warm, 300, &draw{10, 40})
		if !st.Held || st.Amps != 0 || st.State.Charge != 1 || st.Heat != 0 {
			t.Errorf("%s: %+v", c.Name, st)
		}
		// LiFePO4 at charge 1 rests above 14.4 V: the charger waits at that.
		if want := max(b.Rest(1), 14.4); st.Volts != want || st.EndVolts != want {
			t.Errorf("%s: %g V, want %g", c.Name, st.Volts, want)
		}
		// From below it never passes the charge that rests at the charge volts.
		s := qty.Fraction(0.9)
		for range 2000 {
			st = b.step(s, warm, 900, &draw{30, 40})
			if st.State.Charge < s {
				t.Fatalf("%s falls from %g to %g on the charger", c.Name, s, st.State.Charge)
			}
			s = st.State.Charge
		}
		if !st.Held || math.Abs(float64(s)-float64(b.Charge(14.4))) > 1e-9 || math.Abs(float64(st.Volts)-14.4) > 1e-9 {
			t.Errorf("%s ends at %g of %g: %+v", c.Name, s, float64(b.Charge(14.4)), st)
		}
	}
}

// Between a source that fades and a battery that takes no more, the volts
// float where both agree.
func TestVoltsFloatUnderTheHold(t *testing.T) {
	b := must(t, spec(plain(AGM)))
	bus := &mixed{amps: 10, fades: 10, from: 13} // nothing left at 14 V
	st := b.step(1, warm, 300, bus)
	if st.Held || st.Amps != 0 || math.Abs(float64(st.Volts)-14) > 1e-6 {
		t.Errorf("full: %+v", st)
	}
	st = b.step(0.9, warm, 300, bus) // takes almost 4 A
	if st.Held || math.Abs(bus.Net(float64(st.Volts))-float64(st.Amps)) > 1e-6 || st.Volts < 13.5 || st.Volts > 13.7 {
		t.Errorf("nine tenths: %+v", st)
	}
	sound(t, b, b.Rested(0.9, warm), 300, &st)
	if open, turnover := gap(b, 0.9, 300, &st); math.Abs(open) > 1e-9*turnover {
		t.Errorf("%g of %g Wh are open", open, turnover)
	}
	// Too cold to charge, with gear on: the source carries it, nothing more.
	st = must(t, spec(plain(LiFePO4))).step(0.5, -5, 300, bus)
	if !st.Refused || st.Held || st.Amps != 0 || math.Abs(float64(st.Volts)-14) > 1e-6 {
		t.Errorf("cold: %+v", st)
	}
}

// A bus that answers NaN is a slip of the caller: nothing flows, Short is set.
func TestBusWithoutANumber(t *testing.T) {
	b := must(t, spec(plain(LiFePO4)))
	for _, from := range []float64{0, 13.2, 13.3, 14.39} {
		bus := busFunc(func(v float64) float64 {
			if v > from {
				return math.NaN()
			}
			return 400
		})
		st := b.step(0.5, warm, 300, bus)
		if !st.Short || st.Amps != 0 || st.State.Charge != 0.5 || st.Held {
			t.Errorf("NaN above %g V: %+v", from, st)
		}
	}
}

type busFunc func(float64) float64

func (f busFunc) Net(v float64) float64 { return f(v) }

func TestStepBeyondItsRanges(t *testing.T) {
	b, bus, nan := must(t, spec(plain(LiFePO4))), &draw{-5, 20}, math.NaN()
	for _, c := range []struct{ s, air, h, sameS, sameAir, sameH float64 }{
		{-1, 25, 60, 0, 25, 60}, {2, 25, 60, 1, 25, 60}, {nan, 25, 60, 0, 25, 60},
		{0.5, -400, 60, 0.5, -60, 60}, {0.5, 400, 60, 0.5, 60, 60}, {0.5, nan, 60, 0.5, -60, 60},
		{0.5, 25, -1, 0.5, 25, 0}, {0.5, 25, nan, 0.5, 25, 0}, {0.5, 25, math.Inf(1), 0.5, 25, 1e7},
	} {
		got := b.step(qty.Fraction(c.s), qty.Celsius(c.air), c.h, bus)
		want := b.step(qty.Fraction(c.sameS), qty.Celsius(c.sameAir), c.sameH, bus)
		if got != want {
			t.Errorf("%+v:\n got %+v\nwant %+v", c, got, want)
		}
	}
}

func TestNewNamesTheBadNumber(t *testing.T) {
	for _, c := range []struct {
		what string
		edit func(*Spec)
	}{
		{"capacity", func(s *Spec) { s.Capacity = 0.9 }},
		{"capacity", func(s *Spec) { s.Capacity = qty.AmpHour(math.NaN()) }},
		{"resistance", func(s *Spec) { s.Resistance = 0 }},
		{"charge", func(s *Spec) { s.Charge = 17.1 }},
		{"cut-off", func(s *Spec) { s.CutOff = 6.9 }},
		{"cut-off", func(s *Spec) { s.CutOff = s.Alarm }},
		{"cut-off", func(s *Spec) { s.CutOff, s.Alarm, s.Reconnect = 12.8, 13, 12.8 }},
		{"alarm", func(s *Spec) { s.Alarm = 16.1 }},
		{"alarm", func(s *Spec) { s.Charge, s.Alarm = 13.5, 13.5 }},
		{"reconnect", func(s *Spec) { s.Reconnect = 14.4 }},
		{"alarm delay", func(s *Spec) { s.AlarmDelay = 601 * time.Second }},
		{"cut-off delay", func(s *Spec) { s.CutOffDelay = -1 }},
		{"reconnect delay", func(s *Spec) { s.ReconnectDelay = 25 * time.Hour }},
		{"rated hours", func(s *Spec) { s.RatedHours = 0.5 }},
		{"rated hours", func(s *Spec) { s.RatedHours = 101 }},
		{"exponent", func(s *Spec) { s.Peukert = 0.9 }},
		{"exponent", func(s *Spec) { s.Peukert = 1.7 }},
		{"health", func(s *Spec) { s.Health = 0.05 }},
		{"health", func(s *Spec) { s.Health = 1.01 }},
		{"growth", func(s *Spec) { s.Growth = 0.9 }},
		{"growth", func(s *Spec) { s.Growth = math.NaN() }},
		{"heat capacity", func(s *Spec) { s.HeatCapacity = -1 }},
		{"cooling", func(s *Spec) { s.Cooling = 51 }},
		{"coldest charge", func(s *Spec) { c := qty.Celsius(-41); s.NoChargeBelow = &c }},
		{"self-discharge", func(s *Spec) { c := qty.Fraction(0.51); s.SelfDischarge = &c }},
		{"cells", func(s *Spec) { s.Chemistry.Cells = 0 }},
		{"coulombic", func(s *Spec) { s.Chemistry.Coulombic = Always(1.1) }},
		{"accept hours", func(s *Spec) { s.Chemistry.AcceptHours = -1 }},
		{"rest points", func(s *Spec) { s.Chemistry.Rest = nil }},
		{"first charge of rest", func(s *Spec) { s.Chemistry.Rest = []Point{{0.1, 3}, {1, 4}} }},
		{"last charge of rest", func(s *Spec) { s.Chemistry.Rest = []Point{{0, 3}, {0.9, 4}} }},
		{"charge of rest", func(s *Spec) { s.Chemistry.Rest = []Point{{0, 3}, {0.5, 3.1}, {0.5, 3.2}, {1, 4}} }},
		{"volts of rest", func(s *Spec) { s.Chemistry.Rest = []Point{{0, 3}, {0.5, 3}, {1, 4}} }},
		{"volts of rest", func(s *Spec) { s.Chemistry.Rest = []Point{{0, 0}, {1, 4}} }},
	} {
		s := spec(plain(LiFePO4))
		c.edit(&s)
		_, err := New(s)
		var r *qty.RangeError
		if !errors.As(err, &r) || r.What != c.what {
			t.Errorf("got %v, want a RangeError about %s", err, c.what)
		}
	}
	for _, c := range []Chemistry{plain(LiFePO4), plain(AGM)} {
		must(t, spec(c))
	}
	if got := must(t, spec(plain(AGM))).Spec(); got.Capacity != 40 || got.Chemistry.Name != "AGM" {
		t.Errorf("Spec gives back %+v", got)
	}
}

// A wild bus jumps, spikes and answers nonsense.
type wild struct{ a, b, c, d float64 }

func (w wild) Net(v float64) float64 {
	switch {
	case v > w.d:
		return w.a - w.b/v
	case math.Mod(v*1000, 2) < 1:
		return w.c * v * v
	}
	return w.b * math.Sin(v*w.a)
}

// Never NaN, never a panic, charge within 0 to 1, energy closed, whatever the
// bus, the battery and the air.
func FuzzStep(f *testing.F) {
	f.Add(uint8(0), 40.0, 0.02, 0.5, 25.0, 300.0, -2.0, 40.0, 0.0, 0.0)
	f.Add(uint8(1), 1.0, 0.5, 1.0, -20.0, 900.0, 1e6, -1e6, 3.0, 13.0)
	f.Add(uint8(0), 1000.0, 0.0005, 0.0, -60.0, 1e-9, math.Inf(1), 1.0, math.NaN(), 14.0)
	f.Add(uint8(1), 40.0, 0.02, 1.0, 60.0, 1e7, 400.0, 1e300, -1e300, 12.5)
	f.Add(uint8(0), 41.0, 0.002, 0.1, 25.0, 300.0, 40.0, -1e9, 1e12, 14.2)                                                   // jumps between both signs while charging
	f.Add(uint8(0), 40.0, 0.005, 0.0, 2.0, 9.999982e6, 513.0, 7e300, -1e300, 8.5625)                                         // months on end from empty
	f.Add(uint8(0x0f), 686.0, 0.002857142857142857, -32.75, 4.166666666666667, 390.0, -0.16666666666666666, 8.0, 95.0, 35.0) // jumps where the secant lands
	f.Add(uint8('/'), 38.0, 0.0010416666666666667, 46.0, -109.0, 1057.5714285714284, 49998.45, -1.333316e+06, -8.333333333333334, 78.0)
	f.Fuzz(func(t *testing.T, chemistry uint8, capacity, ohms, s0, air, h, a, b, c, d float64) {
		s := spec(kinds[int(chemistry)%len(kinds)])
		s.Capacity, s.Resistance = qty.AmpHour(capacity), qty.Ohm(ohms)
		bat, err := New(s)
		if err != nil {
			return
		}
		bus := wild{a, b, c, d}
		st := bat.step(qty.Fraction(s0), qty.Celsius(air), h, bus)
		from := qty.Fraction(within(s0))
		sound(t, bat, State{Charge: from, Free: from, Core: qty.Celsius(air)}, h, &st)
		if h >= 0 && h <= 1e7 {
			open, turnover := gap(bat, from, h, &st)
			if math.Abs(open) > 1e-9*turnover+4e-16*float64(bat.Energy(1)) {
				t.Fatalf("%g of %g Wh are open: %+v", open, turnover, st)
			}
			if at, _ := bat.until(from, qty.Celsius(air), h, bus, qty.Volt(d)); !(at >= 0 && at <= h) {
				t.Fatalf("until gives %g of %g s", at, h)
			}
		}
	})
}

// counted is a bus that knows how often it was asked.
type counted struct {
	draw
	asked int
}

func (c *counted) Net(v float64) float64 {
	c.asked++
	return c.draw.Net(v)
}

// Our own bound: with halvings alone it was 340 questions.
func TestUntilAsksTheBusSeldom(t *testing.T) {
	b := must(t, spec(plain(LiFePO4)))
	for _, c := range []struct {
		s    qty.Fraction
		draw draw
		mark qty.Volt
		up   bool
	}{
		{0.05, draw{0, 300}, 11.5, false},
		{0.3, draw{-6, 0}, 12.9, false},
		{0.02, draw{5, 0}, 12.8, true},
		{0.01, draw{10, 80}, 12.5, true},
	} {
		bus := counted{draw: c.draw}
		seconds, crossed := b.first(b.Rested(c.s, warm), Around{Air: warm}, 3600, &bus, c.mark, c.up)
		if !crossed || !(seconds > 0 && seconds < 3600) {
			t.Fatalf("%+v: %g s, %t: not the case that was meant", c, seconds, crossed)
		}
		t.Logf("%+v: %.3f s, asked %d times", c, seconds, bus.asked)
		if bus.asked > 120 {
			t.Errorf("%+v: the bus was asked %d times", c, bus.asked)
		}
		if after := b.step(c.s, warm, seconds, &bus); !after.at(c.mark, c.up) {
			t.Errorf("%+v: a step of that length ends at %v, before the mark", c, after.EndVolts)
		}
		if before := b.step(c.s, warm, seconds*(1-1e-6)-1e-6, &bus); before.at(c.mark, c.up) {
			t.Errorf("%+v: a millionth sooner it is past the mark, too", c)
		}
	}
}
