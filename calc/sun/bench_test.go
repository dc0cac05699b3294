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

// skyline is a horizon of 36 points.
func skyline(b *testing.B) *Horizon {
	var line []HorizonPoint
	for i := range 36 {
		line = append(line, HorizonPoint{qty.Degree(10 * i), qty.Degree(i * 7 % 23)})
	}
	return mustHorizon(b, line...)
}

// The light of one daytime step, without the sun's place.
func BenchmarkLight(b *testing.B) {
	a, err := NewAtmosphere(berlin, 3)
	if err != nil {
		b.Fatal(err)
	}
	p := mustPlane(b, 35, 180)
	h := skyline(b)
	d := Toward(72, 150)
	for _, c := range []struct {
		name  string
		index float64
		h     *Horizon
		m     SkyModel
		g     Glass
	}{
		{"sky=hay-davies/index=1", 1, nil, HayDavies, ASHRAE},
		{"sky=hay-davies/index=0.6", 0.6, nil, HayDavies, ASHRAE},
		{"sky=hay-davies/index=0.6/horizon=36", 0.6, h, HayDavies, ASHRAE},
		{"sky=perez/index=0.6/glass=physical", 0.6, nil, Perez, Physical},
	} {
		b.Run(c.name, func(b *testing.B) {
			v := NewView(p, c.h, c.m, c.g)
			b.ReportAllocs()
			var sum qty.Irradiance
			for b.Loop() {
				l := Clouded(a.ClearSky(d, 1330), c.index, d, 1330)
				sum += v.Through(v.Light(l, d, 1330, 0.2, false), d)
			}
			if sum == 0 {
				b.Fatal("no light")
			}
		})
	}
}

func BenchmarkNewHorizon(b *testing.B) {
	var line []HorizonPoint
	for i := range 36 {
		line = append(line, HorizonPoint{qty.Degree(10 * i), qty.Degree(i * 7 % 23)})
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := NewHorizon(line); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkNewView(b *testing.B) {
	p := mustPlane(b, 35, 180)
	for _, c := range []struct {
		name string
		h    *Horizon
		g    Glass
	}{{"open/ashrae", nil, ASHRAE}, {"open/physical", nil, Physical}, {"open/none", nil, NoGlass}, {"points=36/none", skyline(b), NoGlass}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				NewView(p, c.h, HayDavies, c.g)
			}
		})
	}
}

func BenchmarkHides(b *testing.B) {
	h := skyline(b)
	var ds [256]Direction
	for i := range ds {
		ds[i] = Toward(qty.Degree(68+i%22), qty.Degree(i))
	}
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		h.Hides(ds[n&255])
		n++
	}
}

// All that an Outlook asks of this package: a track, eight days and every step.
func BenchmarkTrip(b *testing.B) {
	a, err := NewAtmosphere(berlin, 3)
	if err != nil {
		b.Fatal(err)
	}
	v := NewView(mustPlane(b, 35, 180), nil, HayDavies, ASHRAE)
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
				l := Clouded(a.ClearSky(d, 1330), 0.6, d, 1330)
				v.Through(v.Light(l, d, 1330, 0.2, false), d)
			}
		}
		b.ReportMetric(float64(b.N)*float64(length/step)/b.Elapsed().Seconds(), "steps/s")
	})
}
