package sun

import (
	"testing"
	"time"

	"duskline/calc/qty"
)

var noon = time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC)

func BenchmarkPositionAt(b *testing.B) {
	air := berlin.StandardAir(noon)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := PositionAt(noon, berlin, air); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkNewTrack(b *testing.B) {
	b.Run("days=7", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			mustTrack(b, noon, 7*24*time.Hour, berlin)
		}
	})
}

func BenchmarkTrackAt(b *testing.B) {
	k := mustTrack(b, noon, 7*24*time.Hour, berlin)
	after := time.Duration(0)
	b.ReportAllocs()
	for b.Loop() {
		after = (after + 5*time.Minute) % (7 * 24 * time.Hour)
		k.At(after)
	}
}

func BenchmarkTrackDay(b *testing.B) {
	k := mustTrack(b, noon, 7*24*time.Hour, berlin)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := k.Day(noon); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkIndexForPeakSunHours(b *testing.B) {
	a, err := NewAtmosphere(berlin, 3)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := IndexForPeakSunHours(berlin, a, noon, 5); err != nil {
			b.Fatal(err)
		}
	}
}

// The light of one daytime step, without the sun's place.
func BenchmarkLight(b *testing.B) {
	a, err := NewAtmosphere(berlin, 3)
	if err != nil {
		b.Fatal(err)
	}
	p, err := NewPlane(35, 180)
	if err != nil {
		b.Fatal(err)
	}
	d := Toward(47, 150)
	for _, c := range []struct {
		name  string
		index float64
	}{{"index=1", 1}, {"index=0.6", 0.6}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			var sum qty.Irradiance
			for b.Loop() {
				l := Clouded(a.ClearSky(d, 1330), c.index, d, 152)
				sum += p.Transmitted(p.Light(l, d, 1330, 0.2), d)
			}
			if sum == 0 {
				b.Fatal("no light")
			}
		})
	}
}

// All that an Outlook asks of this package: a track, eight days and every step.
func BenchmarkTrip(b *testing.B) {
	a, err := NewAtmosphere(berlin, 3)
	if err != nil {
		b.Fatal(err)
	}
	p, err := NewPlane(35, 180)
	if err != nil {
		b.Fatal(err)
	}
	const length, step = 7 * 24 * time.Hour, 5 * time.Minute
	b.Run("days=7/step=5m", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			k := mustTrack(b, noon, length, berlin)
			for day := range 8 {
				if _, err := k.Day(noon.Add(time.Duration(day*24-12) * time.Hour)); err != nil {
					b.Fatal(err)
				}
			}
			for t := step / 2; t < length; t += step {
				d := k.At(t)
				l := Clouded(a.ClearSky(d, 1330), 0.6, d, 152)
				p.Transmitted(p.Light(l, d, 1330, 0.2), d)
			}
		}
		b.ReportMetric(float64(b.N)*float64(length/step)/b.Elapsed().Seconds(), "steps/s")
	})
}
