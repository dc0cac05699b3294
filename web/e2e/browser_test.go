package e2e

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// patience is how long a test waits for one thing. Long, for two slow cores
// with other work; a passing test never waits that long.
const patience = 60 * time.Second

// chromium finds the browser.
func chromium(t testing.TB) string {
	t.Helper()
	if p := os.Getenv("CHROMIUM"); p != "" {
		return p
	}
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if p, err := exec.LookPath(name); err == nil {
			return p
		}
	}
	t.Fatal("no Chromium: install it with `apt-get install chromium`, or name it in CHROMIUM")
	return ""
}

// A browser is a Chromium with a profile of its own.
type browser struct {
	ctx     context.Context
	profile string
	stop    func()
}

// launch starts a browser. An empty profile gives a new one; the folder of an
// earlier browser gives the same person coming back.
func launch(t testing.TB, profile string, flags ...chromedp.ExecAllocatorOption) *browser {
	t.Helper()
	if profile == "" {
		profile = t.TempDir()
	}
	options := append([]chromedp.ExecAllocatorOption{
		chromedp.ExecPath(chromium(t)),
		chromedp.Flag("headless", "new"),
		chromedp.NoSandbox,
		chromedp.DisableGPU,
		chromedp.NoFirstRun,
		chromedp.NoDefaultBrowserCheck,
		chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true),
		chromedp.Flag("disable-sync", true),
		chromedp.Flag("disable-dev-shm-usage", true),
		chromedp.Flag("disable-extensions", true),
		chromedp.Flag("disable-background-timer-throttling", true),
		chromedp.Flag("disable-renderer-backgrounding", true),
		chromedp.Flag("force-color-profile", "srgb"),
		chromedp.Flag("password-store", "basic"),
		chromedp.Flag("hide-scrollbars", true),
		chromedp.WindowSize(1280, 900),
		chromedp.UserDataDir(profile),
	}, flags...)
	alloc, cancelAlloc := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, cancel := chromedp.NewContext(alloc)
	b := &browser{ctx: ctx, profile: profile}
	b.stop = sync.OnceFunc(func() { cancel(); cancelAlloc() })
	t.Cleanup(b.stop)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("Chromium does not start: %v", err)
	}
	return b
}

// kill ends the browser at once, as a phone out of power would.
func (b *browser) kill(t testing.TB) {
	t.Helper()
	if err := chromedp.FromContext(b.ctx).Browser.Process().Kill(); err != nil {
		t.Fatal(err)
	}
	b.stop()
}

// A tab is a page that watches its console.
type tab struct {
	t   testing.TB
	ctx context.Context

	mu      sync.Mutex
	console []string
	allowed []*regexp.Regexp
}

// tab opens an empty tab. When the test ends, every warning, error and
// exception in its console that was not allowed fails the test.
func (b *browser) tab(t testing.TB) *tab {
	t.Helper()
	ctx, cancel := chromedp.NewContext(b.ctx)
	p := &tab{t: t, ctx: ctx}
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal(err)
	}
	messages := chromedp.Console(ctx)
	done := make(chan struct{})
	go func() {
		defer close(done)
		for m, err := range messages {
			if err != nil {
				return
			}
			if m.Type == chromedp.ConsoleWarning || m.Type == chromedp.ConsoleError || m.IsException() {
				p.mu.Lock()
				p.console = append(p.console, m.String()+" "+m.URL)
				p.mu.Unlock()
			}
		}
	}()
	t.Cleanup(func() {
		time.Sleep(50 * time.Millisecond) // for lines under way
		cancel()
		<-done
		for _, line := range p.complaints() {
			t.Errorf("console: %s", line)
		}
	})
	return p
}

// allow lets console lines that match through, for tests that break things.
func (p *tab) allow(pattern string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.allowed = append(p.allowed, regexp.MustCompile(pattern))
}

// complaints are the console lines that were not allowed.
func (p *tab) complaints() (list []string) {
	p.mu.Lock()
	defer p.mu.Unlock()
next:
	for _, line := range p.console {
		for _, a := range p.allowed {
			if a.MatchString(line) {
				continue next
			}
		}
		list = append(list, line)
	}
	return list
}

// open opens a tab on an address and waits until the app is there.
func (b *browser) open(t testing.TB, url string) *tab {
	t.Helper()
	p := b.tab(t)
	p.goTo(url)
	return p
}

// openPhone is open on a small screen with fingers.
func (b *browser) openPhone(t testing.TB, url string) *tab {
	t.Helper()
	p := b.tab(t)
	p.do(chromedp.EmulateViewport(360, 740, chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulateScale(2)))
	p.goTo(url)
	return p
}

func (p *tab) goTo(url string) {
	p.t.Helper()
	p.do(chromedp.Navigate(url))
	p.started()
}

func (p *tab) reload() {
	p.t.Helper()
	p.do(chromedp.Reload())
	p.started()
}

// up is true once the Go program has drawn its first page.
const up = `globalThis.appModule && !document.getElementById("boot-starting")
	&& document.body.firstElementChild.childElementCount > 0
	&& [...document.querySelectorAll(".boot")].every(e => e.hidden || e.closest("noscript"))`

func (p *tab) started() {
	p.t.Helper()
	p.until(up)
}

// saved waits until the app can start without a server.
func (p *tab) saved() {
	p.t.Helper()
	p.until(`dusklineUpdate.saved`)
}

// do runs actions within patience.
func (p *tab) do(actions ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	if err := chromedp.Do(ctx, actions...); err != nil {
		p.t.Fatalf("%v\n%s", err, p.state())
	}
}

// until waits for an expression to be true, also across reloads.
func (p *tab) until(expression string) {
	p.t.Helper()
	end := time.Now().Add(patience)
	for {
		ctx, cancel := context.WithTimeout(p.ctx, patience)
		ok, err := chromedp.Run(ctx, chromedp.Evaluate[bool](`(async () => !!(await (`+expression+`)))()`, chromedp.EvalAwaitPromise))
		cancel()
		if ok {
			return
		}
		if time.Now().After(end) {
			p.t.Fatalf("not in time: %s (%v)\n%s", expression, err, p.state())
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// eval is the value of an expression; a promise is waited for.
func eval[T any](p *tab, expression string) T {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		p.t.Fatalf("%s: %v\n%s", expression, err, p.state())
	}
	return v
}

// state is what a person would tell about a page that does not do its work.
func (p *tab) state() string {
	ctx, cancel := context.WithTimeout(p.ctx, 5*time.Second)
	defer cancel()
	s, err := chromedp.Run(ctx, chromedp.Evaluate[string](`location.href + "\n" + document.body?.innerText.slice(0, 600)`))
	return fmt.Sprintf("page: %s %v\nconsole: %s", s, err, strings.Join(p.complaints(), "\n"))
}

// shot saves what the tab shows as build/shots/NAME.png.
func (p *tab) shot(name string) string {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	png, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
	if err != nil {
		p.t.Fatal(err)
	}
	file := filepath.Join(root, "build", "shots", name+".png")
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		p.t.Fatal(err)
	}
	if err := os.WriteFile(file, png, 0o644); err != nil {
		p.t.Fatal(err)
	}
	return file
}
