package e2e

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// astray lists what a screen reader would stumble over: two elements of one
// id, a reference to an element that is not there, a control without a name, a
// level of titles left out.
const astray = `(() => {
	const off = [], all = [...document.querySelectorAll("body *")].filter(e => !e.closest("[hidden], noscript"));
	const ids = {};
	for (const e of document.querySelectorAll("[id]")) ids[e.id] = (ids[e.id] ?? 0) + 1;
	for (const id in ids) if (ids[id] > 1) off.push("id twice: " + id);
	const name = e => e.id || e.tagName + "." + e.className;
	for (const e of all) {
		for (const a of ["aria-describedby", "aria-labelledby", "aria-activedescendant", "for"]) {
			for (const id of (e.getAttribute(a) ?? "").split(/\s+/).filter(Boolean)) if (!ids[id]) off.push(name(e) + ": " + a + " leads to no " + id);
		}
		// What is folded away need not be there.
		const c = e.getAttribute("aria-controls");
		if (c && !ids[c] && e.getAttribute("aria-expanded") !== "false") off.push(name(e) + ": aria-controls leads to no " + c);
		if (e.matches("button, input, select, textarea, a[href], [role=listbox], [role=progressbar], [role=img], [role=region]")) {
			const said = e.getAttribute("aria-label") || (e.getAttribute("aria-labelledby") ?? "").split(/\s+/).map(i => document.getElementById(i)?.textContent ?? "").join("")
				|| [...(e.labels ?? [])].map(l => l.textContent).join("") || (e.matches("button, a") ? e.textContent : "");
			if (!said.trim()) off.push(name(e) + ": has no name");
		}
	}
	let level = 0;
	for (const e of all.filter(e => e.matches("h1, h2, h3, h4, h5, h6"))) {
		const n = +e.tagName[1];
		if (level && n > level + 1) off.push(e.textContent.slice(0, 30) + ": title of level " + n + " after " + level);
		level = n;
	}
	return off;
})()`

// Every fold, with all that can be unfolded in it.
func TestNothingIsAstrayForAScreenReader(t *testing.T) {
	s := serve(t)
	b := launch(t, "")
	for _, wide := range []int64{360, 1280} {
		p := b.tab(t)
		p.do(chromedp.EmulateViewport(wide, 900))
		p.goTo(s.URL)
		p.planReady()
		look := func(what string) {
			t.Helper()
			if off := eval[[]string](p, astray); len(off) > 0 {
				t.Errorf("%d px, %s:\n%s", wide, what, strings.Join(off, "\n"))
			}
		}
		look("as it comes")
		for _, f := range []string{"case", "sky", "panels", "trip"} {
			p.unfold(f)
		}
		p.device()
		p.click("#panels-list-0-row")
		p.until(`document.querySelector("[id^=best-][id$=-others]")`)
		look("all folds")
		for _, more := range []string{"[id^=best-][id$=-others]", "#sky-figures-fold", "#numbers-fold", "#light-numbers-fold", "#ring-numbers-fold", "#horizon-exact"} {
			p.click(more)
		}
		p.enter("sky-find", "bern")
		p.until(townsFound + ` > 1`)
		look("all unfolded")
		for _, light := range []string{"peak_sun_hours", "last_three_days", "clear_sky_index", "weather_file"} {
			p.choose("sky-light", light)
			p.until(`document.getElementById("sky-light").value === ` + quote(light))
			look(light)
		}
		p.choose("panels-list-0-lie", "turned")
		p.choose("trip-zone", "other")
		p.until(`document.getElementById("trip-zone_name") && document.getElementById("panels-list-0-aims_per_day")`)
		look("turned, another zone")
	}
	for _, route := range routes {
		p := b.open(t, s.URL+route)
		if off := eval[[]string](p, astray); len(off) > 0 {
			t.Errorf("/%s:\n%s", route, strings.Join(off, "\n"))
		}
	}
}
