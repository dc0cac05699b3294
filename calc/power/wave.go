package power

import (
	"math"

	"duskline/calc/qty"
)

// A Wave is the shape of an inverter's volts: a sine, or the stepped wave that
// is sold as "modified sine". Everything said of it is in closed form.
//
// The stepped wave stands at Peak for Pulse degrees in the middle of each half
// cycle, with the sign of that half, and at nothing for the rest. Odd about 0
// and even about 90 degrees, it is a sum of sines of odd n alone, each of the height
//
//	(4/π)·∫ Peak·sin(n·a) da, a from 90° − Pulse/2 to 90°
//	= 4·Peak/(n·π)·sin(n·90°)·sin(n·Pulse/2)
//
// from which all else follows.
type Wave struct {
	Peak  qty.Volt
	Pulse qty.Degree // above 0, to 180; 0: a sine
}

// Sine returns a sine of those volts, RMS.
func Sine(rms qty.Volt) Wave { return Wave{Peak: rms * math.Sqrt2} }

// ModifiedSine returns the stepped wave of those volts, RMS, with a pulse of
// above 0 to 180 degrees.
//
//	Peak = V/√(pulse/180)
//
// Source: Fourier, of its definition.
func ModifiedSine(rms qty.Volt, pulse qty.Degree) Wave {
	return Wave{rms / qty.Volt(math.Sqrt(float64(pulse)/180)), pulse}
}

// Check returns nil for a Wave in range: Peak 0 to 1000 V, Pulse 0 or 1 to 180
// degrees.
//
// Errors: *qty.RangeError.
func (w Wave) Check() error {
	if err := qty.InRange("Peak", float64(w.Peak), 0, 1000, "V"); err != nil {
		return err
	}
	if w.Pulse == 0 {
		return nil
	}
	return qty.InRange("Pulse", float64(w.Pulse), 1, 180, "°")
}

// IsSine reports whether the wave is a sine.
func (w Wave) IsSine() bool { return w.Pulse == 0 }

// share is the part of the time in which the stepped wave is not at nothing.
func (w Wave) share() float64 { return float64(w.Pulse) / 180 }

// RMS returns the volts that heat a wire as much.
//
//	V = Peak·√(Pulse/180)        V = Peak/√2 for a sine
//
// Source: Fourier.
func (w Wave) RMS() qty.Volt {
	if w.IsSine() {
		return w.Peak / math.Sqrt2
	}
	return w.Peak * qty.Volt(math.Sqrt(w.share()))
}

// Crest returns Peak over RMS: √2 of a sine and of a pulse of 90 degrees.
//
// Source: Fourier.
func (w Wave) Crest() float64 {
	if w.IsSine() {
		return math.Sqrt2
	}
	return 1 / math.Sqrt(w.share())
}

// Harmonic returns the volts, RMS, of the part of the wave that swings n times
// a cycle; 1 is the fundamental. 0 for even n and for n under 1.
//
//	V(n) = 4·Peak/(n·π·√2)·|sin(n·Pulse/2)|, n odd
//
// Source: Fourier.
func (w Wave) Harmonic(n int) qty.Volt {
	switch {
	case n < 1 || n%2 == 0 || w.IsSine() && n > 1:
		return 0
	case w.IsSine():
		return w.RMS()
	}
	half := float64(n) * float64(w.Pulse.Radians()) / 2
	return w.Peak * qty.Volt(4/(float64(n)*math.Pi*math.Sqrt2)*math.Abs(math.Sin(half)))
}

// HarmonicShare returns [Wave.Harmonic] as a share of the fundamental.
//
// Source: Fourier.
func (w Wave) HarmonicShare(n int) qty.Fraction {
	if w.IsSine() { // of which Peak may be 0
		if n == 1 {
			return 1
		}
		return 0
	}
	if n < 1 || n%2 == 0 {
		return 0
	}
	half := float64(w.Pulse.Radians()) / 2
	return qty.Fraction(math.Abs(math.Sin(float64(n)*half)) / (float64(n) * math.Sin(half)))
}

// THD returns the total harmonic distortion: all harmonics together as
// a share of the fundamental. It grows above 1 for pulses under 48 degrees.
//
//	THD = √(V²/V(1)² − 1)
//
// Source: Fourier.
func (w Wave) THD() float64 {
	if w.IsSine() {
		return 0
	}
	// V²/V(1)² of Peak 1; never under 1 but for rounding.
	s := math.Sin(float64(w.Pulse.Radians()) / 2)
	return math.Sqrt(max(0, math.Pi*math.Pi*w.share()/(8*s*s)-1))
}

// Fundamental returns the share of the RMS volts that swings once a cycle:
// what turns a motor. The trade calls it the distortion factor.
//
//	V(1)/V = 1/√(1 + THD²)
//
// Source: Fourier.
func (w Wave) Fundamental() qty.Fraction {
	d := w.THD()
	return qty.Fraction(1 / math.Sqrt(1+d*d))
}

// LeastTHD returns the pulse at which a stepped wave has the least
// distortion, 133.56 degrees, where
//
//	tan(pulse/2) = pulse (in radians)
//
// Source: Fourier, dTHD/dpulse = 0.
func LeastTHD() qty.Degree {
	d := 2.3
	for range 8 { // Newton; five are enough for every bit
		s, c := math.Sincos(d / 2)
		d -= (s - d*c) / (d*s/2 - c/2)
	}
	return qty.Radian(d).Degrees()
}

// Mean returns the mean of the wave without its sign.
//
// Source: Fourier.
func (w Wave) Mean() qty.Volt {
	if w.IsSine() {
		return w.Peak * 2 / math.Pi
	}
	return w.Peak * qty.Volt(w.share())
}

// PlainMeter returns what a meter shows that takes the mean and is marked for
// a sine, as cheap ones are. A true-RMS meter shows [Wave.RMS].
//
//	shown = π/(2·√2)·mean
//
// Source: Fourier, form factor of a sine.
func (w Wave) PlainMeter() qty.Volt { return w.Mean() * (math.Pi / (2 * math.Sqrt2)) }

// PeakShort returns by what share the wave's peak is lower than that of a sine
// of the same RMS: what a supply that fills a capacitor sees less. Negative
// for pulses under 90 degrees, whose peak is higher.
//
//	1 − Crest/√2
//
// Source: Fourier.
func (w Wave) PeakShort() qty.Fraction { return qty.Fraction(1 - w.Crest()/math.Sqrt2) }

// At returns the volts of the wave at an angle of its cycle, any number; the
// wave crosses nothing upward at 0.
//
// Source: Fourier, of its definition.
func (w Wave) At(angle qty.Degree) qty.Volt {
	a := math.Mod(float64(angle), 360)
	if a < 0 {
		a += 360
	}
	if w.IsSine() {
		return w.Peak * qty.Volt(math.Sin(a*math.Pi/180))
	}
	sign := qty.Volt(1)
	if a >= 180 {
		a, sign = a-180, -1
	}
	if math.Abs(a-90) > float64(w.Pulse)/2 {
		return 0
	}
	return sign * w.Peak
}
