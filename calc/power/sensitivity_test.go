package power

import (
	"math"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/notice"
	"duskline/calc/qty"
)

var everyKind = []Sensitivity{Unsaid, Resistive, UniversalMotor, InductionMotor, Clock, Charger, Medical, Audio}

// Common practice, no source, as electrical.md C59 tells it: heaters and what
// nobody spoke of draw no remark; what may burn draws a WARNING; medical gear
// draws one on every wave.
func TestEffectAgainstElectricalC59(t *testing.T) {
	want := map[Sensitivity]struct {
		remark Remark
		grade  notice.Grade
		extra  bool
	}{
		Unsaid:         {NoRemark, notice.Advice, false},
		Resistive:      {NoRemark, notice.Advice, false},
		UniversalMotor: {RunsWarm, notice.Advice, true},
		InductionMotor: {RunsHot, notice.Warning, true},
		Clock:          {CountsWrong, notice.Caution, false},
		Charger:        {WideOrMaker, notice.Warning, false},
		Medical:        {MakerAllows, notice.Warning, false},
		Audio:          {Hums, notice.Advice, false},
	}
	for _, s := range everyKind {
		for pulse := qty.Degree(60); pulse <= 180; pulse += 6 {
			e, w := s.Effect(ModifiedSine(120, pulse)), want[s]
			if e.Remark != w.remark || e.Grade != w.grade || (e.Extra > 0) != w.extra {
				t.Errorf("kind %d, %g°: %+v", s, pulse, e)
			}
			if s == Medical && e.Grade < notice.Warning {
				t.Errorf("medical, %g°: only %s", pulse, e.Grade)
			}
		}
		e := s.Effect(Sine(120))
		switch {
		case s == Medical && (e.Remark != Backup || e.Grade < notice.Warning || e.Extra != 0):
			t.Errorf("medical on a sine: %+v", e)
		case s != Medical && e != (Effect{}):
			t.Errorf("kind %d on a sine: %+v", s, e)
		}
	}
	// A twentieth and a fifth: common practice, no source.
	golden.Near(t, "with brushes", float64(UniversalMotor.Effect(ModifiedSine(230, 126)).Extra), 0.05, 12)
	golden.Near(t, "without", float64(InductionMotor.Effect(ModifiedSine(230, 126)).Extra), 0.20, 12)
	if s := Sensitivity(99); s.Effect(ModifiedSine(120, 90)) != (Effect{}) {
		t.Error("a number that is no kind has an effect")
	}
}

// The fifth more of an induction motor is common practice, no source. The heat
// of the harmonics in its windings was worked out by hand for a pulse of 60
// degrees: h(n) = |sin(30n)|/(n·sin 30) is 2/3, 1/5, 1/7, 2/9 … and
// 1/f² = π²·60/(180·8·0.25) = 1.644934.
func TestInductionMotorOnANarrowPulse(t *testing.T) {
	share := func(n float64) float64 {
		return math.Abs(math.Sin(n*math.Pi/6)) / (n * 0.5)
	}
	golden.Near(t, "h3", share(3), 2.0/3, 12)
	golden.Near(t, "h5", share(5), 1.0/5, 12)
	sum := 1.0
	for n := 3.0; n < 1000; n += 2 {
		sum += 36 * share(n) * share(n) / (n * n)
	}
	want := 0.2 * (1.644934*sum - 1)
	golden.Near(t, "extra at 60°", float64(InductionMotor.Effect(Wave{170, 60}).Extra), want, 4)
	if want < 0.6 || want > 0.9 {
		t.Errorf("a motor on 60° takes %g more", want)
	}

	// A fifth wherever the pulse is not narrow; never less; a narrower pulse
	// never does less.
	last := 10.0
	for pulse := qty.Degree(60); pulse <= 133; pulse++ {
		e := float64(InductionMotor.Effect(Wave{170, pulse}).Extra)
		if e < inductionExtra || e > last || pulse >= 90 && e != inductionExtra {
			t.Errorf("%g°: %g more, after %g", pulse, e, last)
		}
		last = e
	}
	for pulse := qty.Degree(133); pulse <= 180; pulse++ {
		if e := InductionMotor.Effect(Wave{170, pulse}).Extra; e != inductionExtra {
			t.Errorf("%g°: %g more", pulse, e)
		}
	}
}

// Figures: electrical.md C49. The multiple of 6 is common practice, no source.
func TestMotorStartAgainstElectricalC49(t *testing.T) {
	golden.Check(t, "C49.run_va = 166.7 VA ± 0.1 %", VoltAmperes(100, 0.6))
	va := StartVA(100, 0.6, 6)
	golden.Check(t, "C49.start_va = 1000 VA ± 0.1 %", va)
	golden.Check(t, "C49.start_dc = 44.12 A ± 0.1 %", float64(StartAmps(va, 0.45, 0.85, 12)))
}

// Figures: electrical.md C50, NEMA MG 1.
func TestLockedRotorAgainstElectricalC50(t *testing.T) {
	lo, hi, ok := LockedRotor('L', 745.7/4)
	golden.Check(t, "C50.kva_lo = 2.25 kVA ± 0.01 %", lo/1000)
	golden.Check(t, "C50.kva_hi = 2.4975 kVA ± 0.01 %", hi/1000)
	if !ok {
		t.Error("there is no letter L")
	}
	for _, letter := range []byte("IOQWXYZaz0 \x00\xff") {
		if lo, hi, ok := LockedRotor(letter, 100); ok || lo != 0 || hi != 0 {
			t.Errorf("%q is a letter: %g to %g VA", letter, lo, hi)
		}
	}
}

// Figures: locked-rotor-kva.csv, NEMA MG 1 from four reproductions.
func TestLockedRotorAgainstNemaVector(t *testing.T) {
	s := golden.Vectors(t, "power", "locked-rotor-kva.csv")
	least := golden.Worst{What: "least kVA a horsepower", Limit: 1e-9}
	most := golden.Worst{What: "most kVA a horsepower", Limit: 1e-9}
	for i := range s.Len() {
		lo, hi, ok := LockedRotor(s.Text(i, "letter")[0], 745.7)
		if !ok {
			t.Errorf("no letter %s", s.Text(i, "letter"))
		}
		least.Add(i, lo/1000-s.Num(i, "kva_per_hp_min"))
		if end := s.Num(i, "kva_per_hp_max"); math.IsNaN(end) {
			if !math.IsInf(hi, 1) {
				t.Errorf("letter %s ends at %g VA", s.Text(i, "letter"), hi)
			}
		} else {
			most.Add(i, hi/1000-end)
		}
	}
	least.Report(t)
	most.Report(t)
	if s.Len() != len(letters) || len(leastKVA) != len(letters) {
		t.Errorf("%d letters, %d figures, %d rows", len(letters), len(leastKVA), s.Len())
	}
}

// Figures: electrical.md C58, counting.
func TestClockDriftAgainstElectricalC58(t *testing.T) {
	golden.Check(t, "C58.drift = 12 min/day ± 0.01 %", ClockDrift(60.5, 60)/60)
	golden.Check(t, "C58.drift50 = 172.8 s/day ± 0.01 %", ClockDrift(50.1, 50))
	if d := ClockDrift(59, 60); d >= 0 {
		t.Errorf("a slow wave makes a clock gain %g s", d)
	}
}
