package planning

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room/desk"
	"duskline/calc/plan"
)

func appString(ui app.UI) string {
	if r, ok := ui.(*Room); ok {
		ui = r.Render()
	}
	return app.HTMLString(ui)
}

func points(list ...plan.HorizonPoint) func(*plan.Plan) {
	return func(p *plan.Plan) { p.Sky.Horizon = list }
}

// Points are added one after the other until there are as many as a plan
// takes, each in a direction of its own.
func TestPointsOfTheHorizonAreAdded(t *testing.T) {
	s, _ := skySheet(t, points())
	for n := 1; n <= plan.MaxHorizon; n++ {
		if _, f := s.addPeak(); f != nil {
			t.Fatalf("point %d: %+v", n, f)
		}
		seen := map[float64]bool{}
		for _, p := range s.Desk.Plan().Sky.Horizon {
			if seen[p.AzimuthDeg] || p.AzimuthDeg < 0 || p.AzimuthDeg >= 360 {
				t.Fatalf("%d points: %g° again or outside", n, p.AzimuthDeg)
			}
			seen[p.AzimuthDeg] = true
		}
		if len(seen) != n {
			t.Fatalf("%d points of %d", len(seen), n)
		}
	}
	if _, f := s.addPeak(); f == nil {
		t.Error("one point too many is taken")
	}
	if got := s.Desk.Plan().Sky.Horizon; !slices.IsSortedFunc(got[:8], func(a, b plan.HorizonPoint) int { return int(a.AzimuthDeg - b.AzimuthDeg) }) {
		t.Errorf("%+v is not in the order of the compass", got[:8])
	}
}

// The first point is where the noon sun stands.
func TestFirstPointIsTowardsNoon(t *testing.T) {
	for lat, want := range map[float64]float64{46: 180, -33: 0} {
		s, _ := skySheet(t, func(p *plan.Plan) { p.Sky.Horizon, p.Sky.LatitudeDeg = nil, lat })
		s.addPeak()
		if p := s.Desk.Plan().Sky.Horizon[0]; p.AzimuthDeg != want || p.HeightDeg != 10 {
			t.Errorf("at %g°: %+v", lat, p)
		}
	}
}

// Eight points around are level, to be raised by fists; the sun is not hidden
// by them.
func TestEightPointsAreLevel(t *testing.T) {
	s, _ := skySheet(t, points())
	before, _, err := surroundings(*s.Desk.Plan())
	if err != nil || s.eight() != nil {
		t.Fatal(err)
	}
	after, ways, err := surroundings(*s.Desk.Plan())
	if err != nil || len(s.Desk.Plan().Sky.Horizon) != 8 {
		t.Fatalf("%d points, %v", len(s.Desk.Plan().Sky.Horizon), err)
	}
	for a := 0.0; a < 360; a += 7 {
		if before.Height(0) != 0 || after.Height(0) != 0 {
			t.Fatalf("%g°: %g, %g", a, before.Height(0), after.Height(0))
		}
	}
	for _, w := range ways {
		for _, p := range w.Points {
			if p.Hidden {
				t.Fatalf("hidden at %s", p.At)
			}
		}
	}
}

// Heights show in fists and lose nothing: what does not divide is shown as it
// is, and a step goes to the next half fist.
func TestFistsKeepDegrees(t *testing.T) {
	_, s := skySheet(t, points(plan.HorizonPoint{AzimuthDeg: 157.5, HeightDeg: 25}, plan.HorizonPoint{AzimuthDeg: 163, HeightDeg: 23.4}))
	html := plain(page(s))
	for _, want := range []string{">2.5 fists<", ">2.34 fists<", "163°, south-south-east", ">south-south-east<"} {
		if !strings.Contains(html, want) {
			t.Errorf("no %q", want)
		}
	}
	x := &fists{Host: s.Desk, At: horizonAt + "/1", High: 23.4}
	for _, c := range []struct{ by, want float64 }{{1, 25}, {1, 30}, {-1, 25}, {-1, 20}} {
		x.step(c.by)
		if got := s.Desk.Plan().Sky.Horizon[1]; got.HeightDeg != c.want || got.AzimuthDeg != 163 {
			t.Errorf("%+v, want %g° high", got, c.want)
		}
	}
	x.High = 90
	x.step(1)
	x.High = math.Min(x.High, 0)
	x.step(-1)
	if got := s.Desk.Plan().Sky.Horizon[1].HeightDeg; got != 0 {
		t.Errorf("%g° under the ends", got)
	}
}

// A value that is refused waits and is said at its row, in fists as in degrees.
func TestFaultOfAPointIsSaidAtItsRow(t *testing.T) {
	_, s := skySheet(t, points(plan.HorizonPoint{AzimuthDeg: 90, HeightDeg: 25}, plan.HorizonPoint{AzimuthDeg: 180, HeightDeg: 25}))
	s.Desk.Enter(horizonAt+"/0/height_deg", "95")
	const says = "Must be between 0 ° and 90 °."
	for _, exact := range []bool{false, true} {
		s.Folds["horizon-exact"] = exact
		if html := page(s); !strings.Contains(strings.ReplaceAll(plain(html), "0°", "0 °"), says) {
			t.Errorf("exact %v: %q is not said", exact, s.Desk.Fault(horizonAt+"/0/height_deg"))
		}
	}
	if got := s.Desk.Plan().Sky.Horizon[0].HeightDeg; got != 25 {
		t.Errorf("taken: %g", got)
	}
	s.Desk.Drop(horizonAt + "/0/height_deg")
	s.Desk.Enter(horizonAt+"/0/azimuth_deg", "180")
	s.Folds["horizon-exact"] = false
	if html := page(s); !strings.Contains(html, "Two points stand in the same direction.") {
		t.Error("two points in one direction: nothing is said")
	}
}

// A point that is removed comes back where it was.
func TestRemovedPointComesBack(t *testing.T) {
	a, b := plan.HorizonPoint{AzimuthDeg: 90, HeightDeg: 25}, plan.HorizonPoint{AzimuthDeg: 180, HeightDeg: 5}
	_, s := skySheet(t, points(a, b))
	s.Desk.Remove(horizonAt, 0)
	if html := page(s); !strings.Contains(html, `id="sky-horizon-undo"`) || !strings.Contains(html, "One point alone counts all the way round.") {
		t.Error("no way back, or nothing said of the one point")
	}
	s.Desk.Undo()
	if got := s.Desk.Plan().Sky.Horizon; len(got) != 2 || got[0] != a {
		t.Errorf("%+v", got)
	}
}

// The ring has the trip's days, its tables every one of them; a wall hides the
// sun, and dates without sun do no harm.
func TestRingOfAPlan(t *testing.T) {
	s, _ := skySheet(t, func(p *plan.Plan) {
		p.Trip.LengthH, p.Sky.Horizon = 24*10, []plan.HorizonPoint{{AzimuthDeg: 0, HeightDeg: 20}}
	})
	ring, ways, err := surroundings(*s.Desk.Plan())
	if err != nil {
		t.Fatal(err)
	}
	if len(ring.Ways) != 3 || len(ways) != 11 {
		t.Errorf("%d ways of %d days", len(ring.Ways), len(ways))
	}
	if h := ring.Height(123); h != 20 {
		t.Errorf("a single point stands %g° high in the south-east", h)
	}
	hidden := 0
	for _, p := range ways[3].Points {
		if p.Hidden != (p.Elevation < 20) {
			t.Errorf("at %g° hidden %v", p.Elevation, p.Hidden)
		}
		if p.Hidden {
			hidden++
		}
	}
	if hidden < 8 {
		t.Errorf("%d quarters of an hour behind two fists", hidden)
	}
	for _, lat := range []float64{90, 80, -80} {
		s, _ := skySheet(t, func(p *plan.Plan) { p.Sky.LatitudeDeg = lat; states(plan.SkyClear)(p) })
		if _, _, err := surroundings(*s.Desk.Plan()); err != nil {
			t.Errorf("%g°: %v", lat, err)
		}
		appString(&horizonRing{Desk: s.Desk, Width: 328})
	}
}

// Only panels that lean one way have a look.
func TestLooksAreOfLeaningPanels(t *testing.T) {
	for _, c := range []struct {
		panel plan.Panel
		want  bool
	}{
		{plan.Panel{Lie: plan.LieFixed, TiltDeg: 30, AzimuthDeg: 200}, true},
		{plan.Panel{Lie: plan.LieOnLid, TiltDeg: 10, AzimuthDeg: 200}, true},
		{plan.Panel{Lie: plan.LieFixed, TiltDeg: 0, AzimuthDeg: 200}, false},
		{plan.Panel{Lie: plan.LieTurned, TiltDeg: 30}, false},
		{plan.Panel{Lie: plan.LieTwoAxis, TiltDeg: 30}, false},
	} {
		if a, ok := stands(c.panel); ok != c.want || ok && a != 200 {
			t.Errorf("%+v: %g, %v", c.panel, a, ok)
		}
	}
}

// The ring is drawn anew for every edit that it shows, and for no other.
func TestRingIsDrawnAnewForWhatItShows(t *testing.T) {
	base, _ := skySheet(t, points(plan.HorizonPoint{AzimuthDeg: 90, HeightDeg: 25}, plan.HorizonPoint{AzimuthDeg: 180}))
	before := desk.Clone(*base.Desk.Plan())
	for at, text := range map[string]string{
		"/sky/latitude_deg": "47", "/sky/longitude_deg": "8", "/sky/altitude_m": "900", "/sky/horizon/0/height_deg": "30", "/sky/horizon/0/azimuth_deg": "95",
		"/trip/length_h": "96", desk.StartDate: "2026-06-20", "/panels/list/0/azimuth_deg": "123", "/panels/list/0/tilt_deg": "0",
	} {
		d := desk.New(before)
		d.Enter(at, text)
		if f := d.Fault(at); f != "" {
			t.Fatalf("%s: %s", at, f)
		}
		if sameRing(&before, d.Plan()) {
			t.Errorf("%s: the ring stays", at)
		}
	}
	for at, text := range map[string]string{"/gear/0/count": "3", "/sky/linke_turbidity": "4", "/trip/reserve_pct": "30", "/panels/list/0/rated_W": "110"} {
		d := desk.New(before)
		d.Enter(at, text)
		if !sameRing(&before, d.Plan()) {
			t.Errorf("%s: the ring is drawn anew", at)
		}
	}
	h := &horizonRing{Desk: base.Desk, Width: 328}
	first := app.HTMLString(h.Render())
	base.Desk.Enter("/sky/horizon/0/height_deg", "40")
	if app.HTMLString(h.Render()) == first {
		t.Error("the ring did not change with its horizon")
	}
}
