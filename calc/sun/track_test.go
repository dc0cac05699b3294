package sun

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

var berlin = Place{Latitude: 52.5, Longitude: 13.4, Altitude: 40}

func mustTrack(t testing.TB, from time.Time, length time.Duration, p Place) *Track {
	t.Helper()
	k, err := NewTrack(from, from.Add(length), p)
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// A track against the position it interpolates, at 200,000 random instants of
// random trips over the whole earth and 1950 to 2100.
func TestTrackAgainstPositionAt(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	apparent := golden.Worst{What: "apparent direction, °", Limit: 1e-6}
	elevation := golden.Worst{What: "elevation, °", Limit: 1e-6}
	length := golden.Worst{What: "length of the vector", Limit: 1e-9}
	sine := golden.Worst{What: "sine of elevation less Up", Limit: 1e-9}
	n := 0
	for trip := range 1000 {
		p := Place{qty.Degree(r.Float64()*180 - 90), qty.Degree(r.Float64()*360 - 180), qty.Metre(r.Float64() * 6000)}
		from := time.Date(1950, 1, 1, 0, 0, 0, 0, time.UTC).Add(time.Duration(r.Float64() * 150 * 365.25 * 24 * float64(time.Hour)))
		long := time.Duration(r.Float64() * 30 * 24 * float64(time.Hour))
		k := mustTrack(t, from, long, p)
		air := p.StandardAir(from)
		for range 200 {
			after := time.Duration(r.Float64() * float64(long))
			pos, err := PositionAt(from.Add(after), p, air)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(float64(90-pos.Zenith)-horizonSwitch) < 1e-5 {
				continue // the leap of refraction: either side is right
			}
			d := k.At(after)
			n++
			apparent.Add(trip, apart(d, pos.Direction()))
			elevation.Add(trip, float64(d.Elevation-(90-pos.ApparentZenith)))
			length.Add(trip, math.Sqrt(d.East*d.East+d.North*d.North+d.Up*d.Up)-1)
			sine.Add(trip, math.Sin(float64(d.Elevation)*rad)-d.Up)
		}
	}
	if n < 199000 {
		t.Errorf("only %d instants compared", n)
	}
	apparent.Report(t)
	elevation.Report(t)
	length.Report(t)
	sine.Report(t)
}

func TestTrackEndsAreOnIt(t *testing.T) {
	from := time.Date(2026, 3, 20, 6, 0, 0, 0, time.UTC)
	for _, long := range []time.Duration{0, time.Minute, 24 * time.Hour, 7 * 24 * time.Hour} {
		k := mustTrack(t, from, long, berlin)
		pos, err := PositionAt(from.Add(long), berlin, berlin.StandardAir(from))
		if err != nil {
			t.Fatal(err)
		}
		if e := apart(k.At(long), pos.Direction()); !(e < 2e-6) {
			t.Errorf("%v: %g° off at its end", long, e)
		}
	}
}

// The leap is what the package promises: under the horizon at both ends.
func TestRefractionLeapLiesUnderTheHorizon(t *testing.T) {
	for _, altitude := range []qty.Metre{-430, 0, 6000} {
		a := Place{Altitude: altitude}.StandardAir(time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC))
		if e := horizonSwitch + airLens(a)*refraction(horizonSwitch); !(e < 0) {
			t.Errorf("at %g m the sun leaps to %g°", altitude, e)
		}
		if refraction(math.Nextafter(horizonSwitch, -1)) != 0 {
			t.Error("refraction under the switch")
		}
	}
	// 34 minutes of arc of air on the horizon: common figure, no source.
	if r := refraction(-0.5); r < 0.5 || r > 0.65 {
		t.Errorf("the horizon is lifted by %g°", r)
	}
}

func TestOverheadAndPolesGiveNumbers(t *testing.T) {
	from := time.Date(2026, 6, 21, 0, 0, 0, 0, time.UTC)
	finite := func(what string, v ...float64) {
		for _, x := range v {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Errorf("%s: %v", what, v)
			}
		}
	}
	for _, lat := range []qty.Degree{-90, -89.999999, 0, 23.4375, 89.999999, 90} {
		for _, lon := range []qty.Degree{-180, 0, 180} {
			p := Place{Latitude: lat, Longitude: lon}
			a, err := NewAtmosphere(p, 3)
			if err != nil {
				t.Fatal(err)
			}
			views := []View{
				NewView(mustPlane(t, 40, 180), nil, HayDavies, ASHRAE),
				NewView(mustPlane(t, 40, 180), mustHorizon(t, HorizonPoint{0, 3}), Perez, Physical),
			}
			k := mustTrack(t, from, 365*24*time.Hour, p)
			for h := 0; h <= 365*24; h += 5 {
				after := time.Duration(h) * time.Hour
				pos, err := PositionAt(from.Add(after), p, p.StandardAir(from))
				if err != nil {
					t.Fatal(err)
				}
				finite("position", float64(pos.Zenith), float64(pos.ApparentZenith), float64(pos.Azimuth))
				d := k.At(after)
				finite("track", d.East, d.North, d.Up, float64(d.Elevation))
				clear := a.ClearSky(d, 1366)
				for _, index := range []float64{0, 0.3, 1, 1.2} {
					l := Clouded(clear, index, d, Extraterrestrial(1))
					for i := range views {
						got := float64(views[i].Through(views[i].Light(l, d, 1366, 0.2, false), d))
						finite("light", float64(l.DNI), float64(l.DHI), got)
						if got < 0 || l.DNI < 0 || l.DHI < 0 || (d.Elevation <= 0 && got != 0) {
							t.Fatalf("latitude %g, %d h, index %g: %g W/m² at elevation %g", lat, h, index, got, d.Elevation)
						}
					}
				}
			}
			for day := range 366 {
				d, err := DayAt(from.AddDate(0, 0, day), p)
				if err != nil || d.Noon.IsZero() {
					t.Fatalf("latitude %g, day %d: %v, %v", lat, day, d, err)
				}
			}
		}
	}
	// at exactly overhead the vector's flat part is 0
	k := &Track{eph: ephemeris{cube: []cubic{{}, {}, {x: [4]float64{1}}}}, here: observer{cos: 1, cosLon: 1}, lens: 1}
	d := k.At(0)
	finite("overhead", d.East, d.North, d.Up, float64(d.Elevation))
	if !(d.Elevation > 89.99) {
		t.Errorf("overhead: %v", d)
	}
}

func TestRefusals(t *testing.T) {
	at := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	air := berlin.StandardAir(at)
	for _, c := range []struct {
		what string
		call func() error
	}{
		{"latitude", func() error { _, err := PositionAt(at, Place{Latitude: 90.001}, air); return err }},
		{"longitude", func() error { _, err := NewTrack(at, at, Place{Longitude: -181}); return err }},
		{"altitude", func() error { _, err := DayAt(at, Place{Altitude: qty.Metre(nan)}); return err }},
		{"altitude", func() error { _, err := NewAtmosphere(Place{Altitude: 9001}, 3); return err }},
		{"turbidity", func() error { _, err := NewAtmosphere(berlin, 0.9); return err }},
		{"pressure", func() error { _, err := PositionAt(at, berlin, Air{Pressure: -1}); return err }},
		{"temperature", func() error { _, err := PositionAt(at, berlin, Air{Temperature: -273}); return err }},
		{"delta T", func() error { _, err := PositionAt(at, berlin, Air{DeltaT: nan}); return err }},
		{"year", func() error { _, err := PositionAt(at.AddDate(200, 0, 0), berlin, air); return err }},
		{"year", func() error { _, err := NewTrack(at.AddDate(-200, 0, 0), at, berlin); return err }},
		{"year", func() error { _, err := NewTrack(at, at.AddDate(200, 0, 0), berlin); return err }},
		{"year", func() error { _, err := DayAt(at.AddDate(-127, 0, 0), berlin); return err }},
		{"length", func() error { _, err := NewTrack(at, at.Add(-time.Second), berlin); return err }},
		{"length", func() error { _, err := NewTrack(at, at.AddDate(2, 0, 0), berlin); return err }},
		{"midnight", func() error { _, err := mustTrack(t, at, time.Hour, berlin).Day(at.Add(-25 * time.Hour)); return err }},
		{"midnight", func() error { _, err := mustTrack(t, at, time.Hour, berlin).Day(at.Add(49 * time.Hour)); return err }},
		{"tilt", func() error { _, err := NewPlane(-1, 0); return err }},
		{"azimuth", func() error { _, err := NewPlane(0, 361); return err }},
	} {
		wantRange(t, c.call(), c.what)
	}
	if d := DeltaT(at.AddDate(-127, 0, 0)); !math.IsNaN(d) {
		t.Errorf("Delta T of 1899 is %g", d)
	}
}
