package planning

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/draw"
	"duskline/app/words"
	"duskline/calc/care"
	"duskline/calc/qty"
)

// lifeInside is what the trip costs the battery, and what lying does.
func (c *batteryCare) lifeInside() []app.UI {
	l := c.life
	loss, years := words.ShareBand(l.Low, l.High), words.YearBand(l.Years)
	if l.Practice {
		loss, years = words.T("band.about", loss), words.T("band.about", years)
	}
	one := func(number, below string) app.UI {
		return app.Div().Class("figure").Body(app.P().Class("number").Text(number), app.P().Class("below").Text(below))
	}
	body := []app.UI{}
	if l.Health < 0.995 {
		body = append(body, reading(words.T("life.health", words.Percent(l.Health))))
	}
	last := one(years, words.YearsUnder(l.UsesAYear))
	if l.Worn {
		body, last = []app.UI{reading(words.T("life.worn", words.Percent(l.Health)))}, nil
	}
	row := []app.UI{one(words.Plain(round2(l.Cycles), ""), words.T("life.cycles")), one(loss, words.T("life.loss"))}
	if last != nil {
		row = append(row, last)
	}
	trust := words.T("life.models")
	if l.Practice {
		trust = words.T("life.practice")
	}
	if l.Beyond {
		trust += " " + words.T("life.beyond")
	}
	body = append(body, app.Div().Class("care-figures").Body(row...), app.P().Class("help").Text(trust))
	lithium := c.plan.Case.Battery.Lithium()
	keeping := keepings(l, lithium)
	drawn := wearing(keeping)
	if len(drawn.Bars) > 0 {
		body = append(body,
			reading(words.T("life.keeping")),
			picture(draw.DrawWearing(drawn, draw.Frame{ID: "w", Width: c.Width})),
			reading(words.KeepSo(lithium)),
		)
	}
	return append(body, c.tables("life-numbers", "life", tableAs{"table-life", lifeTable(l)}, tableAs{"table-keeping", keepTable(keeping)}))
}

// round2 keeps two digits of a small number of cycles.
func round2(v float64) float64 {
	if v < 10 {
		return float64(int(100*v+0.5)) / 100
	}
	return float64(int(v + 0.5))
}

// keepings are the ways of keeping it that are told. Lead-acid is never told
// half full: the law of its lying does not know what that does to it.
func keepings(l *care.Life, lithium bool) (list []care.Keep) {
	for _, k := range l.Keeping {
		if lithium || k.Charge > 0.995 {
			list = append(list, k)
		}
	}
	return list
}

// wearing is a year of lying as the picture takes it; the worst way is marked.
func wearing(list []care.Keep) (w draw.Wearing) {
	worst := qty.Fraction(0)
	for _, k := range list {
		worst = max(worst, k.High)
	}
	for _, k := range list {
		w.Bars = append(w.Bars, draw.WearBar{
			Name: words.KeepName(&k), Says: words.ShareBand(k.Low, k.High),
			Low: float64(k.Low), High: float64(k.High), Worst: k.High == worst,
		})
	}
	return w
}

// lifeTable is the trip in figures.
func lifeTable(l *care.Life) draw.Table {
	t := draw.Table{Caption: words.T("table.life"), Head: []string{words.T("column.figure"), words.T("column.value")}}
	put := func(key, value string) { t.Rows = append(t.Rows, []string{words.T("life_row." + key), value}) }
	put("cycles", words.Plain(round2(l.Cycles), ""))
	put("deepest", words.Percent(l.Deepest))
	put("loss", words.ShareBand(l.Low, l.High))
	if !l.Worn {
		put("share", words.ShareBand(qty.Fraction(l.Share.Low), qty.Fraction(l.Share.High)))
		put("years", words.YearBand(l.Years))
	}
	put("health", words.Percent(l.Health))
	put("growth", words.Plain(float64(int(100*l.Growth+0.5))/100, ""))
	return t
}

// keepTable is a year of lying in figures.
func keepTable(list []care.Keep) draw.Table {
	t := draw.Table{Caption: words.T("table.keeping"),
		Head: []string{words.T("column.kept_charge"), words.T("column.temperature"), words.T("column.lost_year")}}
	for _, k := range list {
		t.Rows = append(t.Rows, []string{words.Percent(k.Charge), words.Temperature(k.At), words.ShareBand(k.Low, k.High)})
	}
	return t
}
