package e2e

import (
	"slices"
	"testing"

	"github.com/chromedp/chromedp"
)

const version = `goappGetenv("GOAPP_VERSION")`

func TestNewVersionWaitsForTheTap(t *testing.T) {
	s := serveOwn(t, "one")
	b := launch(t, "")
	p := b.open(t, s.URL)
	p.saved()
	first := eval[string](p, version)

	// Caches that are not this app's must stay.
	foreign := []string{"other", "duskline /elsewhere/ " + first}
	for _, name := range foreign {
		eval[any](p, `caches.open("`+name+`").then(c => c.put("/x", new Response("x")))`)
	}

	export(t, s.dir, "two")
	p.reload()
	p.until(`dusklineUpdate.state === "ready"`)
	if got := eval[string](p, version); got != first {
		t.Fatalf("version %s runs before the tap, want %s", got, first)
	}
	// A second tab, and the same tab again, stay with the old version too.
	other := b.open(t, s.URL+"plans/")
	if got := eval[string](other, version); got != first {
		t.Errorf("a new tab runs %s before the tap", got)
	}
	p.reload()
	p.until(`dusklineUpdate.state === "ready"`) // told again after a reload
	if got := eval[string](p, version); got != first {
		t.Errorf("after a reload %s runs before the tap", got)
	}

	p.do(chromedp.Evaluate[chromedp.Void](`globalThis.mark = 1`))
	p.until(`document.getElementById("take-over")?.checkVisibility()`) // the person is told
	p.click("#take-over")
	p.until(version + ` !== "` + first + `"`)
	p.started()
	if eval[bool](p, `"mark" in globalThis`) {
		t.Error("the page was not loaded anew")
	}
	var keys []string
	wait(t, func() bool {
		keys = eval[[]string](p, `caches.keys()`)
		return !slices.ContainsFunc(keys, func(k string) bool { return k == "duskline / "+first })
	}, "the old version's cache to go")
	for _, name := range foreign {
		if !slices.Contains(keys, name) {
			t.Errorf("the cache %q of another app is gone: %q", name, keys)
		}
	}
	if len(keys) != len(foreign)+1 {
		t.Errorf("caches after the switch: %q", keys)
	}

	// The second tab goes on until its own person taps.
	other.until(`dusklineUpdate.state === "switched"`)
	if got := eval[string](other, version); got != first {
		t.Errorf("the other tab was loaded anew and runs %s", got)
	}
	other.click("#reload")
	other.until(version + ` !== "` + first + `"`)
	other.started()

	s.kill()
	p.allow(gone)
	p.reload()
	if got := eval[string](p, version); got == first {
		t.Error("the old version is back offline")
	}
}

func TestDamagedNewVersionLeavesTheOldOne(t *testing.T) {
	s := serveOwn(t, "one")
	b := launch(t, "")
	p := b.open(t, s.URL)
	p.saved()
	first := eval[string](p, version)
	before := eval[[]string](p, `caches.keys()`)

	export(t, s.dir, "two")
	damage(t, s.dir)
	p.allow(`integrity|Failed to find a valid digest`)
	p.do(chromedp.Evaluate[chromedp.Void](`globalThis.states = [], addEventListener("dusklineUpdate", e => states.push(e.detail.state))`))
	eval[any](p, `navigator.serviceWorker.getRegistration().then(r => r.update()).then(() => 1, () => 1)`)
	p.until(`dusklineUpdate.state === "failed"`)
	if eval[bool](p, `document.getElementById("take-over") !== null`) {
		t.Error("a damaged version is offered")
	}

	s.kill()
	p.allow(gone)
	p.reload()
	if got := eval[string](p, version); got != first {
		t.Errorf("version %s after a damaged update, want %s", got, first)
	}
	if after := eval[[]string](p, `caches.keys()`); len(after) != len(before) {
		t.Errorf("caches %q, were %q: the damaged version left something", after, before)
	}

	// Mended, the new version arrives.
	s = s.again(t)
	export(t, s.dir, "two")
	p.reload()
	p.until(`dusklineUpdate.state === "ready"`)
}
