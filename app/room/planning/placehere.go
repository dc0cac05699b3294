package planning

import (
	"math"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/app/words"
	"duskline/app/zone"
	"duskline/calc/plan"
)

// here asks the device where it is, when the person asks for it. It needs no
// signal but a view of the sky, and the position goes nowhere but into the
// plan.
func (n *finder) here() app.UI {
	said := ""
	if n.locating != "" {
		said = words.T("here." + n.locating)
	}
	return app.Div().Class("field").Body(
		button("sky-here", words.T("here.button"), n.onHere).Disabled(n.locating == "asking"),
		line("help", "sky-here-said", said),
	)
}

// longest is how long a device may look for its position, ms. One that has
// just been started takes most of a minute for it.
const longest = 60000

// failures names what the browser calls a failure by its number.
//
// Source: W3C Geolocation, GeolocationPositionError.
var failures = map[int]string{1: "forbidden", 2: "failed", 3: "late"}

func (n *finder) onHere(ctx app.Context, e app.Event) {
	locator := app.Window().Get("navigator").Get("geolocation")
	if !locator.Truthy() {
		n.locating = "none"
		return
	}
	n.locating = "asking"
	n.forget()
	var found, failed app.Func
	end := func(do func()) {
		ctx.Dispatch(func(app.Context) { do() })
		n.Session.OnPage(func() {}) // the rest of the page, too: the plan stands elsewhere now
		found.Release()
		failed.Release()
	}
	found = app.FuncOf(func(this app.Value, args []app.Value) any {
		c := args[0].Get("coords")
		lat, lon := c.Get("latitude").Float(), c.Get("longitude").Float()
		alt := math.NaN()
		if a := c.Get("altitude"); !a.IsNull() && !a.IsUndefined() {
			alt = a.Float()
		}
		end(func() {
			n.locating = ""
			if faults := settle(n.Desk, func(p *plan.Plan) {
				standAt(p, lat, lon, alt)
				_ = room.SetZone(p, zone.Here()) // one that is not known changes nothing
			}); faults != nil {
				n.locating = "failed"
				return
			}
			n.chosen = n.stands()
			if math.IsNaN(alt) {
				n.lookAround(ctx, lat, lon)
			}
		})
		return nil
	})
	failed = app.FuncOf(func(this app.Value, args []app.Value) any {
		state := failures[args[0].Get("code").Int()]
		if state == "" {
			state = "failed"
		}
		end(func() { n.locating = state })
		return nil
	})
	locator.Call("getCurrentPosition", found, failed, map[string]any{"timeout": longest, "maximumAge": 600000})
}
