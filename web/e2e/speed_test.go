package e2e

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// TestEditToRedraw measures from a changed number to the painted new answer,
// on a page whose processor is slowed to a quarter, and prints the median: with
// the page as it comes, with the Sky open, with the Panels, too, and with the
// Case, too: all there is.
// The target is 100 ms; the bound of the test is ten times that, so that it
// fails for a page that froze and not for a busy machine.
func TestEditToRedraw(t *testing.T) {
	s := serve(t)
	p := launch(t, "").openPhone(t, s.URL)
	p.planReady()
	p.saved()
	field := p.device() + "-power_W"
	throttle := func(rate float64) {
		t.Helper()
		if _, err := chromedp.Call(p.ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: rate}); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct{ name, unfold, field string }{
		{"a device, Gear open", "", field},
		{"a device, Sky open, too", "sky", field},
		{"the haze", "", "sky-linke_turbidity"},
		{"a device, Panels open, too", "panels", field},
		{"a panel's lean", "", "panels-list-0-tilt_deg"},
		{"a device, Case open, too", "case", field},
	} {
		throttle(1)
		if c.unfold != "" {
			p.unfold(c.unfold)
		}
		switch c.unfold {
		case "case":
			p.careReady()
		case "panels":
			p.click("#panels-list-0-row")
			p.until(`document.querySelector("[id^=best-][id$=-others]")`)
		}
		p.until(`document.getElementById(` + quote(c.field) + `)`)
		throttle(4)
		median, worst := p.edits(c.field)
		t.Logf("%s: edit to redraw at 4x CPU throttle: median %.0f ms, worst %.0f ms; target 100 ms", c.name, median, worst)
		if median > 1000 {
			t.Errorf("%s: an edit takes %.0f ms", c.name, median)
		}
	}
}

// look is how long a person looks at an answer. What comes after it, as the rest
// of the page and the search for the best lie, is done by then.
const look = 600 * time.Millisecond

// edits measures twenty edits of a number.
func (p *tab) edits(field string) (median, worst float64) {
	p.t.Helper()
	// One edit: set the value as typing does, then wait for the answer to
	// change and for the frame after it.
	const once = `(async (id, value) => {
		const field = document.getElementById(id);
		const outlook = document.getElementById("outlook");
		await new Promise(ok => requestAnimationFrame(() => requestAnimationFrame(ok)));
		const changed = new Promise(ok => {
			const o = new MutationObserver(() => { o.disconnect(); ok() });
			o.observe(outlook, { subtree: true, childList: true, characterData: true, attributes: true });
		});
		const start = performance.now();
		field.value = value;
		field.dispatchEvent(new Event("input", { bubbles: true }));
		await changed;
		await new Promise(ok => requestAnimationFrame(() => { const c = new MessageChannel(); c.port1.onmessage = ok; c.port2.postMessage(0) }));
		return performance.now() - start;
	})(%s, %s)`
	first := map[bool]float64{true: 2, false: 10}[strings.HasSuffix(field, "turbidity")]
	var times []float64
	for i := range 25 {
		value := strconv.FormatFloat(first+first*float64(i)/10, 'f', 1, 64)
		ms := eval[float64](p, fmt.Sprintf(once, quote(field), quote(value)))
		if i >= 5 { // the first runs compile
			times = append(times, ms)
		}
		time.Sleep(look)
	}
	slices.Sort(times)
	return times[len(times)/2], times[len(times)-1]
}
