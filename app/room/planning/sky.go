package planning

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/plan"
)

// skyFields is place, weather and haze.
func (s *sheet) skyFields(f form) []app.UI {
	days := "/sky/clear_sky_index"
	if f.d.Plan().Sky.Light == plan.ByPeakSun {
		days = "/sky/peak_sun_hours"
	}
	return []app.UI{
		f.text("/sky/place"),
		s.here(),
		f.amount("/sky/latitude_deg"),
		f.amount("/sky/longitude_deg"),
		f.amount("/sky/altitude_m"),
		f.amount("/sky/warmest_C"),
		f.amount("/sky/coldest_C"),
		f.amount("/sky/wind_m_per_s"),
		f.amount("/sky/linke_turbidity"),
		f.amount("/sky/albedo"),
		f.choice("/sky/light"),
		s.dayList(f, days),
	}
}

// dayList is one figure a day; the last one holds for the days after it.
func (s *sheet) dayList(f form, list string) app.UI {
	p := f.d.Plan()
	values := p.Sky.ClearSkyIndex
	if list == "/sky/peak_sun_hours" {
		values = p.Sky.PeakSunHours
	}
	start := p.Trip.Start
	body := make([]app.UI, 0, 4)
	id, helpAt := widget.ID(list), ""
	if help := widget.Help(list); help != "" {
		helpAt = id + "-help"
		body = append(body, app.P().ID(helpAt).Class("help").Text(help))
	}
	days := make([]app.UI, len(values))
	for i := range values {
		day := start.AddDate(0, 0, i)
		label := words.T("sky.day", words.Weekday(day), words.Date(day))
		if i == len(values)-1 {
			label = words.T("sky.day_on", words.Weekday(day), words.Date(day))
		}
		days[i] = f.amountOf(entryAt(list, i), label, helpAt)
	}
	n := len(values)
	body = append(body,
		app.Div().Body(days...),
		app.Div().Class("row").Body(
			app.Button().ID(id+"-add").Class("small").Type("button").Text(words.T("sky.add_day")).
				OnClick(s.addDay(list), list),
			app.Button().ID(id+"-remove").Class("small").Type("button").Disabled(n < 2).Text(words.T("sky.remove_day")).
				OnClick(s.removeDay(list), list),
		),
		f.fault(list),
	)
	return group(words.FieldName(list), body...)
}

func (s *sheet) values(list string) []float64 {
	if list == "/sky/peak_sun_hours" {
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
