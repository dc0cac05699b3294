package planning

import (
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"golang.org/x/text/language"

	"duskline/app/draw"
	"duskline/app/room/desk"
	"duskline/app/words"
	"duskline/calc/daylight"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// horizonRing is the picture of the horizon and its tables. It is drawn anew
// when place, dates, horizon or the panels' lie change, and only while the Sky
// is open: most edits are elsewhere.
type horizonRing struct {
	app.Compo

	Desk    *desk.Desk
	Version int
	Width   float64

	open  bool
	drawn ringDrawn
}

// ringDrawn is what was drawn, and what of.
type ringDrawn struct {
	of            plan.Plan
	width         float64
	tongue        language.Tag
	svg           string
	looks         bool
	ways, horizon draw.Table
}

// ringMost is how wide the ring gets, CSS pixels; web/css has the same.
const ringMost = 420

func (h *horizonRing) Render() app.UI {
	if p := h.Desk.Plan(); h.drawn.svg == "" || h.drawn.width != h.Width || h.drawn.tongue != words.Current() || !sameRing(&h.drawn.of, p) {
		drawn, err := drawRing(*p, h.Width)
		if err != nil {
			return app.Div() // of a plan that was checked there is none
		}
		h.drawn = drawn
	}
	says := words.T("ring.says")
	if h.drawn.looks {
		says += " " + words.T("ring.says_looks")
	}
	return app.Div().Class("ring").Body(
		app.Div().ID("ring").Class("picture").Body(app.Raw(h.drawn.svg)),
		app.P().Class("help").Text(says),
		beside("ring-numbers", "horizon", h.open, h.onTurn,
			tableAs{"table-ways", h.drawn.ways}, tableAs{"table-horizon", h.drawn.horizon}),
	)
}

func drawRing(p plan.Plan, width float64) (ringDrawn, error) {
	ring, ways, err := surroundings(p)
	if err != nil {
		return ringDrawn{}, err
	}
	peaks := make([]draw.Peak, len(p.Sky.Horizon))
	for i, k := range p.Sky.Horizon {
		peaks[i] = draw.Peak{Azimuth: k.AzimuthDeg, Height: k.HeightDeg}
	}
	w := min(width, ringMost)
	d := ringDrawn{of: desk.Clone(p), width: width, tongue: words.Current(), looks: len(ring.Looks) > 0,
		svg:     draw.DrawRing(ring, draw.Frame{ID: "h", Width: w, Height: w}),
		horizon: draw.HorizonTable(peaks)}
	ring.Ways = ways // the table has every day
	d.ways = draw.WaysTable(ring)
	return d, nil
}

// sameRing says that two plans have the same ring.
func sameRing(a, b *plan.Plan) bool {
	x, y := &a.Sky, &b.Sky
	return x.LatitudeDeg == y.LatitudeDeg && x.LongitudeDeg == y.LongitudeDeg && x.AltitudeM == y.AltitudeM &&
		slices.Equal(x.Horizon, y.Horizon) &&
		a.Trip.Start == b.Trip.Start && a.Trip.LengthH == b.Trip.LengthH && // the zone is part of the start
		slices.EqualFunc(a.Panels.List, b.Panels.List, func(k, l plan.Panel) bool {
			return k.Lie == l.Lie && k.TiltDeg == l.TiltDeg && k.AzimuthDeg == l.AzimuthDeg
		})
}

func (h *horizonRing) onTurn(ctx app.Context, e app.Event) { h.open = !h.open }

// surroundings asks the core for the skyline and for the sun's way on the first,
// the middle and the last day of a trip, and on every day for the table.
func surroundings(p plan.Plan) (ring draw.Ring, ways []draw.Way, err error) {
	spec, err := p.Daylight()
	if err != nil {
		return ring, nil, err
	}
	// Only where the sun goes is asked for: no weather, no panels.
	spec.Light = daylight.Light{Kind: daylight.ByIndex, Indexes: []float64{1}}
	spec.Panels = nil
	scene, err := daylight.New(spec)
	if err != nil {
		return ring, nil, err
	}
	horizon := spec.Horizon
	ring.Height = func(a qty.Degree) qty.Degree { return horizon.Height(a) }
	for i, day := range tripDays(&p) {
		ways = append(ways, wayOf(day, scene.Path(i), ring.Height))
	}
	n := len(ways)
	if n == 0 {
		return ring, nil, nil
	}
	ring.Ways = ways[:1]
	if n > 2 {
		ring.Ways = append(ring.Ways[:1:1], ways[n/2])
	}
	if n > 1 {
		ring.Ways = append(ring.Ways[:len(ring.Ways):len(ring.Ways)], ways[n-1])
	}
	for _, l := range p.Panels.List {
		if a, ok := stands(l); ok {
			ring.Looks = append(ring.Looks, a)
		}
	}
	return ring, ways, nil
}

// wayOf is a way as the picture takes it. Where nothing stands, the sun is seen
// from the first moment, its middle still under the level.
func wayOf(day time.Time, path []daylight.PathPoint, height func(qty.Degree) qty.Degree) draw.Way {
	w := draw.Way{Day: day, Points: make([]draw.WayPoint, len(path))}
	for i, p := range path {
		w.Points[i] = draw.WayPoint{At: p.At, Azimuth: p.Azimuth, Elevation: p.Elevation, Hidden: p.Hidden && height(p.Azimuth) > 0}
	}
	return w
}
