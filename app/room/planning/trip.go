package planning

import (
	"fmt"
	"slices"
	"strconv"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room/desk"
	"duskline/app/widget"
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
		f.choiceOf(desk.StartOffset, words.T("trip.offset"), offsets(f.d.Text(desk.StartOffset))),
		f.amount("/trip/length_h"),
		f.amount("/trip/start_charge_pct"),
		f.amount("/trip/reserve_pct"),
		f.hours("/trip/wall_hours", false),
		f.choice("/trip/step_min"),
	}
}

// offsets lists the time zones by their hours from UTC: whole and half hours,
// and the three places that keep quarters; and the plan's own, whatever it
// is.
func offsets(own string) []widget.Option {
	list := []float64{5.75, 8.75, 12.75}
	for h := -12.0; h <= 14; h++ {
		list = append(list, h)
	}
	list = append(list, -9.5, -3.5, -2.5, 3.5, 4.5, 5.5, 6.5, 9.5, 10.5)
	if v, ok := words.Number(own); ok && !slices.Contains(list, v) {
		list = append(list, v)
	}
	slices.Sort(list)
	options := make([]widget.Option, len(list))
	for i, h := range list {
		sign, a := "+", h
		if h < 0 {
			sign, a = "−", -h
		}
		m := int(a*60 + 0.5)
		options[i] = widget.Option{Value: strconv.FormatFloat(h, 'f', -1, 64), Name: fmt.Sprintf("UTC%s%02d:%02d", sign, m/60, m%60)}
	}
	return options
}
