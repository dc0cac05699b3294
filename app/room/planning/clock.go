package planning

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/app/room/desk"
	"duskline/app/widget"
	"duskline/app/words"
	"duskline/app/zone"
	"duskline/calc/civil"
	"duskline/calc/plan"
)

// placeClock says by which clock the hours of the trip are: that of a place,
// which may be moved during the trip, or one at a fixed offset from UTC.
//
// A zone is not typed into the plan, as other fields are: its name alone says
// nothing. It is looked up on this device, and what its clock does around the
// trip goes into the plan with it.
type placeClock struct {
	app.Compo

	Session *room.Session
	Desk    *desk.Desk
	Serial  int

	here      string // the device's own zone
	elsewhere bool   // another zone is looked for
	typed     string // of its name
	wrong     string // worded: why the last choice was not taken
	names     []string
}

// Places of the two fields. The first is that of the document.
const (
	zoneAt     = "/trip/zone"
	zoneNameAt = "/trip/zone_name"
)

// What the list's values begin with.
const (
	byZone   = "zone:"
	byOffset = "utc:"
	byOther  = "other"
)

// OnMount asks the device where it is, which takes a while.
func (c *placeClock) OnMount(ctx app.Context) { c.here = zone.Here() }

func (c *placeClock) Render() app.UI {
	p := c.Desk.Plan()
	fault := c.wrong
	if fault == "" {
		fault = c.Desk.Fault(zoneAt)
	}
	value := byOffset + c.Desk.Text(desk.StartOffset)
	switch {
	case c.elsewhere:
		value = byOther
	case p.Trip.Zone != "":
		value = byZone + p.Trip.Zone
	}
	body := []app.UI{
		&widget.Choice{Host: clockHost{c, zoneAt}, Pointer: zoneAt, Label: words.T("zone.field"), Options: c.options(p), Text: value, Fault: fault},
		widget.Nothing(),
		widget.Nothing(),
	}
	if c.elsewhere {
		body[1] = c.search()
	} else {
		body[2] = app.P().ID("clock-moves").Class("help moves").Text(moves(p.Trip))
	}
	return app.Div().Body(body...)
}

func (c *placeClock) options(p *plan.Plan) []widget.Option {
	var list []widget.Option
	for _, name := range []string{p.Trip.Zone, c.here} {
		o := widget.Option{Value: byZone + name, Name: words.T("zone.as_at", zoneName(name))}
		if name == c.here {
			o.Name = words.T("zone.device", zoneName(name))
		}
		if name != "" && !slices.Contains(list, o) {
			list = append(list, o)
		}
	}
	list = append(list, widget.Option{Value: byOther, Name: words.T("zone.other")})
	own := ""
	if p.Trip.Zone == "" {
		own = c.Desk.Text(desk.StartOffset)
	}
	return append(list, offsets(own)...)
}

// zoneName is how a name of the database reads: "Europe/Isle of Man".
func zoneName(name string) string { return strings.ReplaceAll(name, "_", " ") }

// choose takes what was chosen in the list.
func (c *placeClock) choose(value string) {
	c.wrong, c.elsewhere = "", value == byOther
	if name, ok := strings.CutPrefix(value, byZone); ok {
		c.setZone(name)
	} else if hours, ok := strings.CutPrefix(value, byOffset); ok {
		h, err := strconv.ParseFloat(hours, 64)
		if err == nil {
			c.change(func(p *plan.Plan) { p.SetZone("", time.Duration(h*float64(time.Hour)).Round(time.Minute), nil) })
		}
	}
}

// setZone gives the plan the clock of a zone; false if it was not taken.
func (c *placeClock) setZone(name string) bool {
	probe := *c.Desk.Plan()
	if room.SetZone(&probe, name) != nil {
		c.wrong = words.T("zone.unknown")
		return false
	}
	return c.change(func(p *plan.Plan) { _ = room.SetZone(p, name) })
}

func (c *placeClock) change(edit func(*plan.Plan)) bool {
	if faults := c.Desk.Change(edit); faults != nil {
		c.wrong = words.FaultLine(faults[0])
		return false
	}
	return true
}

// search is the field for the name of another zone, and what goes with it.
func (c *placeClock) search() app.UI {
	found := c.found()
	fault := ""
	if c.typed != "" && len(found) == 0 {
		fault = words.T("zone.unknown")
	}
	buttons := make([]app.UI, len(found))
	for i, name := range found {
		buttons[i] = app.Button().ID("zone-"+strconv.Itoa(i)).Class("small").Type("button").Text(zoneName(name)).
			OnClick(func(ctx app.Context, e app.Event) { c.pick(name) }, name)
	}
	return app.Div().Body(
		&widget.Text{Host: clockHost{c, zoneNameAt}, Pointer: zoneNameAt, Label: words.T("zone.name"), Text: c.typed, Fault: fault},
		app.Div().ID("zones-found").Class("row found").Body(buttons...),
	)
}

// seek takes what was typed as a name. One that is complete is taken at once.
func (c *placeClock) seek(text string) {
	c.typed, c.wrong = text, ""
	if name := strings.ReplaceAll(strings.TrimSpace(text), " ", "_"); slices.Contains(c.all(), name) {
		c.setZone(name)
	}
}

func (c *placeClock) pick(name string) {
	if c.setZone(name) {
		c.elsewhere, c.typed = false, ""
	}
}

// mostFound is how many names are offered.
const mostFound = 8

// found are the zones whose name has what was typed in it, those first of
// which a part begins with it.
func (c *placeClock) found() []string {
	want := strings.ToLower(strings.ReplaceAll(strings.TrimSpace(c.typed), " ", "_"))
	if want == "" {
		return nil
	}
	var begin, inside []string
	for _, name := range c.all() {
		low := strings.ToLower(name)
		switch {
		case strings.HasPrefix(low, want) || strings.Contains(low, "/"+want):
			begin = append(begin, name)
		case strings.Contains(low, want):
			inside = append(inside, name)
		}
	}
	list := append(begin, inside...)
	if len(list) == 0 { // an older name of a place, or a browser that lists none
		if name := strings.ReplaceAll(strings.TrimSpace(c.typed), " ", "_"); known(name) {
			list = []string{name}
		}
	}
	return list[:min(mostFound, len(list))]
}

func known(name string) bool {
	at := time.Unix(0, 0)
	_, _, err := zone.Lookup(name, at, at)
	return err == nil
}

func (c *placeClock) all() []string {
	if c.names == nil {
		c.names = append([]string{}, zone.Names()...)
	}
	return c.names
}

// moves says when the clock of the place is moved during the trip.
func moves(t plan.Trip) string {
	if t.Zone == "" {
		return words.T("zone.fixed")
	}
	end := t.Start.Add(time.Duration(t.LengthH * float64(time.Hour)))
	was, changes := civil.Offsets(t.Start, end)
	var lines []string
	for _, c := range changes {
		before, after := c.At.In(time.FixedZone("", int(was/time.Second))), c.At.In(time.FixedZone("", int(c.Offset/time.Second)))
		key := "zone.forward"
		if c.Offset < was {
			key = "zone.back"
		}
		lines = append(lines, words.T(key, words.Day(before), words.Clock(before), words.Clock(after)))
		was = c.Offset
	}
	if lines == nil {
		return words.T("zone.stays")
	}
	return strings.Join(lines, " ")
}

// clockHost takes what is chosen and typed here; the desk knows no such fields.
type clockHost struct {
	clock *placeClock
	at    string
}

// Enter takes what was chosen or typed.
func (h clockHost) Enter(pointer, text string) {
	if h.at == zoneAt {
		h.clock.choose(text)
	} else {
		h.clock.seek(text)
	}
}

// EnterHours is for fields of hours, which these are not.
func (h clockHost) EnterHours(string, []plan.Window) {}

// Leave is the end of typing: nothing waits here.
func (h clockHost) Leave(pointer string) {}

// Drop throws away what was typed.
func (h clockHost) Drop(pointer string) { h.clock.typed, h.clock.wrong = "", "" }

// offsets lists fixed offsets from UTC, in hours: whole and half ones, and the
// three places that keep quarters; and the plan's own, whatever it is.
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
		options[i] = widget.Option{Value: byOffset + strconv.FormatFloat(h, 'f', -1, 64), Name: fmt.Sprintf("UTC%s%02d:%02d", sign, m/60, m%60)}
	}
	return options
}
