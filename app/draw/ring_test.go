package draw

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"duskline/calc/qty"
	"duskline/calc/sun"
)

// zone is the clock of the samples.
var zone = time.FixedZone("", 2*3600)

// realWay is the sun's way over a place on a date, from the core, every 15
// minutes, hidden by the heights handed in.
func realWay(t *testing.T, p sun.Place, day time.Time, height func(qty.Degree) qty.Degree) Way {
	t.Helper()
	w := Way{Day: day}
	for at := day; at.Before(day.AddDate(0, 0, 1)); at = at.Add(15 * time.Minute) {
		pos, err := sun.PositionAt(at, p, p.StandardAir(at))
		if err != nil {
			t.Fatal(err)
		}
		if up := 90 - pos.ApparentZenith; up > 0 {
			w.Points = append(w.Points, WayPoint{at, pos.Azimuth, up, up < height(pos.Azimuth)})
		}
	}
	return w
}

// spaced shows spaces at which no line breaks as others.
func spaced(s string) string { return strings.ReplaceAll(s, "\u00a0", " ") }

func open(qty.Degree) qty.Degree { return 0 }

// valley is a hill in the east, trees in the south-west, else open.
func valley(azimuth qty.Degree) qty.Degree {
	a := float64(azimuth)
	bump := func(at, wide, high float64) float64 {
		d := math.Abs(math.Mod(a-at+540, 360) - 180)
		return max(0, high*(1-d/wide))
	}
	return qty.Degree(max(bump(100, 60, 28), bump(225, 25, 22), bump(330, 50, 12)))
}

func trip(t *testing.T, p sun.Place, first time.Time, days []int, height func(qty.Degree) qty.Degree) Ring {
	t.Helper()
	r := Ring{Height: height, Looks: []qty.Degree{180, 200, 180}}
	for _, d := range days {
		r.Ways = append(r.Ways, realWay(t, p, first.AddDate(0, 0, d), height))
	}
	return r
}

func may(day int) time.Time { return time.Date(2026, 5, day, 0, 0, 0, 0, zone) }

var ringFrames = []Frame{{"r", 328, 328}, {"r", 376, 376}, {"r", 600, 600}, {"r", 280, 280}, {"r", 120, 120}, {"r", 40, 24}}

func TestRingIsSoundAnywhere(t *testing.T) {
	for _, c := range []struct {
		name     string
		lat      qty.Degree
		first    time.Time
		days     []int
		height   func(qty.Degree) qty.Degree
		compass4 bool
	}{
		{"home", 46, may(14), []int{0, 2}, valley, true},
		{"a month", 46, may(1), []int{0, 15, 30}, valley, true},
		{"autumn month", 46, time.Date(2026, 9, 10, 0, 0, 0, 0, zone), []int{0, 15, 30}, open, true},
		{"equator", 0, may(14), []int{0}, open, true},
		{"south", -33, may(14), []int{0, 30}, valley, true},
		{"white night", 64, time.Date(2026, 6, 20, 0, 0, 0, 0, zone), []int{0}, valley, true},
		{"polar day", 80, time.Date(2026, 6, 20, 0, 0, 0, 0, zone), []int{0}, valley, true},
		{"polar night", -80, may(30), []int{0}, valley, true},
		{"pole", 90, may(30), []int{0, 10}, open, true},
		{"pit", 46, may(14), []int{0}, func(qty.Degree) qty.Degree { return 89 }, true},
		{"nonsense", 46, may(14), []int{0}, func(qty.Degree) qty.Degree { return qty.Degree(math.NaN()) }, true},
		{"nothing", 46, may(14), nil, nil, true},
	} {
		h := c.height
		if h == nil {
			h = open
		}
		r := trip(t, sun.Place{Latitude: c.lat, Longitude: 7}, c.first, c.days, h)
		r.Height = c.height
		for _, f := range ringFrames {
			t.Run(fmt.Sprintf("%s/%g", c.name, f.Width), func(t *testing.T) {
				svg := DrawRing(r, f)
				list := read(t, svg)
				if f.Width > 100 {
					clear(t, list, f)
				}
				if n := len(list); n > 60 || len(svg) > 14000 {
					t.Errorf("%d nodes, %d bytes", n, len(svg))
				}
				letters := ""
				for _, e := range list {
					if e.attrs["data-s"] == "compass" {
						letters += e.text
					}
				}
				if letters != "NESW" {
					t.Errorf("compass %q", letters)
				}
			})
			WaysTable(r)
		}
	}
}

// North is up and east to the right; the level horizon is on the rim and a
// height of 90 in the middle. Stereographic: tan of half the distance from
// overhead (definition).
func TestRingProjectionByDefinition(t *testing.T) {
	g := &ring{f: Frame{"r", 200, 200}, cx: 100, cy: 100, r: 80}
	for _, c := range []struct{ azimuth, elevation, x, y float64 }{
		{0, 0, 100, 20}, {90, 0, 180, 100}, {180, 0, 100, 180}, {270, 0, 20, 100},
		{0, 90, 100, 100}, {77, 90, 100, 100},
		{90, 30, 100 + 80/math.Sqrt(3), 100}, // tan 30°
		{180, -5, 100, 180},                  // under the horizon is on it
	} {
		if x, y := g.at(c.azimuth, c.elevation); math.Abs(x-c.x)+math.Abs(y-c.y) > 1e-9 {
			t.Errorf("%g°, %g° up stands at %g, %g, want %g, %g", c.azimuth, c.elevation, x, y, c.x, c.y)
		}
	}
}

// A wall of 20 degrees cuts a way that climbs evenly exactly where it passes
// 20, and the table counts the hidden time.
func TestWaysAreCutWhereTheSunPassesTheEdge(t *testing.T) {
	wall := func(float64) float64 { return 20 }
	w := Way{Day: may(14)}
	for i := range 13 { // 06:00 to 18:00, 7.5 degrees an hour up to noon
		up := 7.5 * float64(6-max(i-6, 6-i))
		w.Points = append(w.Points, WayPoint{may(14).Add(time.Duration(6+i) * time.Hour), qty.Degree(90 + 15*i), qty.Degree(up), up < 20})
	}
	list := stretches(w, wall)
	if len(list) != 3 || !list[0].hidden || list[1].hidden || !list[2].hidden {
		t.Fatalf("%+v", list)
	}
	// 20 ÷ 7.5 h after 06:00 is 08:40.
	if got := list[1].from().Format("15:04:05"); got != "08:40:00" {
		t.Errorf("comes out at %s", got)
	}
	if got := list[1].to().Format("15:04:05"); got != "15:20:00" {
		t.Errorf("goes at %s", got)
	}
	if p := list[1].points[0]; math.Abs(float64(p.Elevation)-20) > 1e-9 || math.Abs(float64(p.Azimuth)-130) > 1e-6 {
		t.Errorf("edge at %g°, %g° up", p.Azimuth, p.Elevation)
	}
	row := WaysTable(Ring{Height: func(qty.Degree) qty.Degree { return 20 }, Ways: []Way{w}}).Rows[0]
	for i, want := range []string{"Thursday 14 May", "08:40", "15:20", "5 h 20 min", "45°, south"} {
		if got := spaced(row[i]); got != want {
			t.Errorf("cell %d is %q, want %q", i, got, want)
		}
	}
}

// The way between two points takes the short turn over north.
func TestBetweenOverNorth(t *testing.T) {
	p := between(WayPoint{Azimuth: 350}, WayPoint{Azimuth: 10}, 0.5)
	if math.Abs(math.Mod(float64(p.Azimuth), 360)) > 1e-9 && math.Abs(float64(p.Azimuth)-360) > 1e-9 {
		t.Errorf("halfway is %g", p.Azimuth)
	}
}

// Where nothing is hidden nothing is dashed; in a pit all is.
func TestRingDashesWhatIsHidden(t *testing.T) {
	place := sun.Place{Latitude: 46, Longitude: 7}
	has := func(svg, part string) bool { return strings.Contains(svg, fmt.Sprintf("data-s=%q", part)) }
	pit := func(qty.Degree) qty.Degree { return 80 }
	for _, c := range []struct {
		height       func(qty.Degree) qty.Degree
		seen, hidden bool
	}{{open, true, false}, {valley, true, true}, {pit, false, true}} {
		svg := DrawRing(trip(t, place, may(14), []int{0}, c.height), ringFrames[0])
		if has(svg, "way-seen") != c.seen || has(svg, "way-hidden") != c.hidden {
			t.Errorf("seen %v, hidden %v, want %v, %v", has(svg, "way-seen"), has(svg, "way-hidden"), c.seen, c.hidden)
		}
	}
}

// Noon of the clock stands where the sun is at noon: hours are placed by the
// clock of the place, also where it keeps quarters.
func TestHoursStandByTheClock(t *testing.T) {
	quarter := time.FixedZone("", 5*3600+45*60)
	at := time.Date(2026, 5, 14, 11, 10, 0, 0, quarter)
	if got := nextHour(at); got.Format("15:04") != "12:00" {
		t.Errorf("after 11:10 comes %s", got.Format("15:04"))
	}
	if got := nextHour(at.Add(50 * time.Minute)); got.Format("15:04") != "13:00" {
		t.Errorf("after 12:00 comes %s", got.Format("15:04"))
	}
	svg := DrawRing(trip(t, sun.Place{Latitude: 46, Longitude: 7}, may(14), []int{0}, open), ringFrames[0])
	for _, hour := range []string{">9<", ">12<", ">15<"} {
		if !strings.Contains(svg, hour) {
			t.Errorf("no %s", hour)
		}
	}
}

// Dates so near that their ways fall together are drawn once, without a name; of others the first and the last have one.
func TestNearDatesAreOneWay(t *testing.T) {
	place := sun.Place{Latitude: 46, Longitude: 7}
	names := func(days ...int) (n int) {
		for _, e := range read(t, DrawRing(trip(t, place, time.Date(2026, 3, 1, 0, 0, 0, 0, zone), days, open), ringFrames[0])) {
			if e.attrs["data-s"] == "way-name" {
				n++
			}
		}
		return n
	}
	if n := names(0, 2); n != 0 {
		t.Errorf("%d names for three days", n)
	}
	if n := names(0, 15, 30); n != 2 {
		t.Errorf("%d names for a month in spring", n)
	}
}

func TestHorizonTable(t *testing.T) {
	rows := HorizonTable([]Peak{{157.5, 25}, {10, 10}}).Rows
	if rows[0][0] != "158°, south-south-east" || rows[0][1] != "2.5 fists" || rows[0][2] != "25°" || rows[1][1] != "1 fist" {
		t.Errorf("%q", rows)
	}
	if rows := HorizonTable(nil).Rows; len(rows) != 1 || rows[0][0] != "open all round" {
		t.Errorf("%q", rows)
	}
}
