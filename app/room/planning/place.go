package planning

import (
	"math"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/words"
	"duskline/calc/plan"
)

// here asks the device where it is, when the person asks for it. It needs no
// signal but a view of the sky, and the position goes nowhere but into the
// plan.
func (s *sheet) here() app.UI {
	said := app.P().ID("sky-here-said").Class("help").Aria("live", "polite")
	if s.locating != "" {
		said = said.Text(words.T("here." + s.locating))
	}
	return app.Div().Class("field").Body(
		app.Button().ID("sky-here").Class("small").Type("button").Disabled(s.locating == "asking").
			Text(words.T("here.button")).OnClick(s.onHere),
		said,
	)
}

func (s *sheet) onHere(ctx app.Context, e app.Event) {
	locator := app.Window().Get("navigator").Get("geolocation")
	if !locator.Truthy() {
		s.locating = "none"
		return
	}
	s.locating = "asking"
	var found, failed app.Func
	end := func(state string, do func()) {
		ctx.Dispatch(func(app.Context) { s.locating = state; do() })
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
		end("", func() {
			if s.standAt(lat, lon, alt) != nil {
				s.locating = "failed"
			}
		})
		return nil
	})
	failed = app.FuncOf(func(this app.Value, args []app.Value) any {
		state := "failed"
		if args[0].Get("code").Int() == 1 {
			state = "forbidden"
		}
		end(state, func() {})
		return nil
	})
	locator.Call("getCurrentPosition", found, failed, map[string]any{"timeout": 60000, "maximumAge": 600000})
}

// standAt puts the plan at a position: to a thousandth of a degree, some
// hundred metres, and ten metres of altitude if the device knows it. The sun
// asks for no more, and a plan that is passed on tells no more.
func (s *sheet) standAt(lat, lon, alt float64) plan.Faults {
	return s.Desk.Change(func(p *plan.Plan) {
		p.Sky.LatitudeDeg = math.Round(lat*1000) / 1000
		p.Sky.LongitudeDeg = math.Round(lon*1000) / 1000
		if !math.IsNaN(alt) {
			p.Sky.AltitudeM = math.Round(alt/10) * 10
		}
	})
}
