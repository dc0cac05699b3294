package planning

import (
	"slices"
	"strconv"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room/desk"
	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// The horizon is entered as one measures it outdoors: by the points of the
// compass and by fists at arm's length, a fist being about ten degrees. The
// document keeps degrees, and whoever has a compass and a level can set those.

// horizon is the ring and the list of points.
func (s *sheet) horizon(f form) app.UI {
	points := f.d.Plan().Sky.Horizon
	exact := s.Session.Folds["horizon-exact"]
	rows := make([]app.UI, len(points))
	for i, p := range points {
		rows[i] = s.peak(f, i, p, exact)
	}
	buttons := []app.UI{
		app.Button().ID("horizon-add").Class("small strong").Type("button").Disabled(len(points) >= plan.MaxHorizon).
			Text(words.T("horizon.add")).OnClick(s.onAddPeak),
	}
	if len(points) == 0 {
		buttons = append(buttons, app.Button().ID("horizon-eight").Class("small").Type("button").
			Text(words.T("horizon.eight")).OnClick(s.onEight))
	} else {
		buttons = append(buttons, app.Button().ID("horizon-exact").Class("small").Type("button").Aria("pressed", exact).
			Text(words.T("horizon.exact")).OnClick(s.turn("horizon-exact")))
	}
	return group(words.T("group.horizon"),
		&horizonRing{Desk: f.d, Version: f.d.Version(), Width: s.inner()},
		app.P().ID("horizon-help").Class("help").Text(widget.Help(horizonAt)),
		app.Ul().ID("sky-horizon").Class("peaks").Body(rows...),
		app.P().ID("horizon-one").Class("help").Hidden(len(points) != 1).Text(words.T("horizon.one")),
		s.undo(horizonAt),
		f.fault(horizonAt),
		app.Div().Class("row adding").Body(buttons...),
	)
}

// peak is one point: where, how high, and away with it.
func (s *sheet) peak(f form, i int, p plan.HorizonPoint, exact bool) app.UI {
	at := entryAt(horizonAt, i)
	toward, high := at+"/azimuth_deg", at+"/height_deg"
	name := words.Compass(qty.Degree(p.AzimuthDeg))
	remove := app.Button().ID(widget.ID(at)+"-remove").Class("icon").Type("button").
		Aria("label", words.T("horizon.remove", name)).Text("×").OnClick(s.removePeak(i), i)
	row := app.Li().ID(widget.ID(at)+"-row").Class("peak").TabIndex(-1).Aria("label", words.T("horizon.row", name, words.Fists(p.HeightDeg)))
	if exact {
		return row.DataSet("exact", true).Body(
			app.Div().Class("peak-exact").Body(
				f.amountOf(toward, words.T("horizon.toward"), "horizon-help"),
				f.amountOf(high, words.T("horizon.high"), "horizon-help"),
			), remove)
	}
	return row.Body(&fists{
		Host: f.d, At: at, Toward: f.d.Text(toward), High: p.HeightDeg,
		TowardFault: f.d.Fault(toward), HighFault: f.d.Fault(high),
	}, remove)
}

// fists is one point in fists and points of the compass.
type fists struct {
	app.Compo

	Host                   *desk.Desk
	At                     string
	Toward                 string  // degrees, as the field shows them
	High                   float64 // degrees
	TowardFault, HighFault string
}

// half is the step of the height: half a fist.
var half = plan.Limit{Min: 0, Max: 90, Step: 5}

func (x *fists) Render() app.UI {
	id := widget.ID(x.At)
	azimuth, known := words.Number(x.Toward)
	options := make([]app.UI, 0, 17)
	on := false
	for i := range 16 {
		a := 22.5 * float64(i)
		here := known && a == azimuth || known && a == 0 && azimuth == 360
		on = on || here
		options = append(options, app.Option().Value(strconv.FormatFloat(a, 'f', -1, 64)).Text(words.Compass(qty.Degree(a))).Selected(here))
	}
	if !on {
		// Measured to the degree: it is kept as it is.
		text := x.Toward
		if known {
			text = words.Bearing(qty.Degree(azimuth))
		}
		options = append(options, app.Option().Value(x.Toward).Text(text).Selected(true))
	}
	name := words.Compass(qty.Degree(azimuth))
	return app.Div().Class("fists").Body(
		app.Span().Class("choice").Attr("data-bad", x.TowardFault != "").Body(
			app.Select().ID(id+"-azimuth_deg").Aria("label", words.T("horizon.toward")).
				Aria("describedby", id+"-fault").Aria("invalid", x.TowardFault != "").Body(options...).OnChange(x.onToward)),
		app.Span().ID(id+"-height_deg").TabIndex(-1).Class("steps").Role("group").Aria("label", words.T("horizon.high_in", name)).Body(
			app.Button().ID(id+"-less").Class("step").Type("button").Disabled(x.High <= half.Min).
				Aria("label", words.T("horizon.lower", name)).Text("−").OnClick(x.onLess),
			app.Span().ID(id+"-fists").Class("box said-fists").Aria("live", "polite").Text(words.Fists(x.High)),
			app.Button().ID(id+"-more").Class("step").Type("button").Disabled(x.High >= half.Max).
				Aria("label", words.T("horizon.higher", name)).Text("+").OnClick(x.onMore),
		),
		app.P().ID(id+"-fault").Class("fault").Aria("live", "polite").Text(joined(x.TowardFault, x.HighFault)),
	)
}

func joined(a, b string) string {
	if a != "" && b != "" {
		return a + " " + b
	}
	return a + b
}

func (x *fists) onToward(ctx app.Context, e app.Event) {
	x.enter("/azimuth_deg", ctx.JSSrc().Get("value").String())
}

func (x *fists) onLess(ctx app.Context, e app.Event) { x.step(-1) }
func (x *fists) onMore(ctx app.Context, e app.Event) { x.step(1) }

// step goes on to the next half fist, and shows it at once: fingers are faster
// than the page.
func (x *fists) step(by float64) {
	x.High = widget.Stepped(x.High, by, half)
	x.enter("/height_deg", strconv.FormatFloat(x.High, 'f', -1, 64))
}

func (x *fists) enter(end, text string) {
	x.Host.Enter(x.At+end, text)
	x.Host.Leave(x.At + end)
}

// onAddPeak adds a point at the next of the eight winds that has none, going
// round from the last one, as high as that: the eye goes on along the skyline.
func (s *sheet) onAddPeak(ctx app.Context, e app.Event) {
	if i, faults := s.addPeak(); faults == nil {
		s.focus(ctx, widget.ID(entryAt(horizonAt, i))+"-azimuth_deg")
	}
}

func (s *sheet) addPeak() (i int, faults plan.Faults) {
	points := s.Desk.Plan().Sky.Horizon
	next := plan.HorizonPoint{AzimuthDeg: 180, HeightDeg: 10}
	if s.Desk.Plan().Sky.LatitudeDeg < 0 {
		next.AzimuthDeg = 0
	}
	if n := len(points); n > 0 {
		next = free(points, points[n-1])
	}
	// In the order of the compass, if the list is in that order.
	for i < len(points) && points[i].AzimuthDeg < next.AzimuthDeg {
		i++
	}
	return i, s.Desk.Insert(horizonAt, i, next)
}

// free finds a direction without a point, clockwise from one, by ever finer
// steps.
func free(points []plan.HorizonPoint, from plan.HorizonPoint) plan.HorizonPoint {
	for _, step := range []float64{45, 22.5, 5, 1} {
		first := step * float64(int(from.AzimuthDeg/step))
		for k := 1; float64(k)*step < 360; k++ {
			a := first + float64(k)*step
			if a >= 360 {
				a -= 360
			}
			taken := slices.ContainsFunc(points, func(p plan.HorizonPoint) bool {
				return p.AzimuthDeg == a || p.AzimuthDeg == a+360
			})
			if !taken {
				return plan.HorizonPoint{AzimuthDeg: a, HeightDeg: from.HeightDeg}
			}
		}
	}
	return from
}

// onEight sets out the eight winds, level, to be raised one after the other.
func (s *sheet) onEight(ctx app.Context, e app.Event) {
	if s.eight() == nil {
		s.focus(ctx, widget.ID(entryAt(horizonAt, 0))+"-more")
	}
}

func (s *sheet) eight() plan.Faults {
	return s.Desk.Change(func(p *plan.Plan) {
		if len(p.Sky.Horizon) > 0 {
			return
		}
		for i := range 8 {
			p.Sky.Horizon = append(p.Sky.Horizon, plan.HorizonPoint{AzimuthDeg: 45 * float64(i)})
		}
	})
}

func (s *sheet) removePeak(i int) app.EventHandler {
	return func(ctx app.Context, e app.Event) {
		if s.Desk.Remove(horizonAt, i) == nil {
			s.focus(ctx, widget.ID(horizonAt)+"-undo")
		}
	}
}
