package planning

import (
	"errors"
	"math"
	"reflect"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/draw"
	"duskline/app/room/desk"
	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/daylight"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// lieFields is how one panel lies: the picture, the fields, the shade on it,
// and how it would lie best.
func (s *sheet) lieFields(f form, at string, i int, p *plan.Panel) []app.UI {
	lie := []app.UI{
		app.Div().Class("lie").Body(app.Raw(draw.DrawLie(draw.Lie{
			Tilt: qty.Degree(p.TiltDeg), Azimuth: qty.Degree(p.AzimuthDeg),
			Turned: p.Lie == plan.LieTurned || p.Lie == plan.LieTwoAxis, Leaned: p.Lie == plan.LieTwoAxis, OnLid: p.Lie == plan.LieOnLid,
		}, draw.Frame{ID: "lie", Width: 300, Height: 136}))),
		f.choice(at + "/lie"),
	}
	if p.Lie == plan.LieTurned || p.Lie == plan.LieTwoAxis {
		lie = append(lie, f.amount(at+"/aims_per_day"))
	}
	if p.Lie != plan.LieTwoAxis {
		lie = append(lie, f.amount(at+"/tilt_deg"))
	}
	if p.Lie == plan.LieFixed || p.Lie == plan.LieOnLid {
		lie = append(lie, f.amount(at+"/azimuth_deg"))
	}
	lie = append(lie, &lieAdvice{Desk: f.d, Version: f.d.Version(), Index: i})
	shade := []app.UI{f.hours(at+"/shade_hours", false)}
	if len(p.ShadeHours) > 0 {
		shade = append(shade, f.amount(at+"/shaded_pct"))
	}
	return []app.UI{
		group(words.T("lie.title"), lie...),
		group(words.T("shade.title"), shade...),
	}
}

// lieAdvice is how a panel would lie best. It is found when the keys have
// rested: the search takes longer than an Outlook.
type lieAdvice struct {
	app.Compo

	Desk    *desk.Desk
	Version int
	Index   int

	advice daylight.Advice
	err    error
	of     daylight.Spec // that the advice was found for
	found  int           // version that the advice is for, and one more; 0: none yet
	index  int
	wanted int
	open   bool
}

// pause is how long the search waits after an edit.
const pause = 250 * time.Millisecond

func (a *lieAdvice) OnMount(ctx app.Context)  { a.want(ctx) }
func (a *lieAdvice) OnUpdate(ctx app.Context) { a.want(ctx) }

// want sees to it that the advice will be for the present plan.
func (a *lieAdvice) want(ctx app.Context) {
	if a.found == a.Version+1 && a.index == a.Index {
		return
	}
	a.wanted++
	mine := a.wanted
	ctx.After(pause, func(app.Context) {
		if mine == a.wanted {
			a.find()
		}
	})
}

// find asks the core how the panel would lie best, unless nothing that its
// light hangs on has changed: most edits are elsewhere.
func (a *lieAdvice) find() {
	again := a.found > 0 && a.index == a.Index
	a.found, a.index = a.Version+1, a.Index
	spec, err := a.Desk.Plan().Daylight()
	if again && err == nil && a.err == nil && reflect.DeepEqual(spec, a.of) {
		return
	}
	a.of, a.err = spec, err
	if err == nil {
		a.advice, a.err = bestLie(spec, a.Index)
	}
}

// bestLie asks the core how panel kind i would lie best.
func bestLie(spec daylight.Spec, i int) (daylight.Advice, error) {
	scene, err := daylight.New(spec)
	if err != nil {
		return daylight.Advice{}, err
	}
	return scene.BestLie(i)
}

// wayNames are the catalogue keys of the choices, behind "way.".
var wayNames = map[daylight.ChoiceKind]string{
	daylight.AsItLies:      "as_it_lies",
	daylight.Flat:          "flat",
	daylight.BestFixed:     "best",
	daylight.Upright:       "upright",
	daylight.LeanLess:      "lean_less",
	daylight.LeanMore:      "lean_more",
	daylight.FaceEarlier:   "earlier",
	daylight.FaceLater:     "later",
	daylight.TurnedTwice:   "turned_2",
	daylight.TurnedThrice:  "turned_3",
	daylight.TwoAxisThrice: "two_axis_3",
	daylight.TwoAxisHourly: "two_axis_hours",
}

func (a *lieAdvice) Render() app.UI {
	id := "best-" + widget.ID(entryAt(panelsAt, a.Index))
	box := app.Div().ID(id).Class("best")
	switch {
	case a.found == 0:
		return box.Body(app.P().Class("help").Text(words.T("best.working")))
	case errors.Is(a.err, daylight.ErrNoLight):
		return box.Body(app.P().Class("best-line").Text(words.T("best.none")))
	case a.err != nil:
		return box.Body(app.P().Class("best-line").Text(words.T("best.failed")))
	}
	var now daylight.Choice
	for _, c := range a.advice.Choices {
		if c.Kind == daylight.AsItLies {
			now = c
		}
	}
	best := a.advice.Best
	tilt, azimuth := handy(best.Lie)
	line, gain := words.T("best.fixed", words.Facing(qty.Degree(azimuth)), words.Angle(qty.Degree(tilt)), words.OverFlat(best.OverFlat)), ""
	if tilt == 0 {
		line = words.T("best.flat")
	}
	more := 0.0
	if now.Light > 0 {
		more = best.Light/now.Light - 1
	}
	moved := now.Lie.Kind == daylight.Turned || now.Lie.Kind == daylight.TwoAxis
	switch {
	case moved:
	case more < 0.01:
		gain = words.T("best.is_best")
	default:
		gain = words.T("best.would", words.Amount(100*more, 0, "%"))
	}
	body := []app.UI{
		app.H3().Class("best-title").Text(words.T("best.title")),
		app.P().Class("best-line").Aria("live", "polite").Text(line + " " + gain),
	}
	row := []app.UI{}
	if more >= 0.01 && !moved {
		row = append(row, app.Button().ID(id+"-use").Class("small strong").Type("button").Text(words.T("best.use")).OnClick(a.onUse, a.Index, tilt, azimuth))
	}
	key := "best.others"
	if a.open {
		key = "best.hide"
	}
	row = append(row, app.Button().ID(id+"-others").Class("small").Type("button").Aria("expanded", a.open).Text(words.T(key)).OnClick(a.onTurn))
	body = append(body, app.Div().Class("row").Body(row...))
	if a.open {
		body = append(body, a.ways(id)...)
	}
	return box.Body(body...)
}

// handy is a lie as one can lay it by hand and eye: to five degrees.
func handy(l daylight.Lie) (tilt, azimuth float64) {
	tilt = 5 * math.Round(float64(l.Tilt)/5)
	azimuth = math.Mod(5*math.Round(float64(l.Azimuth)/5), 360)
	return tilt, azimuth
}

// ways is the table of all choices.
func (a *lieAdvice) ways(id string) []app.UI {
	t := draw.Table{
		Caption: words.T("table.ways_lie"),
		Head:    []string{words.T("column.way"), words.T("column.light_day"), words.T("column.over_flat")},
	}
	for _, c := range a.advice.Choices {
		t.Rows = append(t.Rows, []string{words.T("way." + wayNames[c.Kind]), words.Insolation(c.Light), words.OverFlat(c.OverFlat)})
	}
	return []app.UI{
		app.P().Class("help").Text(words.T("best.for_what")),
		table(id+"-ways", t, true),
	}
}

func (a *lieAdvice) onTurn(ctx app.Context, e app.Event) { a.open = !a.open }

// onUse lays the panel as found, for good weather or bad.
func (a *lieAdvice) onUse(ctx app.Context, e app.Event) {
	tilt, azimuth := handy(a.advice.Best.Lie)
	i := a.Index
	a.Desk.Change(func(p *plan.Plan) {
		if i < len(p.Panels.List) {
			x := &p.Panels.List[i]
			x.TiltDeg, x.AzimuthDeg = tilt, azimuth
		}
	})
}
