package planning

import (
	"math"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/app/towns"
	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// Where the plan is: one box that takes a town or a position, the device's own
// position, and below them the figures that came of it, each to be changed.

// The fields of a place in the document.
const (
	placeAt     = "/sky/place"
	latitudeAt  = "/sky/latitude_deg"
	longitudeAt = "/sky/longitude_deg"
	altitudeAt  = "/sky/altitude_m"
)

// figuresFold names the fold with the figures that few people change by hand.
const figuresFold = "sky-figures"

// placeFields is all about the place.
func (s *sheet) placeFields(f form) []app.UI {
	open := s.Session.Folds[figuresFold]
	for _, at := range []string{placeAt, latitudeAt, longitudeAt} {
		open = open || s.Desk.Fault(at) != "" // a value that is not taken is seen
	}
	figures := widget.Nothing()
	if open {
		figures = app.Div().Body(f.text(placeAt), f.amount(latitudeAt), f.amount(longitudeAt))
	}
	return []app.UI{
		&finder{Session: s.Session, Desk: s.Desk, Serial: s.Serial},
		f.amount(altitudeAt),
		app.Div().Class("field").Body(
			button(figuresFold+"-fold", words.T("place.figures"), s.turn(figuresFold)).Aria("expanded", open),
			figures,
		),
	}
}

// placed says where the plan is, and by which clock its hours are.
func placed(p *plan.Plan) string {
	if p.Placeless() {
		return ""
	}
	line := words.T("place.at", words.Position(qty.Degree(p.Sky.LatitudeDeg), qty.Degree(p.Sky.LongitudeDeg)), words.Amount(p.Sky.AltitudeM, 0, "m"))
	if p.Sky.Place != "" {
		line = words.T("place.in", p.Sky.Place, line)
	}
	if p.Trip.Zone != "" {
		line += " " + words.T("place.clock", zoneName(p.Trip.Zone))
	}
	return line
}

// settle puts the plan at a place. What waits in the place's own fields is
// dropped: it was meant for the place before.
func settle(d interface {
	Drop(string)
	Change(func(*plan.Plan)) plan.Faults
}, edit func(*plan.Plan)) plan.Faults {
	for _, at := range []string{placeAt, latitudeAt, longitudeAt, altitudeAt} {
		d.Drop(at)
	}
	return d.Change(edit)
}

// standAt puts a plan at a position: to a thousandth of a degree, some hundred
// metres, and ten metres of altitude if that is known (not NaN) and a plan
// takes it. The sun asks for no more, and a plan that is passed on tells no
// more. The name was that of another place.
func standAt(p *plan.Plan, lat, lon, alt float64) {
	p.Sky.Place = ""
	p.Sky.LatitudeDeg = math.Round(lat*1000) / 1000
	p.Sky.LongitudeDeg = math.Round(lon*1000) / 1000
	if limit, ok := plan.LimitOf(altitudeAt); ok && alt >= limit.Min && alt <= limit.Max {
		p.Sky.AltitudeM = math.Round(alt/10) * 10
	}
}

// moveTo puts a plan into a town, with its altitude and, where this device
// knows it, its clock. It answers whether it does.
func moveTo(p *plan.Plan, t towns.Town) (clock bool) {
	standAt(p, float64(t.Latitude), float64(t.Longitude), heightOf(t))
	p.Sky.Place = fullName(t)
	return room.SetZone(p, t.Zone) == nil
}

func heightOf(t towns.Town) float64 {
	if !t.Height {
		return math.NaN()
	}
	return float64(t.Altitude)
}

// mostName is how many characters of a place's name a plan takes.
const mostName = 80

// fullName is the name that a plan gets: the town, and its country if there is
// room for it.
func fullName(t towns.Town) string {
	name := words.T("place.in", t.Name, countryName(t.Country))
	if len([]rune(name)) > mostName {
		name = string([]rune(t.Name)[:min(len([]rune(t.Name)), mostName)])
	}
	return strings.TrimSpace(name)
}

var countryNames = map[string]string{}

// countryName asks the browser for the name of a country, by its two letters,
// in the app's language. Without one it is the letters.
func countryName(code string) string {
	if name, ok := countryNames[code]; ok || app.IsServer {
		if ok {
			return name
		}
		return code
	}
	name := code
	names := app.Window().Get("Intl").Get("DisplayNames")
	if names.Truthy() {
		name = names.New(words.Current().String(), map[string]any{"type": "region", "fallback": "code"}).Call("of", code).String()
	}
	countryNames[code] = name
	return name
}
