package planning

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room/desk"
	"duskline/app/words"
)

// tripFields is when, how long, from which charge, and the plan's own name.
func (s *sheet) tripFields(f form) []app.UI {
	return []app.UI{
		f.text("/name"),
		f.paragraph("/note"),
		app.Div().Class("pair").Body(
			f.picker(desk.StartDate, "date", words.T("trip.date")),
			f.picker(desk.StartClock, "time", words.T("trip.clock")),
		),
		&placeClock{Session: s.Session, Desk: f.d, Serial: f.d.Serial()},
		f.amount("/trip/length_h"),
		f.amount("/trip/start_charge_pct"),
		f.amount("/trip/reserve_pct"),
		f.hours("/trip/wall_hours", false),
		f.choice("/trip/step_min"),
	}
}
