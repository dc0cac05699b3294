package sun

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// A sun as far south as it is north stands, over a place as far south, in the
// mirror: north for south, the same height and the same side of east.
func TestNorthernAndSouthernMirror(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	for range 1000 {
		p := Place{Latitude: qty.Degree(180*r.Float64() - 90), Longitude: qty.Degree(360*r.Float64() - 180), Altitude: qty.Metre(5000 * r.Float64())}
		q := p
		q.Latitude = -p.Latitude
		a, b := observerAt(p), observerAt(q)
		g := sunFromEarth(36525*r.Float64(), 70)
		sinH, cosH := math.Sincos(2 * math.Pi * r.Float64())
		sinD, cosD := math.Sincos(g.declination * rad)
		e1, n1, u1 := a.see(cosD*cosH, cosD*sinH, sinD)
		e2, n2, u2 := b.see(cosD*cosH, cosD*sinH, -sinD)
		if math.Abs(e1-e2) > 1e-15 || math.Abs(n1+n2) > 1e-15 || math.Abs(u1-u2) > 1e-15 {
			t.Fatalf("%v: %g %g %g, mirrored %g %g %g", p, e1, n1, u1, e2, n2, u2)
		}
	}
}

// The two longitudes of the antimeridian are one place, and a step over it is
// as small as a step elsewhere.
func TestAntimeridian(t *testing.T) {
	from := time.Date(2026, 5, 5, 0, 0, 0, 0, time.FixedZone("", 12*3600))
	for _, lat := range []qty.Degree{-90, -45, 0, 66, 90} {
		east := mustTrack(t, from, 48*time.Hour, Place{Latitude: lat, Longitude: 180})
		west := mustTrack(t, from, 48*time.Hour, Place{Latitude: lat, Longitude: -180})
		over := mustTrack(t, from, 48*time.Hour, Place{Latitude: lat, Longitude: -179.9999})
		for h := time.Duration(0); h <= 48*time.Hour; h += 17 * time.Minute {
			if d := apart(east.At(h), west.At(h)); d > 1e-9 {
				t.Errorf("latitude %g, %v: %g° between 180 E and 180 W", lat, h, d)
			}
			e, w := east.At(h), over.At(h)
			// 0.0001° of longitude, by which a pole turns its compass
			if d := apart(e, w); d > 1.001e-4 && math.Abs(float64(e.Elevation)-horizonSwitch) > 1 {
				t.Errorf("latitude %g, %v: %g° over the antimeridian", lat, h, d)
			}
		}
		a, errA := east.Day(from)
		b, errB := west.Day(from)
		if errA != nil || errB != nil || a.Noon.Sub(b.Noon).Abs() > time.Microsecond || a.State != b.State || a.Rise.Sub(b.Rise).Abs() > time.Millisecond {
			t.Errorf("latitude %g: %v and %v", lat, a, b)
		}
	}
}

// At a pole the sun's height is its declination, less its parallax, all day,
// and its azimuth turns once.
func TestPoles(t *testing.T) {
	w := golden.Worst{What: "height at the pole less declination, °", Limit: 1e-9}
	for _, lat := range []qty.Degree{90, -90} {
		for day := range 365 {
			at := time.Date(2031, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, day)
			p := Place{Latitude: lat}
			turned := 0.0
			var last float64
			for h := range 25 {
				pos, err := PositionAt(at.Add(time.Duration(h)*time.Hour), p, p.StandardAir(at))
				if err != nil {
					t.Fatal(err)
				}
				sinD, cosD := math.Sincos(float64(pos.Declination) * rad)
				axis := 8.794 / 3600 * rad * 0.99664719
				height := math.Atan2(pos.Distance*sinD*math.Copysign(1, float64(lat))-axis, pos.Distance*cosD) / rad
				w.Add(day, 90-float64(pos.Zenith)-height)
				if h > 0 {
					turned += fold180(float64(pos.Azimuth) - last)
				}
				last = float64(pos.Azimuth)
			}
			if want := math.Copysign(360, float64(lat)); math.Abs(turned-want) > 0.2 {
				t.Errorf("latitude %g, day %d: the sun turned %g°", lat, day, turned)
			}
		}
	}
	w.Report(t)
}

// The ends of the years that the project promises are ordinary days: a track
// and the exact position agree, the sun rises, and summer is where it belongs.
func TestYears1950And2100(t *testing.T) {
	for _, year := range []int{1950, 2100} {
		for _, day := range []time.Time{
			time.Date(year, 1, 1, 0, 0, 0, 0, time.UTC),
			time.Date(year, 6, 21, 0, 0, 0, 0, time.UTC),
			time.Date(year, 12, 31, 0, 0, 0, 0, time.UTC),
		} {
			d, err := DayAt(day, berlin)
			if err != nil || d.State != Normal || d.CivilDawn.IsZero() {
				t.Errorf("%v: %v, %v", day, d, err)
			}
			long := d.Set.Sub(d.Rise).Hours()
			if summer := day.Month() == 6; summer != (long > 12) || long < 7 || long > 17 {
				t.Errorf("%v: a day of %g h", day, long)
			}
			k := mustTrack(t, day, 24*time.Hour, berlin)
			for h := range 25 {
				at := time.Duration(h) * time.Hour
				pos, err := PositionAt(day.Add(at), berlin, berlin.StandardAir(day))
				if err != nil {
					t.Fatal(err)
				}
				if e := apart(k.At(at), pos.Direction()); e > 1e-6 {
					t.Errorf("%v: %g° off", day.Add(at), e)
				}
			}
		}
	}
}

// The instant of the exact level, with refraction: light begins there, steps
// over it are small, and nothing is negative or without a number.
func TestSunExactlyOnTheHorizon(t *testing.T) {
	a, err := NewAtmosphere(berlin, 3)
	if err != nil {
		t.Fatal(err)
	}
	h := mustHorizon(t, HorizonPoint{0, 0})
	v := NewView(mustPlane(t, 60, 90), h, Perez, Physical)
	last := 0.0
	for _, below := range []float64{1e-3, 1e-9, 0, -1e-12, -1e-9, -1e-6, -1e-3} {
		d := Toward(qty.Degree(90+below), 90)
		l := a.ClearSky(d, 1366)
		on := float64(v.Through(v.Light(l, d, 1366, 0.2, false), d))
		if !(on >= last) || on > 60 || (below > 1e-9 && on != 0) {
			t.Errorf("%g° below the level: %g W/m² after %g", below, on, last)
		}
		last = on
	}
	if last == 0 {
		t.Error("no light just above it")
	}
}

// A winter's noon sun behind a hill: it is hidden for a part of the day, and at
// no time is there more light than without the hill.
func TestTrackUnderAHorizon(t *testing.T) {
	from := time.Date(2026, 12, 1, 0, 0, 0, 0, time.UTC)
	k := mustTrack(t, from, 24*time.Hour, berlin)
	a, err := NewAtmosphere(berlin, 3)
	if err != nil {
		t.Fatal(err)
	}
	hill := mustHorizon(t, HorizonPoint{150, 0}, HorizonPoint{180, 25}, HorizonPoint{210, 0})
	p := mustPlane(t, 60, 180)
	open, under := NewView(p, nil, HayDavies, ASHRAE), NewView(p, hill, HayDavies, ASHRAE)
	hidden, lit := 0, 0
	for at := 5 * time.Minute; at < 24*time.Hour; at += 10 * time.Minute {
		d := k.At(at)
		l := a.ClearSky(d, 1400)
		free, got := open.Light(l, d, 1400, 0.2, false), under.Light(l, d, 1400, 0.2, false)
		if got.Total() > free.Total() {
			t.Errorf("%v: %v under the hill, %v without", at, got, free)
		}
		if free.Beam > 0 {
			lit++
			if got.Beam == 0 {
				hidden++
			}
		}
	}
	// the sun rises at 127° and reaches 16°; the hill is higher around noon only
	if hidden == 0 || hidden >= lit {
		t.Errorf("hidden in %d of %d steps", hidden, lit)
	}
}
