package e2e

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	permission "github.com/chromedp/cdproto/browser" // the package has a browser of its own
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// The place of a plan: by town, by a position that is typed, by the device.

// placed is what the page says of the plan's place.
func (p *tab) placed() string {
	p.t.Helper()
	return eval[string](p, `document.getElementById("sky-placed").textContent`)
}

// key presses one key where the keyboard is.
func (p *tab) key(k string) { p.t.Helper(); p.do(chromedp.KeyEvent(k)) }

const townsFound = `document.querySelectorAll("#sky-found [role=option]").length`

// At a campsite nobody has looked for a town before, and there is no signal.
func TestPlaceFirstTownSearchWithoutAServer(t *testing.T) {
	s := serve(t)
	p := launch(t, "").openPhone(t, s.URL)
	p.planReady()
	p.saved()
	if eval[bool](p, `performance.getEntriesByType("resource").some(r => r.name.includes("/towns."))`) {
		t.Error("the page loads the list before anybody looks for a town")
	}
	s.kill()
	p.allow(gone)
	p.unfold("sky")
	p.click("#sky-find")
	p.enter("sky-find", "катманду") // the letters of another country find nothing here
	p.until(`document.getElementById("sky-find-said").textContent.includes("No town")`)
	p.enter("sky-find", "काठ")
	p.until(townsFound + ` > 0 && document.querySelector("#sky-found-0").textContent.includes("काठ")`)
	p.enter("sky-find", "kathmandu")
	p.until(townsFound + ` > 0 && document.querySelector("#sky-found-0").textContent.includes("Nepal")`)
	p.until(`document.getElementById("sky-credit").checkVisibility() && document.getElementById("sky-credit").textContent.includes("GeoNames")`)
	if low := eval[bool](p, `[...document.querySelectorAll("#sky-found [role=option]")].some(e => e.getBoundingClientRect().height < 44)`); low {
		t.Error("a row is lower than a finger")
	}
	p.do(chromedp.Tap(chromedp.CSS("#sky-found-0")))
	p.until(`document.getElementById("sky-placed").textContent.includes("Kathmandu, Nepal")`)
	if got := p.placed(); !strings.Contains(got, "Asia/Kathmandu") || !strings.Contains(got, "1\u00a0300") && !strings.Contains(got, "1\u202f300") && !strings.Contains(got, "1 300") {
		t.Errorf("clock or altitude did not come along: %q", got)
	}
	p.until(`document.getElementById("sky-altitude_m").value === "1300"`)
	p.until(`document.getElementById("sky-find").value === "" && ` + townsFound + ` === 0`)
}

func TestPlaceByTheKeyboardAlone(t *testing.T) {
	s := serve(t)
	p := launch(t, "").open(t, s.URL)
	p.planReady()
	p.unfold("sky")
	p.enter("sky-find", "springfield, us")
	p.until(townsFound + ` === 8`)
	marked := `(document.querySelector("#sky-found [aria-selected=true]")?.id ?? "")`
	p.key(kb.ArrowDown)
	p.key(kb.ArrowDown)
	p.until(`document.getElementById("sky-find").getAttribute("aria-activedescendant") === "sky-found-1" && ` + marked + ` === "sky-found-1"`)
	p.key(kb.ArrowUp)
	p.until(marked + ` === "sky-found-0"`)
	p.key(kb.ArrowUp)
	p.until(marked + ` === "" && !document.getElementById("sky-find").getAttribute("aria-activedescendant")`)
	p.key(kb.Escape)
	p.until(townsFound + ` === 0 && document.getElementById("sky-find").value === "springfield, us"`)
	p.key(kb.Escape)
	p.until(`document.getElementById("sky-find").value === ""`)
	p.enter("sky-find", "bern, ch")
	p.until(townsFound + ` > 0`)
	p.key(kb.ArrowDown)
	p.key(kb.Enter)
	p.until(`document.getElementById("sky-placed").textContent.startsWith("Bern, Switzerland")`)
	p.until(`document.activeElement.id === "sky-find"`)
}

func TestPlaceByAPositionThatIsTyped(t *testing.T) {
	s := serve(t)
	p := launch(t, "").open(t, s.URL)
	p.planReady()
	p.unfold("sky")
	p.click("#sky-figures-fold")
	fault := `document.getElementById("sky-find-fault").textContent`
	for text, want := range map[string]string{"91 15": "90° N", "52 181": "180° E", "52°60′ 15°": "Minutes"} {
		p.enter("sky-find", text)
		p.until(fault + `.includes("` + want + `")`)
		p.until(`document.getElementById("sky-find").getAttribute("aria-invalid") === "true"`)
	}
	p.enter("sky-find", "52,4,15,6") // not at fault while it is typed, but after
	p.until(fault + ` === ""`)
	p.key(kb.Enter)
	p.until(fault + `.includes("two ways")`)
	p.enter("sky-find", "33° 55,5′ S, 18° 25,2′ E")
	p.until(townsFound + ` === 1 && document.querySelector("#sky-found-0").textContent.includes("33° 55.5′ S, 18° 25.2′ E")`)
	p.key(kb.Enter)
	p.until(`document.getElementById("sky-latitude_deg").value === "-33.925" && document.getElementById("sky-longitude_deg").value === "18.42"`)
	// Its altitude and clock are those of a town nearby, if one wants them.
	p.until(`document.getElementById("sky-near")?.textContent.includes("Cape Town")`)
	if strings.Contains(p.placed(), "Johannesburg") {
		t.Error("the clock was changed unasked")
	}
	p.click("#sky-near-take")
	p.until(`document.getElementById("sky-placed").textContent.includes("Africa/Johannesburg") && !document.getElementById("sky-near")`)
	p.until(`document.getElementById("sky-latitude_deg").value === "-33.925"`)

	p.enter("sky-latitude_deg", "91")
	p.until(`document.getElementById("sky-latitude_deg-fault").textContent.includes("90")`)
	p.click("#sky-figures-fold") // a value that is not taken stays in sight
	p.until(`document.getElementById("sky-latitude_deg")`)
	p.enter("sky-altitude_m", "6000")
	p.until(`document.getElementById("sky-altitude_m-fault").textContent.includes("500")`)
}

func TestPlaceOfTheDevice(t *testing.T) {
	s := serve(t)
	p := launch(t, "").openPhone(t, s.URL)
	p.planReady()
	p.unfold("sky")
	allow := func(setting permission.PermissionSetting) {
		t.Helper()
		if _, err := chromedp.CallBrowser(p.ctx, permission.SetPermission, permission.SetPermissionParams{
			Permission: &permission.PermissionDescriptor{Name: "geolocation"}, Setting: setting, Origin: strings.TrimSuffix(s.URL, "/"),
		}); err != nil {
			t.Fatal(err)
		}
	}
	at := func(params emulation.SetGeolocationOverrideParams) {
		t.Helper()
		if _, err := chromedp.Call(p.ctx, emulation.SetGeolocationOverride, params); err != nil {
			t.Fatal(err)
		}
	}
	figure := func(v float64) *float64 { return &v }
	// Chromium hands a permission or position that it is told of to the page
	// by and by: an answer from before is asked for once more.
	ask := func(done string) {
		t.Helper()
		for range 20 {
			p.until(`!document.getElementById("sky-here").disabled`)
			p.click("#sky-here")
			p.until(`!document.getElementById("sky-here").disabled`)
			if eval[bool](p, `(async () => { for (let i = 0; i < 20 && !(`+done+`); i++) await new Promise(ok => setTimeout(ok, 100)); return !!(`+done+`) })()`) {
				return
			}
		}
		t.Fatal("the device never answered", done, p.text("#sky-here-said"), p.placed())
	}
	said := func(want string) string {
		return `document.getElementById("sky-here-said").textContent.includes(` + quote(want) + `)`
	}
	before := p.placed()
	allow(permission.PermissionSettingDenied)
	ask(said("not allowed"))
	allow(permission.PermissionSettingGranted)
	at(emulation.SetGeolocationOverrideParams{}) // the device has no position
	ask(said("No position was found"))
	// A minute is too long for a test: the browser's answer after it.
	eval[any](p, `void (navigator.geolocation.getCurrentPosition = (ok, bad) => setTimeout(() => bad({ code: 3 })))`)
	ask(said("within a minute"))
	eval[any](p, `void delete navigator.geolocation.getCurrentPosition`)
	if got := p.placed(); got != before {
		t.Errorf("without a position the plan went to %q", got)
	}
	// A page at rest: nothing else is about to redraw what the position changes.
	time.Sleep(time.Second)
	glance := p.text("#glance")
	at(emulation.SetGeolocationOverrideParams{Latitude: figure(-0.180653), Longitude: figure(-78.467834), Accuracy: figure(20), Altitude: figure(2853.7)})
	ask(`document.getElementById("sky-placed").textContent.includes("0° 10.9′ S, 78° 28.1′ W")`)
	p.until(`document.getElementById("sky-altitude_m").value === "2850"`)
	p.until(`document.getElementById("glance").textContent !== ` + quote(glance))
	// Without an altitude the nearest town's is offered.
	at(emulation.SetGeolocationOverrideParams{Latitude: figure(46.95), Longitude: figure(7.45), Accuracy: figure(20)})
	eval[any](p, `void (navigator.geolocation.getCurrentPosition = function (ok, bad, o) { Geolocation.prototype.getCurrentPosition.call(this, ok, bad, { ...o, maximumAge: 0 }) })`)
	ask(`document.getElementById("sky-near")?.textContent.includes("Bern")`)
}

// A site without the list still takes positions, and says what is missing.
func TestPlaceWithoutTheListOfTowns(t *testing.T) {
	s := serveOwn(t, "no-towns")
	names, err := filepath.Glob(filepath.Join(s.dir, "asset", "towns.*"))
	if err != nil || len(names) == 0 {
		t.Fatal("the site has no list of towns", err)
	}
	for _, name := range names {
		if err := os.Remove(name); err != nil {
			t.Fatal(err)
		}
	}
	p := launch(t, "").open(t, s.URL)
	p.allow(`404|duskline: works only|towns:|sw\.js|install`)
	p.planReady()
	p.unfold("sky")
	p.enter("sky-find", "bern")
	p.until(`document.getElementById("sky-find-said").textContent.includes("cannot be opened")`)
	p.enter("sky-find", "46.95 7.45")
	p.until(townsFound + ` === 1`)
	p.key(kb.Enter)
	p.until(`document.getElementById("sky-placed").textContent.includes("46° 57.0′ N, 7° 27.0′ E")`)
}

// TestPlaceKeyPress prints what one key costs from the key to the list, on a
// page whose processor is slowed to a quarter. It fails only for a page that
// froze.
func TestPlaceKeyPress(t *testing.T) {
	s := serve(t)
	p := launch(t, "").openPhone(t, s.URL)
	p.planReady()
	p.unfold("sky")
	p.enter("sky-find", "x")
	p.until(`document.getElementById("sky-find-said").textContent.length > 0 && !document.getElementById("sky-find-said").textContent.includes("opened")`)
	if _, err := chromedp.Call(p.ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 4}); err != nil {
		t.Fatal(err)
	}
	ms := eval[[]float64](p, `(async () => {
		const box = document.getElementById("sky-find"), list = document.getElementById("sky-found"), took = [];
		for (const text of ["s", "sa", "san", "san f", "b", "be", "ber", "bern"]) {
			const changed = new Promise(ok => { const o = new MutationObserver(() => { o.disconnect(); ok() }); o.observe(document.getElementById("sky-finder"), { subtree: true, childList: true, characterData: true, attributes: true }); setTimeout(ok, 500) });
			const start = performance.now();
			box.value = text;
			box.dispatchEvent(new Event("input", { bubbles: true }));
			await changed;
			took.push(performance.now() - start);
			await new Promise(ok => setTimeout(ok, 30));
		}
		return took;
	})()`)
	t.Logf("from a key to the towns, slowed to a quarter, ms: %.1f", ms)
	for _, v := range ms {
		if v > 1000 {
			t.Errorf("a key took %.0f ms", v)
		}
	}
}
