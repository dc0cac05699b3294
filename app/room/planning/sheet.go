package planning

import (
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/app/room/desk"
	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// sheet is the plan: five folds, each with a line that says what is inside.
type sheet struct {
	app.Compo

	Session *room.Session
	Desk    *desk.Desk
	Serial  int
	Led     int // counts what opened a fold from outside
	View    view

	tapped  int    // day of the trip whose sky was set last
	skySaid string // what was set there
	ownSaid string // why the marks that suit a table of one's own were not set
}

// folds lists the sections in their order.
var folds = []struct {
	id      string
	title   string // catalogue key
	summary func(*desk.Desk) string
	inside  func(*sheet, form) []app.UI
}{
	{"case", "fold.case", caseSummary, (*sheet).caseFields},
	{"gear", "fold.gear", gearSummary, (*sheet).gearFields},
	{"sky", "fold.sky", skySummary, (*sheet).skyFields},
	{"panels", "fold.panels", panelsSummary, (*sheet).panelsFields},
	{"trip", "fold.trip", tripSummary, (*sheet).tripFields},
}

func (s *sheet) Render() app.UI {
	body := make([]app.UI, len(folds))
	for i, f := range folds {
		var inside []app.UI
		open := s.open(f.id)
		if open {
			inside = f.inside(s, form{s.Desk})
		}
		body[i] = widget.Fold(f.id, words.T(f.title), f.summary(s.Desk), open, s.turn(f.id), inside...)
	}
	return app.Section().ID("plan").Class("sheet").Aria("label", words.T("room.plan")).Body(body...)
}

// open says whether a fold is open. Gear is open from the start: it is what
// most people come to change.
func (s *sheet) open(id string) bool {
	open, set := s.Session.Folds[id]
	return open || !set && id == "gear"
}

func (s *sheet) turn(id string) app.EventHandler {
	return func(app.Context, app.Event) { s.Session.Folds[id] = !s.open(id) }
}

func caseSummary(d *desk.Desk) string {
	c := d.Plan().Case
	parts := []string{
		words.T("summary.battery", words.Chemistry(c.Battery.Chemistry), words.Plain(c.Battery.CapacityAh, "Ah")),
		words.T("summary.controller", words.Plain(c.Controller.LimitA, "A")),
	}
	if c.Inverter.RatedW > 0 {
		parts = append(parts, words.T("summary.inverter", words.Plain(c.Inverter.RatedW, "W")))
	}
	return words.T("summary.case", c.Name, strings.Join(parts, ", "))
}

func gearSummary(d *desk.Desk) string {
	n := len(d.Plan().Gear)
	if n == 0 {
		return words.T("summary.no_gear")
	}
	var day qty.WattHour
	if o := d.Outlook(); o != nil {
		for _, e := range o.Figures.DeviceADay {
			day += e
		}
	}
	return words.T("summary.gear", n, words.Energy(day))
}

func skySummary(d *desk.Desk) string {
	p := d.Plan()
	place := words.Latitude(qty.Degree(p.Sky.LatitudeDeg))
	switch {
	case p.Placeless():
		place = words.T("summary.no_place")
	case p.Sky.Place != "":
		place = p.Sky.Place
	}
	return strings.Join([]string{place, words.Amount(p.Sky.AltitudeM, 0, "m"), dates(p), summarySky(p)}, ", ")
}

func dates(p *plan.Plan) string {
	return words.Dates(p.Trip.Start, p.Trip.Start.Add(time.Duration(p.Trip.LengthH*float64(time.Hour))))
}

// weather names the sky in a word: clear from nine tenths of a clear day on,
// overcast under three tenths. Our own bounds.
func weather(s plan.Sky) string {
	if s.Light == plan.ByPeakSun {
		return words.T("weather.peak_sun", words.Amount(mean(s.PeakSunHours), 1, ""))
	}
	switch m := mean(s.ClearSkyIndex); {
	case m >= 0.9:
		return words.T("weather.clear")
	case m >= 0.3:
		return words.T("weather.mixed")
	default:
		return words.T("weather.overcast")
	}
}

func mean(list []float64) float64 {
	if len(list) == 0 {
		return 0
	}
	sum := 0.0
	for _, v := range list {
		sum += v
	}
	return sum / float64(len(list))
}

func panelsSummary(d *desk.Desk) string {
	p := d.Plan().Panels
	if len(p.List) == 0 {
		return words.T("summary.no_panels")
	}
	var names []string
	for _, x := range p.List {
		w := words.Plain(x.RatedW, "W")
		if x.Count > 1 {
			w = words.T("summary.times", x.Count, w)
		}
		names = append(names, w)
	}
	first := p.List[0]
	line := strings.Join(names, " + ")
	if len(p.List) > 1 || first.Count > 1 {
		line = words.T("summary.joined", line, words.Joined(p.Joined))
	}
	for _, x := range p.List[1:] {
		if x.TiltDeg != first.TiltDeg || x.AzimuthDeg != first.AzimuthDeg {
			return words.T("summary.lie_apart", line)
		}
	}
	return words.T("summary.lies", line, words.Angle(qty.Degree(first.TiltDeg)), words.Compass(qty.Degree(first.AzimuthDeg)))
}

func tripSummary(d *desk.Desk) string {
	p := d.Plan()
	return words.T("summary.trip", words.Weekday(p.Trip.Start), words.Clock(p.Trip.Start), words.Hours(p.Trip.LengthH),
		words.Plain(p.Trip.StartChargePct, "%"))
}

// deviceDay returns what a device takes in a day.
func deviceDay(o *outlook.Outlook, i int) string {
	if o == nil || i >= len(o.Figures.DeviceADay) {
		return "–"
	}
	return words.Energy(o.Figures.DeviceADay[i])
}
