package power

import (
	"math"
	"math/rand/v2"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// taper is a battery of the textbook: it takes 10 A while more than 8 Ah are
// missing; then it is held, and takes amps that fall exponentially, by e in an
// hour.
type taper struct{ missing, amps float64 }

// take runs so many seconds and reports whether the battery was held.
func (b *taper) take(seconds float64) (held bool) {
	h := seconds / 3600
	if b.missing > 8+1e-9 {
		b.missing -= b.amps * h
		return false
	}
	was := b.amps
	b.amps *= math.Exp(-h)
	b.missing -= was - b.amps
	return true
}

// Figures: electrical.md C38 and C39: 40 Ah at 10 A, bulk to 80 %, then a tail
// down to 2 A that puts in the rest. The stages are run through it with
// absorption set to the time of that tail, in steps of any length that are cut
// where Left says.
func TestChargeAgainstElectricalC38AndC39(t *testing.T) {
	w := WallCharger{Current: 10, Efficiency: 0.88}
	golden.Check(t, "C38.ideal = 4.000 h ± 0.01 %", w.RefillHours(40, 1))
	bulk := w.RefillHours(32, 1)
	golden.Check(t, "C39.bulk = 3.2 h ± 0.01 %", bulk)
	tail := TailHours(8, 10, 2)
	golden.Check(t, "C39.tau = 1.0 h ± 0.01 %", tail/math.Log(5))
	golden.Check(t, "C39.abs = 1.6094 h ± 0.01 %", tail)
	golden.Check(t, "C39.total = 4.8094 h ± 0.01 %", bulk+tail)

	for _, step := range []float64{1, 60, 320, 960} { // each a whole number of times in bulk
		run := Stages{Absorb: 14.4, Hours: tail, After: Float, Float: 13.6, Resume: 12.8}.Begin()
		b, now, atAbsorption := taper{40, 10}, 0.0, 0.0
		for run.Stage() <= Absorption && now < 1e6 {
			h := math.Min(step, run.Left())
			held := b.take(h)
			if held && run.Stage() == Bulk {
				atAbsorption = now
			}
			run.Advance(h, held, 14.4)
			now += h
		}
		golden.Check(t, "C39.bulk = 3.2 h ± 0.01 %", atAbsorption/3600)
		golden.Check(t, "C39.total = 4.8094 h ± 0.01 %", now/3600)
		golden.Near(t, "amps at the end of the tail", b.amps, 2, 9)
		if math.Abs(b.missing) > 1e-8 {
			t.Errorf("step %g s: %g Ah are still missing", step, b.missing)
		}
		if v, on := run.Volts(25); run.Stage() != Floating || v != 13.6 || !on {
			t.Errorf("step %g s: stage %d at %g V", step, run.Stage(), v)
		}
	}
}

// What Hold says is what there was before there were stages: one voltage, for
// good, whatever happens.
func TestHoldHoldsForGood(t *testing.T) {
	s := Stages{Absorb: 14.4, Hours: 1, Float: 13.5, Resume: 13.2}
	run := s.Begin()
	rng := rand.New(rand.NewPCG(1, 2))
	for range 10_000 {
		run.Advance(rng.Float64()*3600, rng.IntN(2) == 0, qty.Volt(9+6*rng.Float64()))
		if v, on := run.Volts(qty.Celsius(-40 + 90*rng.Float64())); v != 14.4 || !on || !math.IsInf(run.Left(), 1) {
			t.Fatalf("%g V, %v, %g s left", v, on, run.Left())
		}
		if _, anew := run.Mark(); anew || run.Stage() > Absorption {
			t.Fatalf("stage %d, begins anew: %v", run.Stage(), anew)
		}
	}
}

// The whole course, by hand: clouds stop the clock of absorption, a night
// begins a new charge, a rest with enough volts does not.
func TestCourseOfACharge(t *testing.T) {
	s := Stages{Absorb: 14.4, Hours: 2, After: Rest, Resume: 13.2}
	run := s.Begin()
	for k, c := range []struct {
		minutes float64
		held    bool
		volts   qty.Volt
		want    Stage
		left    float64 // min
	}{
		{600, false, 12.0, Bulk, 120},     // a long bulk, under Resume all the time
		{30, true, 14.4, Absorption, 90},  //
		{45, false, 13.9, Absorption, 90}, // a cloud: the clock stands
		{60, true, 14.4, Absorption, 30},
		{10, false, 13.1, Bulk, 120}, // gear pulled it down: all of it again
		{119, true, 14.4, Absorption, 1},
		{1, true, 14.4, Resting, math.Inf(1)},
		{600, false, 13.2, Resting, math.Inf(1)}, // at the mark is not under it
		{5, true, 13.0, Resting, math.Inf(1)},    // nothing can hold it while nothing charges; not under the draw
		{1, false, 13.19, Bulk, 120},
		{120, true, 14.4, Resting, math.Inf(1)}, // bulk and absorption in one step
	} {
		run.Advance(c.minutes*60, c.held, c.volts)
		if left := run.Left() / 60; run.Stage() != c.want || left != c.left && math.Abs(left-c.left) > 1e-9 {
			t.Errorf("row %d: stage %d, %g min left; want %d, %g min", k, run.Stage(), left, c.want, c.left)
		}
		if v, on := run.Volts(25); on == (c.want == Resting) || on && v != 14.4 || !on && v != 0 {
			t.Errorf("row %d: held at %g V, charging %v", k, v, on)
		}
		if mark, anew := run.Mark(); mark != 13.2 || anew == (c.want == Bulk) {
			t.Errorf("row %d: mark %g V, begins anew %v", k, mark, anew)
		}
	}
}

// In heat the volts of float lie under Resume. A battery held there has all it
// needs, and no new charge begins; gear that the sun no longer carries begins
// one.
func TestFloatingInTheHeat(t *testing.T) {
	s, _ := StagesFor(AGM)
	run := s.Begin()
	run.Advance(s.Hours*3600, true, s.Absorb)
	v, _ := run.Volts(60)
	if run.Stage() != Floating || v >= s.Float-0.5 {
		t.Fatalf("stage %d at %g V in the heat", run.Stage(), v)
	}
	s.Resume = v + 0.1
	run.set = s
	run.Advance(3600, true, v)
	if run.Stage() != Floating {
		t.Errorf("held at %g V, under Resume, and a charge began", v)
	}
	run.Advance(1, false, v)
	if run.Stage() != Bulk {
		t.Errorf("not held at %g V, under Resume: stage %d", v, run.Stage())
	}
}

// Whatever happens: only the moves that the settings know, volts in the
// bounds of the settings, absorption never longer than Hours, and a copy goes
// its own way. A second reckoning keeps the stage as sums of time.
func TestChargingUnderAnything(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for _, c := range chemistries {
		for _, after := range []After{Hold, Float, Rest} {
			s, _ := StagesFor(c)
			s.After = after
			if after == Float && s.Float == 0 || s.Check() != nil {
				t.Fatalf("%+v: %v", s, s.Check())
			}
			run := s.Begin()
			over, ran := false, 0.0
			for range 20_000 {
				seconds := rng.Float64() * 900
				held := rng.IntN(3) > 0
				v := s.Resume + qty.Volt(rng.NormFloat64())
				was, before := run.Stage(), run
				run.Advance(seconds, held, v)

				switch {
				case held && !over:
					if ran += seconds; after != Hold && ran >= s.Hours*3600-1e-6 {
						over = true
					}
				case !held && v < s.Resume && after != Hold:
					over, ran = false, 0
				}
				now := run.Stage()
				if over != (now > Absorption) || (ran > 0) != (now != Bulk) && !over {
					t.Fatalf("chemistry %d, after %d: stage %d after %d, %g s held", c, after, now, was, ran)
				}
				if over && (now == Floating) != (after == Float) {
					t.Fatalf("stage %d after absorption", now)
				}
				if before.Stage() != was {
					t.Fatal("a copy changed with the original")
				}
				at := qty.Celsius(-80 + 160*rng.Float64())
				hold, on := run.Volts(at)
				most := s.Absorb + s.Shift(-80)
				if on && !(hold > 10 && hold <= most) || on == (now == Resting) || on && at >= 25 && hold > s.Absorb {
					t.Fatalf("held at %g V at %g °C in stage %d", hold, at, now)
				}
				if left := run.Left(); !(left >= 0) || left > s.Hours*3600 && !math.IsInf(left, 1) {
					t.Fatalf("%g s left", left)
				}
			}
		}
	}
}

func TestChargingAllocatesNothing(t *testing.T) {
	s, _ := StagesFor(AGM)
	run := s.Begin()
	var v qty.Volt
	if n := testing.AllocsPerRun(100, func() {
		v, _ = run.Volts(31)
		run.Advance(300, true, v)
		run.Advance(300, false, 12)
	}); n != 0 {
		t.Errorf("%g allocations a step", n)
	}
}
