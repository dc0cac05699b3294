package battery

import (
	"math"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
	"duskline/calc/ref"
)

// In mild weather it is the trade's rule, told as that.
func TestSafeIsPracticeInMildWeather(t *testing.T) {
	for _, c := range []struct {
		chemistry Chemistry
		least     qty.Fraction
		days      float64
		why       string
	}{
		{LiFePO4, 0.2, 14, WhyOverDischarge}, {NMC, 0.2, 14, WhyOverDischarge},
		{AGM, 0.5, 1, WhySulfation}, {Gel, 0.5, 1, WhySulfation}, {Flooded, 0.5, 1, WhySulfation},
	} {
		s := c.chemistry.Safe(20)
		if want := (Safe{1 - c.least, c.least, c.days, c.why, "CommonPractice", ref.Practice}); s != want {
			t.Errorf("%s: %+v, want %+v", c.chemistry.Name, s, want)
		}
	}
}

// Handbook H38 (TM 5-4210-230-14&P-1, table 2; the least cold of three army
// tables): acid at 75 % freezes at -37.2 °C, at 50 % at -26.1 °C. 5 K above
// that, and no colder, so much must stay in.
func TestSafeAgainstArmyFreezingPointsH38(t *testing.T) {
	b := must(t, spec(AGM))
	for _, charge := range []qty.Fraction{0.55, 0.6, 0.75, 0.9, 1} {
		at, ok := b.FreezesAt(charge)
		if !ok {
			t.Fatal("AGM does not freeze")
		}
		s := AGM.Safe(at + freezingMargin)
		golden.Near(t, "least charge", float64(s.Least), float64(charge), 6)
		if s.Why != WhyFreezing || s.Kind != ref.Published || s.Depth != 1-s.Least {
			t.Errorf("at %.1f °C: %+v", float64(at+freezingMargin), s)
		}
	}
	if s := AGM.Safe(-21); s.Least != 0.5 || s.Why != WhySulfation {
		t.Errorf("half full acid freezes at -26.1 °C, at -21 °C it is %+v", s)
	}
	if s := AGM.Safe(-60); s.Least != 1 || s.Depth != 0 || s.Why != WhyFreezing {
		t.Errorf("at -60 °C: %+v", s)
	}
}

func TestSafeKeepsMoreWhereLithiumTakesNoCharge(t *testing.T) {
	for _, c := range []Chemistry{LiFePO4, NMC} {
		at := c.NoChargeBelow
		if s := c.Safe(at); s.Least != 0.2 {
			t.Errorf("%s at %v °C: %+v", c.Name, at, s)
		}
		if s := c.Safe(at - 0.1); math.Abs(float64(s.Least)-0.3) > 1e-12 || s.Why != WhyNoColdCharge || s.Kind != ref.Practice {
			t.Errorf("%s just under %v °C: %+v", c.Name, at, s)
		}
	}
}

// Colder never lets it go deeper, and no advice leaves 0 to 1.
func TestSafeNeverDeeperInTheCold(t *testing.T) {
	for _, c := range []Chemistry{LiFePO4, NMC, AGM, Gel, Flooded, line(12, 14)} {
		was := c.Safe(90)
		for at := qty.Celsius(89.5); at >= -90; at -= 0.5 {
			s := c.Safe(at)
			if s.Least < was.Least || s.Least < 0 || s.Least > 1 || s.RechargeDays <= 0 || s.Why == "" {
				t.Errorf("%s at %v °C: %+v after %+v", c.Name, at, s, was)
			}
			was = s
		}
	}
}
