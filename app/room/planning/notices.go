package planning

import (
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/words"
	"duskline/calc/notice"
	"duskline/calc/outlook"
	"duskline/calc/plan"
)

// figures are the three numbers under the picture.
func figures(o *outlook.Outlook, start time.Time) app.UI {
	f := o.Figures
	noSun := words.Duration(f.NoSun)
	if f.NoSunEndless {
		noSun = words.T("figure.more_than", words.Duration(outlook.NoSunLimit))
	}
	day := words.T("figures.day")
	if f.IdleADay > 0.5 {
		day = words.T("figures.day_idle", words.Energy(f.IdleADay))
	}
	one := func(id, number, below string) app.UI {
		return app.Div().ID(id).Class("figure").Body(
			app.P().Class("number").Text(number), app.P().Class("below").Text(below))
	}
	return app.Div().Class("figures").Body(
		one("figure-no-sun", noSun, words.T("figures.no_sun")),
		one("figure-lowest", words.Percent(f.Lowest), words.T("figures.lowest", words.Moment(f.LowestAt, start))),
		one("figure-day", words.Energy(f.DrawADay), day),
	)
}

// notices lists what the core advises, gravest first. All that can hurt
// someone stands open; of the rest the first few.
func notices(list []notice.Notice, p plan.Plan) app.UI {
	if len(list) == 0 {
		return nil
	}
	open := 0
	for open < len(list) && (open < shownNotices || list[open].Grade >= notice.Warning) {
		open++
	}
	body := make([]app.UI, 0, open+1)
	for _, n := range list[:open] {
		body = append(body, one(n, p))
	}
	if rest := list[open:]; len(rest) > 0 {
		folded := []app.UI{app.Summary().Text(words.T("notices.more", len(rest)))}
		for _, n := range rest {
			folded = append(folded, one(n, p))
		}
		body = append(body, app.Details().ID("notices-more").Body(folded...))
	}
	return app.Div().ID("notices").Class("notices").Role("region").Aria("label", words.T("notices.title")).Body(body...)
}

func one(n notice.Notice, p plan.Plan) app.UI {
	a := words.Notice(n, p, p.Trip.Start)
	return app.Div().Class("notice").DataSet("grade", n.Grade.String()).DataSet("code", string(n.Code)).Body(
		app.Strong().Class("signal").Text(a.Signal),
		app.P().Body(app.Text(a.What+" "), app.Span().Class("do").Text(a.Do)),
	)
}
