package e2e

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// The plan room as a person works it. Elements are found by the ids that the
// rooms give them: a field by its place in the document ("gear-0-power_W").

// planReady waits until the plan room shows an Outlook.
func (p *tab) planReady() {
	p.t.Helper()
	p.until(`document.querySelector("#verdict")?.dataset.verdict && document.querySelector("#strip svg")`)
}

// click clicks like a person: the element is scrolled to where no bar covers
// it, and hit at its middle when it has stopped moving. A page may still move
// while its letters come, or below a line that comes or goes.
func (p *tab) click(css string) {
	p.t.Helper()
	p.until(`(async css => {
		const e = document.querySelector(css);
		if (!e?.checkVisibility()) return false;
		const place = () => { const r = e.getBoundingClientRect(); return [r.left + r.width / 2, r.top + r.height / 2] };
		const moment = () => new Promise(ok => setTimeout(ok, 40)); // a tab in the back has no frames
		await document.fonts.ready;
		e.scrollIntoView({ block: "center", behavior: "instant" });
		await moment();
		const [x, y] = place();
		await moment();
		const [u, v] = place();
		return x === u && y === v && e.contains(document.elementFromPoint(x, y));
	})(` + quote(css) + `)`)
	p.do(chromedp.Click(chromedp.CSS(css), chromedp.NodeVisible))
}

// enter types a value into a field in place of what is there.
func (p *tab) enter(id, text string) {
	p.t.Helper()
	p.until(fmt.Sprintf(`document.getElementById(%q)`, id))
	p.do(
		chromedp.Focus(chromedp.CSS("#"+id)),
		chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`document.getElementById(%q).select()`, id)),
		chromedp.KeyEvent(text),
	)
	p.until(fmt.Sprintf(`document.getElementById(%q).value === %q`, id, text))
}

// unfold opens a section of the plan.
func (p *tab) unfold(section string) {
	p.t.Helper()
	if !eval[bool](p, `document.getElementById("`+section+`-fold").getAttribute("aria-expanded") === "true"`) {
		p.click("#" + section + "-fold")
	}
	p.until(`document.getElementById("` + section + `-body")`)
}

// device opens the first device that is given in watts and answers with the
// start of its fields' ids.
func (p *tab) device() string {
	p.t.Helper()
	p.unfold("gear")
	n := eval[int](p, `document.querySelectorAll("#gear-list > li").length`)
	for i := range n {
		id := fmt.Sprintf("gear-%d", i)
		p.click("#" + id + "-row")
		p.until(`document.getElementById("` + id + `-name")`)
		if eval[bool](p, `document.getElementById("`+id+`-power_W") !== null`) {
			return id
		}
	}
	p.t.Fatal("no device in watts")
	return ""
}

// answer is the Outlook as it is shown: everything above the plan. Each key
// redraws it, so it is read when it has been the same for a while.
func (p *tab) answer() string {
	p.t.Helper()
	const same = 300 * time.Millisecond
	text, since := "", time.Now()
	wait(p.t, func() bool {
		now := eval[string](p, `document.getElementById("outlook").textContent`)
		if now != text {
			text, since = now, time.Now()
		}
		return time.Since(since) > same
	}, "an Outlook that stays")
	return text
}

func TestFirstStartShowsAnExampleAndSaysSo(t *testing.T) {
	s := serve(t)
	p := launch(t, "").openPhone(t, s.URL)
	p.planReady()
	if !eval[bool](p, `document.getElementById("example").checkVisibility() && document.getElementById("start-own") !== null`) {
		t.Error("nothing says that this is an example")
	}
	if w := eval[int](p, `document.documentElement.scrollWidth`); w > 360 {
		t.Errorf("the page is %d px wide on a phone of 360", w)
	}
	// The figures behind the picture stand beside it for a screen reader, and
	// for everybody once they are unfolded.
	p.until(`document.querySelectorAll("#table-strip tbody tr").length > 10`)
	if eval[bool](p, `document.getElementById("table-strip").getBoundingClientRect().width > 0 && document.querySelector("#numbers.unseen") === null`) {
		t.Error("the table takes room before it is asked for")
	}
	p.click("#numbers-fold")
	p.until(`document.querySelector("#numbers:not(.unseen)") && document.getElementById("numbers").offsetHeight > 400`)
	p.click("#numbers-fold")
	p.until(`document.getElementById("numbers").offsetHeight < 10`)

	before := p.answer()
	p.do(chromedp.Tap(chromedp.CSS("#start-own")))
	p.until(`!document.getElementById("start-own")`)
	p.planReady()
	if p.answer() == before {
		t.Error("one's own plan gives the example's answer")
	}
}

func TestEveryEditRedrawsAndABadValueIsRefused(t *testing.T) {
	s := serve(t)
	p := launch(t, "").open(t, s.URL)
	p.planReady()
	field := p.device() + "-power_W"
	before := p.answer()
	p.enter(field, "61.5")
	p.until(`document.getElementById("outlook").textContent !== ` + quote(before))

	good := p.answer()
	for _, bad := range []string{"x", "-3", "1e9"} {
		p.enter(field, bad)
		p.until(`document.getElementById("` + field + `-fault").textContent.length > 10`)
		p.until(`document.getElementById("` + field + `").getAttribute("aria-invalid") === "true"`)
		p.until(`document.getElementById("stale")`)
		if got := eval[string](p, `document.getElementById("verdict").textContent`); !strings.HasPrefix(good, got) {
			t.Errorf("%q: the verdict became %q", bad, got)
		}
	}
	p.enter(field, "61.5")
	p.until(`document.getElementById("` + field + `-fault").textContent === "" && !document.getElementById("stale")`)
	if got := p.answer(); got != good {
		t.Errorf("the same value again gives another answer:\n%s\n%s", got, good)
	}
}

// The promise of the app: one visit, then no server for ever, and what was
// changed is still there.
func TestOfflineEditIsThereAfterReload(t *testing.T) {
	s := serve(t)
	b := launch(t, "")
	first := b.open(t, s.URL)
	first.planReady()
	first.saved()
	s.kill()

	p := b.tab(t)
	p.allow(gone)
	p.goTo(s.URL)
	p.planReady()
	field := p.device() + "-power_W"
	before := p.answer()
	p.enter(field, "73.5")
	p.until(`document.getElementById("outlook").textContent !== ` + quote(before))
	after := p.answer()
	kept(p)

	p.reload()
	p.planReady()
	if got := p.answer(); got != after {
		t.Errorf("after the reload:\n%s\nbefore:\n%s", got, after)
	}
	if got := eval[string](p, `document.getElementById("`+p.device()+`-power_W").value`); got != "73.5" {
		t.Errorf("the device draws %s W, want 73.5", got)
	}
	for _, route := range routes {
		q := b.tab(t)
		q.allow(gone)
		q.goTo(s.URL + route)
	}

	// And after the browser is killed.
	b.kill(t)
	again := launch(t, b.profile).tab(t)
	again.allow(gone)
	again.goTo(s.URL)
	again.planReady()
	if got := again.answer(); got != after {
		t.Errorf("after the browser was killed:\n%s\nbefore:\n%s", got, after)
	}
}

// kept waits until the plan shown is in the browser's storage, found there by
// a value that only the last edit has.
func kept(p *tab) {
	p.t.Helper()
	const look = `(async () => {
		for (const d of await indexedDB.databases()) {
			const db = await new Promise((ok, no) => { const r = indexedDB.open(d.name); r.onsuccess = () => ok(r.result); r.onerror = no });
			for (const s of db.objectStoreNames) {
				const all = await new Promise((ok, no) => { const r = db.transaction(s).objectStore(s).getAll(); r.onsuccess = () => ok(r.result); r.onerror = no });
				const text = all.map(v => JSON.stringify(v, (k, x) => x instanceof Uint8Array ? new TextDecoder().decode(x) : x)).join();
				if (text.includes("73.5")) { db.close(); return true }
			}
			db.close();
		}
		return JSON.stringify(localStorage).includes("73.5");
	})()`
	wait(p.t, func() bool { return eval[bool](p, look) }, "the edit in storage")
}

// Nothing of a plan may reach the server, not even in an address.
func TestNoPlanReachesTheServer(t *testing.T) {
	s := serve(t)
	p := launch(t, "").open(t, s.URL)
	p.planReady()
	p.saved()
	p.enter(p.device()+"-power_W", "61.5")
	for _, place := range []string{"plans", "sources", "plan"} {
		p.click("#room-" + place)
		p.started()
	}
	p.reload()
	p.planReady()
	known := siteFiles(t)
	asked := regexp.MustCompile(`^GET "/([^"]*)" (200|304) `)
	lines := s.log()
	for _, line := range lines {
		if m := asked.FindStringSubmatch(line); m == nil || !known[m[1]] {
			t.Errorf("the server was asked %s", line)
		}
	}
	if len(lines) < 10 {
		t.Errorf("the log has only %d lines", len(lines))
	}
}

// siteFiles are the addresses of the site's own files, without a slash in
// front.
func siteFiles(t *testing.T) map[string]bool {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(siteDir, "site.json"))
	if err != nil {
		t.Fatal(err)
	}
	var list struct{ Files map[string]string }
	if err := json.Unmarshal(text, &list); err != nil {
		t.Fatal(err)
	}
	known := map[string]bool{}
	for name := range list.Files {
		known[strings.TrimSuffix(name, "index.html")] = true
	}
	return known
}

func quote(s string) string {
	b, err := json.Marshal(s)
	if err != nil {
		panic(err) // a string always encodes
	}
	return string(b)
}
