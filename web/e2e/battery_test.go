package e2e

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// The cards under a battery's marks: read a moment after the Case is unfolded,
// and anew after an edit.

// careReady waits until all cards are read.
func (p *tab) careReady() {
	p.t.Helper()
	p.unfold("case")
	p.until(`document.querySelector("#tide svg") && document.getElementById("alarm-advice") && document.getElementById("life")`)
}

// unfoldCare opens the cards that fold.
func (p *tab) unfoldCare() {
	p.t.Helper()
	for id, inside := range map[string]string{"after-alarm": "#steps", "standing": "#standing svg", "life": "#life svg"} {
		if !eval[bool](p, `document.getElementById("care-`+id+`").getAttribute("aria-expanded") === "true"`) {
			p.click("#care-" + id)
		}
		p.until(`document.querySelector(` + quote(inside) + `)`)
	}
}

const (
	alarmField = "case-battery-alarm_V"
	alarmMark  = `document.querySelector('#tide [data-s="alarm-name"]').textContent`
)

// The gauge and the alarm's setting go with the plan, on a phone without a
// signal: the mark moves, the setting is taken over and taken back.
func TestAlarmIsSetFromItsCardOffline(t *testing.T) {
	p := phoneOffline(t)
	p.careReady()
	answer := eval[string](p, `document.getElementById("tide").innerHTML`)
	p.enter(alarmField, "13")
	p.until(`document.getElementById("alarm-use") && ` + alarmMark + `.includes("13") && document.getElementById("alarm").innerText.includes("False alarm")`)
	if eval[string](p, `document.getElementById("tide").innerHTML`) == answer {
		t.Error("another mark gives the same gauge")
	}
	p.click("#alarm-use")
	p.until(`document.getElementById("alarm-undo") && document.getElementById("` + alarmField + `").value !== "13"`)
	set := eval[string](p, `document.getElementById("`+alarmField+`").value`)
	p.until(alarmMark + `.includes(` + quote(set) + `) && !document.getElementById("alarm-use")`)
	p.click("#alarm-undo")
	p.until(`document.getElementById("` + alarmField + `").value === "13" && document.getElementById("alarm-use")`)
	if eval[bool](p, `!!document.getElementById("alarm-undo")`) {
		t.Error("what was taken back can be taken back again")
	}

	// Any other setting from the table.
	p.click("#alarm-all-fold")
	p.until(`document.querySelectorAll("#table-alarms tbody button").length > 4`)
	p.click("#table-alarms tbody tr:nth-child(2) button")
	p.until(`document.getElementById("alarm-undo") && document.getElementById("` + alarmField + `").value === document.querySelector("#table-alarms tbody tr:nth-child(2) button").textContent.split(/\s/)[0]`)
}

// A battery of another kind has other volts, and other harm.
func TestCardsFollowTheKindOfBattery(t *testing.T) {
	s := serve(t)
	p := launch(t, "").open(t, s.URL)
	p.planReady()
	p.careReady()
	p.unfoldCare()
	sentence := `document.querySelector("#tide .reading").textContent`
	flat := eval[string](p, sentence)
	p.choose("case-battery-chemistry", "AGM")
	p.until(sentence + ` !== ` + quote(flat))
	p.until(`document.getElementById("table-standing-as_switched").textContent.includes("sulfation")`)
}

// The storage clock goes by the charge at which the Case is put away.
func TestStorageClockGoesByItsCharge(t *testing.T) {
	s := serve(t)
	p := launch(t, "").openPhone(t, s.URL)
	p.planReady()
	p.careReady()
	p.unfoldCare()
	picture := `document.querySelector("#standing svg").innerHTML`
	trip := eval[string](p, picture)
	p.click(`label[for="storage-from-flat"]`)
	p.until(picture + ` !== ` + quote(trip))
	p.click(`label[for="storage-from-trip"]`)
	p.until(picture + ` === ` + quote(trip))
}

// Nothing runs off the side or goes astray with all unfolded; every picture
// has its table.
func TestBatteryCardsAreSound(t *testing.T) {
	s := serve(t)
	b := launch(t, "")
	for _, wide := range []int64{320, 360, 1280} {
		p := b.tab(t)
		p.do(chromedp.EmulateViewport(wide, 900))
		p.goTo(s.URL)
		p.planReady()
		p.careReady()
		look := func(what string) {
			t.Helper()
			if off := eval[[]string](p, astray); len(off) > 0 {
				t.Errorf("%d px, %s:\n%s", wide, what, strings.Join(off, "\n"))
			}
			if w := eval[int64](p, `document.documentElement.scrollWidth`); w > wide {
				t.Errorf("%d px, %s: the page is %d px wide", wide, what, w)
			}
		}
		look("as they come")
		p.unfoldCare()
		look("unfolded")
		for _, id := range []string{"tide", "standing", "life"} {
			if eval[bool](p, `document.getElementById("`+id+`-numbers").checkVisibility() && !document.querySelector("#`+id+`-numbers.unseen")`) {
				t.Errorf("%s: its table is in view before it is asked for", id)
			}
			p.click("#" + id + "-numbers-fold")
			p.until(`document.querySelector("#` + id + `-numbers:not(.unseen) table tbody tr")`)
		}
		p.click("#alarm-all-fold")
		p.until(`document.querySelector("#table-alarms button")`)
		look("with tables")
		if h := eval[float64](p, `Math.min(...[...document.querySelectorAll("#battery-care button")].map(e => e.getBoundingClientRect().height))`); h < 43.9 {
			t.Errorf("%d px: a button is %.0f px high", wide, h)
		}
	}
}

// An edit with the Case and all its cards unfolded, on a processor slowed to a
// quarter: the time to the answer, and the longest that the page is held up
// afterwards, while the cards are read. Target 100 ms each; the bounds are ten
// times that, for busy machines.
func TestEditWithBatteryCardsOpen(t *testing.T) {
	s := serve(t)
	p := launch(t, "").openPhone(t, s.URL)
	p.planReady()
	p.saved()
	p.careReady()
	p.unfoldCare()
	if _, err := chromedp.Call(p.ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 4}); err != nil {
		t.Fatal(err)
	}
	median, worst := p.edits("case-battery-capacity_Ah")
	t.Logf("capacity, Case open with all cards: edit to redraw at 4x CPU throttle: median %.0f ms, worst %.0f ms; target 100 ms", median, worst)
	if median > 1000 {
		t.Errorf("an edit takes %.0f ms", median)
	}
	var held []float64
	for i := range 8 {
		held = append(held, eval[float64](p, fmt.Sprintf(`(async () => {
			let longest = 0;
			const o = new PerformanceObserver(l => { for (const e of l.getEntries()) if (e.startTime > from) longest = Math.max(longest, e.duration) });
			const field = document.getElementById("case-battery-capacity_Ah");
			field.value = "%d";
			field.dispatchEvent(new Event("input", { bubbles: true }));
			await new Promise(ok => setTimeout(ok, 200)); // the answer is there
			const from = performance.now();
			o.observe({ entryTypes: ["longtask"] });
			await new Promise(ok => setTimeout(ok, 1500));
			o.disconnect();
			return longest;
		})()`, 40+i)))
		time.Sleep(100 * time.Millisecond)
	}
	slices.Sort(held)
	t.Logf("the page is held up afterwards for %.0f ms at most, median of %d edits (0: under 50); worst %.0f ms; target 100 ms", held[len(held)/2], len(held), held[len(held)-1])
	if held[len(held)/2] > 1000 {
		t.Errorf("the page stands still for %.0f ms", held[len(held)/2])
	}
}
