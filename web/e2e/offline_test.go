package e2e

import (
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// gone are console lines of a browser that asks a dead server whether there is
// a newer version. They are true, and only allowed while the server is dead.
const gone = `ERR_CONNECTION_REFUSED|ERR_FAILED.*sw\.js|fetching the script`

func TestOfflineAfterTheServerIsKilled(t *testing.T) {
	s := serve(t)
	b := launch(t, "")
	b.open(t, s.URL).saved()
	s.kill()
	for _, route := range routes {
		p := b.tab(t)
		p.allow(gone)
		p.goTo(s.URL + route)
		p.reload()
		alive(p)
	}
	p := b.tab(t)
	p.allow(gone)
	p.goTo(s.URL + "plans")
	if got := eval[string](p, `location.href`); got != s.URL+"plans/" {
		t.Errorf("/plans led to %s", got)
	}
	p.goTo(s.URL + "never/was?x=1")
	if got := eval[string](p, `location.href`); got != s.URL {
		t.Errorf("an unknown page led to %s", got)
	}
	p.goTo(s.URL + "index.html")
	alive(p)
}

func TestOfflineAfterTheBrowserIsKilled(t *testing.T) {
	s := serve(t)
	b := launch(t, "")
	b.open(t, s.URL).saved()
	b.kill(t)
	s.kill()
	again := launch(t, b.profile)
	for _, route := range routes {
		p := again.tab(t)
		p.allow(gone)
		p.goTo(s.URL + route)
	}
}

func TestOfflineCacheThatWasEmptiedIsFilledAgain(t *testing.T) {
	s := serve(t)
	b := launch(t, "")
	p := b.open(t, s.URL)
	p.saved()
	full := eval[int](p, count)
	eval[any](p, `(async () => { for (const k of await caches.keys()) await caches.delete(k) })()`)
	p.reload()
	wait(t, func() bool { return eval[int](p, count) == full }, "cache full again")
	s.kill()
	p.allow(gone)
	p.goTo(s.URL + "plans/")
	p.reload()
}

// count is how many files the app's caches hold.
const count = `(async () => {
	let n = 0;
	for (const k of await caches.keys()) n += (await (await caches.open(k)).keys()).length;
	return n;
})()`

func TestOfflineInAFolderOfAPlainFileServer(t *testing.T) {
	built(t)
	mux := http.NewServeMux()
	mux.Handle("/some/folder/", http.StripPrefix("/some/folder/", http.FileServer(http.Dir(siteDir))))
	plain := httptest.NewServer(mux)
	defer plain.Close()
	base := plain.URL + "/some/folder/"

	b := launch(t, "")
	for _, route := range routes {
		p := b.open(t, base+route)
		p.saved()
		alive(p)
		if got := eval[string](p, `location.href`); got != base+route {
			t.Errorf("%s became %s", base+route, got)
		}
	}
	if keys := eval[string](b.open(t, base), `caches.keys().then(k => k.join())`); !strings.Contains(keys, "/some/folder/") {
		t.Errorf("caches: %s", keys)
	}
	plain.CloseClientConnections()
	plain.Close()
	for _, route := range routes {
		p := b.tab(t)
		p.allow(gone)
		p.goTo(base + route)
		alive(p)
	}
}

func TestWithoutTheProgramThePageSaysSo(t *testing.T) {
	s := serveOwn(t, "lost")
	names, err := filepath.Glob(filepath.Join(s.dir, "asset", "app.*.wasm*"))
	if err != nil || len(names) == 0 {
		t.Fatal(err)
	}
	for _, name := range names {
		if err := os.Remove(name); err != nil {
			t.Fatal(err)
		}
	}
	p := launch(t, "").tab(t)
	p.allow(`404|duskline:`)
	p.do(chromedp.Navigate(s.URL))
	p.until(`document.body.innerText.includes("Duskline did not load")`)
	if eval[bool](p, `document.body.innerText.includes("is starting")`) {
		t.Error("the page still says that it is starting")
	}
}
