package planning

import (
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/app/room/desk"
	"duskline/app/words"
	"duskline/calc/care"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// batteryCards is what stands right under the marks of the battery: pictures
// of what its alarm and its cut-off mean, how long it keeps, and what the trip
// costs it.
func (s *sheet) batteryCards(f form) []app.UI {
	return []app.UI{&batteryCare{Session: s.Session, Desk: s.Desk, Version: s.Desk.Version(), Width: s.inner()}}
}

// careParts is how many parts the cards have: the gauge, the alarm, the storage
// clock, the life.
const careParts = 4

// batteryCare is these cards. They are worked out only while the Case is
// unfolded, a moment after an edit and one by one, so that the answer comes
// first and no key waits for them; until then they show what was before.
type batteryCare struct {
	app.Compo

	Session *room.Session // for what is unfolded
	Desk    *desk.Desk
	Version int
	Width   float64

	desk   *desk.Desk // that all is read for, or will be
	wanted int        // version of its plan, and one more; 0: none
	turn   int        // counts what was wanted, so that what is late is dropped
	failed bool

	plan    plan.Plan      // that tide to life are of
	read    [careParts]int // how often each part was read
	tide    *care.Tide
	alarms  *care.Alarms
	storage *care.Storage
	life    *care.Life

	from    string // what charge it is put away at
	unfurl  map[string]bool
	was     float64 // the alarm before "use this", V; 0: not used
	set     float64 // the alarm that it set
	refused string  // why the plan did not take it
}

// The moments of the cards: after an edit, and between two of them.
const (
	careRest = 250 * time.Millisecond
	careNext = 20 * time.Millisecond
)

// OnMount begins to read the battery.
func (c *batteryCare) OnMount(ctx app.Context) { c.want(ctx) }

// OnUpdate reads it anew for a new plan.
func (c *batteryCare) OnUpdate(ctx app.Context) { c.want(ctx) }

func (c *batteryCare) want(ctx app.Context) {
	if c.desk == c.Desk && c.wanted == c.Version+1 {
		return
	}
	rest := careRest
	if c.tide == nil {
		rest = careNext
	}
	c.desk, c.wanted = c.Desk, c.Version+1
	c.turn++
	c.after(ctx, rest, c.turn, 0)
}

// after does one step of the reading after a moment, and then the next.
func (c *batteryCare) after(ctx app.Context, rest time.Duration, turn, step int) {
	ctx.After(rest, func(ctx app.Context) {
		if turn == c.turn && step < len(careSteps) {
			c.step(step)
			c.after(ctx, careNext, turn, step+1)
		}
	})
}

// careSteps are what is read of a battery, one after another.
var careSteps = [careParts]func(*batteryCare, *plan.Plan) error{
	func(c *batteryCare, p *plan.Plan) (err error) { c.tide, err = care.NewTide(*p); return },
	func(c *batteryCare, p *plan.Plan) (err error) {
		if c.alarms, err = care.NewAlarms(*p); err == nil && c.Desk.Outlook() != nil {
			c.alarms.InTrip(c.Desk.Outlook())
		}
		return
	},
	func(c *batteryCare, p *plan.Plan) (err error) { return c.store(p) },
	func(c *batteryCare, p *plan.Plan) (err error) {
		if o := c.Desk.Outlook(); o != nil {
			c.life, err = care.NewLife(*p, o)
		}
		return
	},
}

func (c *batteryCare) step(i int) {
	p := c.Desk.Plan()
	if i == 0 {
		c.plan, c.failed = desk.Clone(*p), false
	}
	if careSteps[i](c, p) != nil {
		c.failed = true // our own slip: a plan on the desk is a checked one
	}
	c.read[i]++
}

// all does all steps at once.
func (c *batteryCare) all() {
	for i := range careSteps {
		c.step(i)
	}
}

// store reads the storage clock from the charge that was chosen.
func (c *batteryCare) store(p *plan.Plan) (err error) {
	from := qty.Fraction(0)
	for _, f := range c.froms(p) {
		if f.key == c.chosenFrom() {
			from = f.charge
		}
	}
	c.storage, err = care.NewStorage(*p, from)
	return err
}

func (c *batteryCare) Render() app.UI {
	box := app.Div().ID("battery-care").Class("battery-care")
	if c.failed {
		return box.Body(app.P().Class("help").Text(words.T("care.failed")))
	}
	if c.tide == nil {
		return box.Body(app.P().Class("help").Text(words.T("care.working")))
	}
	body := make([]app.UI, careParts)
	for i := range body {
		body[i] = &carePart{Care: c, Part: i, Read: c.read[i], Width: c.Width}
	}
	return box.Body(body...)
}

// carePart is one part of the cards. It is drawn anew when it was read anew,
// and not with each edit.
type carePart struct {
	app.Compo

	Care  *batteryCare
	Part  int
	Read  int
	Width float64
}

func (p *carePart) Render() app.UI {
	c := p.Care
	var body []app.UI
	switch {
	case p.Part == 0:
		body = c.tideCard()
	case p.Part == 1 && c.alarms != nil && len(c.alarms.Candidates) > 0:
		body = []app.UI{c.alarmCard(), c.folded("after-alarm", "after_alarm.title", c.afterSaid(), c.afterAlarm)}
	case p.Part == 2 && c.storage != nil:
		body = []app.UI{c.folded("standing", "standing.title", words.Standing(c.storage), c.standing)}
	case p.Part == 3 && c.life != nil:
		body = []app.UI{c.folded("life", "life.title", words.LifeSaid(c.life), c.lifeInside)}
	}
	return app.Div().Class("care-part").Body(body...)
}

// folded is what a person looks up now and then: its name and its gist are in
// view, the rest unfolds.
func (c *batteryCare) folded(id, title, said string, inside func() []app.UI) app.UI {
	at := "care-" + id
	return app.Div().ID(id).Class("care-fold").Body(finerFold(at, words.T(title), said, c.Session.Folds[at],
		func(app.Context, app.Event) { c.Session.Folds[at] = !c.Session.Folds[at] },
		func() []app.UI { return []app.UI{app.Div().Class("care").Body(inside()...)} }))
}

// card is one card under its title, a catalogue key.
func card(id, title string, inside ...app.UI) app.UI {
	return app.Div().ID(id).Class("group care").Body(append([]app.UI{
		app.H3().Class("group-title").Text(words.T(title))}, inside...)...)
}

// reading is a sentence of a card.
func reading(text string) app.UI { return app.P().Class("reading").Text(text) }

// picture is a drawing.
func picture(svg string) app.UI { return app.Div().Class("picture").Body(app.Raw(svg)) }

// tables are those of a card's picture.
func (c *batteryCare) tables(id, key string, list ...tableAs) app.UI {
	return beside(id, key, c.unfurl[id], func(app.Context, app.Event) { c.turnOver(id) }, list...)
}

func (c *batteryCare) turnOver(id string) {
	if c.unfurl == nil {
		c.unfurl = map[string]bool{}
	}
	c.unfurl[id] = !c.unfurl[id]
}
