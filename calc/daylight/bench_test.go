package daylight

import (
	"testing"
	"time"

	"duskline/calc/power"
	"duskline/calc/sun"
)

// BenchmarkAt is a week of 5-minute steps.
func BenchmarkAt(b *testing.B) {
	for _, c := range []struct {
		name string
		edit func(*Spec)
	}{
		{"plain", func(*Spec) {}},
		{"pwm", func(s *Spec) { s.Controller.Kind = power.PWM }},
		{"perez", func(s *Spec) { s.Model = sun.Perez; s.Glass = sun.Physical }},
		{"horizon", func(s *Spec) { s.Horizon = valley(b) }},
		{"turned", func(s *Spec) { s.Panels[0].Lie = Lie{Kind: Turned, Tilt: 40, Aims: 3} }},
		{"shaded", func(s *Spec) { s.Panels[0].Shade, s.Panels[0].Shaded = []Window{{10, 14}}, 0.3 }},
	} {
		b.Run("days=7/step=5m/"+c.name, func(b *testing.B) {
			s := hill(b)
			c.edit(&s)
			sc := scene(b, s)
			b.ReportAllocs()
			for b.Loop() {
				for after := 150.0; after < s.Span.Seconds(); after += 300 {
					sc.At(after)
				}
			}
			b.ReportMetric(float64(b.N)*7*288/b.Elapsed().Seconds(), "steps/s")
		})
	}
}

func BenchmarkNew(b *testing.B) {
	for _, c := range []struct {
		name string
		edit func(*Spec)
	}{
		{"indexes", func(*Spec) {}},
		{"peak sun", func(s *Spec) { s.Light = Light{Kind: ByPeakSun, PeakSun: []float64{4}} }},
		{"peak sun on panels", func(s *Spec) { s.Light = Light{Kind: ByPeakSun, PeakSun: []float64{4}, OnPanels: true} }},
		{"meter", func(s *Spec) { s.Light = Light{Kind: ByMeter, Meter: []float64{300, 250, 400}} }},
		{"weather", func(s *Spec) { s.Light = Light{Kind: ByWeather, Weather: anyWeather(s)} }},
		{"hourly", func(s *Spec) { s.Panels[0].Lie = Lie{Kind: TwoAxis, Aims: 12}; s.Horizon = valley(b) }},
	} {
		b.Run("days=7/"+c.name, func(b *testing.B) {
			s := hill(b)
			c.edit(&s)
			for b.Loop() {
				scene(b, s)
			}
		})
	}
}

func BenchmarkDays(b *testing.B) {
	s := hill(b)
	s.Span = 30 * 24 * time.Hour
	c := scene(b, s)
	for b.Loop() {
		c.Days()
	}
}

func BenchmarkBestLie(b *testing.B) {
	for _, c := range []struct {
		name string
		edit func(*Spec)
	}{
		{"plain", func(*Spec) {}},
		{"valley", func(s *Spec) { s.Horizon = valley(b) }},
		{"perez", func(s *Spec) { s.Horizon, s.Model, s.Glass = valley(b), sun.Perez, sun.Physical }},
	} {
		b.Run("days=30/"+c.name, func(b *testing.B) {
			s := hill(b)
			s.Span = 30 * 24 * time.Hour
			c.edit(&s)
			sc := scene(b, s)
			for b.Loop() {
				if _, err := sc.BestLie(0); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
