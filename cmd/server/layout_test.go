package main

import (
	"bytes"
	"compress/gzip"
	"io"
	"io/fs"
	"net/url"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/andybalholm/brotli"

	"duskline/app/room"
	"duskline/web"
)

// program stands for a compiled client: to the exporter it is only bytes.
var program = []byte("\x00asm\x01\x00\x00\x00" + strings.Repeat("program ", 500))

var glue = []byte("class Go {}\n")

func exported(t *testing.T) (dir string, sheets []sheet) {
	t.Helper()
	_, sheets, err := layout(web.Files, program, glue)
	if err != nil {
		t.Fatal(err)
	}
	dir = filepath.Join(t.TempDir(), "site")
	if _, err := export(dir, "v", sheets, packer{cache: packedOnce}); err != nil {
		t.Fatal(err)
	}
	return dir, sheets
}

// packedOnce keeps the compressed forms for all tests: to make them takes
// seconds, and minutes under the race detector.
var packedOnce string

func TestMain(m *testing.M) {
	status := 1
	defer func() { os.Exit(status) }()
	dir, err := os.MkdirTemp("", "duskline-packed-")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(dir)
	packedOnce = dir
	status = m.Run()
}

func TestRoutesAreTheAppsPlaces(t *testing.T) {
	var want []string
	for _, p := range room.Places {
		if p.Path != "/" {
			p.Path = strings.TrimSuffix(p.Path, "/")
		}
		want = append(want, p.Path)
	}
	if !slices.Equal(routes, want) {
		t.Errorf("pages %q, the app has %q", routes, want)
	}
}

func TestAssetNamesHoldTheirHash(t *testing.T) {
	_, sheets := exported(t)
	n := 0
	for _, s := range sheets {
		if path.Dir(s.path) != "asset" {
			continue
		}
		n++
		if !strings.Contains(s.path, "."+sum(s.data)[:12]+".") {
			t.Errorf("%s: the hash of its bytes is %s", s.path, sum(s.data)[:12])
		}
	}
	if n < 10 {
		t.Errorf("only %d assets", n)
	}
}

var (
	inPage   = regexp.MustCompile(`(?:href|src)="([^"]*)"`)
	inScript = regexp.MustCompile(`data-(?:wasm|worker|towns)="([^"]*)"`)
	inCSS    = regexp.MustCompile(`url\("?([^")]*)"?\)`)
	inJSON   = regexp.MustCompile(`"(?:src|start_url|scope|id)": "([^"]*)"`)
	inWorker = regexp.MustCompile(`(?m)^  "([^"]*)",\n  "(sha384-[^"]*)"`)
)

// Every address in a file of the site leads to another file of it, with the
// site at the root of a host and in a folder of one.
func TestEveryAddressLeadsToAFile(t *testing.T) {
	dir, sheets := exported(t)
	for _, base := range []string{"http://host/", "http://host/in/a/folder/"} {
		found := 0
		check := func(from, ref string) {
			found++
			if strings.HasPrefix(ref, "/") || strings.Contains(ref, "://") {
				t.Errorf("%s: %q is not relative", from, ref)
			}
			at, err := url.Parse(base + from)
			if err != nil {
				t.Fatal(err)
			}
			to, err := at.Parse(ref)
			if err != nil {
				t.Fatal(err)
			}
			name, ok := strings.CutPrefix(to.String(), base)
			if !ok {
				t.Errorf("%s: %q leaves the site", from, ref)
			}
			if name == "" || strings.HasSuffix(name, "/") {
				name += "index.html"
			}
			if _, err := os.Stat(filepath.Join(dir, name)); err != nil {
				t.Errorf("%s: %q: %v", from, ref, err)
			}
		}
		for _, s := range sheets {
			text := string(s.data)
			switch path.Ext(s.path) {
			case ".html":
				from := strings.TrimSuffix(s.path, "index.html")
				for _, m := range inPage.FindAllStringSubmatch(text, -1) {
					if m[1] != "" {
						check(from, m[1])
					}
				}
				for _, m := range inScript.FindAllStringSubmatch(text, -1) {
					check("", m[1])
				}
			case ".css":
				for _, m := range inCSS.FindAllStringSubmatch(text, -1) {
					check(s.path, m[1])
				}
			case ".webmanifest":
				for _, m := range inJSON.FindAllStringSubmatch(text, -1) {
					check(s.path, m[1])
				}
			case ".js":
				for _, m := range inWorker.FindAllStringSubmatch(text, -1) {
					check("", m[1])
				}
			}
		}
		if found < 40 {
			t.Errorf("%s: only %d addresses found", base, found)
		}
	}
}

// The worker keeps every page, every asset and the manifest, each with the
// hash of the bytes that are served.
func TestWorkerKeepsTheWholeApp(t *testing.T) {
	dir, sheets := exported(t)
	text, err := os.ReadFile(filepath.Join(dir, "sw.js"))
	if err != nil {
		t.Fatal(err)
	}
	kept := map[string]string{}
	for _, m := range inWorker.FindAllStringSubmatch(string(text), -1) {
		kept[m[1]] = m[2]
	}
	want := 0
	for _, s := range sheets {
		key := s.path
		switch {
		case path.Base(s.path) == "index.html":
			key = strings.TrimSuffix(s.path, "index.html")
		case path.Dir(s.path) != "asset" && s.path != "manifest.webmanifest":
			continue
		}
		want++
		if kept[key] != integrity(s.data) {
			t.Errorf("%q: kept with %q, its bytes have %q", key, kept[key], integrity(s.data))
		}
	}
	if len(kept) != want {
		t.Errorf("%d kept, want %d: %v", len(kept), want, kept)
	}
	for _, route := range routes {
		key := strings.TrimPrefix(route+"/", "/")
		if route == "/" {
			key = ""
		}
		if kept[key] == "" {
			t.Errorf("route %s is not kept", route)
		}
	}
}

func TestCompressedFormsHoldTheSameBytes(t *testing.T) {
	dir, sheets := exported(t)
	forms := 0
	for _, s := range sheets {
		for _, c := range codings {
			f, err := os.Open(filepath.Join(dir, s.path+c.ending))
			if err != nil {
				if isCompressible(s.path) && len(s.data) > 500 {
					t.Error(err)
				}
				continue
			}
			defer f.Close()
			var r io.Reader = brotli.NewReader(f)
			if c.name == "gzip" {
				if r, err = gzip.NewReader(f); err != nil {
					t.Fatal(err)
				}
			}
			got, err := io.ReadAll(r)
			if err != nil || !bytes.Equal(got, s.data) {
				t.Errorf("%s%s: other bytes, %v", s.path, c.ending, err)
			}
			forms++
		}
	}
	if forms < 10 {
		t.Errorf("only %d compressed forms", forms)
	}
}

// A page of the site has no inline script and no inline style: the policy of
// the server blocks both.
func TestPagesHaveNothingInline(t *testing.T) {
	_, sheets := exported(t)
	inline := regexp.MustCompile(`(?i)<script(?:[^>]*)>[^<]|<style|\sstyle=|\son[a-z]+=|javascript:`)
	for _, s := range sheets {
		if path.Ext(s.path) == ".html" {
			if m := inline.Find(s.data); m != nil {
				t.Errorf("%s: %s", s.path, m)
			}
		}
	}
}

// A worker is one file, that begins with the glue of the compiler.
func TestWorkerScriptIsOneFile(t *testing.T) {
	_, sheets := exported(t)
	start, err := fs.ReadFile(web.Files, "worker.js")
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(sheets, func(s sheet) bool { return strings.HasPrefix(s.path, "asset/worker.") })
	if i < 0 {
		t.Fatal("no worker.js among the assets")
	}
	if got, want := string(sheets[i].data), string(glue)+"\n"+string(start); got != want {
		t.Errorf("the worker's script is %q", got)
	}
	if bytes.Contains(start, []byte("importScripts(")) {
		t.Error("the worker asks for another file")
	}
}

func TestAnyChangeIsANewVersion(t *testing.T) {
	sources := fstest.MapFS{}
	err := fs.WalkDir(web.Files, ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			data, rerr := fs.ReadFile(web.Files, name)
			sources[name] = &fstest.MapFile{Data: data}
			return rerr
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	first, _, err := layout(sources, program, glue)
	if err != nil {
		t.Fatal(err)
	}
	seen := []string{first}
	note := func(what, v string, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(what, err)
		}
		if slices.Contains(seen, v) {
			t.Errorf("%s changed, and the version is %s again", what, v)
		}
		seen = append(seen, v)
	}
	for _, name := range []string{"index.html", "404.html", "sw.js", "boot.js", "worker.js", "css/fonts.css", "icons/icon.svg"} {
		old := sources[name].Data
		sources[name].Data = append(slices.Clone(old), '\n')
		v, _, err := layout(sources, program, glue)
		note(name, v, err)
		sources[name].Data = old
	}
	v, _, err := layout(sources, append(slices.Clone(program), 0), glue)
	note("the client", v, err)
	v, _, err = layout(sources, program, append(slices.Clone(glue), '\n'))
	note("wasm_exec.js", v, err)
	if v, _, err = layout(sources, program, glue); err != nil || v != first {
		t.Errorf("nothing changed, and the version is %s, was %s, %v", v, first, err)
	}
}

func TestStylesheetRefusesWhatWouldNotBeThere(t *testing.T) {
	for _, css := range []string{
		`@import "other.css";`,
		`a { background: url(nowhere.png) }`,
		`a { background: url("https://host/x.png") }`,
		`a { background: url(/icons/icon.svg) }`,
	} {
		sources := fstest.MapFS{"css/a.css": {Data: []byte(css)}}
		l := &layouter{src: sources, named: map[string]string{"icons/icon.svg": "asset/icon.1.svg"}}
		if got, err := l.stylesheet(); err == nil {
			t.Errorf("%s became %s", css, got)
		}
	}
	sources := fstest.MapFS{
		"css/a.css": {Data: []byte(`a { background: url('../icons/icon.svg') } b { mask: url(data:,x) }`)},
		"css/b.css": {Data: []byte(`c { background: url( ../icons/icon.svg ) }`)},
	}
	l := &layouter{src: sources, named: map[string]string{"icons/icon.svg": "asset/icon.1.svg"}}
	got, err := l.stylesheet()
	want := `a { background: url("icon.1.svg") } b { mask: url(data:,x) }c { background: url("icon.1.svg") }`
	if err != nil || string(got) != want {
		t.Errorf("got %s, %v", got, err)
	}
}
