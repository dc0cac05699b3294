package sun

import (
	"errors"
	"math"
	"testing"
	"time"

	"duskline/calc/qty"
)

func wantRange(t *testing.T, err error, what string) {
	t.Helper()
	var r *qty.RangeError
	if !errors.As(err, &r) || r.What != what {
		t.Errorf("got %v, want a RangeError about %s", err, what)
	}
}

// A trip's own track gives each day as a track made for the day gives it.
func TestTrackDayAgreesWithDayAt(t *testing.T) {
	from := time.Date(2026, 11, 3, 15, 20, 0, 0, time.FixedZone("", 3600))
	for _, p := range []Place{berlin, {Latitude: -77, Longitude: 166}, {Latitude: 69.65, Longitude: 18.96}} {
		k := mustTrack(t, from, 30*24*time.Hour, p)
		for day := range 31 {
			midnight := time.Date(2026, 11, 3+day, 0, 0, 0, 0, from.Location())
			a, err := k.Day(midnight)
			if err != nil {
				t.Fatal(err)
			}
			b, err := DayAt(midnight, p)
			if err != nil {
				t.Fatal(err)
			}
			for _, x := range [][2]time.Time{{a.Rise, b.Rise}, {a.Noon, b.Noon}, {a.Set, b.Set}} {
				// near the polar circles a crossing moves 10,000 s for 1°
				if d := x[0].Sub(x[1]).Abs(); a.State != b.State || d > 20*time.Millisecond {
					t.Errorf("%v, day %d: %v or %v", p, day, a, b)
				}
			}
		}
	}
}

// At each crossing the sun stands at -0.8333°, by the exact position, and
// before rising it is lower than after.
func TestDayCrossesTheHorizon(t *testing.T) {
	for _, lat := range []qty.Degree{-66, -30, 0, 48, 66} {
		p := Place{Latitude: lat, Longitude: -120}
		midnight := time.Date(2027, 2, 9, 0, 0, 0, 0, time.FixedZone("", -8*3600))
		d, err := DayAt(midnight, p)
		if err != nil || d.State != Normal {
			t.Fatalf("%g: %v, %v", lat, d, err)
		}
		elevation := func(at time.Time) float64 {
			pos, err := PositionAt(at, p, p.StandardAir(midnight))
			if err != nil {
				t.Fatal(err)
			}
			return float64(90 - pos.Zenith)
		}
		for what, at := range map[string]time.Time{"rise": d.Rise, "set": d.Set} {
			if e := elevation(at) + 0.8333; e > 2e-6 || e < -2e-6 {
				t.Errorf("latitude %g, %s: off by %g°", lat, what, e)
			}
		}
		if !(elevation(d.Rise.Add(-time.Minute)) < elevation(d.Rise)) || !(elevation(d.Set.Add(time.Minute)) < elevation(d.Set)) {
			t.Errorf("latitude %g: rise and set are swapped", lat)
		}
		if !d.Rise.Before(d.Noon) || !d.Noon.Before(d.Set) || d.Noon.Sub(midnight) > 24*time.Hour || d.Noon.Before(midnight) {
			t.Errorf("latitude %g: out of order: %v", lat, d)
		}
	}
}

// Through a polar year the states follow each other: light days between dark
// days, none missing, and at the pole one rise and one set in the year.
func TestPolarYear(t *testing.T) {
	start := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		lat  qty.Degree
		want string // the states in turn
	}{
		{69.65, "night normal day normal night"},
		{-69.65, "day normal night normal day"},
		{90, "night normal day normal night"},
		{-90, "day normal night normal day"},
		{60, "normal"},
		{89.99, "night normal day normal night"},
	} {
		var got string
		last := DayState(99)
		rises, sets := 0, 0
		for day := range 365 {
			d, err := DayAt(start.AddDate(0, 0, day), Place{Latitude: c.lat, Longitude: 19})
			if err != nil {
				t.Fatal(err)
			}
			if !d.Rise.IsZero() {
				rises++
			}
			if !d.Set.IsZero() {
				sets++
			}
			if d.State != last {
				if got != "" {
					got += " "
				}
				got += map[DayState]string{Normal: "normal", PolarDay: "day", PolarNight: "night"}[d.State]
				last = d.State
			}
		}
		if got != c.want {
			t.Errorf("latitude %g: %s, want %s", c.lat, got, c.want)
		}
		if c.lat == 60 && (rises != 365 || sets != 365) {
			t.Errorf("latitude 60: %d rises, %d sets", rises, sets)
		}
		if math.Abs(float64(c.lat)) == 90 && (rises != 1 || sets != 1) {
			t.Errorf("latitude %g: %d rises, %d sets in a year", c.lat, rises, sets)
		}
	}
}
