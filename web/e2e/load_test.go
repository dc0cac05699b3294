package e2e

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"duskline/app/room"
)

// routes are the app's pages as they stand in an address: every room, so that
// a new one is tested without a line here.
var routes = func() (list []string) {
	for _, p := range room.Places {
		list = append(list, strings.TrimPrefix(p.Path, "/"))
	}
	return list
}()

func TestEveryRouteLoadsWithASilentConsole(t *testing.T) {
	s := serve(t)
	b := launch(t, "")
	for _, route := range routes {
		p := b.open(t, s.URL+route)
		p.saved()
		if title := eval[string](p, `document.title`); !strings.Contains(title, "Duskline") {
			t.Errorf("%s: title %q", route, title)
		}
	}
	p := b.openPhone(t, s.URL)
	if w := eval[int](p, `document.documentElement.scrollWidth`); w > 360 {
		t.Errorf("the page is %d px wide on a phone of 360", w)
	}
}

// The watch on the console must itself be seen to work.
func TestAStyleAttributeIsBlockedAndSeen(t *testing.T) {
	s := serve(t)
	p := launch(t, "").open(t, s.URL)
	p.do(chromedp.Evaluate[chromedp.Void](`document.body.setAttribute("style", "color: red")`))
	p.do(chromedp.Evaluate[chromedp.Void](`console.error("seen"), setTimeout(() => { throw new Error("thrown") })`))
	for _, want := range []string{"Content Security Policy", "seen", "thrown"} {
		p.untilConsole(want)
		p.allow(want)
	}
}

func TestFirstVisitFetchesNothingTwice(t *testing.T) {
	s := serve(t)
	p := launch(t, "").open(t, s.URL)
	p.saved()
	count := map[string]int{}
	for _, line := range s.log() {
		if m := regexp.MustCompile(`^GET "/(asset/[^"]*)" 200`).FindStringSubmatch(line); m != nil {
			count[m[1]]++
		}
	}
	if len(count) < 8 {
		t.Errorf("only %d assets fetched: %v", len(count), s.log())
	}
	for name, n := range count {
		if n != 1 {
			t.Errorf("%s fetched %d times", name, n)
		}
	}
	if !slices.ContainsFunc(s.log(), func(l string) bool {
		return strings.Contains(l, ".wasm") && strings.Contains(l, " 200 br ")
	}) {
		t.Error("the program did not come as brotli")
	}
}

func TestDamagedFragmentDoesNotEndTheApp(t *testing.T) {
	s := serve(t)
	b := launch(t, "")
	p := b.open(t, s.URL+"#%zz")
	if got := eval[string](p, `location.hash`); got != "#%25zz" {
		t.Errorf("fragment is %q: what was in the link should be kept, escaped", got)
	}
	p.do(chromedp.Evaluate[chromedp.Void](`location.hash = "#100%"`))
	p.until(`location.hash === "#100%25"`)
	p.started()
	alive(p)
}

func TestOtherLinksAreTheBrowsers(t *testing.T) {
	s := serve(t)
	p := launch(t, "").open(t, s.URL)
	for _, href := range []string{"tel:+10000000", "mailto:nobody@example.org", "sms:+10000000", "geo:1,2"} {
		// The click must not reach the Go side, which would end on it. That it
		// is prevented here keeps the browser from asking for a program.
		p.do(chromedp.Evaluate[chromedp.Void](`(() => {
			const a = document.createElement("a");
			a.href = ` + "`" + href + "`" + `;
			a.textContent = "x";
			document.body.append(a);
			a.addEventListener("click", e => e.preventDefault());
			a.click();
			a.remove();
		})()`))
		alive(p)
	}
	if got := eval[string](p, `location.href`); got != s.URL {
		t.Errorf("the address became %s", got)
	}
}

// When the program ends on a fault of its own, the page says so and offers a
// new start. go-app ends on an address that the browser refuses; the guard in
// boot.js keeps links from that, and this goes around the guard.
func TestAFaultOfTheProgramIsSaid(t *testing.T) {
	s := serve(t)
	p := launch(t, "").open(t, s.URL)
	p.saved()
	p.allow(`.`)
	p.do(chromedp.Evaluate[chromedp.Void](`setTimeout(() => goappNav("tel:1"))`))
	p.until(`document.getElementById("boot-stopped").checkVisibility()`)
	p.click("#boot-stopped a")
	p.started()
	alive(p)
}

// alive checks that the Go program still runs: it answers a navigation.
func alive(p *tab) {
	p.t.Helper()
	before := eval[string](p, `location.href`)
	p.do(chromedp.Evaluate[chromedp.Void](`goappNav(new URL(goappGetenv("GOAPP_ROOT_PREFIX") + "/plans/", location.href).href)`))
	p.until(`location.pathname.endsWith("/plans/")`)
	p.do(chromedp.Evaluate[chromedp.Void](`goappNav(` + "`" + before + "`" + `)`))
	p.until(`location.href === ` + "`" + before + "`")
	p.started()
}

func (p *tab) untilConsole(part string) {
	p.t.Helper()
	wait(p.t, func() bool {
		return slices.ContainsFunc(p.complaints(), func(l string) bool { return strings.Contains(l, part) })
	}, "console line with "+part)
}
