package e2e

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// What a person does who has not read anything first.

// Another kind of battery is one choice: its volts come with it, the page says so
// and goes back.
func TestAnotherKindOfBatteryIsOneChoice(t *testing.T) {
	s := serve(t)
	p := launch(t, "").openPhone(t, s.URL)
	p.planReady()
	p.unfold("case")
	const marks = `["charge", "alarm", "cutoff", "reconnect"].map(m => document.getElementById("case-battery-" + m + "_V").value).join(" ")`
	own, before := eval[string](p, marks), p.answer()
	p.choose("case-battery-chemistry", "AGM")
	p.until(`document.getElementById("marks-moved")`)
	if got := eval[string](p, marks); got == own {
		t.Errorf("the volts stay at %s", got)
	}
	if p.answer() == before {
		t.Error("AGM gives the answer of lithium")
	}
	if fault := eval[string](p, `[...document.querySelectorAll("#case .fault")].map(e => e.textContent).join("")`); fault != "" {
		t.Errorf("refused: %s", fault)
	}
	p.click("#marks-undo")
	p.until(`!document.getElementById("marks-moved")`)
	if got := eval[string](p, marks); got != own {
		t.Errorf("back at %s, want %s", got, own)
	}
	p.until(`document.getElementById("case-battery-chemistry").value === "LiFePO4"`)
	p.until(`document.activeElement.id === "case-battery-chemistry"`)
}

// One's own plan says that its place is not set, and leads to where it is.
func TestOwnPlanAsksForItsPlace(t *testing.T) {
	s := serve(t)
	p := launch(t, "").openPhone(t, s.URL)
	p.planReady()
	p.click("#start-own")
	p.until(`document.getElementById("set-place")`)
	today := eval[string](p, `(d => d.getFullYear() + "-" + String(d.getMonth() + 1).padStart(2, "0") + "-" + String(d.getDate()).padStart(2, "0"))(new Date())`)
	time.Sleep(700 * time.Millisecond) // sooner would be the second tap of a double one
	p.click("#set-place")
	p.until(`document.activeElement.id === "sky-here"`)
	if !eval[bool](p, `(r => r.top > 60 && r.bottom < innerHeight - 60)(document.getElementById("sky-here").getBoundingClientRect())`) {
		t.Error("the way to the place ends where it is not seen")
	}
	p.click("#sky-figures-fold")
	p.enter("sky-latitude_deg", "-33.9")
	p.until(`!document.getElementById("placeless")`)
	p.unfold("trip")
	if got := eval[string](p, `document.getElementById("trip-start-date").value`); got != today {
		t.Errorf("starts on %s, today is %s", got, today)
	}
}

// Mine and the example: the first change says which is which, and undo leaves
// the example as it was, with what was changed one more undo away.
func TestAnEditedExampleCanBeUndone(t *testing.T) {
	s := serve(t)
	p := launch(t, "").openPhone(t, s.URL)
	p.planReady()
	example := eval[string](p, `document.querySelector("#reason strong").textContent`)
	field := p.device() + "-power_W"
	p.enter(field, "61.5")
	p.until(`document.getElementById("notice") && !document.getElementById("example")`)
	if got := eval[string](p, `document.querySelector("#reason strong").textContent`); got == example {
		t.Errorf("my plan is called %q, as the example", got)
	}
	p.click("#undo")
	p.until(`document.getElementById("example")`)
	p.until(`document.querySelector("#reason strong").textContent === ` + quote(example))
	p.click("#undo")
	p.until(`!document.getElementById("example")`)
	if got := eval[string](p, `document.getElementById("`+p.device()+`-power_W").value`); got != "61.5" {
		t.Errorf("brought back with %s W", got)
	}
}

// A value that is not taken is found again from the answer, wherever it lies.
func TestTheAnswerLeadsToTheValueNotTaken(t *testing.T) {
	s := serve(t)
	p := launch(t, "").openPhone(t, s.URL)
	p.planReady()
	field := p.device() + "-power_W"
	p.enter(field, "1e9")
	p.until(`document.getElementById("go-to")`)
	p.click("#gear-fold")
	p.until(`!document.getElementById("gear-body")`)
	p.click("#go-to")
	p.until(`document.activeElement.id === ` + quote(field))
	if got := eval[string](p, `document.activeElement.value`); got != "1e9" {
		t.Errorf("found with %q in it", got)
	}
}

// Everything deleted is no dead end.
func TestNothingLeftIsNoDeadEnd(t *testing.T) {
	s := serve(t)
	p := launch(t, "").openPhone(t, s.URL)
	p.planReady()
	for _, list := range []string{"gear", "panels"} {
		p.unfold(list)
		at := list
		if list == "panels" {
			at = "panels-list"
		}
		for range 10 {
			row := "#" + at + "-0-row"
			if !eval[bool](p, fmt.Sprintf(`!!document.querySelector(%q)`, row)) {
				break
			}
			if !eval[bool](p, fmt.Sprintf(`document.querySelector(%q).getAttribute("aria-expanded") === "true"`, row)) {
				p.click(row)
			}
			n := eval[int](p, `document.querySelectorAll("#`+list+` .entry").length`)
			p.click("#" + at + "-0-remove")
			p.until(fmt.Sprintf(`document.querySelectorAll("#%s .entry").length === %d`, list, n-1))
		}
	}
	for _, code := range []string{"no_gear", "no_panels"} {
		p.until(`document.querySelector('[data-code="` + code + `"]')`)
	}
	p.click("#panels-list-undo")
	p.until(`document.querySelector("#panels .entry")`)
	p.click("#gear-add")
	p.click("#add-lamp")
	p.until(`document.activeElement.id === "gear-0-name"`)
}

// Sizes and looks at which nothing may run off the side.
func TestNothingRunsOffTheSide(t *testing.T) {
	s := serve(t)
	b := launch(t, "")
	for _, c := range []struct {
		wide int64
		em   string // letters: the person's own size, in pixels
	}{{320, ""}, {360, "32px"}, {320, "32px"}, {900, ""}} {
		p := b.tab(t)
		p.do(chromedp.EmulateViewport(c.wide, 740, chromedp.EmulateMobile))
		p.goTo(s.URL)
		p.planReady()
		if c.em != "" {
			p.do(chromedp.Evaluate[chromedp.Void](`{ const s = new CSSStyleSheet(); s.replaceSync("html { font-size: ` + c.em + ` }"); document.adoptedStyleSheets.push(s); dispatchEvent(new Event("resize")) }`))
		}
		for _, f := range []string{"case", "sky", "panels", "trip"} {
			p.unfold(f)
		}
		p.device()
		p.click("#gear-add")
		p.click("#numbers-fold")
		p.until(`document.querySelector("#numbers:not(.unseen)")`)
		off := eval[[]string](p, `(() => {
			const wide = document.documentElement.clientWidth, off = [];
			for (const e of document.querySelectorAll("body *")) {
				const r = e.getBoundingClientRect();
				if (r.width && r.right > wide + 1 && !e.closest(".table, .rooms, svg")) off.push(e.tagName + " " + (e.id || e.className) + " ends at " + Math.round(r.right));
			}
			if (document.documentElement.scrollWidth > wide) off.push("the page scrolls sideways");
			return off.slice(0, 5);
		})()`)
		// Numbers beside the longest unit are seen whole, at the size of letters
		// they were designed for and at twice that.
		p.choose("sky-light", "peak_sun_hours")
		p.until(`document.getElementById("sky-peak_sun_hours-0")`)
		off = append(off, eval[[]string](p, `[...document.querySelectorAll(".box > input")].filter(e => e.checkVisibility() && e.scrollWidth > e.clientWidth)
			.map(e => e.id + " shows " + e.clientWidth + " of " + e.scrollWidth + " px of " + e.value)`)...)
		if len(off) > 0 {
			t.Errorf("%d px, letters %q:\n%s", c.wide, c.em, strings.Join(off, "\n"))
		}
	}
}
