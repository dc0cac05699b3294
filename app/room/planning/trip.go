package planning

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room/desk"
	"duskline/app/words"
	"duskline/calc/notice"
)

// tripFields is when, how long, from which charge, and the plan's own name.
func (s *sheet) tripFields(f form) []app.UI {
	p := *f.d.Plan()
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
		s.finer("charging", words.ChargingFiner(p), func() []app.UI { return s.charging(f) }),
		said(f.d, notice.WallTooHigh, notice.WallTooLow, notice.GeneratorSmall),
		f.choice("/trip/step_min"),
	}
}

// charging is what else may bring the Case up: a vehicle that runs, a
// generator, and which mains they have at the place.
func (s *sheet) charging(f form) []app.UI {
	p := f.d.Plan()
	var fields []app.UI
	if p.Case.Vehicle == nil && len(p.Trip.EngineHours) == 0 {
		fields = append(fields,
			app.P().Class("help").Text(words.T("charging.no_vehicle")),
			s.toVehicle())
	} else {
		fields = append(fields, f.hours("/trip/engine_hours", false))
	}
	if p.Case.Vehicle == nil && len(p.Trip.EngineHours) > 0 {
		fields = append(fields,
			app.P().ID("engine-idle").Class("reading").Text(words.T("charging.engine_idle")),
			s.toVehicle())
	}
	return append(fields,
		f.hours("/trip/generator_hours", false),
		f.amount("/trip/generator_W"),
		f.amount("/trip/wall_V"),
		caution("engine"),
	)
}

func (s *sheet) toVehicle() app.UI {
	return app.Button().ID("to-vehicle").Class("small").Type("button").Text(words.T("charging.to_vehicle")).OnClick(s.onToVehicle)
}

func (s *sheet) onToVehicle(ctx app.Context, e app.Event) {
	s.Session.Folds["case"] = true
	s.after(ctx, func() { show("vehicle-add") })
}
