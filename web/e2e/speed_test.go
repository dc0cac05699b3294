package e2e

import (
	"fmt"
	"slices"
	"strconv"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// TestEditToRedraw measures from a changed number to the painted new answer,
// on a page whose processor is slowed to a quarter, and prints the median.
// The target is 100 ms; the bound of the test is ten times that, so that it
// fails for a page that froze and not for a busy machine.
func TestEditToRedraw(t *testing.T) {
	s := serve(t)
	p := launch(t, "").openPhone(t, s.URL)
	p.planReady()
	p.saved()
	field := p.device() + "-power_W"
	if _, err := chromedp.Call(p.ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 4}); err != nil {
		t.Fatal(err)
	}
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
	var times []float64
	for i := range 25 {
		ms := eval[float64](p, fmt.Sprintf(once, quote(field), quote(strconv.Itoa(10+i))))
		if i >= 5 { // the first runs compile
			times = append(times, ms)
		}
	}
	slices.Sort(times)
	median := times[len(times)/2]
	t.Logf("edit to redraw at 4x CPU throttle: median %.0f ms, worst %.0f ms of %d; target 100 ms", median, times[len(times)-1], len(times))
	if median > 1000 {
		t.Errorf("an edit takes %.0f ms", median)
	}
}
