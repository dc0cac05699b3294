package planning

import (
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/draw"
	"duskline/app/room/desk"
	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/outlook"
)

// Light on the panel, day by day. On a phone it stands in the Sky, under the
// days that make it; where plan and Outlook stand side by side it is in the
// Outlook, beside them.

// lightBeside is the light inside the Sky, on a phone.
func (s *sheet) lightBeside() app.UI {
	if s.View.Wide {
		return widget.Nothing()
	}
	return &lightDays{Desk: s.Desk, Version: s.Desk.Version(), Width: s.inner(), Inside: true}
}

// inner is the width that a picture in a fold is drawn for. With larger
// letters it is drawn for less and shown larger, so that its words grow too.
func (s *sheet) inner() float64 { return s.View.drawn(s.View.fold()) }

// lightDays is the sentence, the picture and its table.
type lightDays struct {
	app.Compo

	Desk    *desk.Desk
	Version int
	Width   float64
	Inside  bool // of the Sky: its title stands under that of the fold

	open bool
}

func (l *lightDays) Render() app.UI {
	days := brights(l.Desk.Outlook())
	if len(days) == 0 {
		return app.Div()
	}
	f := draw.Frame{ID: "b", Width: l.Width, Height: 150}
	var title app.UI = app.H2().Text(words.T("light_days.title"))
	class := "light"
	if l.Inside {
		title, class = app.H3().Class("group-title").Text(words.T("light_days.title")), "group light"
	}
	return app.Div().ID("light").Class(class).Body(
		title,
		app.P().ID("light-said").Class("reading").Text(sayLight(l.Desk, days, time.Now())),
		app.Div().Class("picture").Body(app.Raw(draw.Light(days, f))),
		beside("light-numbers", "light", l.open, l.onTurn, tableAs{"table-light", draw.LightTable(days)}),
	)
}

func (l *lightDays) onTurn(ctx app.Context, e app.Event) { l.open = !l.open }

// A tableAs is a table under the id it has on the page.
type tableAs struct {
	id    string
	table draw.Table
}

// beside is the tables of a picture: there for a screen reader at once, to be
// unfolded by who would rather read figures.
func beside(id, key string, open bool, turn app.EventHandler, tables ...tableAs) app.UI {
	class := "numbers"
	if !open {
		class += " unseen"
	}
	text := words.T("show_numbers." + key)
	if open {
		text = words.T("numbers.hide")
	}
	body := make([]app.UI, len(tables))
	for i, t := range tables {
		body[i] = table(t.id, t.table, open)
	}
	return app.Div().Body(
		app.Button().ID(id+"-fold").Class("small").Type("button").Aria("expanded", open).Aria("controls", id).
			Text(text).OnClick(turn),
		app.Div().ID(id).Class(class).Body(body...),
	)
}

// brights is the light of an Outlook's days as the picture takes it.
func brights(o *outlook.Outlook) (list []draw.Bright) {
	if o == nil {
		return nil
	}
	for _, d := range o.Days {
		list = append(list, draw.Bright{Day: d.Midnight, Light: d.OnPanels, Ceiling: d.Ceiling})
	}
	return list
}

// sayLight says it in sentences: of today, or of the first day of a trip on
// other dates, and of the day with the least.
func sayLight(d *desk.Desk, days []draw.Bright, now time.Time) string {
	first, least, alike := 0, 0, true
	for i, b := range days {
		if !b.Day.After(now) && now.Before(b.Day.AddDate(0, 0, 1)) {
			first = i
		}
		if b.Light < days[least].Light {
			least = i
		}
		alike = alike && words.Insolation(b.Light) == words.Insolation(days[0].Light) &&
			words.Insolation(b.Ceiling) == words.Insolation(days[0].Ceiling)
	}
	on := words.T("light_days.panel")
	if len(d.Plan().Panels.List) == 0 {
		on = words.T("light_days.ground")
	}
	name := words.Weekday
	if len(days) > 7 {
		name = words.Day
	}
	b := days[first]
	light, ceiling := words.Insolation(b.Light), words.Insolation(b.Ceiling)
	if alike && len(days) > 1 {
		return words.T("light_days.alike", on, light, ceiling)
	}
	said := words.T("light_days.one", on, light, name(b.Day), ceiling)
	if least == first {
		if len(days) > 1 {
			said = words.T("light_days.dullest", on, light, name(b.Day), ceiling)
		}
		return said
	}
	b = days[least]
	return said + " " + words.T("light_days.least", name(b.Day), lightOf(b))
}

// lightOf is the light of a day and of the same day under a clear sky.
func lightOf(b draw.Bright) string {
	return words.T("sky.of", words.Amount(b.Light, 1, ""), words.Insolation(b.Ceiling))
}
