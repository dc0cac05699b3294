package planning

import (
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/draw"
	"duskline/app/room/desk"
	"duskline/app/words"
	"duskline/calc/daylight"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// horizonRing is the picture of the horizon and its tables. It is drawn anew
// for each plan, and only while the Sky is open.
type horizonRing struct {
	app.Compo

	Desk    *desk.Desk
	Version int
	Width   float64

	open bool
}

// ringMost is how wide the ring gets, CSS pixels.
const ringMost = 420

func (h *horizonRing) Render() app.UI {
	p := h.Desk.Plan()
	ring, ways, err := surroundings(*p)
	if err != nil {
		return app.Div() // of a plan that was checked there is none
	}
	w := min(h.Width, ringMost)
	peaks := make([]draw.Peak, len(p.Sky.Horizon))
	for i, k := range p.Sky.Horizon {
		peaks[i] = draw.Peak{Azimuth: k.AzimuthDeg, Height: k.HeightDeg}
	}
	every := ring
	every.Ways = ways
	says := words.T("ring.says")
	if len(ring.Looks) > 0 {
		says += " " + words.T("ring.says_looks")
	}
	return app.Div().Class("ring").Body(
		app.Div().ID("ring").Class("picture").Body(app.Raw(draw.DrawRing(ring, draw.Frame{ID: "h", Width: w, Height: w}))),
		app.P().Class("help").Text(says),
		beside("ring-numbers", "horizon", h.open, h.onTurn,
			tableAs{"table-ways", draw.WaysTable(every)}, tableAs{"table-horizon", draw.HorizonTable(peaks)}),
	)
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
