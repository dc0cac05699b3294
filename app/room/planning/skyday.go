package planning

import (
	"slices"
	"strconv"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/draw"
	"duskline/app/room/desk"
	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/plan"
)

// The sky day by day: a row a day, a tap goes to the next look, a list beside
// it goes straight to one.

// looks lists the looks of the sky in the order of the taps.
var looks = []plan.SkyState{plan.SkyClear, plan.SkyThinVeil, plan.SkyHalfCloud, plan.SkyOvercast, plan.SkyRain, plan.SkySmoke, plan.SkyDust}

// fewDays is how many days stand there before the others are asked for.
const fewDays = 8

// skyDays is the rows, and what sets them all.
func (s *sheet) skyDays(f form) app.UI {
	p := f.d.Plan()
	days := tripDays(p)
	// The plan may have none yet: its kind of light is not taken.
	states := p.Sky.SkyStates
	if len(states) == 0 {
		states = looks[:1]
	}
	shown := len(days)
	all := s.Session.Folds["sky-days"]
	if shown > fewDays && !all {
		shown = fewDays - 1
	}
	light := brights(f.d.Outlook())
	rows := make([]app.UI, shown)
	for i := range rows {
		row := &skyDay{Desk: f.d, Sheet: s, Index: i, Days: len(days), Name: words.Day(days[i]), State: stateOf(states, i)}
		if i < len(light) {
			row.Light = lightOf(light[i])
		}
		rows[i] = row
	}
	last := min(s.tapped, len(days)-1)
	like := stateOf(states, last)
	same := !slices.ContainsFunc(states, func(k plan.SkyState) bool { return k != like })
	body := []app.UI{
		app.Legend().Class("label").Text(words.FieldName(statesAt)),
		app.P().ID("sky-days-help").Class("help").Text(widget.Help(statesAt)),
		app.Ul().ID("sky-days").Class("sky-days").Body(rows...),
		app.P().ID("sky-said").Class("reading").Aria("live", "polite").Text(s.skySaid),
		app.Div().Class("row").Body(
			app.Button().ID("sky-all-days").Class("small").Type("button").Disabled(same || len(days) < 2).
				Text(words.T("sky.all_days", words.Weekday(days[last]), words.SkyState(like))).OnClick(s.onAllDays),
			s.moreDays(len(days), all),
		),
		f.fault(statesAt),
	}
	return app.FieldSet().Class("field").Body(body...)
}

// moreDays unfolds the days of a long trip.
func (s *sheet) moreDays(n int, all bool) app.UI {
	if n <= fewDays {
		return widget.Nothing()
	}
	text := words.T("sky.more_days", n)
	if all {
		text = words.T("sky.fewer_days")
	}
	return app.Button().ID("sky-more-days").Class("small").Type("button").Aria("expanded", all).Text(text).OnClick(s.turn("sky-days"))
}

// stateOf is the look of a day; the last one named holds for the days after it.
func stateOf(states []plan.SkyState, day int) plan.SkyState { return states[min(day, len(states)-1)] }

// onAllDays makes every day like the one that was set last.
func (s *sheet) onAllDays(ctx app.Context, e app.Event) { s.allDays() }

func (s *sheet) allDays() {
	s.Desk.Change(func(p *plan.Plan) {
		if n := len(p.Sky.SkyStates); n > 0 {
			p.Sky.SkyStates = []plan.SkyState{stateOf(p.Sky.SkyStates, min(s.tapped, len(tripDays(p))-1))}
		}
	})
}

// setState gives one day another look. The days after it keep theirs, also
// those that had it from an earlier one.
func (s *sheet) setState(day, days int, k plan.SkyState) {
	faults := s.Desk.Change(func(p *plan.Plan) {
		list := p.Sky.SkyStates
		if len(list) == 0 {
			list = looks[:1]
		}
		whole := make([]plan.SkyState, min(max(days, len(list)), plan.MaxDays))
		for i := range whole {
			whole[i] = stateOf(list, i)
		}
		if day < len(whole) {
			whole[day] = k
		}
		// The end of the list that says nothing new is left out.
		n := len(whole)
		for n > 1 && whole[n-1] == whole[n-2] {
			n--
		}
		p.Sky.SkyStates = whole[:n]
	})
	if faults == nil {
		s.tapped = day
		s.skySaid = words.T("sky.said", words.Day(tripDays(s.Desk.Plan())[day]), words.SkyState(k), words.SkyStateHelp(k))
	}
}

// skyDay is one row. Its exported fields compare equal as long as it shows the
// same.
type skyDay struct {
	app.Compo

	Desk        *desk.Desk
	Sheet       *sheet
	Index, Days int
	Name        string
	State       plan.SkyState
	Light       string // on the panel, "" if it is not known
}

func (r *skyDay) Render() app.UI {
	id := "sky-day-" + strconv.Itoa(r.Index)
	options := make([]app.UI, len(looks))
	for i, k := range looks {
		options[i] = app.Option().Value(string(k)).Text(words.SkyState(k)).Selected(k == r.State)
	}
	return app.Li().Class("sky-day").Body(
		app.Button().ID(id).Class("sky-tap").Type("button").Aria("describedby", "sky-days-help").OnClick(r.onTap).Body(
			app.Raw(draw.Sign(r.State.State())),
			app.Span().Class("sky-what").Body(
				app.Span().Class("sky-name").Text(r.Name),
				app.Span().Class("sky-state").Text(words.SkyState(r.State)),
				app.Span().Class("sky-light").Text(r.Light),
				app.Span().Class("sky-how").Text(howClear(r.State)),
			),
			app.Span().Class("unseen").Text(words.T("sky.tap", words.SkyState(nextLook(r.State)))),
		),
		app.Span().Class("sky-pick").Body(
			app.Select().ID(id+"-list").Aria("label", words.T("sky.list", r.Name)).Body(options...).OnChange(r.onPick),
		),
	)
}

// howClear says what a look means for the light.
func howClear(k plan.SkyState) string {
	look := k.State().Look()
	if look.Turbidity > 0 {
		return words.T("sky.turbid", words.Plain(look.Turbidity, ""))
	}
	return words.ClearShare(look.Index.Mean())
}

func nextLook(k plan.SkyState) plan.SkyState {
	return looks[(slices.Index(looks, k)+1)%len(looks)]
}

func (r *skyDay) onTap(ctx app.Context, e app.Event) {
	r.Sheet.setState(r.Index, r.Days, nextLook(r.State))
}

func (r *skyDay) onPick(ctx app.Context, e app.Event) {
	if k := plan.SkyState(ctx.JSSrc().Get("value").String()); slices.Contains(looks, k) {
		r.Sheet.setState(r.Index, r.Days, k)
	}
}
