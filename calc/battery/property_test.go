package battery

import (
	"math"
	"math/rand/v2"
	"testing"

	"duskline/calc/qty"
)

// A mixed is a random bus: constant amps and watts both ways, and a source
// that fades as the volts rise, like a panel past its knee.
type mixed struct {
	amps, watts float64 // into the battery, out of it
	fades, from float64 // A per V above from
}

func (m *mixed) Net(v float64) float64 {
	return m.amps - m.watts/v - m.fades*math.Max(0, v-m.from)
}

func randomBus(r *rand.Rand) *mixed {
	m := &mixed{amps: r.NormFloat64() * 12, watts: math.Abs(r.NormFloat64()) * 60}
	switch r.IntN(6) {
	case 0:
		m.watts = -m.watts // a source of constant watts
	case 1:
		m.watts *= 20
	case 2:
		m.amps *= 30
	case 3:
		m.fades, m.from = r.Float64()*20, 11+4*r.Float64()
	}
	return m
}

var kinds = all()

func randomBattery(t testing.TB, r *rand.Rand) *Battery {
	s := spec(kinds[r.IntN(len(kinds))])
	s.Capacity = qty.AmpHour(math.Exp(r.Float64() * math.Log(1000)))
	s.Resistance = qty.Ohm(0.0005 * math.Exp(r.Float64()*math.Log(1000)))
	s.Charge = qty.Volt(13.2 + 1.8*r.Float64())
	return must(t, s)
}

func randomCharge(r *rand.Rand) qty.Fraction {
	switch r.IntN(8) {
	case 0:
		return 0
	case 1:
		return 1
	case 2:
		return qty.Fraction(r.Float64() * 1e-3)
	case 3:
		return qty.Fraction(1 - r.Float64()*1e-3)
	}
	return qty.Fraction(r.Float64())
}

// randomSeconds is from a millisecond to a day.
func randomSeconds(r *rand.Rand) float64 { return 1e-3 * math.Exp(r.Float64()*math.Log(86400e3)) }

// randomState is any state that a battery may be left in, and some that it
// cannot.
func randomState(r *rand.Rand) State {
	s := State{Charge: randomCharge(r), Core: qty.Celsius(r.Float64()*90 - 35)}
	s.Free = s.Charge
	if r.IntN(3) > 0 {
		s.Free = randomCharge(r)
		s.Slow = qty.Volt(r.NormFloat64() * 0.1)
		s.Lean = r.Float64()*2 - 1
	}
	return s
}

func randomAround(r *rand.Rand) Around {
	return Around{Air: qty.Celsius(r.Float64()*80 - 35), Sun: qty.Watt(r.Float64() * 40)}
}

// sound fails on what no step may ever show.
func sound(t *testing.T, b *Battery, from State, h float64, st *Step) {
	t.Helper()
	for _, x := range []float64{
		float64(st.State.Charge), float64(st.State.Free), float64(st.State.Slow), st.State.Lean, float64(st.State.Core),
		float64(st.Volts), float64(st.EndVolts), float64(st.Amps), float64(st.Gas),
		float64(st.Heat), float64(st.ChargeLoss), float64(st.Standing),
	} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			t.Fatalf("not a number in %+v", *st)
		}
	}
	if s := st.State; s.Charge < 0 || s.Charge > 1 || s.Free < 0 || s.Free > 1 || s.Lean < -1 || s.Lean > 1 || s.Core < -60 || s.Core > 120 {
		t.Fatalf("state %+v", s)
	}
	if st.ChargeLoss < 0 || st.Standing < 0 || st.Gas < 0 || st.Gas > max(st.Amps, 0) {
		t.Fatalf("a loss below nothing: %+v", *st)
	}
	// The shift by temperature is that of the middle: one charge further and in
	// the heat of thousands of watts it is another, 1 mV/K a cell at most.
	shift := 0.0
	if b.spec.Chemistry.Shift != nil {
		shift = 0.001 * float64(b.spec.Chemistry.Cells) * (25 + math.Abs(float64(st.State.Core)-25) + math.Abs(float64(from.Core)-25))
	}
	top := max(b.top, float64(b.Volts(from, &draw{})), b.standing(from, h)) + shift + 1e-8
	own := float64(b.Volts(st.State, &draw{}))
	if own > top {
		t.Fatalf("%.6f V by itself at the end, charging is held at %.6f\nfrom %+v: %+v", own, top, from, *st)
	}
	if float64(st.Volts) > top || float64(st.EndVolts) > top {
		t.Fatalf("%.6f V and %.6f V at the end, charging is held at %.6f\nfrom %+v: %+v", st.Volts, st.EndVolts, top, from, *st)
	}
	if st.Empty != (st.State.Free == 0) {
		t.Fatalf("empty at free head %g: %+v", st.State.Free, *st)
	}
	s0 := qty.Fraction(within(float64(from.Charge)))
	if st.Amps > 0 && float64(st.State.Charge) < (float64(s0)-1e-15)*(1-b.leak(from, h)) || st.Amps <= 0 && st.State.Charge > s0 {
		t.Fatalf("%g A move the charge from %g to %g", st.Amps, s0, st.State.Charge)
	}
}

// standing returns the most volts that a battery shows by itself on the way:
// what it relaxes to.
func (b *Battery) standing(from State, h float64) float64 {
	idle := b.Step(from, Around{Air: from.Core}, h, &draw{})
	return max(float64(idle.Volts), float64(idle.EndVolts), float64(b.RestAt(idle.State.Charge, idle.State.Core, idle.State.Lean)))
}

// leak returns the share lost by self-discharge.
func (b *Battery) leak(from State, h float64) float64 {
	return 1 - math.Exp(-b.layers.atCore(120).standing*inside(h, 0, 1e7)/3600) + 1e-12
}

// gap returns what a step's energy leaves open, Wh, and its turnover.
func gap(b *Battery, s0 qty.Fraction, h float64, st *Step) (open, turnover float64) {
	in := float64(st.Volts) * float64(st.Amps) * h / 3600
	out := float64(b.Energy(st.State.Charge)-b.Energy(s0)) + float64(st.Heat) + float64(st.ChargeLoss) + float64(st.Standing)
	return in - out, math.Abs(in) + float64(st.Standing)
}

// Energy closes to 1e-9 of what went through, at any step from a millisecond
// to a day, with any bus, from any state. A charge is a float: its last digit,
// 2e-16 of the whole energy, is allowed on top.
func TestEnergyClosesAtAnyStep(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 1))
	worst, counts := 0.0, map[string]int{}
	for range 60_000 {
		b, from, h, bus, around := randomBattery(t, r), randomState(r), randomSeconds(r), randomBus(r), randomAround(r)
		st := b.Step(from, around, h, bus)
		sound(t, b, from, h, &st)
		open, turnover := gap(b, from.Charge, h, &st)
		digit := 4e-16 * float64(b.Energy(1))
		if math.Abs(open) > 1e-9*turnover+digit {
			t.Fatalf("%g Wh of %g are open\n%+v\nfrom %+v, %g s, %+v, %+v, %s", open, turnover, st, from, h, around, *bus, b.spec.Chemistry.Name)
		}
		if turnover > 1e10*digit {
			worst = math.Max(worst, math.Abs(open)/turnover)
		}
		for kind, is := range map[string]bool{
			"held": st.Held, "refused": st.Refused, "short": st.Short, "empty": st.Empty, "plain": !st.Held && !st.Short && !st.Empty,
		} {
			if is {
				counts[kind]++
			}
		}
	}
	t.Logf("worst gap %.2g of the turnover; %v", worst, counts)
	for _, kind := range []string{"held", "refused", "short", "empty", "plain"} {
		if counts[kind] < 500 {
			t.Errorf("only %d steps were %s", counts[kind], kind)
		}
	}
}

// A run of many steps closes too, against the energy at its ends.
func TestEnergyClosesOverARun(t *testing.T) {
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 2))
		b, s := randomBattery(t, r), randomState(r)
		start, in, lost, turnover := b.Energy(s.Charge), 0.0, 0.0, 0.0
		for range 500 {
			h, bus := randomSeconds(r), randomBus(r)
			st := b.Step(s, randomAround(r), h, bus)
			e := float64(st.Volts) * float64(st.Amps) * h / 3600
			in, turnover, lost = in+e, turnover+math.Abs(e), lost+float64(st.Heat+st.ChargeLoss+st.Standing)
			s = st.State
		}
		if open := in - float64(b.Energy(s.Charge)-start) - lost; math.Abs(open) > 1e-9*turnover {
			t.Errorf("seed %d: %g Wh of %g are open", seed, open, turnover)
		}
	}
}

// What the bus gives at the step's volts is what the battery got, whenever it
// was served as asked. Buses with a kink settle on it to the last digits.
func TestBusAgreesWithBattery(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	n := 0
	for range 50_000 {
		b, from, h, bus := randomBattery(t, r), randomState(r), randomSeconds(r), randomBus(r)
		st := b.Step(from, randomAround(r), h, bus)
		if st.Held || st.Short || st.Empty {
			// Of a step made in halves the bus may have given more in one of them
			// than at the volts of both.
			if got := bus.Net(float64(st.Volts)); st.Held && got < float64(st.Amps)-1e-6-0.01*math.Abs(got) {
				t.Fatalf("held, but the bus gives %g of %g A", bus.Net(float64(st.Volts)), st.Amps)
			}
			continue
		}
		n++
		if got := bus.Net(float64(st.Volts)); math.Abs(got-float64(st.Amps)) > 1e-8*(1+math.Abs(got)) {
			t.Fatalf("the bus gives %.12g A, the battery gets %.12g\n%+v\nfrom %+v, %g s, %+v %s", got, st.Amps, st, from, h, *bus, b.spec.Chemistry.Name)
		}
	}
	if n < 10_000 {
		t.Errorf("only %d plain steps", n)
	}
}

// More current never leaves more charge, across held, empty and collapsed.
func TestMoreCurrentNeverLeavesMoreCharge(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for range 20_000 {
		b, from, h, around := randomBattery(t, r), randomState(r), min(randomSeconds(r), 900), randomAround(r)
		around.Air = from.Core
		// Where five minutes of some bus lead to: of wells that nothing has led
		// to, long steps make what they can.
		around.Air = from.Core
		from = b.Step(b.Rested(from.Charge, from.Core), around, 300, randomBus(r)).State
		from.Core, b.lump.still = around.Air, true // what more amps warm, and what that does, is not the question
		watts := 0.0
		if r.IntN(2) == 0 {
			watts = math.Abs(r.NormFloat64()) * 100
		}
		amps := r.NormFloat64() * 50
		last := qty.Fraction(-1)
		for _, more := range []float64{-300, -50, -5, -0.5, -1e-3, 0, 1e-3, 0.5, 5, 50, 300} {
			st := b.Step(from, around, h, &draw{amps + more, watts})
			// Whether a held step is made in halves moves it by as much as the
			// length of a step may: 0.5 % of the charge.
			if st.State.Charge < last-1e-12 && !(st.Held && st.State.Charge > last-5e-3) {
				t.Fatalf("%g A more into the bus leave %g instead of %g\nfrom %+v, %g s, %+v, %g A, %g W, %s: %+v", more, st.State.Charge, last, from, h, around, amps, watts, b.spec.Chemistry.Name, st)
			}
			last = st.State.Charge
		}
	}
}

// Half the step moves the charge at any time of six hours by less than 2e-8,
// at the five minutes of the Outlook: drawing to empty, charging into the
// hold, warm and cold; by 1e-7 where AGM is drawn down its last 3 %, over
// which it falls by 1.3 V. In the one step in which AGM changes from taking all
// to taking what is missing, its amps are too many for half a step: at most
// i·η·h²/(8·Q), here 1.8e-4, and gone again an hour or two later.
func TestHalfTheStepMovesLittle(t *testing.T) {
	bounds := map[string]float64{"LiFePO4": 2e-8, "AGM": 2e-4}
	drawing := map[string]float64{"LiFePO4": 2e-8, "AGM": 1e-7}
	for _, c := range []Chemistry{plain(LiFePO4), plain(AGM)} {
		b := must(t, spec(c))
		for _, bus := range []draw{{0, 60}, {-5, 0}, {-1, 40}, {6, 0}, {12, 30}, {1, 0}} {
			bound := bounds[c.Name]
			if bus.amps <= 0 {
				bound = drawing[c.Name]
			}
			worst, last := 0.0, 0.0
			for _, air := range []qty.Celsius{25, 2} {
				s := [2]qty.Fraction{0.75, 0.75}
				for range 72 {
					for k, parts := range []int{1, 2} {
						for range parts {
							s[k] = b.step(s[k], air, 300/float64(parts), &bus).State.Charge
						}
					}
					last = math.Abs(float64(s[0] - s[1]))
					worst = math.Max(worst, last)
				}
			}
			t.Logf("%s, %+v: %.2g, at the end %.2g", c.Name, bus, worst, last)
			if worst > bound || last > 1e-6 {
				t.Errorf("%s, %+v: half the step moves the charge by %g, more than %g, and by %g at the end", c.Name, bus, worst, bound, last)
			}
		}
	}
}

// Hand arithmetic: with no resistance to speak of, constant watts empty the
// battery in energy over watts, whatever the step. 20 mΩ take 0.7 % of it
// at 60 W: I·R of the mean volts. 0.05 % at steps from a minute to all at once.
func TestRuntimeAgainstEnergyOverWatts(t *testing.T) {
	for _, c := range []Chemistry{plain(LiFePO4), plain(AGM)} {
		b := must(t, spec(c))
		bus := &draw{0, 60}
		mean := float64(b.Energy(1)) / 40
		i := (mean - math.Sqrt(mean*mean-4*0.020*60)) / (2 * 0.020) // H21
		want := 40 / i
		for _, h := range []float64{60, 300, 900, 3600, 86400} {
			s, hours := qty.Fraction(1), 0.0
			for {
				seconds, empty := b.until(s, warm, h, bus, 0)
				hours += seconds / 3600
				s = b.step(s, warm, seconds, bus).State.Charge
				if empty {
					break
				}
			}
			if math.Abs(hours/want-1) > 0.0005 {
				t.Errorf("%s in steps of %g s: %.4f h, by hand %.4f", c.Name, h, hours, want)
			}
		}
	}
}

// The instants of alarm, cut-off and empty do not hang on the step: 0.1 %
// between steps of ten seconds and of fifteen minutes.
func TestUntilDoesNotHangOnTheStep(t *testing.T) {
	for _, c := range []Chemistry{plain(LiFePO4), plain(AGM)} {
		b := must(t, spec(c))
		for _, bus := range []draw{{0, 30}, {-4, 0}, {-1, 200}, {0, 900}} {
			for _, mark := range []qty.Volt{12.2, 11.8, 11.5, 10.5, 0} {
				var at [2]float64
				for k, h := range []float64{10, 900} {
					s := qty.Fraction(0.9)
					for crossed := false; !crossed; {
						var seconds float64
						seconds, crossed = b.until(s, warm, h, &bus, mark)
						st := b.step(s, warm, seconds, &bus)
						if crossed && seconds > 0 && !st.Empty && !st.Short && math.Abs(float64(st.EndVolts-mark)) > 1e-5 {
							t.Errorf("stepping to the crossing ends at %.7f V, the mark is %g", st.EndVolts, mark)
						}
						at[k] += seconds
						s = st.State.Charge
					}
				}
				if math.Abs(at[0]-at[1]) > 0.001*at[0] {
					t.Errorf("%s, %+v, %g V: %.1f s in short steps, %.1f s in long ones", c.Name, bus, mark, at[0], at[1])
				}
			}
		}
	}
}

func TestUntilSaysWhenNothingIsCrossed(t *testing.T) {
	b := must(t, spec(plain(LiFePO4)))
	if s, ok := b.until(0.5, warm, 300, &draw{-1, 0}, 11); s != 300 || ok {
		t.Errorf("a light draw: %g, %v", s, ok)
	}
	if s, ok := b.untilUp(0.5, warm, 300, &draw{-1, 0}, 14); s != 300 || ok {
		t.Errorf("rising while drawing: %g, %v", s, ok)
	}
	if s, ok := b.until(0, warm, 300, &draw{-1, 0}, 0); s != 0 || !ok {
		t.Errorf("empty at the start: %g, %v", s, ok)
	}
	if s, ok := b.untilUp(0.5, warm, 300, &draw{1, 0}, 12); s != 0 || !ok {
		t.Errorf("above the mark at the start: %g, %v", s, ok)
	}
	seconds, ok := b.untilUp(0.02, warm, 3600, &draw{5, 0}, 12.8)
	if st := b.step(0.02, warm, seconds, &draw{5, 0}); !ok || math.Abs(float64(st.EndVolts)-12.8) > 1e-6 {
		t.Errorf("reconnect at %g s: %+v", seconds, st)
	}
}
