package widget

import (
	"slices"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/calc/plan"
)

const at = "/gear/0/hours"

// apply gives the bar what it handed on, as the page does.
func (h *hand) apply(b *HoursBar) { b.Hours = h.hours[at] }

func TestHoursBarByKeyboard(t *testing.T) {
	h := newHand()
	b := &HoursBar{Host: h, Pointer: at, Hours: []plan.Window{{FromH: 8, ToH: 9}}}
	for range 20 { // to 10:00
		b.key("ArrowRight", false)
	}
	b.key(" ", false)
	h.apply(b)
	if want := []plan.Window{{FromH: 8, ToH: 9}, {FromH: 10, ToH: 10.5}}; !slices.Equal(b.Hours, want) {
		t.Fatalf("space at 10:00 gave %v", b.Hours)
	}
	b.key("ArrowRight", true)
	h.apply(b)
	b.key("ArrowRight", true)
	h.apply(b)
	if want := []plan.Window{{FromH: 8, ToH: 9}, {FromH: 10, ToH: 11.5}}; !slices.Equal(b.Hours, want) {
		t.Fatalf("shift and right twice gave %v", b.Hours)
	}
	b.key("Home", false)
	b.key("ArrowLeft", false) // over midnight
	b.key("Enter", false)
	h.apply(b)
	if want := (plan.Window{FromH: 23.5, ToH: 24}); !slices.Contains(b.Hours, want) {
		t.Fatalf("enter at 23:30 gave %v", b.Hours)
	}
	if b.key("a", false) {
		t.Error("a letter was taken")
	}
}

func TestHoursBarShiftOverMidnightPaintsNothing(t *testing.T) {
	h := newHand()
	b := &HoursBar{Host: h, Pointer: at, Hours: []plan.Window{{FromH: 0, ToH: 1}}}
	b.key("ArrowLeft", true)
	if _, ok := h.hours[at]; ok {
		t.Errorf("painted %v", h.hours[at])
	}
}

func TestHoursBarByFinger(t *testing.T) {
	h := newHand()
	b := &HoursBar{Host: h, Pointer: at, Hours: []plan.Window{{FromH: 8, ToH: 9}}}
	b.start(40) // a tap at 20:00
	b.lift()
	h.apply(b)
	if want := []plan.Window{{FromH: 8, ToH: 9}, {FromH: 20, ToH: 20.5}}; !slices.Equal(b.Hours, want) {
		t.Fatalf("a tap gave %v", b.Hours)
	}
	b.start(42)
	b.over(46)
	h.apply(b)
	b.over(44) // and back a bit
	h.apply(b)
	b.lift()
	if want := []plan.Window{{FromH: 8, ToH: 9}, {FromH: 20, ToH: 20.5}, {FromH: 21, ToH: 22.5}}; !slices.Equal(b.Hours, want) {
		t.Fatalf("a drag gave %v", b.Hours)
	}
	b.start(16) // from inside 8 to 9: takes off
	b.over(17)
	h.apply(b)
	b.lift()
	if want := []plan.Window{{FromH: 20, ToH: 20.5}, {FromH: 21, ToH: 22.5}}; !slices.Equal(b.Hours, want) {
		t.Fatalf("a drag from inside gave %v", b.Hours)
	}
}

func TestCellAt(t *testing.T) {
	for _, c := range []struct {
		x, y float64
		want int
	}{{0, 0, 0}, {0.999, 0.2, 23}, {0, 0.6, 24}, {1, 1, 47}, {-3, 0.1, 0}, {9, 0.9, 47}, {0.5, 0.4, 12}} {
		if got := cellAt(c.x, c.y); got != c.want {
			t.Errorf("%g, %g: cell %d, want %d", c.x, c.y, got, c.want)
		}
	}
}

func TestHoursBarReadsOut(t *testing.T) {
	b := &HoursBar{Host: newHand(), Pointer: at, Hours: []plan.Window{{FromH: 22, ToH: 6.25}}}
	html := app.HTMLString(b.Render())
	for _, want := range []string{
		`role="listbox"`, `aria-label="22:00 to 22:30"`, `id="gear-0-hours-cell-47"`,
		`data-state="part"`, "22:00\u2060–\u206006:15", `id="gear-0-hours-0-from_h"`, `id="gear-0-hours-0-remove"`,
	} {
		if !strings.Contains(html, want) {
			t.Errorf("%s is missing in\n%s", want, html)
		}
	}
	if n := strings.Count(html, `role="option"`); n != 48 {
		t.Errorf("%d options", n)
	}
	if n := strings.Count(html, `data-state="on"`); n != 16 {
		t.Errorf("%d cells on, want 16", n)
	}
}

func TestClockSteps(t *testing.T) {
	for _, c := range []struct {
		text string
		by   float64
		want string
	}{{"22:30", 0.25, "22:45"}, {"00:00", -0.25, "23:45"}, {"24:00", 0.25, "00:15"}, {"06:10", 0.25, "06:30"}} {
		h := newHand()
		(&Clock{Host: h, Pointer: at + "/0/from_h", Text: c.text}).step(c.by)
		if got := h.entered[at+"/0/from_h"]; got != c.want {
			t.Errorf("%s %+g: %q, want %q", c.text, c.by, got, c.want)
		}
	}
}
