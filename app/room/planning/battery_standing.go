package planning

import (
	"math"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/draw"
	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/care"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// A storeFrom is a charge at which the Case may be put away.
type storeFrom struct {
	key    string
	charge qty.Fraction
}

// froms are the charges to choose from: as the trip leaves it, as the plan
// says that it is kept, and just shut off, which is how batteries are ruined.
func (c *batteryCare) froms(p *plan.Plan) (list []storeFrom) {
	o := c.Desk.Outlook()
	if o != nil {
		if n := len(o.Series.Charge); n > 0 {
			list = append(list, storeFrom{"trip", o.Series.Charge[n-1]})
		}
	}
	list = append(list, storeFrom{"kept", qty.Fraction(p.Case.Battery.KeptPct / 100)})
	if o != nil {
		list = append(list, storeFrom{"flat", o.Figures.CutOffCharge})
	}
	return list
}

// chosenFrom is the one that was chosen.
func (c *batteryCare) chosenFrom() string {
	if c.from == "" {
		return "trip"
	}
	return c.from
}

// fromHost takes the choice; it is of the page and in no document.
type fromHost struct{ care *batteryCare }

// fromAt is where the choice stands.
const fromAt = "/storage-from"

// Enter takes what was chosen.
func (h fromHost) Enter(pointer, text string) {
	h.care.from = text
	h.care.step(2)
}

// EnterHours is for fields of hours, which this is not.
func (h fromHost) EnterHours(string, []plan.Window) {}

// Leave is the end of typing.
func (h fromHost) Leave(string) {}

// Drop would throw away what was typed.
func (h fromHost) Drop(string) {}

// standing is the storage clock.
func (c *batteryCare) standing() []app.UI {
	s := c.storage
	drawn := draw.Standing{Most: s.Horizon}
	for i := range s.Clocks {
		k := &s.Clocks[i]
		if !k.Kept {
			continue
		}
		drawn.Rows = append(drawn.Rows, draw.StandingRow{Name: words.StoreMode(k.Mode), Says: words.Lasts(k),
			Alarm: daysOf(k.Alarm), CutOff: daysOf(k.CutOff), Harm: daysOf(k.Harm)})
	}
	key := words.T("standing.key")
	if by := words.Harms(s, func(k *care.Clock) bool { return k.Kept }); by != "" {
		key += " " + words.T("standing.by", by)
	}
	options := []widget.Option{}
	for _, f := range c.froms(&c.plan) {
		options = append(options, widget.Option{Value: f.key, Name: words.T("standing_from."+f.key, words.Percent(f.charge))})
	}
	return []app.UI{
		&widget.Choice{Host: fromHost{c}, Pointer: fromAt, Label: words.T("standing.from"), Options: options, Text: c.chosenFrom()},
		reading(words.T("standing.lead", words.Percent(s.From), words.Temperature(s.Kept))),
		picture(draw.DrawStanding(drawn, draw.Frame{ID: "k", Width: c.Width})),
		app.P().Class("help").Text(key),
		reading(words.TopUp(s) + " " + words.T("standing.low")),
		c.tables("standing-numbers", "standing", c.standingTables()...),
	}
}

// daysOf is a time for the picture, NaN for one that does not come.
func daysOf(d care.Days) float64 {
	if d.Never {
		return math.NaN()
	}
	return d.Days
}

// standingTables is a table for each way of leaving it.
func (c *batteryCare) standingTables() (list []tableAs) {
	for _, mode := range []care.StoreMode{care.AllOff, care.MetersOn, care.AsSwitched} {
		from := words.Percent(c.storage.From)
		t := draw.Table{Caption: words.T("table.standing", words.StoreMode(mode), from)}
		if by := words.Harms(c.storage, func(k *care.Clock) bool { return k.Mode == mode }); by != "" {
			t.Caption = words.T("table.standing_by", words.StoreMode(mode), from, by)
		}
		for _, name := range []string{"kept_at", "to_alarm", "to_cut", "to_harm", "top_up"} {
			t.Head = append(t.Head, words.T("column."+name))
		}
		for i := range c.storage.Clocks {
			k := &c.storage.Clocks[i]
			if k.Mode == mode {
				t.Rows = append(t.Rows, []string{words.Temperature(k.At), words.Within(k.Alarm), words.Within(k.CutOff), words.Within(k.Harm), words.Within(k.TopUp)})
			}
		}
		if t.Rows != nil {
			list = append(list, tableAs{"table-standing-" + string(mode), t})
		}
	}
	return list
}
