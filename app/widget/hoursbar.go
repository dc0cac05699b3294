package widget

import (
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/widget/hours"
	"duskline/app/words"
	"duskline/calc/plan"
)

// HoursBar picks hours of the day: two rows of twelve hours, so that a half
// hour is wide enough for a finger at 320 px. A tap switches a half hour, a
// drag paints; with the keyboard the arrows move, space switches, shift and
// arrow paint. Fields for the exact minute stand below.
//
// It is a listbox of 48 options to a screen reader: each says its time and
// whether it is on.
type HoursBar struct {
	app.Compo

	Host    Host
	Pointer string
	Label   string // "" for the field's own name
	Hours   []plan.Window
	Texts   []string // what the exact fields show: from, to, from, to ...
	Faults  []string // and what is wrong with each
	Fault   string   // of the list as a whole
	Need    bool     // at least one window

	cursor int // cell of the keyboard
	anchor int // cell where the drag started
	last   int // cell where it is
	before []plan.Window
	on     bool // what the drag paints
	drag   bool // a finger or button is down
	moved  bool
}

func (h *HoursBar) Render() app.UI {
	id, label := ID(h.Pointer), h.Label
	if label == "" {
		label = words.FieldName(h.Pointer)
	}
	help := Help(h.Pointer)
	body := []app.UI{
		app.Legend().ID(id + "-label").Class("label").Text(label),
		h.bar(id),
		app.P().ID(id + "-hours").Class("hours-said").Text(said(h.Hours)),
	}
	if help != "" {
		body = append(body, app.P().ID(id+"-help").Class("help").Text(help))
	}
	body = append(body, app.P().ID(id+"-fault").Class("fault").Aria("live", "polite").Text(h.Fault))
	exact := make([]app.UI, len(h.Hours))
	for i := range h.Hours {
		exact[i] = h.exact(i)
	}
	body = append(body, app.Div().Body(exact...))
	buttons := []app.UI{
		app.Button().ID(id + "-add").Class("small").Type("button").Text(words.T("hours.add")).OnClick(h.onAdd),
		app.Button().ID(id + "-all").Class("small").Type("button").Text(words.T("hours.all")).OnClick(h.onAll),
	}
	if !h.Need {
		buttons = append(buttons, app.Button().ID(id+"-none").Class("small").Type("button").
			Text(words.T("hours.none")).OnClick(h.onNone))
	}
	body = append(body, app.Div().Class("row").Body(buttons...))
	return app.FieldSet().Class("field hours").Attr("data-bad", h.Fault != "").Body(body...)
}

// said names the hours, and how many they are.
func said(list []plan.Window) string {
	if len(list) == 0 {
		return words.Windows(list)
	}
	return words.T("hours.said", words.Windows(list), words.Hours(hours.Length(list)))
}

// bar draws the 48 cells.
func (h *HoursBar) bar(id string) app.UI {
	list := hours.Spans(h.Hours)
	cells := make([]app.UI, 0, hours.Cells+2)
	for i := range hours.Cells {
		if i%24 == 0 {
			cells = append(cells, ticks(i/2))
		}
		cells = append(cells, h.cell(id, i, hours.Covered(list, i)))
	}
	bar := app.Div().ID(id+"-bar").Class("hoursbar").Role("listbox").TabIndex(0).
		Aria("multiselectable", "true").Aria("labelledby", id+"-label").
		Aria("describedby", id+"-hours "+id+"-fault").
		Aria("activedescendant", id+"-cell-"+strconv.Itoa(h.cursor)).
		OnKeyDown(h.onKey).
		On("pointerdown", h.onDown).On("pointerup", h.onUp).On("pointercancel", h.onCancel)
	if h.drag {
		bar = bar.On("pointermove", h.onMove)
	}
	return bar.Body(cells...)
}

func (h *HoursBar) cell(id string, i int, on float64) app.UI {
	state := "off"
	switch {
	case on > 0.999:
		state = "on"
	case on > 0.001:
		state = "part"
	}
	cell := app.Span().ID(id+"-cell-"+strconv.Itoa(i)).Class("cell").Role("option").
		Aria("selected", state != "off").
		Aria("label", words.T("hours.cell", words.ClockOfHours(float64(i)/2), words.ClockOfHours(float64(i+1)/2))).
		DataSet("state", state)
	if i%2 == 0 {
		cell = cell.DataSet("hour", i/2)
	}
	if i == h.cursor {
		cell = cell.DataSet("cursor", "here")
	}
	return cell
}

// ticks writes the hours above a row.
func ticks(from int) app.UI {
	marks := make([]app.UI, 0, 5)
	for hour := from; hour <= from+12; hour += 3 {
		marks = append(marks, app.Span().Text(strconv.Itoa(hour)))
	}
	return app.Div().Class("ticks").Aria("hidden", "true").Role("presentation").Body(marks...)
}

// exact is one window to the minute.
func (h *HoursBar) exact(i int) app.UI {
	at := h.Pointer + "/" + strconv.Itoa(i)
	text := func(k int) string {
		if n := 2*i + k; n < len(h.Texts) {
			return h.Texts[n]
		}
		return ""
	}
	fault := func(k int) string {
		if n := 2*i + k; n < len(h.Faults) {
			return h.Faults[n]
		}
		return ""
	}
	return app.Div().Class("exact").Body(
		&Clock{Host: h.Host, Pointer: at + "/from_h", Text: text(0), Fault: fault(0)},
		&Clock{Host: h.Host, Pointer: at + "/to_h", Text: text(1), Fault: fault(1)},
		app.Button().ID(ID(at)+"-remove").Class("icon").Type("button").
			Aria("label", words.T("hours.remove", words.Window(h.Hours[i]))).Text("×").
			OnClick(func(ctx app.Context, e app.Event) { h.remove(i) }, h.Pointer, i),
	)
}

func (h *HoursBar) remove(i int) {
	if i < len(h.Hours) {
		h.enter(append(append([]plan.Window{}, h.Hours[:i]...), h.Hours[i+1:]...))
	}
}

// enter hands the list on and shows it at once: the next key may come before
// the page is redrawn.
func (h *HoursBar) enter(list []plan.Window) {
	h.Host.EnterHours(h.Pointer, list)
	h.Hours = list
}

// onAdd adds an hour after the last window, or the evening.
func (h *HoursBar) onAdd(ctx app.Context, e app.Event) {
	w := plan.Window{FromH: 18, ToH: 22}
	if n := len(h.Hours); n > 0 {
		from := h.Hours[n-1].ToH + 1
		if from >= 24 {
			from -= 24
		}
		to := from + 1
		if to > 24 {
			to -= 24
		}
		w = plan.Window{FromH: from, ToH: to}
	}
	h.enter(append(append([]plan.Window{}, h.Hours...), w))
}

func (h *HoursBar) onAll(ctx app.Context, e app.Event) {
	h.enter([]plan.Window{{FromH: 0, ToH: 24}})
}

func (h *HoursBar) onNone(ctx app.Context, e app.Event) { h.enter([]plan.Window{}) }

// onKey moves and paints.
func (h *HoursBar) onKey(ctx app.Context, e app.Event) {
	if h.key(e.Get("key").String(), e.Get("shiftKey").Bool()) {
		e.PreventDefault()
	}
}

// key does what a key says, and tells whether it says anything.
func (h *HoursBar) key(key string, shift bool) bool {
	was := h.cursor
	switch key {
	case "ArrowRight":
		h.cursor++
	case "ArrowLeft":
		h.cursor--
	case "ArrowDown":
		h.cursor += 24
	case "ArrowUp":
		h.cursor -= 24
	case "PageDown":
		h.cursor += 6
	case "PageUp":
		h.cursor -= 6
	case "Home":
		h.cursor = 0
	case "End":
		h.cursor = hours.Cells - 1
	case " ", "Enter":
		h.enter(hours.PaintCells(h.Hours, was, was, hours.Covered(hours.Spans(h.Hours), was) < 0.5))
		return true
	default:
		return false
	}
	if h.cursor < 0 || h.cursor >= hours.Cells {
		h.cursor = (h.cursor%hours.Cells + hours.Cells) % hours.Cells
		return true // over midnight, without painting the whole day
	}
	if shift {
		h.enter(hours.PaintCells(h.Hours, was, h.cursor, hours.Covered(hours.Spans(h.Hours), was) >= 0.5))
	}
	return true
}

// onDown remembers where the finger is. What it means is known when it moves
// or lifts: it may be the start of scrolling the page.
func (h *HoursBar) onDown(ctx app.Context, e app.Event) {
	if b := e.Get("button"); b.Truthy() {
		return // not the main button
	}
	h.start(h.at(ctx, e))
	capture(ctx, e)
}

// capture lets the bar have the pointer until it lifts, wherever it goes. A
// pointer that is gone by now is refused with an exception.
func capture(ctx app.Context, e app.Event) {
	defer func() { _ = recover() }()
	ctx.JSSrc().Call("setPointerCapture", e.Get("pointerId"))
}

func (h *HoursBar) start(cell int) {
	h.drag, h.moved, h.anchor, h.last, h.cursor = true, false, cell, cell, cell
	h.before = append([]plan.Window{}, h.Hours...)
	h.on = hours.Covered(hours.Spans(h.Hours), cell) < 0.5
}

func (h *HoursBar) onMove(ctx app.Context, e app.Event) { h.over(h.at(ctx, e)) }

// over paints from where the drag started to where it is now; going back
// takes the paint off again.
func (h *HoursBar) over(cell int) {
	if !h.drag || cell == h.last {
		return
	}
	h.moved, h.last, h.cursor = true, cell, cell
	h.enter(hours.PaintCells(h.before, h.anchor, cell, h.on))
}

func (h *HoursBar) onUp(ctx app.Context, e app.Event) { h.lift() }

func (h *HoursBar) lift() {
	if h.drag && !h.moved {
		h.enter(hours.PaintCells(h.before, h.anchor, h.anchor, h.on))
	}
	h.drag = false
}

// onCancel ends a touch that became scrolling.
func (h *HoursBar) onCancel(ctx app.Context, e app.Event) {
	if h.drag && h.moved {
		h.enter(h.before)
	}
	h.drag = false
}

// at returns the cell under the pointer.
func (h *HoursBar) at(ctx app.Context, e app.Event) int {
	r := ctx.JSSrc().Call("getBoundingClientRect")
	x := (e.Get("clientX").Float() - r.Get("left").Float()) / r.Get("width").Float()
	y := (e.Get("clientY").Float() - r.Get("top").Float()) / r.Get("height").Float()
	return cellAt(x, y)
}

// cellAt returns the cell at a place of the bar, both measures 0 to 1. Places
// outside belong to the nearest cell.
func cellAt(x, y float64) int {
	cell := int(max(0, min(23, x*24)))
	if y >= 0.5 {
		cell += 24
	}
	return cell
}

// DayBar is the small picture of a day's hours in a list.
func DayBar(day []plan.Window) app.UI {
	var b strings.Builder
	b.WriteString(`<svg class="daybar" viewBox="0 0 24 1" preserveAspectRatio="none" aria-hidden="true" focusable="false">`)
	for _, s := range hours.Spans(day) {
		b.WriteString(`<rect x="` + strconv.FormatFloat(s.From, 'f', 3, 64) + `" y="0" height="1" width="` +
			strconv.FormatFloat(s.To-s.From, 'f', 3, 64) + `"></rect>`)
	}
	b.WriteString(`</svg>`)
	return app.Raw(b.String())
}
