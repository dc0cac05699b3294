package e2e

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// readmeShot is the picture at the top of the README.
const readmeShot = "plan-phone-day"

// nextTheme goes on to the next look.
func (p *tab) nextTheme() {
	p.t.Helper()
	p.until(`document.documentElement.dataset.theme`)
	now := eval[string](p, `document.documentElement.dataset.theme`)
	p.click("#theme")
	p.until(`document.documentElement.dataset.theme !== ` + quote(now))
}

// The look of last time is there before the program is: no flash of day at
// night.
func TestLookOfLastTimeComesFirst(t *testing.T) {
	s := serve(t)
	p := launch(t, "").open(t, s.URL)
	for range 3 {
		p.nextTheme()
		theme := eval[string](p, `document.documentElement.dataset.theme`)
		bar := eval[string](p, `document.querySelector("meta[name=theme-color]").content`)
		_, err := chromedp.Call(p.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{
			Source: `addEventListener("DOMContentLoaded", () => early = [document.documentElement.dataset.theme, document.querySelector("meta[name=theme-color]").content, typeof appModule])`,
		})
		if err != nil {
			t.Fatal(err)
		}
		p.reload()
		if got := eval[[]string](p, `early`); got[0] != theme || got[1] != bar || got[2] != "undefined" {
			t.Errorf("before the program: %q, want %s %s", got, theme, bar)
		}
	}
}

// TestShots makes the pictures of `make shots`: every room at both sizes in
// all themes, in build/shots, and the README's in web/shots. Without
// DUSKLINE_SHOTS it makes one of each and only checks that the themes differ.
func TestShots(t *testing.T) {
	s := serve(t)
	full := os.Getenv("DUSKLINE_SHOTS") != ""
	b := launch(t, "")
	for _, size := range []struct {
		name          string
		width, height int64
		options       []chromedp.EmulateViewportOption
	}{
		{"phone", 360, 740, []chromedp.EmulateViewportOption{chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulateScale(2)}},
		{"desk", 1280, 900, nil},
	} {
		p := b.tab(t)
		p.do(chromedp.EmulateViewport(size.width, size.height, size.options...))
		for _, route := range routes {
			name := strings.TrimSuffix(route, "/")
			if name == "" {
				name = "plan"
			} else if !full {
				continue
			}
			p.goTo(s.URL + route)
			if name == "plan" {
				p.planReady()
			}
			seen := map[string]string{}
			for range 3 {
				p.until(`document.documentElement.dataset.theme && document.fonts.status === "loaded"`)
				theme := eval[string](p, `document.documentElement.dataset.theme`)
				file := p.shot(name + "-" + size.name + "-" + theme)
				png, err := os.ReadFile(file)
				if err != nil {
					t.Fatal(err)
				}
				if other, ok := seen[string(png)]; ok {
					t.Errorf("%s on a %s looks the same in %s and %s", name, size.name, theme, other)
				}
				seen[string(png)] = theme
				if full && filepath.Base(file) == readmeShot+".png" {
					if err := os.MkdirAll(filepath.Join(root, "web", "shots"), 0o755); err != nil {
						t.Fatal(err)
					}
					if err := os.WriteFile(filepath.Join(root, "web", "shots", filepath.Base(file)), png, 0o644); err != nil {
						t.Fatal(err)
					}
				}
				p.nextTheme()
			}
		}
	}
}
