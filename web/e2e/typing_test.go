package e2e

import (
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// strike presses keys one after the other without waiting for the page.
func (p *tab) strike(id, text string) {
	p.t.Helper()
	p.do(
		chromedp.Focus(chromedp.CSS("#"+id)),
		chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`document.getElementById(%q).select()`, id)),
	)
	for _, r := range text {
		c := string(r)
		go func() {
			_, _ = chromedp.Call(p.ctx, input.DispatchKeyEvent, input.DispatchKeyEventParams{Type: "char", Text: c, UnmodifiedText: c, Key: c})
		}()
		time.Sleep(10 * time.Millisecond)
	}
	p.until(fmt.Sprintf(`document.getElementById(%q).value.length >= %d`, id, len(text)-1))
	time.Sleep(300 * time.Millisecond) // a late drawing would take letters back now
	if got := eval[string](p, fmt.Sprintf(`document.getElementById(%q).value`, id)); got != text {
		p.t.Errorf("%s: typed %q, it holds %q", id, text, got)
	}
}

// Fingers are faster than a phone: no key is lost, in numbers, in names, in the
// search for a town.
func TestFastTypingLosesNothing(t *testing.T) {
	s := serve(t)
	p := launch(t, "").openPhone(t, s.URL)
	p.planReady()
	device := p.device()
	p.unfold("sky")
	p.enter("sky-find", "x")
	p.until(`(s => s && !s.includes("opened"))(document.getElementById("sky-find-said").textContent)`)
	for _, slow := range []float64{1, 6} {
		if _, err := chromedp.Call(p.ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: slow}); err != nil {
			t.Fatal(err)
		}
		p.strike(device+"-power_W", "123456")
		p.strike(device+"-name", "lamp in the tent")
		p.strike("sky-find", "kathmandu nepal")
	}
	// A word with the space behind it, before anything is drawn: whatever the
	// machine's pace, the space is there when the next letter comes.
	id := device + "-name"
	eval[bool](p, fmt.Sprintf(`((e) => { e.focus(); e.value = "cooler "; e.dispatchEvent(new Event("input", { bubbles: true })); return true })(document.getElementById(%q))`, id))
	p.until(`document.querySelector("#` + device + `-row .entry-name").textContent.startsWith("cooler")`)
	if got := eval[string](p, fmt.Sprintf(`document.getElementById(%q).value`, id)); got != "cooler " {
		t.Errorf("the space is lost: %q", got)
	}
}
