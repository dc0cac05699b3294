package power

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// Figures: quasi-square-harmonics.csv, Fourier series, own script (Python),
// five decimals.
func TestWaveAgainstQuasiSquareVector(t *testing.T) {
	s := golden.Vectors(t, "power", "quasi-square-harmonics.csv")
	rms := golden.Worst{What: "RMS, of the peak", Limit: 6e-6}
	first := golden.Worst{What: "fundamental, of the peak", Limit: 6e-6}
	part := golden.Worst{What: "harmonics 3, 5, 7, % of the fundamental", Limit: 6e-6}
	thd := golden.Worst{What: "THD, %", Limit: 6e-6}
	for i := range s.Len() {
		w := Wave{1, qty.Degree(s.Num(i, "pulse_deg"))}
		rms.Add(i, float64(w.RMS())-s.Num(i, "vrms_over_vpk"))
		first.Add(i, float64(w.Harmonic(1))-s.Num(i, "v1rms_over_vpk"))
		for n, col := range map[int]string{3: "h3_pct", 5: "h5_pct", 7: "h7_pct"} {
			part.Add(i, 100*float64(w.HarmonicShare(n))-s.Num(i, col))
			part.Add(i, 100*float64(w.Harmonic(n)/w.Harmonic(1))-s.Num(i, col))
		}
		thd.Add(i, 100*w.THD()-s.Num(i, "thd_pct"))
	}
	rms.Report(t)
	first.Report(t)
	part.Report(t)
	thd.Report(t)
}

// Figures: electrical.md C51 and C52, Fourier series.
func TestWaveAgainstElectricalC51AndC52(t *testing.T) {
	at := func(pulse qty.Degree) Wave { return Wave{1, pulse} }
	golden.Check(t, "C51.rms90 = 0.70711 ± 0.01 %", float64(at(90).RMS()))
	golden.Check(t, "C51.cf90 = 1.41421 ± 0.01 %", at(90).Crest())
	golden.Check(t, "C51.thd90 = 48.343 % ± 0.01 %", 100*at(90).THD())
	golden.Check(t, "C51.rms120 = 0.81650 ± 0.01 %", float64(at(120).RMS()))
	golden.Check(t, "C51.cf120 = 1.22474 ± 0.01 %", at(120).Crest())
	golden.Check(t, "C51.thd120 = 31.084 % ± 0.01 %", 100*at(120).THD())
	golden.Check(t, "C51.rms180 = 1 ± 0.01 %", float64(at(180).RMS()))
	golden.Check(t, "C51.cf180 = 1 ± 0.01 %", at(180).Crest())
	golden.Check(t, "C51.thd180 = 48.343 % ± 0.01 %", 100*at(180).THD())

	share := func(pulse qty.Degree, n int) float64 { return 100 * float64(at(pulse).HarmonicShare(n)) }
	golden.Check(t, "C52.h3_90 = 33.333 % ± 0.01 %", share(90, 3))
	golden.Check(t, "C52.h5_90 = 20 % ± 0.01 %", share(90, 5))
	golden.Check(t, "C52.h3_120 = 0 % ± 0.000001", share(120, 3))
	golden.Check(t, "C52.h5_120 = 20 % ± 0.01 %", share(120, 5))
	golden.Check(t, "C52.h3_180 = 33.333 % ± 0.01 %", share(180, 3))
	golden.Check(t, "C52.h5_180 = 20 % ± 0.01 %", share(180, 5))
}

// Figures: electrical.md C53. That no other pulse has less is tried on all.
func TestLeastTHDAgainstElectricalC53(t *testing.T) {
	least := LeastTHD()
	w := Wave{1, least}
	golden.Check(t, "C53.delta = 133.563 ° ± 0.01", float64(least))
	golden.Check(t, "C53.dead = 23.218 ° ± 0.01", (180-float64(least))/2)
	golden.Check(t, "C53.thd = 28.964 % ± 0.01 %", 100*w.THD())
	golden.Check(t, "C53.h3 = 12.61 % ± 0.1 %", 100*float64(w.HarmonicShare(3)))
	if d := float64(least.Radians()); math.Abs(math.Tan(d/2)-d) > 1e-12 {
		t.Errorf("tan(pulse/2) is %g away from the pulse", math.Tan(d/2)-d)
	}
	for pulse := qty.Degree(1); pulse <= 180; pulse += 0.25 {
		if other := (Wave{1, pulse}).THD(); other < w.THD() {
			t.Errorf("%g° has %g, less than %g", pulse, other, w.THD())
		}
	}
}

// Figures: electrical.md C54 and C55, of a wave of 120 V RMS.
func TestMeterAndPeakAgainstElectricalC54AndC55(t *testing.T) {
	golden.Check(t, "C54.read90 = 94.25 V ± 0.02 %", float64(ModifiedSine(120, 90).PlainMeter()))
	golden.Check(t, "C54.read120 = 108.83 V ± 0.02 %", float64(ModifiedSine(120, 120).PlainMeter()))
	golden.Check(t, "C54.read180 = 133.29 V ± 0.02 %", float64(ModifiedSine(120, 180).PlainMeter()))
	golden.Check(t, "C55.peak_sine = 169.71 V ± 0.01 %", float64(Sine(120).Peak))
	golden.Check(t, "C55.peak_126 = 143.43 V ± 0.01 %", float64(ModifiedSine(120, 126).Peak))
	golden.Check(t, "C55.low = 15.48 % ± 0.1 %", 100*float64(ModifiedSine(120, 126).PeakShort()))
	golden.Near(t, "a meter on a sine, V", float64(Sine(120).PlainMeter()), 120, 12)
}

// Figures: electrical.md C56, of a square wave 2√2/π.
func TestFundamentalAgainstElectricalC56(t *testing.T) {
	golden.Check(t, "C56.df = 0.90032 ± 0.01 %", float64(Wave{1, 180}.Fundamental()))
	golden.Check(t, "C56.va = 100 VA ± 0.01 %", VoltAmperes(60, 0.6))
	for pulse := qty.Degree(5); pulse <= 180; pulse += 5 {
		w := Wave{170, pulse}
		if w.HarmonicShare(1) != 1 {
			t.Errorf("%g°: the fundamental is %g of itself", pulse, w.HarmonicShare(1))
		}
		golden.Near(t, "fundamental of the RMS", float64(w.Fundamental()), float64(w.Harmonic(1)/w.RMS()), 10)
	}
}

// The closed forms against the wave itself, summed at 7200 points a cycle in
// the middle of each, for pulses that end between two points.
func TestWaveAgainstItsIntegrals(t *testing.T) {
	const n = 7200
	for _, w := range []Wave{Sine(230), {325, 60}, {170, 90}, {143.43, 126}, {150, 133.6}, {120, 180}, {100, 1}} {
		var square, mean float64
		var sin, cos [8]float64
		for k := range n {
			a := qty.Degree((float64(k) + 0.5) * 360 / n)
			v := float64(w.At(a))
			square += v * v
			mean += math.Abs(v)
			for h := 1; h < 8; h++ {
				s, c := math.Sincos(float64(h) * float64(a.Radians()))
				sin[h] += v * s
				cos[h] += v * c
			}
		}
		near := func(what string, got qty.Volt, want float64) {
			if math.Abs(float64(got)-want) > 1e-4*float64(w.Peak) {
				t.Errorf("%g°: %s %.9g, by integration %.9g", w.Pulse, what, got, want)
			}
		}
		near("RMS", w.RMS(), math.Sqrt(square/n))
		near("mean", w.Mean(), mean/n)
		for h := 1; h < 8; h++ {
			near("harmonic", w.Harmonic(h), math.Hypot(sin[h], cos[h])/n*math.Sqrt2)
		}
	}
}

// All harmonics together are the wave: Parseval.
func TestHarmonicsSumToTheRMS(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 3))
	for range 50 {
		w := Wave{qty.Volt(50 + 300*r.Float64()), qty.Degree(60 + 120*r.Float64())}
		var sum, over float64
		for n := 1; n < 40_000; n++ {
			v := float64(w.Harmonic(n))
			sum += v * v
			if n > 1 {
				over += v * v
			}
		}
		if math.Abs(math.Sqrt(sum)/float64(w.RMS())-1) > 2e-5 {
			t.Errorf("%+v: harmonics come to %g V, RMS %g V", w, math.Sqrt(sum), w.RMS())
		}
		if thd := math.Sqrt(over) / float64(w.Harmonic(1)); math.Abs(thd-w.THD()) > 1e-4 {
			t.Errorf("%+v: THD %g, by its harmonics %g", w, w.THD(), thd)
		}
	}
}

func TestSineHasNoHarmonics(t *testing.T) {
	w := Sine(120)
	if !w.IsSine() || w.THD() != 0 || w.Harmonic(1) != w.RMS() || w.HarmonicShare(1) != 1 || w.HarmonicShare(3) != 0 || w.Fundamental() != 1 {
		t.Errorf("%+v is not a sine", w)
	}
	golden.Near(t, "RMS, V", float64(w.RMS()), 120, 12)
	if s := w.PeakShort(); math.Abs(float64(s)) > 1e-12 {
		t.Errorf("a sine's peak is %g short of a sine's", s)
	}
	for _, n := range []int{-1, 0, 2, 3, 4} {
		step := Wave{1, 90}
		if w.Harmonic(n) != 0 || w.HarmonicShare(n) != 0 || n != 3 && (step.Harmonic(n) != 0 || step.HarmonicShare(n) != 0) {
			t.Errorf("harmonic %d is there", n)
		}
	}
}

// The wave's parts where they begin and end, over more than a cycle.
func TestWaveByAngle(t *testing.T) {
	w := Wave{170, 120}
	for _, c := range []struct {
		at qty.Degree
		v  qty.Volt
	}{
		{0, 0}, {29.9, 0}, {30.1, 170}, {90, 170}, {149.9, 170}, {150.1, 0}, {180, 0}, {209.9, 0}, {210.1, -170}, {270, -170}, {330.1, 0},
		{-90, -170}, {-270, 170}, {450, 170}, {360, 0}, {-360, 0},
	} {
		if got := w.At(c.at); got != c.v {
			t.Errorf("%g°: %g V", c.at, got)
		}
	}
	golden.Near(t, "a sine at -30°, of its peak", float64(Wave{Peak: 1}.At(-30)), -0.5, 12)
}

func TestWaveOutOfRangeNamesTheFigure(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		w    Wave
		what string
	}{
		{Wave{-1, 90}, "Peak"}, {Wave{qty.Volt(nan), 90}, "Peak"}, {Wave{1001, 0}, "Peak"},
		{Wave{170, 181}, "Pulse"}, {Wave{170, -1}, "Pulse"}, {Wave{170, 0.5}, "Pulse"}, {Wave{170, qty.Degree(nan)}, "Pulse"},
	} {
		var r *qty.RangeError
		if err := c.w.Check(); !errors.As(err, &r) || r.What != c.what {
			t.Errorf("%+v: %v", c.w, err)
		}
	}
	for _, w := range []Wave{{}, Sine(230), {325, 180}, {1000, 1}, ModifiedSine(230, 60)} {
		if err := w.Check(); err != nil {
			t.Errorf("%+v: %v", w, err)
		}
	}
	// A wave of no volts is flat, and says no NaN of itself.
	for _, w := range []Wave{{}, {0, 126}} {
		for _, x := range []float64{float64(w.RMS()), w.THD(), w.Crest(), float64(w.HarmonicShare(5)), float64(w.Fundamental()), float64(w.PlainMeter()), float64(w.PeakShort())} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Errorf("%+v has a figure of %g", w, x)
			}
		}
	}
}
