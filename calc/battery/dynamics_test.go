package battery

import (
	"math"
	"math/rand/v2"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// wellsOnly is a straight line with two wells and nothing else.
func wellsOnly(free qty.Fraction, exchange float64) Chemistry {
	c := line(12, 13)
	c.Free, c.Exchange = free, exchange
	return c
}

// The step has the closed form of the kinetic model at any length. Handbook
// H23 and H25, 1e-6 A·h: c = 0.4, k' = 0.6 1/h, 50 A·h; 10 A for 2 h and a rest
// of 2 h; and H24: 20 A empty the free well in 1.20977 h.
func TestStepVectorWellsH23H24H25(t *testing.T) {
	s := spec(wellsOnly(0.4, 0.6))
	s.Capacity = 50 * qty.AmpHour(Wells{0.4, 0.6}.CapacityIn(20)) // so that it holds 50
	b := must(t, s)
	golden.Near(t, "holds, A·h", float64(b.Holds()), 50, 12)
	w := golden.Worst{What: "amp-hours of the free well and of both", Limit: 1e-6}
	add := func(row int, st State, free, both float64) {
		w.Add(row, float64(st.Free)*20-free)
		w.Add(row, float64(st.Charge)*50-both)
	}
	for row, parts := range []int{1, 2, 24, 1440} {
		st := b.Rested(1, warm)
		for range parts {
			st = b.Step(st, Around{Air: warm}, 7200/float64(parts), &draw{-10, 0}).State
		}
		add(row, st, 5.011942, 30)
		for range parts {
			st = b.Step(st, Around{Air: warm}, 7200/float64(parts), &draw{}).State
		}
		add(row, st, 9.895237, 30)
	}
	w.Report(t)
	for _, c := range []struct{ amps, hours float64 }{{2.5, 17.50007}, {5, 7.52732}, {10, 2.93077}, {20, 1.20977}, {40, 0.54871}} {
		seconds, crossed := b.Until(b.Rested(1, warm), Around{Air: warm}, 1e5, &draw{-c.amps, 0}, 0)
		if !crossed || math.Abs(seconds/3600-c.hours) > 1e-4 {
			t.Errorf("%g A for %.5f h, %v, want %.5f", c.amps, seconds/3600, crossed, c.hours)
		}
	}
	// Empty, a rest of an hour, and 20 A run 0.293135 h more.
	seconds, _ := b.Until(b.Rested(1, warm), Around{Air: warm}, 1e5, &draw{-20, 0}, 0)
	st := b.Step(b.Rested(1, warm), Around{Air: warm}, seconds, &draw{-20, 0}).State
	st = b.Step(st, Around{Air: warm}, 3600, &draw{}).State
	golden.Near(t, "recovered, A·h", float64(st.Free)*20, 4.657098, 5)
	seconds, _ = b.Until(st, Around{Air: warm}, 1e5, &draw{-20, 0}, 0)
	golden.Near(t, "20 A again, h", seconds/3600, 0.293135, 5)
}

// A battery emptied in its rated hours at 25 °C gives its rated amp-hours
// times its health, whatever the chemistry and the exponent.
func TestRatedHoursGiveTheRating(t *testing.T) {
	for _, c := range Named() {
		for _, hours := range []float64{5, 20, 100} {
			for _, exponent := range []float64{0, 1.05, 1.25} {
				s := marks(c)
				s.Chemistry.SelfDischarge = 0
				s.RatedHours, s.Peukert, s.Health = hours, exponent, 0.8
				s.HeatCapacity, s.Cooling = 500_000, 50 // stays at 25 °C
				b := must(t, s)
				amps := 40 * 0.8 / hours
				seconds, crossed := b.Until(b.Rested(1, warm), Around{Air: warm}, 1e6, &draw{-amps, 0}, 0)
				if !crossed || math.Abs(seconds/3600/hours-1) > 0.002 {
					t.Errorf("%s rated for %g h, exponent %g: %.3f h", c.Name, hours, exponent, seconds/3600)
				}
			}
		}
	}
}

// The slow part alone: i·R1·(1 - exp(-t/τ)) at any step, and half of it is
// gone ln 2 time constants after the amps.
func TestSlowPartAgainstItsClosedForm(t *testing.T) {
	c := line(12, 13)
	c.SlowShare, c.SlowSeconds = 0.5, 200
	b := must(t, spec(c))
	for _, h := range []float64{1, 20, 60, 300, 900} {
		st := b.Rested(0.5, warm)
		for at := h; at <= 900; at += h {
			st = b.Step(st, Around{Air: warm}, h, &draw{-10, 0}).State
			if want := -10 * 0.01 * (1 - math.Exp(-at/200)); math.Abs(float64(st.Slow)-want) > 1e-8 {
				t.Fatalf("%g s in steps of %g: %g V, want %g", at, h, st.Slow, want)
			}
		}
		half := b.Step(st, Around{Air: warm}, 200*math.Ln2, &draw{}).State
		golden.Near(t, "slow volts after ln 2 time constants", float64(half.Slow), float64(st.Slow)/2, 8)
	}
}

// The lump alone: 1000 J/K and 0.5 W/K have a time constant of 2000 s, and 5 W
// of sun end 10 K above the air.
func TestCoreAgainstItsClosedForm(t *testing.T) {
	s := spec(line(12, 13))
	s.HeatCapacity, s.Cooling = 1000, 0.5
	b := must(t, s)
	for _, h := range []float64{10, 300, 6000} {
		st := b.Rested(0.5, 30)
		for range int(6000 / h) {
			st = b.Step(st, Around{Air: 10, Sun: 5}, h, &draw{}).State
		}
		if want := 20 + 10*math.Exp(-3); math.Abs(float64(st.Core)-want) > 1e-6 {
			t.Errorf("steps of %g s: %.6f °C, want %.6f", h, st.Core, want)
		}
	}
	// Its own heat: 10 A over 20 mΩ are 2 W, 4 K in the end.
	st := b.Rested(0.9, 10)
	for range 60 {
		st = b.Step(st, Around{Air: 10}, 200, &draw{-10, 0}).State
	}
	if want := 14 - 4*math.Exp(-6); math.Abs(float64(st.Core)-want) > 1e-3 {
		t.Errorf("10 A warm it to %.3f °C, want %.3f", st.Core, want)
	}
}

// Hysteresis alone: after 1/rate of charge moved 63 % of the way are done, and
// none of it by time.
func TestLeanGoesByChargeMoved(t *testing.T) {
	c := line(12, 13)
	c.Swing, c.SwingRate = 0.05, 20
	b := must(t, spec(c))
	st := b.Step(b.Rested(0.5, warm), Around{Air: warm}, 3600, &draw{2, 0}).State // 0.05 of charge
	golden.Near(t, "lean after charging", st.Lean, 1-math.Exp(-1), 5)
	rested := b.Step(st, Around{Air: warm}, 1e6, &draw{})
	if rested.State.Lean != st.Lean || math.Abs(float64(rested.EndVolts)-float64(b.Rest(0.55))-0.05*st.Lean) > 1e-9 {
		t.Errorf("days later: %+v", rested)
	}
	if got := b.RestAt(0.55, warm, st.Lean); math.Abs(float64(got-rested.EndVolts)) > 1e-9 {
		t.Errorf("RestAt says %g V, the battery stands at %g", got, rested.EndVolts)
	}
}

// Self-discharge compounds: H43's law by Standing, whatever the step.
func TestSelfDischargeAgainstStanding(t *testing.T) {
	for _, c := range []Chemistry{AGM, layered(LiFePO4)} {
		s := marks(c)
		s.HeatCapacity, s.Cooling = 500_000, 50 // what it loses does not warm it
		b := must(t, s)
		for _, days := range []float64{0.01, 1, 30, 90} {
			st := b.Rested(0.9, 30)
			for at := 0.0; at < 90-1e-9; at += days {
				st = b.Step(st, Around{Air: 30}, days*86400, &draw{}).State
			}
			want := s.Chemistry.Standing().After(0.9, 90, 0, 30)
			if math.Abs(float64(st.Charge-want)) > 1e-4 {
				t.Errorf("%s in steps of %g d: %.6f left, want %.6f", c.Name, days, st.Charge, want)
			}
		}
	}
	none := qty.Fraction(0)
	s := marks(AGM)
	s.SelfDischarge = &none
	b := must(t, s)
	if st := b.Step(b.Rested(0.9, 30), Around{Air: 30}, 1e7, &draw{}); st.State.Charge != 0.9 || st.Standing != 0 {
		t.Errorf("with none of it: %+v", st)
	}
}

// Volts of the instant rise with charge, free head and amps, at any state.
func TestVoltsRiseWithChargeAndAmps(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for range 3000 {
		b, from := randomBattery(t, r), randomState(r)
		from.Core = qty.Celsius(inside(float64(from.Core), -30, 45))
		last := 0.0
		for k := range 101 {
			s := from
			s.Charge = qty.Fraction(k) / 100
			s.Free = s.Charge
			if v := float64(b.Volts(s, &draw{})); v <= last {
				t.Fatalf("%s: %.6f V at %d %%, %.6f before, %+v", b.spec.Chemistry.Name, v, k, last, s)
			} else {
				last = v
			}
		}
		for _, h := range []float64{0, 60, 900} {
			var w work
			w.begin(b, &from, &Around{Air: from.Core}, h)
			last, lastEnd := math.Inf(-1), math.Inf(-1)
			for i := -60.0; i <= 60; i += 0.5 {
				if v := w.volts(i); v <= last {
					t.Fatalf("%s, %g s: %g A have %.9f V, fewer had %.9f, %+v", b.spec.Chemistry.Name, h, i, v, last, from)
				} else {
					last = v
				}
				if i >= 0 {
					if v, _ := w.stands(i); v < lastEnd {
						t.Fatalf("%s, %g s: %g A end at %.9f V, fewer at %.9f", b.spec.Chemistry.Name, h, i, v, lastEnd)
					} else {
						lastEnd = v
					}
				}
			}
		}
	}
}

// In closed cycles what goes in is what comes out and what is lost: amp-hours
// and energy, with heat above nothing over the whole cycle.
func TestClosedCyclesBalance(t *testing.T) {
	for _, c := range all() {
		b := must(t, marks(c))
		st := b.Rested(0.5, 20)
		for k := range 300 {
			amps := 6.0
			if k%2 == 1 {
				amps = -6
			}
			var in, out, gas, lost, heat, wh float64
			start := st
			for range 12 {
				z := b.Step(st, Around{Air: 20}, 300, &draw{amps, 0})
				st = z.State
				in += math.Max(float64(z.Amps), 0) / 12
				out -= math.Min(float64(z.Amps), 0) / 12
				gas += float64(z.Gas) / 12
				wh += float64(z.Amps) * float64(z.Volts) / 12
				lost += float64(z.Standing + z.ChargeLoss)
				heat += float64(z.Heat)
			}
			change := float64(st.Charge-start.Charge) * float64(b.Holds())
			standing := in - gas - out - change // A·h
			if standing < -1e-9 || standing > 0.02 {
				t.Fatalf("%s: %.6f A·h in, %.6f out, %.6f gas, %.6f more held", c.Name, in, out, gas, change)
			}
			if open := wh - float64(b.Energy(st.Charge)-b.Energy(start.Charge)) - heat - lost; math.Abs(open) > 1e-9*math.Abs(wh) {
				t.Fatalf("%s: %g Wh are open", c.Name, open)
			}
			if k%2 == 1 && heat < 0 {
				t.Fatalf("%s: a discharge after a charge has %g Wh of heat", c.Name, heat)
			}
		}
	}
}

// Wherever runs lead, no state leaves its bounds, and steps of 1, 5 and 15
// minutes agree within 0.5 % of the charge.
func TestStepsOf1And5And15MinutesAgree(t *testing.T) {
	for _, c := range Named() {
	seeds:
		for seed := range uint64(12) {
			b := must(t, marks(c))
			r := rand.New(rand.NewPCG(seed, 9))
			var at [3]State
			for k := range at {
				at[k] = b.Rested(0.6, 15)
			}
			for range 48 { // half hours
				bus := draw{r.NormFloat64() * 8, math.Max(0, r.NormFloat64()*40)}
				around := Around{Air: qty.Celsius(12 + 10*r.Float64()), Sun: qty.Watt(20 * r.Float64())}
				for k, minutes := range []float64{1, 5, 15} {
					for range int(30 / minutes) {
						st := b.Step(at[k], around, minutes*60, &bus)
						sound(t, b, at[k], minutes*60, &st)
						if at[k] = st.State; st.Empty {
							continue seeds // for the caller to find the instant and cut off
						}
					}
					if d := math.Abs(float64(at[k].Charge - at[0].Charge)); d > 0.005 {
						t.Fatalf("%s, seed %d: in steps of %g min the charge is off by %.4f: %+v, %+v", c.Name, seed, minutes, d, at[k], at[0])
					}
				}
			}
		}
	}
}

// Short is said only where no volts at or above half serve the bus: looked for
// at every hundredth of a volt.
func TestShortOnlyWhereNothingServes(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	shorts := 0
	for range 4000 {
		b, from, h := randomBattery(t, r), randomState(r), min(randomSeconds(r), 900)
		bus := &draw{0, math.Exp(r.Float64()*9 + 1)}
		st := b.Step(from, Around{Air: from.Core}, h, bus)
		if !st.Short {
			continue
		}
		shorts++
		var w work
		w.begin(b, &from, &Around{Air: from.Core}, h)
		for v := w.v0; v > w.v0/2; v -= 0.01 {
			if y := w.volts(bus.Net(v)); y > v {
				t.Fatalf("%s: %g V serve %g W: %+v from %+v", b.spec.Chemistry.Name, v, bus.watts, st, from)
			}
		}
	}
	if shorts < 200 {
		t.Errorf("only %d", shorts)
	}
}

// Until finds an instant at which the mark is passed, for volts that rise at
// first as a battery recovers, too; what it returns is where a Step ends.
func TestUntilAfterAHeavyDraw(t *testing.T) {
	for _, c := range all() {
		b := must(t, marks(c))
		tired := b.Step(b.Rested(0.6, 20), Around{Air: 20}, 1200, &draw{-25, 0}).State
		light := &draw{-0.5, 0}
		now, later := b.Volts(tired, light), b.Step(tired, Around{Air: 20}, 900, light).EndVolts
		if b.free < 1 && later <= now {
			t.Fatalf("%s does not recover: %g V, %g V", c.Name, now, later)
		}
		if later > now {
			mark := (now + later) / 2
			at, crossed := b.UntilUp(tired, Around{Air: 20}, 900, light, mark)
			st := b.Step(tired, Around{Air: 20}, at, light)
			if !crossed || at <= 0 || at >= 900 || math.Abs(float64(st.EndVolts-mark)) > 1e-4 {
				t.Errorf("%s: back at %g V after %g s, %v: %+v", c.Name, mark, at, crossed, st)
			}
		}
		at, crossed := b.Until(tired, Around{Air: 20}, 1e6, light, 0)
		if st := b.Step(tired, Around{Air: 20}, at, light); !crossed || !st.Empty {
			t.Errorf("%s: not empty after %g s, %v: %+v", c.Name, at, crossed, st)
		}
	}
}

func TestStepAllocatesNothing(t *testing.T) {
	b := must(t, marks(LiFePO4))
	st := b.Rested(0.9, 20)
	bus := &draw{12, 20}
	if n := testing.AllocsPerRun(200, func() {
		st = b.Step(st, Around{Air: 10}, 900, bus).State
		b.Until(st, Around{Air: 10}, 900, bus, 13)
	}); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

// An old battery: 70 % of the amp-hours, twice the resistance.
func TestHealthAndGrowth(t *testing.T) {
	s := marks(plain(LiFePO4))
	s.Health, s.Growth = 0.7, 2
	b := must(t, s)
	fast, slow := b.Resistance(0.5, 25)
	if b.Holds() != 28 || math.Abs(float64(fast)-0.04) > 1e-12 || slow != 0 {
		t.Errorf("holds %g A·h behind %g and %g Ω", b.Holds(), fast, slow)
	}
}

// The limit of charging in the cold is the core's, not the air's, and a Spec's
// own comes before the chemistry's.
func TestChargingInTheColdGoesByTheCore(t *testing.T) {
	s := marks(LiFePO4)
	b := must(t, s)
	if st := b.Step(b.Rested(0.5, 8), Around{Air: -10}, 60, &draw{10, 0}); st.Refused || st.Amps <= 0 {
		t.Errorf("a warm core in the frost: %+v", st)
	}
	if st := b.Step(b.Rested(0.5, -8), Around{Air: 20}, 60, &draw{10, 0}); !st.Refused || st.Amps != 0 {
		t.Errorf("a cold core in the warm: %+v", st)
	}
	own := qty.Celsius(-20)
	s.NoChargeBelow = &own
	b = must(t, s)
	if st := b.Step(b.Rested(0.5, -8), Around{Air: -8}, 60, &draw{10, 0}); st.Refused || st.Amps <= 0 {
		t.Errorf("with a limit of its own: %+v", st)
	}
}
