package care

import (
	"math"
	"testing"
	"time"

	"duskline/calc/battery"
	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// emptied80 is an Outlook made by hand: a rest of an hour, five hours out of
// 80 % of 40 Ah, then back in, at that temperature.
func emptied80(core qty.Celsius) *outlook.Outlook {
	s := outlook.Series{Step: time.Hour}
	charge := qty.Fraction(1)
	row := func(out, in qty.Ampere) {
		charge += qty.Fraction(in-out) / 40
		s.Charge, s.Core = append(s.Charge, charge), append(s.Core, core)
		s.AmpsOut, s.AmpsIn = append(s.AmpsOut, out), append(s.AmpsIn, in)
	}
	row(0, 0)
	row(0, 0)
	for range 5 {
		row(6.4, 0)
	}
	for range 5 {
		row(0, 6.4)
	}
	return &outlook.Outlook{Series: s}
}

func lifeOf(t testing.TB, p plan.Plan, o *outlook.Outlook) *Life {
	t.Helper()
	l, err := NewLife(sound(t, p), o)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Arithmetic by hand: 32 Ah of 40 is 0.8 of a cycle and 0.8 deep; ten of
// eleven hours flow, at 0.16 of the capacity an hour.
func TestUseByHand(t *testing.T) {
	p := camp()
	u := useOf(&p.Case.Battery, &emptied80(30).Series)
	near(t, "years", u.Years, 11/(24*365.25), 1e-12)
	near(t, "cycles", u.Cycles, 0.8, 1e-12)
	near(t, "depth", float64(u.Depth), 0.8, 1e-12)
	near(t, "rate", u.Rate, 0.16, 1e-12)
	near(t, "temperature", float64(u.During), 30, 1e-12)
	// After the rest the charge stands at 84, 68, 52, 36, 20, 36 ... 100 %.
	near(t, "charge", float64(u.KeptAt), (1+0.84+0.68+0.52+0.36+0.2+0.36+0.52+0.68+0.84+1)/11, 1e-12)

	b := p.Case.Battery
	b.UsesPerYear, b.KeptC, b.KeptPct = 365.25*24/11/2, 10, 40 // half of the year
	y := yearly(&b, u)
	near(t, "cycles a year", y.Cycles, 0.8*b.UsesPerYear, 1e-9)
	near(t, "temperature of the year", float64(y.Kept), 20, 1e-9)
	near(t, "charge of the year", float64(y.KeptAt), (float64(u.KeptAt)+0.4)/2, 1e-9)
}

// The depth of a trip is its greatest fall, from wherever that began.
func TestDeepestFall(t *testing.T) {
	p := camp()
	s := outlook.Series{Step: time.Hour, Charge: []qty.Fraction{0.5, 0.3, 1, 0.7, 0.8, 0.4, 0.9}}
	s.Core, s.AmpsIn, s.AmpsOut = make([]qty.Celsius, 7), make([]qty.Ampere, 7), make([]qty.Ampere, 7)
	near(t, "depth", float64(useOf(&p.Case.Battery, &s).Depth), 0.6, 1e-12)
}

// What a trip costs is what the chemistry's law says of its use, after what
// the battery went through before; the band is in order.
func TestTripAgainstTheLaw(t *testing.T) {
	for _, c := range kinds {
		p := kind(camp(), c)
		p.Case.Battery.AgeYears, p.Case.Battery.Cycles = 2, 100
		o := emptied80(25)
		l := lifeOf(t, p, o)
		k, err := p.Case.Battery.Kind()
		if err != nil {
			t.Fatal(err)
		}
		was, err := k.Wear(p.Case.Battery.Use())
		if err != nil {
			t.Fatal(err)
		}
		is, err := k.Further(was, useOf(&p.Case.Battery, &o.Series))
		if err != nil {
			t.Fatal(err)
		}
		near(t, string(c)+": both edges", float64(l.Low+l.High), float64(is.Low+is.High-was.Low-was.High), 1e-12)
		near(t, string(c)+": health", float64(l.Health), 1-float64(was.Mid()), 1e-12)
		if !(l.Low > 0 && l.Low <= l.High) || l.Years.Low > l.Years.High || !(l.Share.Low > 0 && l.Share.Low <= l.Share.High) {
			t.Errorf("%s: %+v", c, l)
		}
		lead := c == plan.AGM || c == plan.Gel || c == plan.Flooded
		if l.Practice != lead {
			t.Errorf("%s: practice %v", c, l.Practice)
		}
	}
}

// Common practice: such units do about 2,000 cycles with LiFePO4 against about
// 400 with lead-acid. One deep trip takes about a four-hundredth of what
// lead-acid has to lose; LiFePO4 does two thousand in ten years by either
// model.
func TestTripsOfPractice(t *testing.T) {
	lead := lifeOf(t, kind(camp(), plan.AGM), emptied80(25))
	if !(lead.Share.Low < 1.0/350 && lead.Share.High > 1.0/450) {
		t.Errorf("AGM: a trip to 20 %% takes %.5f to %.5f of its life", lead.Share.Low, lead.Share.High)
	}
	p := camp()
	p.Case.Battery.UsesPerYear = 200 / 0.8
	iron := lifeOf(t, p, emptied80(25))
	if iron.Years.Low*200 < 2000 {
		t.Errorf("LiFePO4: %g years of 200 cycles", iron.Years.Low)
	}
	p = kind(p, plan.AGM)
	if many := lifeOf(t, p, emptied80(25)); many.Years.High*250 > 600 {
		t.Errorf("AGM: %g years of 250 trips", many.Years.High)
	}
}

// More trips are never more years; heat between them neither; a trip on which
// nothing flows costs time alone.
func TestLifeInOrder(t *testing.T) {
	for _, c := range kinds {
		p := kind(camp(), c)
		last := math.Inf(1)
		for _, n := range []float64{0, 12, 100, 366} {
			p.Case.Battery.UsesPerYear = n
			l := lifeOf(t, p, emptied80(25))
			if l.Years.Low > last {
				t.Errorf("%s: %g uses a year, %g years after %g", c, n, l.Years.Low, last)
			}
			last = l.Years.Low
		}
		p.Case.Battery.UsesPerYear = 12
		cool := lifeOf(t, p, emptied80(25))
		p.Case.Battery.KeptC = 45
		if hot := lifeOf(t, p, emptied80(25)); hot.Years.Low >= cool.Years.Low {
			t.Errorf("%s: kept at 45 °C %g years, at 20 °C %g", c, hot.Years.Low, cool.Years.Low)
		}
		idle := emptied80(25)
		for k := range idle.Series.Charge {
			idle.Series.Charge[k], idle.Series.AmpsIn[k], idle.Series.AmpsOut[k] = 0.6, 0, 0 // the other trip's mean
		}
		l := lifeOf(t, p, idle)
		if l.Cycles != 0 || l.Deepest > leastDepth || l.High >= cool.High {
			t.Errorf("%s: an idle trip %+v", c, l)
		}
	}
}

// Full and hot is the worst way to keep a lithium battery, half and cool the
// best; every row is the chemistry's own law for a year.
func TestKeeping(t *testing.T) {
	for _, c := range kinds {
		p := kind(camp(), c)
		l := lifeOf(t, p, emptied80(25))
		if len(l.Keeping) != 4 {
			t.Fatalf("%s: %+v", c, l.Keeping)
		}
		k, _ := p.Case.Battery.Kind()
		for _, r := range l.Keeping {
			w, err := k.Wear(battery.Use{Years: 1, Kept: r.At, KeptAt: r.Charge, Depth: 1})
			if err != nil {
				t.Fatal(err)
			}
			near(t, string(c)+": a year", float64(r.Low+r.High), float64(w.Low+w.High), 1e-12)
		}
		best, worst := l.Keeping[0], l.Keeping[3]
		for _, r := range l.Keeping {
			if r.High < best.High || r.Low > worst.Low || r.Low > r.High || r.Low <= 0 {
				t.Errorf("%s: %+v", c, l.Keeping)
			}
		}
	}
}

// A battery that was measured stands where it was measured; one under 80 %
// has no years to tell, a near miss has.
func TestWornBattery(t *testing.T) {
	p := camp()
	for _, c := range []struct {
		health float64
		worn   bool
	}{{79.9, true}, {80, true}, {80.1, false}, {10, true}, {100, false}} {
		p.Case.Battery.HealthPct = ptr(c.health)
		l := lifeOf(t, p, emptied80(25))
		near(t, "health", float64(l.Health), c.health/100, 1e-9)
		if l.Worn != c.worn || l.Worn != (l.Years == Span{}) || l.Worn != (l.Share == Span{}) {
			t.Errorf("%g %%: %+v", c.health, l)
		}
	}
}

// With an Outlook as it is run: bounds, and the trip's own cycles.
func TestLifeOfAnOutlook(t *testing.T) {
	for name, p := range odd(t) {
		o, err := outlook.Run(p)
		if err != nil {
			t.Fatal(err)
		}
		l := lifeOf(t, p, o)
		if !(l.Low >= 0 && l.Low <= l.High && l.High < 0.2) || !(l.Cycles >= 0) || !(l.Deepest <= 1) || !(l.Years.Low <= l.Years.High) || l.Years.High > LongestLife {
			t.Errorf("%s: %+v", name, l)
		}
	}
}

// A battery that its load cooks beyond what any law was made for has an answer
// all the same, which says so.
func TestLifeBeyondTheModels(t *testing.T) {
	for _, c := range kinds {
		p := kind(camp(), c)
		hot, end := lifeOf(t, p, emptied80(118)), lifeOf(t, p, emptied80(HottestUse))
		if !hot.Beyond || end.Beyond || hot.Low != end.Low || hot.High != end.High || !(hot.High > lifeOf(t, p, emptied80(40)).High) {
			t.Errorf("%s at 118 °C: %+v; at 90 °C: %+v", c, hot, end)
		}
	}
}
