package battery

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// ageing is every chemistry that ages here.
func ageing(t *testing.T, test func(t *testing.T, c *Chemistry)) {
	t.Helper()
	own := LiFePO4
	own.Name, own.Life = "own", OwnLife(1500, true)
	for _, c := range []Chemistry{LiFePO4, NMC, AGM, Gel, Flooded, own} {
		t.Run(c.Name, func(t *testing.T) { test(t, &c) })
	}
}

var someUse = Use{Years: 3, Kept: 20, KeptAt: 0.5, Cycles: 150, Depth: 0.6, Rate: 0.2, During: 25}

// What is worse for a battery must never come out as better, handbook S13 and
// S14: heat, cold in use, fuller, deeper, faster, longer, more.
func TestWearNeverRewardsWhatHarms(t *testing.T) {
	ageing(t, func(t *testing.T, c *Chemistry) {
		for _, f := range []struct {
			what     string
			from, to float64
			set      func(u *Use, v float64)
		}{
			{"years", 0, 60, func(u *Use, v float64) { u.Years = v }},
			{"kept", -60, 90, func(u *Use, v float64) { u.Kept = qty.Celsius(v) }},
			{"kept at", 0.1, 1, func(u *Use, v float64) { u.KeptAt = qty.Fraction(v) }},
			{"cycles", 0, 20000, func(u *Use, v float64) { u.Cycles = v }},
			{"depth", 0.3, 1, func(u *Use, v float64) { u.Depth = qty.Fraction(v) }},
			{"rate", 0, 3, func(u *Use, v float64) { u.Rate = v }},
			{"use in heat", 25, 90, func(u *Use, v float64) { u.During = qty.Celsius(v) }},
			{"use in cold", 25, -60, func(u *Use, v float64) { u.During = qty.Celsius(v) }},
		} {
			var was Wear
			for k := range 61 {
				u := someUse
				f.set(&u, f.from+(f.to-f.from)*float64(k)/60)
				w, err := c.Wear(u)
				if err != nil {
					t.Fatal(err)
				}
				if !(w.Low >= 0 && w.High >= w.Low && w.Growth >= 0) {
					t.Fatalf("%s: %+v", f.what, w)
				}
				if k > 0 && (w.Low < was.Low-1e-12 || w.High < was.High-1e-12) {
					t.Errorf("more %s at step %d: loss %.6f..%.6f after %.6f..%.6f", f.what, k, w.Low, w.High, was.Low, was.High)
				}
				was = w
			}
		}
	})
}

func TestYearsToIsWhereWearGetsThere(t *testing.T) {
	ageing(t, func(t *testing.T, c *Chemistry) {
		yearly := someUse
		yearly.Years, yearly.Cycles = 1, 60
		low, high, ok, err := c.YearsTo(Wear{}, 0.2, yearly)
		if err != nil || !ok || !(low > 0 && low <= high) {
			t.Fatalf("%v to %v years, %v, %v", low, high, ok, err)
		}
		t.Logf("60 cycles a year, kept at 20 °C half full: %.1f to %.1f years to 80 %%", low, high)
		for _, e := range []struct {
			years float64
			end   func(Wear) qty.Fraction
		}{{low, func(w Wear) qty.Fraction { return w.High }}, {high, func(w Wear) qty.Fraction { return w.Low }}} {
			if math.IsInf(e.years, 1) {
				continue
			}
			u := yearly
			u.Years, u.Cycles = e.years, 60*e.years
			w, err := c.Wear(u)
			if err != nil || math.Abs(float64(e.end(w))-0.2) > 1e-6 {
				t.Errorf("after %.3f years %.6f is lost, %v", e.years, e.end(w), err)
			}
		}
		// From the wear of half the way there the other half is left.
		u := yearly
		u.Years, u.Cycles = low/2, 60*low/2
		half, err := c.Wear(u)
		if err != nil {
			t.Fatal(err)
		}
		if rest, _, _, err := c.YearsTo(half, 0.2, yearly); err != nil || math.Abs(rest-low/2) > 1e-6 {
			t.Errorf("%.4f years are left, want %.4f, %v", rest, low/2, err)
		}
		if low, high, ok, _ := c.YearsTo(half, 1e-5, yearly); low != 0 || high != 0 || !ok {
			t.Errorf("what is lost already takes %v to %v years", low, high)
		}
	})
}

func TestYearsToOfWhatDoesNotAge(t *testing.T) {
	c := line(12, 14)
	low, high, ok, err := c.YearsTo(Wear{}, 0.2, Use{Kept: 60, KeptAt: 1, Cycles: 1000, Depth: 1, During: 60})
	if !math.IsInf(low, 1) || !math.IsInf(high, 1) || ok || err != nil {
		t.Errorf("%v to %v, %v, %v", low, high, ok, err)
	}
	if h, g, err := c.Health(Use{Years: 100, Cycles: 1e5, Depth: 1}); h != 1 || g != 1 || err != nil {
		t.Errorf("health %v, growth %v, %v", h, g, err)
	}
}

func TestHealthAndTheMostItBears(t *testing.T) {
	ageing(t, func(t *testing.T, c *Chemistry) {
		h, g, err := c.Health(Use{Depth: 1})
		if h != 1 || g != 1 || err != nil {
			t.Errorf("new: health %v, growth %v, %v", h, g, err)
		}
		u := someUse
		u.Kept = 45
		for _, most := range []struct {
			what  string
			n     float64
			limit float64
			set   func(u *Use, n float64)
		}{
			{"years", c.MostYears(u), 100, func(u *Use, n float64) { u.Years = n }},
			{"cycles", c.MostCycles(u), 100_000, func(u *Use, n float64) { u.Cycles = n }},
		} {
			t.Logf("most %s: %.1f", most.what, most.n)
			v := u
			most.set(&v, most.n*0.999)
			if h, _, err := c.Health(v); err != nil || h < leastHealth {
				t.Errorf("just under the most %s, %.1f: health %v, %v", most.what, most.n, h, err)
			}
			if most.n < most.limit {
				most.set(&v, most.n*1.001)
				_, _, err := c.Health(v)
				if r := (*qty.RangeError)(nil); !errors.As(err, &r) || r.What != "health" {
					t.Errorf("just over the most %s, %.1f: %v", most.what, most.n, err)
				}
			}
		}
	})
	// Cycles alone that leave nothing.
	if y := AGM.MostYears(Use{Cycles: 20_000, Depth: 1, KeptAt: 1, Kept: 20, During: 25}); y != 0 {
		t.Errorf("AGM of 20000 cycles may be %v years old", y)
	}
}

func TestWornStandsAtWhatWasMeasured(t *testing.T) {
	ageing(t, func(t *testing.T, c *Chemistry) {
		for _, past := range []Use{someUse, {Depth: 1}} {
			w, err := c.Worn(0.15, past)
			if err != nil || w.Low != 0.15 || w.High != 0.15 || !(w.Growth > 0) {
				t.Fatalf("%+v, %v", w, err)
			}
			if d := float64(w.Calendar+w.Cycling) - 0.15; math.Abs(d) > 1e-12 {
				t.Errorf("its parts are off by %g", d)
			}
			still, err := c.Further(w, Use{Depth: 1})
			if err != nil || math.Abs(float64(still.Mid())-0.15) > 1e-12 || math.Abs(still.Growth-w.Growth) > 1e-12 {
				t.Errorf("no time and no use change it: %+v, %v", still, err)
			}
			older, err := c.Further(w, someUse)
			if err != nil || !(older.Low >= w.Low && older.High > w.High && older.Growth > w.Growth) {
				t.Errorf("three years on it is %+v, %v", older, err)
			}
		}
		if _, err := c.Worn(0.95, someUse); err == nil {
			t.Error("a loss of 95 % is taken")
		}
	})
}

func TestWearRefusesWhatNoBatteryBears(t *testing.T) {
	for what, wrong := range map[string]func(u *Use){
		"years":   func(u *Use) { u.Years = -1 },
		"kept":    func(u *Use) { u.Kept = -61 },
		"kept at": func(u *Use) { u.KeptAt = 1.01 },
		"cycles":  func(u *Use) { u.Cycles = math.NaN() },
		"depth":   func(u *Use) { u.Depth = 0 },
		"rate":    func(u *Use) { u.Rate = 4 },
		"during":  func(u *Use) { u.During = 91 },
	} {
		u := someUse
		wrong(&u)
		_, err := LiFePO4.Wear(u)
		if r := (*qty.RangeError)(nil); !errors.As(err, &r) || r.What != what {
			t.Errorf("wrong %s: %v", what, err)
		}
		if _, _, _, err := LiFePO4.YearsTo(Wear{}, 0.2, u); (err == nil) != (what == "years") { // a year is a year
			t.Errorf("years to 80 %% with wrong %s: %v", what, err)
		}
	}
	if _, _, _, err := LiFePO4.YearsTo(Wear{}, 0, someUse); err == nil {
		t.Error("no loss at all is taken")
	}
}

// Any life, year after year under any conditions: a loss never shrinks, the
// band stays a band, nothing is ever not a number.
func TestFurtherOnlyEverLoses(t *testing.T) {
	r := rand.New(rand.NewPCG(2018, 5))
	some := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	ageing(t, func(t *testing.T, c *Chemistry) {
		for range 300 {
			var was Wear
			if r.IntN(3) == 0 {
				was, _ = c.Worn(qty.Fraction(some(0, 0.9)), someUse)
			}
			for range 12 {
				u := Use{
					Years: some(0, 3) * float64(r.IntN(2)), Kept: qty.Celsius(some(-60, 90)), KeptAt: qty.Fraction(some(0, 1)),
					Cycles: some(0, 2000) * float64(r.IntN(2)), Depth: qty.Fraction(some(0.01, 1)), Rate: some(0, 3), During: qty.Celsius(some(-60, 90)),
				}
				w, err := c.Further(was, u)
				if err != nil {
					t.Fatal(err)
				}
				const slack = 1e-12
				if !(w.Low >= was.Low-slack && w.High >= was.High-slack && w.High >= w.Low && w.Growth >= was.Growth-slack &&
					w.Calendar >= was.Calendar-slack && w.Cycling >= was.Cycling-slack) {
					t.Fatalf("%+v\nmakes %+v\nof %+v", u, w, was)
				}
				was = w
			}
		}
	})
}

// What the comments say is held because nobody measured it.
func TestWearHoldsWhatNobodyMeasured(t *testing.T) {
	ageing(t, func(t *testing.T, c *Chemistry) {
		wear := func(set func(u *Use)) Wear {
			u := someUse
			set(&u)
			w, err := c.Wear(u)
			if err != nil {
				t.Fatal(err)
			}
			return w
		}
		usual := wear(func(*Use) {})
		if wear(func(u *Use) { u.Kept = -40 }) != wear(func(u *Use) { u.Kept = 10 }) {
			t.Error("colder than 10 °C is not as 10 °C")
		}
		if wear(func(u *Use) { u.During = -20 }) != usual {
			t.Error("use in the cold is not as at 25 °C")
		}
		if hot := wear(func(u *Use) { u.During = 45 }); c.Life.Law == LikeLiFePO4 && hot != usual || c.Life.Law != LikeLiFePO4 && !(hot.Mid() > usual.Mid()) {
			t.Errorf("use at 45 °C: %+v after %+v", hot, usual)
		}
		if wear(func(u *Use) { u.Rate = 3 }) != wear(func(u *Use) { u.Rate = 1.5 }) {
			t.Error("a rate of 3 is not as 1.5")
		}
	})
}

// An own chemistry does what its owner was told: so many cycles of 80 % depth
// down to 80 % of its amp-hours, 8 to 16 years if it is lithium and lies at 25 °C.
func TestOwnLifeDoesTheCyclesItNames(t *testing.T) {
	for _, cycles := range []float64{10, 400, 2000, 20_000} {
		c := Chemistry{Life: OwnLife(cycles, true)}
		w, err := c.Wear(Use{Kept: 25, Depth: 0.8, Cycles: 0.8 * cycles, During: 25})
		if err != nil || math.Abs(float64(w.Low)-0.2) > 1e-12 || w.High != w.Low {
			t.Errorf("%g cycles: %+v, %v", cycles, w, err)
		}
		low, high, ok, err := c.YearsTo(Wear{}, 0.2, Use{Kept: 25, Depth: 0.8})
		if err != nil || !ok || math.Abs(low-8) > 1e-9 || math.Abs(high-16) > 1e-9 {
			t.Errorf("it lies %g to %g years, %v, %v", low, high, ok, err)
		}
		if c.Life.Law.Published() || !LiFePO4.Life.Law.Published() {
			t.Error("practice counts as published")
		}
	}
}

// Growth of the resistance where it is practice: by OhmsPerLoss, half as much
// again for lead-acid at a loss of a fifth, a fifth for own lithium; for a
// measured loss without a past, that or the same share.
func TestGrowthOfResistanceByPractice(t *testing.T) {
	own := Chemistry{Life: OwnLife(1000, true)}
	for _, c := range []struct {
		chemistry *Chemistry
		want      float64
	}{{&AGM, 0.5}, {&own, 0.2}} {
		w, err := c.chemistry.Wear(someUse)
		if err != nil {
			t.Fatal(err)
		}
		golden.Near(t, "growth by loss", w.Growth*0.2/float64(w.Mid()), c.want, 6)
		for _, past := range []Use{someUse, {Depth: 1}} {
			w, err = c.chemistry.Worn(0.2, past)
			if err != nil {
				t.Fatal(err)
			}
			golden.Near(t, "growth of a measured loss", w.Growth, c.want, 6)
		}
	}
	w, err := LiFePO4.Worn(0.2, Use{Depth: 1})
	if err != nil || math.Abs(w.Growth-0.2) > 1e-12 {
		t.Errorf("LiFePO4 of a measured loss without a past: %+v, %v", w, err)
	}
	if h, g, err := AGM.Health(someUse); err != nil || math.Abs(g-1-2.5*float64(1-h)) > 1e-12 {
		t.Errorf("health %v, growth %v, %v", h, g, err)
	}
	// A tenth is the least that counts as a battery.
	if _, _, err := AGM.Health(Use{Years: 23, Kept: 25, KeptAt: 1, Depth: 1}); err != nil {
		t.Errorf("at a loss of 0.86: %v", err)
	}
	if _, _, err := AGM.Health(Use{Years: 25, Kept: 25, KeptAt: 1, Depth: 1}); err == nil {
		t.Error("a loss of 0.94 is taken")
	}
	// Faster than 1/h the published resistance would shrink with use.
	fast, err := LiFePO4.Wear(Use{Cycles: 1000, Depth: 0.8, Rate: 1.4, During: 25})
	if err != nil || !(fast.ohms.cycling > 0) {
		t.Errorf("use at 1.4/h leaves %+v, %v", fast.ohms, err)
	}
}
