package e2e

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// The tests of app/zone, which run natively with the others, run here once
// more on the browser's own time zone database.
func TestZonesAreThoseOfTheDatabase(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser test, and -short was given")
	}
	dir := t.TempDir()
	c := exec.Command("go", "test", "-c", "-o", filepath.Join(dir, "zone.wasm"), root+"/app/zone")
	c.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	if out, err := c.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	goroot, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	glue, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(goroot)), "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		t.Fatal(err)
	}
	const page = `<!doctype html><title>zone</title><script src="glue.js"></script><script>
		globalThis.said = "";
		console.log = line => said += line + "\n";
		(async () => {
			const go = new Go();
			go.argv = ["zone.test", "-test.v", "-test.run=^Test"]; // an Example needs files
			go.exit = code => { globalThis.code = code };
			const r = await WebAssembly.instantiateStreaming(fetch("zone.wasm"), go.importObject);
			await go.run(r.instance);
			globalThis.code ??= 0;
		})().catch(x => { said += x; globalThis.code = -1 });
	</script>`
	if err := os.WriteFile(filepath.Join(dir, "index.html"), []byte(page), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "glue.js"), glue, 0o644); err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(http.FileServer(http.Dir(dir)))
	defer server.Close()
	p := launch(t, "").tab(t)
	p.allow(`404|favicon|exit code`)
	p.do(chromedp.Navigate(server.URL))
	p.until(`globalThis.code !== undefined`)
	said := eval[string](p, `said`)
	if code := eval[int](p, `code`); code != 0 || strings.Contains(said, "--- SKIP") || strings.Count(said, "--- PASS") < 5 {
		t.Errorf("exit code %d:\n%s", code, said)
	}
}

// inZone opens the app on a device of another time zone.
func inZone(t *testing.T, b *browser, url, zone string) *tab {
	t.Helper()
	p := b.tab(t)
	p.do(chromedp.EmulateViewport(360, 740, chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulateScale(2)))
	if _, err := chromedp.Call(p.ctx, emulation.SetTimezoneOverride, emulation.SetTimezoneOverrideParams{TimezoneID: zone}); err != nil {
		t.Fatal(err)
	}
	p.goTo(url)
	p.planReady()
	return p
}

const moves = `document.getElementById("clock-moves")?.textContent`

// One's own plan begins with the device's zone, says when its clock is moved,
// and keeps the clock of the start through every change.
func TestClockOfThePlace(t *testing.T) {
	s := serve(t)
	b := launch(t, "")
	for _, c := range []struct{ zone, date, want string }{
		{"Europe/Berlin", "2026-10-24", "On Sunday 25 October at 03:00 the clock goes back to 02:00."},
		{"Europe/Berlin", "2026-03-28", "On Sunday 29 March at 02:00 the clock goes forward to 03:00."},
		{"Australia/Sydney", "2026-10-03", "On Sunday 4 October at 02:00 the clock goes forward to 03:00."},
		{"Asia/Kathmandu", "2026-10-24", "not changed during the trip"},
		{"Pacific/Kiritimati", "2026-10-24", "not changed during the trip"},
	} {
		p := inZone(t, b, s.URL, c.zone)
		if eval[bool](p, `!document.getElementById("start-own")`) { // the second one comes back to the plan of the first
			p.goTo(s.URL + "plans/")
			p.click("#plan-new")
			p.planReady()
		} else {
			p.click("#start-own")
		}
		p.until(`document.getElementById("set-place")`)
		p.unfold("trip")
		// Browsers have older names of some places: Katmandu.
		region, _, _ := strings.Cut(c.zone, "/")
		p.until(fmt.Sprintf(`(t => t?.startsWith(%q) && t.endsWith("(this device)"))(document.getElementById("trip-zone")?.selectedOptions[0]?.textContent)`, "as in "+region+"/"))
		p.setDate(c.date)
		p.until(fmt.Sprintf(`%s?.replaceAll("\u00a0", " ").includes(%q)`, moves, c.want))
		if c.date == "2026-10-24" && c.zone == "Europe/Berlin" {
			p.shot("zone-phone")
			clock := eval[string](p, `document.getElementById("trip-start-clock").value`)
			p.choose("trip-zone", "utc:5.75")
			p.until(moves + `?.includes("no summer time")`)
			p.choose("trip-zone", "other")
			p.enter("trip-zone_name", "lisb")
			p.until(`document.getElementById("zone-0")?.textContent === "Europe/Lisbon"`)
			p.click("#zone-0")
			p.until(`document.getElementById("trip-zone").value === "zone:Europe/Lisbon"`)
			p.until(fmt.Sprintf(`%s?.replaceAll("\u00a0", " ").includes(%q)`, moves, "On Sunday 25 October at 02:00 the clock goes back to 01:00."))
			if got := eval[string](p, `document.getElementById("trip-start-clock").value`); got != clock {
				t.Errorf("the start was at %s and is at %s", clock, got)
			}
			p.choose("trip-zone", "other")
			p.enter("trip-zone_name", "Mars")
			p.until(`document.getElementById("trip-zone_name-fault").textContent.includes("knows no time zone")`)
			p.reload()
			p.planReady()
			p.unfold("trip")
			p.until(`document.getElementById("trip-zone").value === "zone:Europe/Lisbon"`)
		}
	}
}
