package planning

import (
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room/desk"
	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

const (
	lightAt     = "/sky/light"
	statesAt    = "/sky/sky_states"
	indexAt     = "/sky/clear_sky_index"
	peakSunAt   = "/sky/peak_sun_hours"
	threeDaysAt = "/sky/last_three_days"
	horizonAt   = "/sky/horizon"
)

// lights lists the ways to give the weather, those first that a person at a
// campsite has.
var lights = []plan.LightKind{plan.BySkyStates, plan.ByPeakSun, plan.ByLastThreeDays, plan.ByWeatherFile, plan.ByClearSky}

// skyFields is what one sees from where one stands, in the order in which one
// would look: where, when, the sky, what stands around, the ground, the air.
func (s *sheet) skyFields(f form) []app.UI {
	return append(s.placeFields(f),
		s.when(f),
		group(words.T("group.weather"), append([]app.UI{f.choiceOf(lightAt, "", lightOptions())}, s.weather(f)...)...),
		s.lightBeside(),
		s.horizon(f),
		group(words.T("group.air"),
			f.amount("/sky/warmest_C"),
			f.amount("/sky/coldest_C"),
			f.amount("/sky/wind_m_per_s"),
			f.amount("/sky/linke_turbidity"),
			app.P().ID("sky-haze").Class("reading").Text(words.Haze(f.d.Plan().Sky.Turbidity)),
		),
		group(words.T("group.ground"), s.ground(f)...),
		s.counting(f),
	)
}

// startBeside names the trip's first day where it stands in the Sky.
const startBeside = "/sky" + desk.StartDate

// when is the first day, how far the trip goes, and the way to the rest of it.
func (s *sheet) when(f form) app.UI {
	p := f.d.Plan()
	return app.Div().Class("when").Body(
		&widget.Picker{Host: f.d, Pointer: desk.StartDate, At: startBeside, Input: "date", Label: words.T("trip.date"),
			Text: f.d.Text(desk.StartDate), Fault: f.d.Fault(desk.StartDate)},
		app.P().ID("sky-dates").Class("reading").Text(words.T("sky.when", dates(p), words.Hours(p.Trip.LengthH))),
		app.Button().ID("sky-to-trip").Class("small").Type("button").Text(words.T("sky.to_trip")).OnClick(s.onToTrip),
	)
}

func (s *sheet) onToTrip(ctx app.Context, e app.Event) {
	s.Session.Folds["trip"] = true
	s.after(ctx, func() { show(widget.ID(desk.StartDate)) })
}

func lightOptions() []widget.Option {
	options := make([]widget.Option, len(lights))
	for i, k := range lights {
		options[i] = widget.Option{Value: string(k), Name: words.LightKind(k)}
	}
	return options
}

// weather is what belongs to the way chosen. It is that of the field, not that
// of the plan: a weather file is chosen before there is one.
func (s *sheet) weather(f form) []app.UI {
	switch plan.LightKind(f.d.Text(lightAt)) {
	case plan.BySkyStates:
		return []app.UI{s.skyDays(f)}
	case plan.ByPeakSun:
		return []app.UI{
			f.choiceOf("/sky/peak_sun_on", "", []widget.Option{
				{Value: string(plan.OnLevel), Name: words.PeakSunOn(plan.OnLevel)},
				{Value: string(plan.OnPanels), Name: words.PeakSunOn(plan.OnPanels)},
			}),
			s.dayList(f, peakSunAt),
		}
	case plan.ByLastThreeDays:
		return []app.UI{s.threeDays(f)}
	case plan.ByWeatherFile:
		return s.weatherFields(f)
	}
	return []app.UI{s.dayList(f, indexAt)}
}

// dayList is one figure a day; the last one holds for the days after it.
func (s *sheet) dayList(f form, list string) app.UI {
	values := s.values(list)
	start := f.d.Plan().Trip.Start
	body := make([]app.UI, 0, 4)
	id, helpAt := widget.ID(list), ""
	if help := widget.Help(list); help != "" {
		helpAt = id + "-help"
		body = append(body, app.P().ID(helpAt).Class("help").Text(help))
	}
	days := make([]app.UI, len(values))
	for i := range values {
		label := words.Day(start.AddDate(0, 0, i))
		if i == len(values)-1 {
			label = words.T("sky.day_on", label)
		}
		days[i] = f.amountOf(entryAt(list, i), label, helpAt)
	}
	n := len(values)
	body = append(body,
		app.Div().Body(days...),
		app.Div().Class("row").Body(
			app.Button().ID(id+"-add").Class("small").Type("button").Disabled(n >= plan.MaxDays).Text(words.T("sky.add_day")).
				OnClick(s.addDay(list), list),
			app.Button().ID(id+"-remove").Class("small").Type("button").Disabled(n < 2).Text(words.T("sky.remove_day")).
				OnClick(s.removeDay(list), list),
		),
		f.fault(list),
	)
	return app.FieldSet().Class("field").Body(append([]app.UI{app.Legend().Class("label").Text(words.FieldName(list))}, body...)...)
}

func (s *sheet) values(list string) []float64 {
	if list == peakSunAt {
		return s.Desk.Plan().Sky.PeakSunHours
	}
	return s.Desk.Plan().Sky.ClearSkyIndex
}

// addDay adds a day like the last one.
func (s *sheet) addDay(list string) app.EventHandler {
	return func(ctx app.Context, e app.Event) {
		if v := s.values(list); len(v) > 0 {
			s.Desk.Insert(list, len(v), v[len(v)-1])
		}
	}
}

func (s *sheet) removeDay(list string) app.EventHandler {
	return func(ctx app.Context, e app.Event) {
		if v := s.values(list); len(v) > 1 {
			s.Desk.Remove(list, len(v)-1)
			s.Desk.ForgetUndo()
		}
	}
}

// threeDays is what the meter showed on the days before the trip.
func (s *sheet) threeDays(f form) app.UI {
	p := f.d.Plan()
	unit := f.d.Text("/sky/meter_unit")
	list := p.Sky.LastThreeDays
	days := make([]app.UI, len(list))
	for i := range list {
		day := p.Trip.Start.AddDate(0, 0, i-len(list))
		days[i] = f.amountOf(entryAt(threeDaysAt, i), words.T("sky.meter_day", words.Day(day), unit), "sky-meter-help")
	}
	return app.FieldSet().ID("sky-meter").Class("field").Body(
		app.Legend().Class("label").Text(words.FieldName(threeDaysAt)),
		app.P().ID("sky-meter-help").Class("help").Text(widget.Help(threeDaysAt)),
		f.choiceOf("/sky/meter_unit", "", []widget.Option{
			{Value: string(plan.MeterWh), Name: words.MeterUnit(plan.MeterWh)},
			{Value: string(plan.MeterAh), Name: words.MeterUnit(plan.MeterAh)},
		}),
		app.Div().Body(days...),
		f.fault(threeDaysAt),
	)
}

// surfaces lists the grounds, one's own figure last.
var surfaces = []plan.Surface{plan.SurfaceGrass, plan.SurfaceEarth, plan.SurfaceSand, plan.SurfaceAsphalt, plan.SurfaceConcrete,
	plan.SurfaceSnow, plan.SurfaceOldSnow, plan.SurfaceWater, plan.SurfaceOwn}

// ground is what the ground is covered with, and what it throws back.
func (s *sheet) ground(f form) []app.UI {
	options := make([]widget.Option, len(surfaces))
	for i, k := range surfaces {
		options[i] = widget.Option{Value: string(k), Name: words.Surface(k)}
	}
	body := []app.UI{f.choiceOf("/sky/surface", "", options)}
	if g, ok := plan.Surface(f.d.Text("/sky/surface")).Ground(); ok {
		return append(body, app.P().ID("sky-albedo-said").Class("reading").Text(words.T("sky.albedo", words.Percent(g.Albedo()))))
	}
	return append(body, f.amount("/sky/albedo"))
}

// counting is the models, folded: nobody needs them to plan.
func (s *sheet) counting(f form) app.UI {
	open := s.Session.Folds["sky-counting"]
	body := []app.UI{
		app.Button().ID("sky-counting-fold").Class("small").Type("button").Aria("expanded", open).
			Text(words.T("sky.counting")).OnClick(s.turn("sky-counting")),
	}
	if open {
		var skies, glasses []widget.Option
		for _, m := range []plan.SkyModel{plan.HayDavies, plan.Perez, plan.Isotropic} {
			skies = append(skies, widget.Option{Value: string(m), Name: words.SkyModel(m)})
		}
		for _, m := range []plan.GlassModel{plan.GlassASHRAE, plan.GlassPhysical} {
			glasses = append(glasses, widget.Option{Value: string(m), Name: words.GlassModel(m)})
		}
		body = append(body,
			app.P().Class("help").Text(words.T("sky.counting_help")),
			f.choiceOf("/sky/sky_model", "", skies),
			f.choiceOf("/sky/glass_model", "", glasses))
	}
	return app.Div().Class("group").Body(body...)
}

// summarySky names the weather of a plan in a few words.
func summarySky(p *plan.Plan) string {
	switch k := p.Sky; k.Light {
	case plan.BySkyStates:
		if len(k.SkyStates) == 0 {
			return ""
		}
		for _, s := range k.SkyStates[:min(len(k.SkyStates), len(tripDays(p)))] {
			if s != k.SkyStates[0] {
				return words.T("weather.mixed")
			}
		}
		return words.SkyState(k.SkyStates[0])
	case plan.ByPeakSun:
		return words.T("weather.peak_sun", words.Amount(mean(k.PeakSunHours), 1, ""))
	case plan.ByLastThreeDays:
		return words.T("weather.three_days")
	case plan.ByWeatherFile:
		return words.T("weather.file")
	}
	return weather(p.Sky)
}

// tripDays returns the first instant of every local day that a trip touches.
func tripDays(p *plan.Plan) (days []time.Time) {
	start := p.Trip.Start
	end := start.Add(time.Duration(p.Trip.LengthH * float64(time.Hour)))
	for i := 0; ; i++ {
		day := time.Date(start.Year(), start.Month(), start.Day()+i, 0, 0, 0, 0, start.Location())
		if !day.Before(end) {
			return days
		}
		days = append(days, day)
	}
}

// stands says which way a panel looks, for those that lie fixed and leaning.
func stands(l plan.Panel) (qty.Degree, bool) {
	return qty.Degree(l.AzimuthDeg), l.TiltDeg > 0 && (l.Lie == plan.LieFixed || l.Lie == plan.LieOnLid)
}
