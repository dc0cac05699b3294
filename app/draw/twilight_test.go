package draw

import (
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/sun"
)

// underSun is an Outlook of two days with the real sun of a place over it.
func underSun(t *testing.T, p sun.Place, start time.Time) (*outlook.Outlook, plan.Plan) {
	t.Helper()
	o, doc := synthetic(2, 5*time.Minute, 46, 1)
	s := &o.Series
	s.Start, doc.Trip.Start = start, start
	o.Events = nil
	track, err := sun.NewTrack(start, start.AddDate(0, 0, 3), p)
	if err != nil {
		t.Fatal(err)
	}
	for i := range s.Elevation {
		s.Elevation[i] = track.At(time.Duration(i) * s.Step).Elevation
		s.Charge[i], s.Cloud[i] = 0.3, 0
	}
	return o, doc
}

// A stop is one colour of a gradient that is really laid over the sky.
type stop struct {
	key string
	x   float64
}

// skyStops returns where each colour stands in the picture.
func skyStops(t *testing.T, list []element) (stops []stop) {
	t.Helper()
	gradients, name := map[string][]stop{}, ""
	for _, e := range list {
		switch {
		case e.name == "linearGradient":
			name = e.attrs["id"]
			for _, s := range gradients[strings.TrimPrefix(e.attrs["href"], "#")] {
				gradients[name] = append(gradients[name], stop{s.key, 1 - s.x}) // dawn is dusk turned round
			}
		case e.name == "stop" && e.attrs["offset"] != "":
			gradients[name] = append(gradients[name], stop{e.attrs["data-e"], number(t, e, "offset")})
		case e.name == "rect" && strings.HasPrefix(e.attrs["fill"], "url(#") && e.attrs["data-s"] == "":
			for _, s := range gradients[strings.TrimSuffix(strings.TrimPrefix(e.attrs["fill"], "url(#"), ")")] {
				stops = append(stops, stop{s.key, number(t, e, "x") + s.x*number(t, e, "width")})
			}
		}
	}
	return stops
}

// The colours of the strip stand where the core says that twilight ends:
// plum at civil, dim at nautical dawn and dusk.
func TestSkyColoursStandAtTheTwilightOfTheCore(t *testing.T) {
	for _, c := range []struct {
		name string
		lat  sun.Place
		day  time.Time
	}{
		{"home", sun.Place{Latitude: 46, Longitude: 30}, may(14)},
		{"winter", sun.Place{Latitude: 60, Longitude: 30}, time.Date(2026, 12, 10, 0, 0, 0, 0, zone)},
		{"equator", sun.Place{Latitude: 0, Longitude: 30}, may(14)},
		{"south", sun.Place{Latitude: -50, Longitude: 30}, may(14)},
	} {
		o, p := underSun(t, c.lat, c.day)
		// So wide that a degree of the sun is five pixels and more.
		wide := Frame{"z", 2400, 300}
		s := &strip{f: wide, o: o, rows: len(o.Series.Charge)}
		stops := skyStops(t, read(t, Strip(o, p, wide)))
		n := 0
		for i := range 2 {
			day, err := sun.DayAt(c.day.AddDate(0, 0, i), c.lat)
			if err != nil {
				t.Fatal(err)
			}
			for _, edge := range []struct {
				key string
				at  time.Time
			}{{"plum", day.CivilDawn}, {"plum", day.CivilDusk}, {"dim", day.NauticalDawn}, {"dim", day.NauticalDusk}} {
				if edge.at.IsZero() {
					t.Fatalf("%s: no twilight", c.name)
				}
				x, near := s.at(edge.at), math.Inf(1)
				for _, st := range stops {
					if st.key == edge.key {
						near = min(near, math.Abs(st.x-x))
					}
				}
				n++
				// 1.5 pixels that straight may be off, half a hundredth of a dusk
				// for the rounding of stops.
				if near > 2.5 {
					t.Errorf("%s: %s is %.1f pixels from %s", c.name, edge.key, near, edge.at)
				}
			}
		}
		if n != 8 {
			t.Errorf("%s: %d edges", c.name, n)
		}
	}
}

// Nights that do not get dark have no stars and no colour of night: the high
// summer at 60° north, where the sun stays above -12°, and the polar day. A
// polar night at noon is twilight, not day.
func TestNightsThatDoNotGetDark(t *testing.T) {
	june := time.Date(2026, 6, 20, 0, 0, 0, 0, zone)
	december := time.Date(2026, 12, 20, 0, 0, 0, 0, zone)
	for _, c := range []struct {
		name    string
		place   sun.Place
		day     time.Time
		stars   bool
		has, no string // colours
	}{
		{"summer at 46°", sun.Place{Latitude: 46, Longitude: 30}, june, true, "day night", ""},
		{"summer at 60°", sun.Place{Latitude: 60, Longitude: 30}, june, false, "day plum", "night dim"},
		{"white night at 65°", sun.Place{Latitude: 65, Longitude: 30}, june, false, "day amber", "night dim plum"},
		{"polar day at 70°", sun.Place{Latitude: 70, Longitude: 30}, june, false, "cream", "night dim plum ember amber"},
		{"polar night at 70°", sun.Place{Latitude: 70, Longitude: 30}, december, true, "plum dim night", "amber cream late day"},
		{"polar night at 85°", sun.Place{Latitude: 85, Longitude: 30}, december, true, "", "day late cream amber ember plum dim"},
	} {
		o, p := underSun(t, c.place, c.day)
		svg := Strip(o, p, Desk)
		list := read(t, svg)
		keys := map[string]bool{}
		for _, s := range skyStops(t, list) {
			// A gradient may begin or end beyond the picture.
			if s.x > -1 && s.x < Desk.Width+1 {
				keys[s.key] = true
			}
		}
		keys["day"] = keys["day"] || strings.Contains(svg, `data-s="day"`)
		for _, key := range strings.Fields(c.has) {
			if !keys[key] {
				t.Errorf("%s: no %s", c.name, key)
			}
		}
		for _, key := range strings.Fields(c.no) {
			if keys[key] {
				t.Errorf("%s: %s", c.name, key)
			}
		}
		if stars := strings.Contains(svg, `data-s="stars"`); stars != c.stars {
			t.Errorf("%s: stars %v", c.name, stars)
		}
	}
}

// Without a dark hour the sky is painted over from edge to edge: nothing of
// the night below it shows through.
func TestLightSkyHasNoGaps(t *testing.T) {
	june := time.Date(2026, 6, 20, 0, 0, 0, 0, zone)
	for _, lat := range []sun.Place{{Latitude: 60, Longitude: 30}, {Latitude: 65, Longitude: 30}, {Latitude: 70, Longitude: 30}, {Latitude: 89, Longitude: 30}} {
		o, p := underSun(t, lat, june)
		painted := make([]bool, int(Desk.Width))
		paint := func(x, w float64) {
			for i := range painted {
				if at := float64(i) + 0.5; at >= x && at <= x+w {
					painted[i] = true
				}
			}
		}
		for _, e := range read(t, Strip(o, p, Desk)) {
			switch {
			case e.name == "rect" && strings.HasPrefix(e.attrs["fill"], "url(#") && e.attrs["data-s"] == "":
				paint(number(t, e, "x"), number(t, e, "width"))
			case e.attrs["data-s"] == "day":
				for _, d := range strings.Split(e.attrs["d"], "M")[1:] {
					x, _, _ := strings.Cut(d, " ")
					_, l, _ := strings.Cut(d, "l")
					w, _, _ := strings.Cut(l, " ")
					paint(float(t, x), float(t, w))
				}
			}
		}
		for i, is := range painted {
			if !is {
				t.Errorf("%g°: gap at x %d", lat.Latitude, i)
				break
			}
		}
	}
}

func float(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
