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

func randomBattery(t testing.TB, r *rand.Rand) *Battery {
	s := spec([]Chemistry{LiFePO4, AGM, line(11.5, 13)}[r.IntN(3)])
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

// sound fails on what no step may ever show.
func sound(t *testing.T, b *Battery, s0 qty.Fraction, h float64, st *Step) {
	t.Helper()
	for _, x := range []float64{
		float64(st.State.Charge), float64(st.Volts), float64(st.EndVolts), float64(st.Amps), float64(st.Heat), float64(st.ChargeLoss),
	} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			t.Fatalf("not a number in %+v", *st)
		}
	}
	if st.State.Charge < 0 || st.State.Charge > 1 {
		t.Fatalf("charge %g", st.State.Charge)
	}
	if st.Heat < 0 || st.ChargeLoss < 0 {
		t.Fatalf("a loss below nothing: %+v", *st)
	}
	if top := max(b.spec.Charge, b.Rest(s0)) + 1e-9; st.Volts > top || st.EndVolts > top {
		t.Fatalf("%.6f V and %.6f V at the end, charging is held at %.6f", st.Volts, st.EndVolts, top)
	}
	if st.Empty != (st.State.Charge == 0) && !st.Short {
		t.Fatalf("empty at charge %g: %+v", st.State.Charge, *st)
	}
	if st.Amps > 0 && st.State.Charge < s0 || st.Amps < 0 && st.State.Charge > s0 {
		t.Fatalf("%g A move the charge from %g to %g", st.Amps, s0, st.State.Charge)
	}
}

// gap returns what a step's energy leaves open, Wh, and its turnover.
func gap(b *Battery, s0 qty.Fraction, h float64, st *Step) (open, turnover float64) {
	in := float64(st.Volts) * float64(st.Amps) * h / 3600
	return in - float64(b.Energy(st.State.Charge)-b.Energy(s0)) - float64(st.Heat) - float64(st.ChargeLoss), math.Abs(in)
}

// Energy closes to 1e-9 of what went through, at any step from a millisecond
// to a day, with any bus. A charge is a float: its last digit, 2e-16 of the
// whole energy, is allowed on top.
func TestEnergyClosesAtAnyStep(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 1))
	worst, kinds := 0.0, map[string]int{}
	for range 200_000 {
		b, s0, h, bus := randomBattery(t, r), randomCharge(r), randomSeconds(r), randomBus(r)
		air := qty.Celsius(r.Float64()*80 - 35)
		st := b.step(s0, air, h, bus)
		sound(t, b, s0, h, &st)
		open, turnover := gap(b, s0, h, &st)
		digit := 4e-16 * float64(b.Energy(1))
		if math.Abs(open) > 1e-9*turnover+digit {
			t.Fatalf("%g Wh of %g are open\n%+v\nfrom %g, %g s, %g °C, %+v, %+v", open, turnover, st, s0, h, air, *bus, b.spec)
		}
		if turnover > 1e10*digit {
			worst = math.Max(worst, math.Abs(open)/turnover)
		}
		for kind, is := range map[string]bool{
			"held": st.Held, "refused": st.Refused, "short": st.Short, "empty": st.Empty, "plain": !st.Held && !st.Short && !st.Empty,
		} {
			if is {
				kinds[kind]++
			}
		}
	}
	t.Logf("worst gap %.2g of the turnover; %v", worst, kinds)
	for _, kind := range []string{"held", "refused", "short", "empty", "plain"} {
		if kinds[kind] < 500 {
			t.Errorf("only %d steps were %s", kinds[kind], kind)
		}
	}
}

// A run of many steps closes too, against the energy at its ends.
func TestEnergyClosesOverARun(t *testing.T) {
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 2))
		b, s := randomBattery(t, r), randomCharge(r)
		start, in, lost, turnover := b.Energy(s), 0.0, 0.0, 0.0
		for range 500 {
			h, bus := randomSeconds(r), randomBus(r)
			st := b.step(s, qty.Celsius(r.Float64()*60-20), h, bus)
			e := float64(st.Volts) * float64(st.Amps) * h / 3600
			in, turnover, lost = in+e, turnover+math.Abs(e), lost+float64(st.Heat+st.ChargeLoss)
			s = st.State.Charge
		}
		if open := in - float64(b.Energy(s)-start) - lost; math.Abs(open) > 1e-9*turnover {
			t.Errorf("seed %d: %g Wh of %g are open", seed, open, turnover)
		}
	}
}

// What the bus gives at the step's volts is what the battery got, whenever it
// was served as asked. Buses with a kink settle on it to the last digits.
func TestBusAgreesWithBattery(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	n := 0
	for range 100_000 {
		b, s0, h, bus := randomBattery(t, r), randomCharge(r), randomSeconds(r), randomBus(r)
		st := b.step(s0, 25, h, bus)
		if st.Held || st.Short || st.Empty {
			if st.Held && bus.Net(float64(st.Volts)) < float64(st.Amps)-1e-6 {
				t.Fatalf("held, but the bus gives %g of %g A", bus.Net(float64(st.Volts)), st.Amps)
			}
			continue
		}
		n++
		if got := bus.Net(float64(st.Volts)); math.Abs(got-float64(st.Amps)) > 1e-8*(1+math.Abs(got)) {
			t.Fatalf("the bus gives %.12g A, the battery gets %.12g\n%+v\nfrom %g, %g s, %+v %+v", got, st.Amps, st, s0, h, *bus, b.spec)
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
		b, s0, h := randomBattery(t, r), randomCharge(r), randomSeconds(r)
		air := qty.Celsius(r.Float64()*60 - 20)
		watts := 0.0
		if r.IntN(2) == 0 {
			watts = math.Abs(r.NormFloat64()) * 100
		}
		amps := r.NormFloat64() * 50
		last := qty.Fraction(-1)
		for _, more := range []float64{-300, -50, -5, -0.5, -1e-3, 0, 1e-3, 0.5, 5, 50, 300} {
			st := b.step(s0, air, h, &draw{amps + more, watts})
			if st.State.Charge < last-1e-12 {
				t.Fatalf("%g A more into the bus leave %g instead of %g\nfrom %g, %g s, %g °C, %g A, %g W, %+v", more, st.State.Charge, last, s0, h, air, amps, watts, b.spec)
			}
			last = st.State.Charge
		}
	}
}

// Half the step moves the charge at any time of six hours by less than 2e-8,
// at the five minutes of the Outlook: drawing to empty, charging into the
// hold, warm and cold. In the one step in which AGM changes from taking all
// to taking what is missing, its amps are too many for half a step: at most
// i·η·h²/(8·Q), here 1.8e-4, and gone again an hour or two later.
func TestHalfTheStepMovesLittle(t *testing.T) {
	bounds := map[string]float64{"LiFePO4": 2e-8, "AGM": 2e-4}
	const drawing = 2e-8
	for _, c := range []Chemistry{LiFePO4, AGM} {
		b := must(t, spec(c))
		for _, bus := range []draw{{0, 60}, {-5, 0}, {-1, 40}, {6, 0}, {12, 30}, {1, 0}} {
			bound := bounds[c.Name]
			if bus.amps <= 0 {
				bound = drawing
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
	for _, c := range []Chemistry{LiFePO4, AGM} {
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
	for _, c := range []Chemistry{LiFePO4, AGM} {
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
	b := must(t, spec(LiFePO4))
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
