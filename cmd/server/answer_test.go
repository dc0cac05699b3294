package main

import (
	"context"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

// answerer serves a site and asks for its files without following redirects.
func answerer(t *testing.T) (ask func(method, path string, header ...string) *http.Response, sheets []sheet) {
	t.Helper()
	dir, sheets := exported(t)
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { root.Close() })
	s := newSite(root.FS())
	return func(method, p string, header ...string) *http.Response {
		r := httptest.NewRequest(method, "http://host/", nil)
		r.URL.Path, r.URL.RawQuery, _ = strings.Cut(p, "?")
		for i := 0; i < len(header); i += 2 {
			r.Header.Set(header[i], header[i+1])
		}
		w := httptest.NewRecorder()
		s.ServeHTTP(w, r)
		return w.Result()
	}, sheets
}

func body(t *testing.T, r *http.Response) string {
	t.Helper()
	b, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestEveryFileIsServedWithItsTypeAndHeaders(t *testing.T) {
	ask, sheets := answerer(t)
	for _, s := range sheets {
		p := "/" + strings.TrimSuffix(s.path, "index.html")
		r := ask("GET", p)
		if r.StatusCode != 200 || body(t, r) != string(s.data) {
			t.Errorf("%s: %s", p, r.Status)
		}
		if got := r.Header.Get("Content-Type"); got != types[path.Ext(s.path)] || got == "" {
			t.Errorf("%s: type %q", p, got)
		}
		want := "no-cache"
		if strings.HasPrefix(s.path, "asset/") {
			want = "public, max-age=31536000, immutable"
		}
		if got := r.Header.Get("Cache-Control"); got != want {
			t.Errorf("%s: cache %q", p, got)
		}
		for _, kv := range headers {
			if r.Header.Get(kv[0]) != kv[1] {
				t.Errorf("%s: %s is %q", p, kv[0], r.Header.Get(kv[0]))
			}
		}
		head := ask("HEAD", p)
		if head.StatusCode != 200 || body(t, head) != "" || head.Header.Get("Content-Length") != strconv.Itoa(len(s.data)) {
			t.Errorf("HEAD %s: %s, %q", p, head.Status, head.Header)
		}
	}
}

func TestBestCodingThatTheBrowserTakes(t *testing.T) {
	ask, sheets := answerer(t)
	i := slices.IndexFunc(sheets, func(s sheet) bool { return path.Ext(s.path) == ".wasm" })
	p := "/" + sheets[i].path
	tags := map[string]bool{}
	for header, want := range map[string]string{
		"":                            "",
		"identity":                    "",
		"gzip, deflate, br, zstd":     "br",
		"gzip, deflate":               "gzip",
		"GZIP":                        "gzip",
		"br;q=0, gzip":                "gzip",
		"br; q=0.000, gzip; q=0":      "",
		"*":                           "br",
		"br;q=0, *":                   "gzip",
		"*;q=0":                       "",
		"gzip;q=nonsense":             "",
		"xbr, notgzip":                "",
		"gzip;q=1.0, br;q=0.5, *;q=0": "br",
	} {
		r := ask("GET", p, "Accept-Encoding", header, "Range", "bytes=0-9")
		if got := r.Header.Get("Content-Encoding"); got != want {
			t.Errorf("%q: coding %q, want %q", header, got, want)
		}
		if r.Header.Get("Vary") != "Accept-Encoding" {
			t.Errorf("%q: Vary %q", header, r.Header.Get("Vary"))
		}
		n := len(body(t, r))
		if want == "" && (r.StatusCode != 206 || n != 10) || want != "" && (r.StatusCode != 200 || r.Header.Get("Content-Length") != strconv.Itoa(n)) {
			t.Errorf("%q: %s, %d bytes, length %s", header, r.Status, n, r.Header.Get("Content-Length"))
		}
		tags[r.Header.Get("Etag")] = true
		again := ask("GET", p, "Accept-Encoding", header, "If-None-Match", r.Header.Get("Etag"))
		if again.StatusCode != 304 || body(t, again) != "" {
			t.Errorf("%q: asked again: %s", header, again.Status)
		}
	}
	if len(tags) != 3 {
		t.Errorf("entity tags %v: one for each form", tags)
	}
}

func TestWhatIsNotServed(t *testing.T) {
	ask, sheets := answerer(t)
	for _, p := range []string{
		"/nothing", "/nothing/", "/asset/", "/asset", "/site.json", "/index.html.br", "/" + sheets[0].path + ".gz",
		"/../main.go", "/plans/../../x.html", "//index.html/", "/plans//", "/./", "/a\x00.html", "/%zz.html", "/asset/..%2f", `/..\x.html`,
	} {
		r := ask("GET", p)
		text := body(t, r)
		if r.StatusCode != 404 || !strings.Contains(text, "No such page") {
			t.Errorf("%q: %s, %.60q", p, r.Status, text)
		}
		if strings.Contains(text, "<pre>") || r.Header.Get("Content-Security-Policy") == "" {
			t.Errorf("%q: %.60q", p, text)
		}
	}
	for _, method := range []string{"POST", "PUT", "DELETE", "OPTIONS", "TRACE"} {
		if r := ask(method, "/"); r.StatusCode != 405 || r.Header.Get("Allow") != "GET, HEAD" {
			t.Errorf("%s: %s", method, r.Status)
		}
	}
}

// The page for what is not there finds its style and the way home at any depth.
func TestLostPageLeadsHome(t *testing.T) {
	ask, _ := answerer(t)
	for p, home := range map[string]string{"/x": `href="./"`, "/x/": `href="./../"`, "/x/y/z": `href="./../../"`} {
		if text := body(t, ask("GET", p)); !strings.Contains(text, home) {
			t.Errorf("%s: no %s in %s", p, home, text)
		}
	}
}

func TestFoldersAndIndexNames(t *testing.T) {
	ask, _ := answerer(t)
	for p, to := range map[string]string{
		"/plans":            "plans/",
		"/plans?a=b":        "plans/?a=b",
		"/plans/index.html": "./",
		"/index.html":       "./",
	} {
		r := ask("GET", p)
		if r.StatusCode != 301 || r.Header.Get("Location") != to {
			t.Errorf("%s: %s to %q", p, r.Status, r.Header.Get("Location"))
		}
	}
}

func TestNewExportIsServedAtOnce(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	put := func(text string) {
		t.Helper()
		if _, err := export(dir, text, []sheet{{"a.txt", []byte(text)}}, packer{}); err != nil {
			t.Fatal(err)
		}
	}
	put("one")
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	s := newSite(root.FS())
	get := func() (string, string) {
		w := httptest.NewRecorder()
		s.ServeHTTP(w, httptest.NewRequest("GET", "/a.txt", nil))
		return w.Body.String(), w.Header().Get("Etag")
	}
	text1, tag1 := get()
	put("two")
	text2, tag2 := get()
	if text1 != "one" || text2 != "two" || tag1 == tag2 {
		t.Errorf("%q %s, then %q %s", text1, tag1, text2, tag2)
	}
}

// A person who stops the server while a phone loads does not cut it off.
func TestStopLetsRunningAnswersFinish(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	begun := make(chan bool)
	h := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		close(begun)
		time.Sleep(100 * time.Millisecond)
		io.WriteString(w, "whole")
	})
	ended := make(chan error, 1)
	go func() { ended <- serve(ctx, l, h) }()
	go func() { <-begun; stop() }()
	r, err := http.Get("http://" + l.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	if got := body(t, r); got != "whole" {
		t.Errorf("got %q", got)
	}
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

func TestTakenPortNamesTheWayOut(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	_, err = net.Listen("tcp", l.Addr().String())
	if err == nil {
		t.Fatal("the port was free")
	}
	text := listenError(l.Addr().String(), err).Error()
	if !strings.Contains(text, "ADDR=") || !strings.Contains(text, l.Addr().String()) || strings.Contains(text, "\n") {
		t.Error(text)
	}
}
