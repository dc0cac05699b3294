package planning

import (
	"slices"
	"sort"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room/desk"
	"duskline/app/widget"
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

// shownNotices is how many notices are in view; the milder rest folds, so that
// a phone comes to the plan.
const shownNotices = 3

// notices lists what the core advises, gravest first, and of equal grade what
// is particular to this plan first.
func notices(list []notice.Notice, p plan.Plan) app.UI {
	if len(list) == 0 {
		return nil
	}
	list = slices.Clone(list)
	sort.SliceStable(list, func(i, k int) bool {
		if a, b := list[i], list[k]; a.Grade != b.Grade {
			return a.Grade > b.Grade
		}
		return general(list[i]) < general(list[k])
	})
	shown := min(len(list), shownNotices)
	body := make([]app.UI, 0, shown+1)
	for _, n := range list[:shown] {
		body = append(body, one(n, p))
	}
	if rest := list[shown:]; len(rest) > 0 {
		// The signal words of what is folded stand outside: nobody misses a
		// WARNING behind "one more".
		var grades []string
		for _, n := range rest {
			if signal := words.T("signal." + n.Grade.String()); !slices.Contains(grades, signal) {
				grades = append(grades, signal)
			}
		}
		folded := []app.UI{app.Summary().Text(words.T("notices.more", len(rest), strings.Join(grades, ", ")))}
		for _, n := range rest {
			folded = append(folded, one(n, p))
		}
		body = append(body, app.Details().ID("notices-more").Body(folded...))
	}
	return app.Div().ID("notices").Class("notices").Role("region").Aria("label", words.T("notices.title")).Body(body...)
}

// said is what the core says of a part of the plan, at that part.
func said(d *desk.Desk, codes ...notice.Code) app.UI { return saidOf(d, -1, codes...) }

// saidOf is the same of one device; -1 is for any or none.
func saidOf(d *desk.Desk, device int, codes ...notice.Code) app.UI {
	o := d.Outlook()
	if o == nil {
		return widget.Nothing()
	}
	var body []app.UI
	for _, n := range o.Notices {
		if slices.Contains(codes, n.Code) && (device < 0 || deviceOf(n) == device) {
			body = append(body, one(n, *d.Plan()))
		}
	}
	if body == nil {
		return widget.Nothing()
	}
	return app.Div().Class("said-here").Aria("live", "polite").Body(body...)
}

// deviceOf is the device that a notice speaks of, -1 for none.
func deviceOf(n notice.Notice) int {
	for _, v := range n.Values {
		if v.Unit == "index" {
			return int(v.Number)
		}
	}
	return -1
}

// general is 1 for a notice whose advice is the same on every plan.
func general(n notice.Notice) int {
	if words.General(n.Code) {
		return 1
	}
	return 0
}

// one is a notice. General advice is one short line, the rest behind it: most
// plans have it, and it must not push away what only this plan has.
func one(n notice.Notice, p plan.Plan) app.UI {
	a := words.Notice(n, p, p.Trip.Start)
	signal := app.Strong().Class("signal").Text(a.Signal)
	grade, code := n.Grade.String(), string(n.Code)
	if a.Short != "" {
		return app.Details().Class("notice general").DataSet("grade", grade).DataSet("code", code).Body(
			app.Summary().Body(signal, app.Text(" "+a.Short)),
			app.P().Class("do").Text(a.Do),
		)
	}
	return app.Div().Class("notice").DataSet("grade", grade).DataSet("code", code).Body(
		signal,
		app.P().Body(app.Text(a.What+" "), app.Span().Class("do").Text(a.Do)),
	)
}
