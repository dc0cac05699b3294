package sun

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// Civil twilight of the US Naval Observatory's one-day tables, in UTC to the
// minute, second-hand: the notes on sun position of an open repository quote
// them. The last two rows are a polar night, which has it, and a polar day.
// A table rounds to the minute and has its own Delta T: 40 s allowed.
func TestTwilightAgainstNavalObservatory(t *testing.T) {
	for _, c := range []struct {
		name       string
		lat, lon   qty.Degree
		day        string
		dawn, dusk string // "" for none; dusk may fall on the next date
	}{
		{"59.9 N in June", 59.9139, 10.7522, "2025-06-21", "00:10", "22:28"},
		{"59.9 N in December", 59.9139, 10.7522, "2025-12-21", "07:21", "15:10"},
		{"the equator", -0.1807, -78.4678, "2025-03-20", "10:57", "23:45"},
		{"64 N in December", 64.1466, -21.9426, "2025-12-21", "10:03", "16:49"},
		{"51.5 N in June", 51.5074, -0.1278, "2025-06-21", "02:55", "21:09"},
		{"70 N in December", 70, 0, "2025-12-21", "09:55", "14:02"},
		{"70 N in June", 70, 0, "2025-06-21", "", ""},
	} {
		midnight, err := time.Parse(time.DateOnly, c.day)
		if err != nil {
			t.Fatal(err)
		}
		d, err := DayAt(midnight, Place{Latitude: c.lat, Longitude: c.lon})
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range []struct {
			what string
			got  time.Time
			want string
		}{{"dawn", d.CivilDawn, c.dawn}, {"dusk", d.CivilDusk, c.dusk}} {
			if e.want == "" || e.got.IsZero() {
				if (e.want == "") != e.got.IsZero() {
					t.Errorf("%s, civil %s: %v, want %q", c.name, e.what, e.got, e.want)
				}
				continue
			}
			want, err := time.Parse("2006-01-02 15:04", c.day+" "+e.want)
			if err != nil {
				t.Fatal(err)
			}
			if off := e.got.Sub(want).Abs(); off > 40*time.Second {
				t.Errorf("%s, civil %s: %v, want %v", c.name, e.what, e.got, want)
			}
		}
	}
	d, err := DayAt(time.Date(2025, 12, 21, 0, 0, 0, 0, time.UTC), Place{Latitude: 70})
	if err != nil || d.State != PolarNight || !d.Rise.IsZero() {
		t.Errorf("70 N in December is no polar night: %v, %v", d, err)
	}
	// in the white night the sun goes below 6° but not below 12°
	d, err = DayAt(time.Date(2025, 6, 21, 0, 0, 0, 0, time.UTC), Place{Latitude: 59.9139, Longitude: 10.7522})
	if err != nil || d.CivilDawn.IsZero() || !d.NauticalDawn.IsZero() || !d.NauticalDusk.IsZero() {
		t.Errorf("59.9 N in June: %v, %v", d, err)
	}
}

// Nautical and civil twilight of London on days of December 2015, in UTC to the
// minute: a public almanac page, second-hand, as the tests of the open astronomy
// library astral quote it (test_sun_utc.py). Where in London is not said, so
// that 90 s are allowed: 40 as above, the rest for a quarter degree.
func TestTwilightAgainstAlmanacQuotedByAstral(t *testing.T) {
	for _, c := range []struct {
		day                                              int
		nauticalDawn, civilDawn, civilDusk, nauticalDusk string
	}{
		{1, "06:22", "07:04", "16:34", "17:16"},
		{2, "06:23", "07:05", "16:34", "17:16"},
		{3, "06:24", "07:06", "16:33", "17:16"},
		{12, "06:33", "07:16", "16:31", "17:14"},
		{25, "06:41", "07:25", "16:36", "17:19"},
	} {
		midnight := time.Date(2015, 12, c.day, 0, 0, 0, 0, time.UTC)
		d, err := DayAt(midnight, Place{Latitude: 51.5, Longitude: -0.12})
		if err != nil {
			t.Fatal(err)
		}
		for i, e := range []struct {
			got  time.Time
			want string
		}{{d.NauticalDawn, c.nauticalDawn}, {d.CivilDawn, c.civilDawn}, {d.CivilDusk, c.civilDusk}, {d.NauticalDusk, c.nauticalDusk}} {
			want, err := time.Parse("15:04", e.want)
			if err != nil {
				t.Fatal(err)
			}
			at := midnight.Add(time.Duration(want.Hour())*time.Hour + time.Duration(want.Minute())*time.Minute)
			if off := e.got.Sub(at).Abs(); off > 90*time.Second {
				t.Errorf("%d December, event %d: %v, want %s", c.day, i, e.got, e.want)
			}
		}
	}
}

// Every crossing of a day against a search that knows nothing but PositionAt:
// the sun is looked at every 4 minutes of the 12 hours before and after noon,
// and where it passes the elevation, the interval is halved.
func TestDayAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	w := golden.Worst{What: "crossing, as an error in elevation, °", Limit: 3e-6}
	found, none := 0, 0
	for trial := range 250 {
		p := Place{Latitude: qty.Degree(170*r.Float64() - 85), Longitude: qty.Degree(360*r.Float64() - 180)}
		midnight := time.Date(1950, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, r.IntN(151*365)).Add(time.Duration(r.IntN(96)) * 15 * time.Minute)
		d, err := DayAt(midnight, p)
		if err != nil {
			t.Fatal(err)
		}
		air := p.StandardAir(midnight)
		elevation := func(at time.Time) float64 {
			pos, err := PositionAt(at, p, air)
			if err != nil {
				t.Fatal(err)
			}
			return 90 - float64(pos.Zenith)
		}
		const step = 4 * time.Minute
		const n = 180 // 12 h of them
		var seen [2*n + 1]float64
		for i := range seen {
			seen[i] = elevation(d.Noon.Add(time.Duration(i-n) * step))
		}
		low, high := seen[0], seen[0]
		for _, e := range seen {
			low, high = min(low, e), max(high, e)
		}
		for _, c := range []struct {
			at         float64
			rise, fall time.Time
		}{{-0.8333, d.Rise, d.Set}, {-6, d.CivilDawn, d.CivilDusk}, {-12, d.NauticalDawn, d.NauticalDusk}} {
			// a path that only touches the elevation is left to the properties
			if math.Abs(seen[0]-c.at) < 0.3 || math.Abs(seen[2*n]-c.at) < 0.3 || math.Abs(high-c.at) < 0.3 || math.Abs(low-c.at) < 0.3 {
				continue
			}
			var rise, fall time.Time
			for i := range 2 * n {
				if (seen[i] > c.at) == (seen[i+1] > c.at) {
					continue
				}
				from, to := d.Noon.Add(time.Duration(i-n)*step), d.Noon.Add(time.Duration(i+1-n)*step)
				for to.Sub(from) > time.Microsecond {
					mid := from.Add(to.Sub(from) / 2)
					if (elevation(mid) > c.at) == (seen[i] > c.at) {
						from = mid
					} else {
						to = mid
					}
				}
				if seen[i] < c.at {
					rise = from
				} else {
					fall = from
				}
			}
			for _, x := range [][2]time.Time{{c.rise, rise}, {c.fall, fall}} {
				if x[0].IsZero() != x[1].IsZero() {
					t.Errorf("%v, %v, %g°: %v, by brute force %v", p, midnight, c.at, x[0], x[1])
					continue
				}
				if x[0].IsZero() {
					none++
					continue
				}
				found++
				w.Add(trial, elevation(x[0])-c.at)
				if diff := x[0].Sub(x[1]).Abs(); diff > 100*time.Millisecond {
					t.Errorf("%v, %v, %g°: off by %v", p, midnight, c.at, diff)
				}
			}
		}
	}
	w.Report(t)
	if found < 1000 || none < 100 {
		t.Errorf("only %d crossings and %d days without one", found, none)
	}
}

// The search for a crossing against plain halving, on all kinds of days.
func TestCrossingAgainstHalving(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	w := golden.Worst{What: "crossing, s", Limit: 2e-6}
	from := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	n := 0
	for trial := range 300 {
		k := mustTrack(t, from, 365*24*time.Hour, Place{Latitude: qty.Degree(180*r.Float64() - 90), Longitude: qty.Degree(360*r.Float64() - 180)})
		for range 20 {
			a, sine := 2+360*r.Float64(), math.Sin(-12*r.Float64()*rad)
			b := a + 0.5*r.Float64()
			if (k.height(a) > sine) == (k.height(b) > sine) {
				continue
			}
			if k.height(a) > sine {
				a, b = b, a
			}
			got := k.crossing(a, b, sine)
			for range 60 {
				if mid := (a + b) / 2; k.height(mid) > sine {
					b = mid
				} else {
					a = mid
				}
			}
			n++
			// the same rounding of the elevation moves a grazing path further
			slope := math.Abs(k.height(a+1e-5)-k.height(a-1e-5)) / 2e-5
			if slope > 1e-3 {
				w.Add(trial, (got-a)*daysSeconds)
			}
		}
	}
	w.Report(t)
	if n < 1000 {
		t.Errorf("only %d crossings", n)
	}
}

// A day's events stand in their order, and those that are missing are missing
// for the darker ones too, or for the brighter ones.
func TestTwilightOrder(t *testing.T) {
	start := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	for _, lat := range []qty.Degree{-90, -89.9, -78, -66.5, -50, 0, 23, 48.7, 60.6, 67, 84, 90} {
		for _, lon := range []qty.Degree{-180, -71, 0, 180} {
			dawns, dusks := 0, 0
			for day := range 365 {
				d, err := DayAt(start.AddDate(0, 0, day), Place{Latitude: lat, Longitude: lon})
				if err != nil {
					t.Fatal(err)
				}
				if !d.NauticalDawn.IsZero() {
					dawns++
				}
				if !d.NauticalDusk.IsZero() {
					dusks++
				}
				if math.Abs(float64(lat)) > 89 {
					continue // a day at the pole is a year
				}
				var last time.Time
				for i, at := range []time.Time{d.NauticalDawn, d.CivilDawn, d.Rise, d.Noon, d.Set, d.CivilDusk, d.NauticalDusk} {
					if at.IsZero() {
						continue
					}
					if !at.After(last) {
						t.Errorf("%g, %g, day %d: event %d is out of order: %v", lat, lon, day, i, d)
					}
					last = at
				}
				if d.State == PolarDay && !(d.CivilDawn.IsZero() && d.NauticalDusk.IsZero()) {
					t.Errorf("%g, day %d: twilight in a polar day: %v", lat, day, d)
				}
			}
			if math.Abs(float64(lat)) == 90 && (dawns != 1 || dusks != 1) {
				t.Errorf("latitude %g: %d dawns and %d dusks in a year", lat, dawns, dusks)
			}
			if lat == 0 && (dawns != 365 || dusks != 365) {
				t.Errorf("equator: %d dawns and %d dusks", dawns, dusks)
			}
		}
	}
}
