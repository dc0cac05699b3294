package main

import (
	"bytes"
	"crypto/sha512"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html/template"
	"io/fs"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"
	texttemplate "text/template"
)

// The layout of the site. What does not change under its name lies in asset/
// with the hash of its bytes in its name and may be kept for ever; everything
// else is asked for again each time. All addresses are relative, so the same
// files work at the root of a host and in any folder of it.

// routes are the app's pages; each is a folder with an index.html. They are
// those of room.Places, which a test compares: the command need not carry the
// app for four words.
var routes = []string{"/", "/pairing", "/plans", "/sources"}

// A sheet is one file of the site.
type sheet struct {
	path string // relative, with slashes
	data []byte
}

// layout turns the sources and the compiled client into the files of a site.
// The service worker, which starts an update, is last.
func layout(src fs.FS, client, wasmExec []byte) (version string, sheets []sheet, err error) {
	l := &layouter{src: src, named: map[string]string{}}
	for _, pattern := range []string{"icons/*", "fonts/*.woff2", "towns/*.bin"} {
		names, err := fs.Glob(src, pattern)
		if err != nil {
			return "", nil, err
		}
		for _, name := range names {
			data, err := fs.ReadFile(src, name)
			if err != nil {
				return "", nil, err
			}
			l.asset(name, data)
		}
	}
	css, err := l.stylesheet()
	if err != nil {
		return "", nil, err
	}
	l.asset("app.css", css)
	l.asset("app.wasm", client)
	l.asset("wasm_exec.js", wasmExec)
	for _, name := range []string{"boot.js", "theme.js"} {
		script, err := fs.ReadFile(src, name)
		if err != nil {
			return "", nil, err
		}
		l.asset(name, script)
	}
	start, err := fs.ReadFile(src, "worker.js")
	if err != nil {
		return "", nil, err
	}
	l.asset("worker.js", workerScript(wasmExec, start))

	templates := map[string][]byte{}
	for _, name := range []string{"index.html", "404.html", "sw.js"} {
		if templates[name], err = fs.ReadFile(src, name); err != nil {
			return "", nil, err
		}
	}
	l.version = l.versionOf(templates)

	for _, route := range routes {
		base := strings.Repeat("../", strings.Count(strings.Trim(route, "/")+"/", "/"))
		name := path.Join(strings.Trim(route, "/"), "index.html")
		if route == "/" {
			base = "./"
		}
		page, err := l.page(templates["index.html"], base)
		if err != nil {
			return "", nil, err
		}
		l.kept = append(l.kept, strings.TrimSuffix(name, "index.html"))
		l.sheets = append(l.sheets, sheet{name, page})
	}
	lost, err := l.page(templates["404.html"], "./")
	if err != nil {
		return "", nil, err
	}
	l.sheets = append(l.sheets, sheet{"404.html", lost})
	if err := l.manifest(); err != nil {
		return "", nil, err
	}
	if err := l.documents(); err != nil {
		return "", nil, err
	}
	return l.version, l.sheets, l.worker(templates["sw.js"])
}

type layouter struct {
	src     fs.FS
	named   map[string]string // name in src -> path on the site
	kept    []string          // what the service worker keeps, "" and "plans/" for pages
	sheets  []sheet
	version string
}

// asset adds a file under a name that holds the hash of its bytes.
func (l *layouter) asset(name string, data []byte) {
	ext := path.Ext(name)
	p := "asset/" + strings.TrimSuffix(path.Base(name), ext) + "." + sum(data)[:12] + ext
	l.named[name] = p
	l.kept = append(l.kept, p)
	l.sheets = append(l.sheets, sheet{p, data})
}

// workerScript joins what a worker needs into one file: then it needs no
// importScripts, which a strict policy of the server may forbid, and one file
// kept is enough to work offline.
func workerScript(wasmExec, start []byte) []byte {
	return slices.Concat(bytes.TrimRight(wasmExec, "\n"), []byte("\n\n"), start)
}

// versionOf is a hash over all that makes the site different: the assets'
// names, which hold their hashes, and the templates.
func (l *layouter) versionOf(templates map[string][]byte) string {
	var b bytes.Buffer
	fmt.Fprintln(&b, l.kept, routes)
	for _, name := range slices.Sorted(maps.Keys(templates)) {
		fmt.Fprintln(&b, name, sum(templates[name]))
	}
	return sum(b.Bytes())[:12]
}

var cssURL = regexp.MustCompile(`url\(\s*["']?([^"')\s]*)["']?\s*\)`)

// stylesheet joins all css into one file, in the order of their names, and
// points its url()s to the hashed names. @import would not be there offline,
// and an address that is not a file of ours is a mistake.
func (l *layouter) stylesheet() ([]byte, error) {
	names, err := fs.Glob(l.src, "css/*.css")
	if err != nil {
		return nil, err
	}
	var all bytes.Buffer
	for _, name := range names {
		data, err := fs.ReadFile(l.src, name)
		if err != nil {
			return nil, err
		}
		if bytes.Contains(data, []byte("@import")) {
			return nil, fmt.Errorf("web/%s: @import is not kept offline; all css is joined anyway", name)
		}
		var bad error
		data = cssURL.ReplaceAllFunc(data, func(m []byte) []byte {
			target := string(cssURL.FindSubmatch(m)[1])
			if strings.HasPrefix(target, "data:") || strings.HasPrefix(target, "#") {
				return m
			}
			to, ok := l.named[path.Join(path.Dir(name), target)]
			if !ok {
				bad = fmt.Errorf("web/%s: url(%s) is no file in web/icons or web/fonts", name, target)
				return m
			}
			return []byte(`url("` + path.Base(to) + `")`) // the stylesheet lies in asset/ too
		})
		if bad != nil {
			return nil, bad
		}
		all.Write(data)
	}
	return all.Bytes(), nil
}

// pageData is what index.html and 404.html may use.
type pageData struct {
	Base    string // way up to the root of the site: "./" or "../"
	Version string
	named   map[string]string
}

// File gives the path of an asset by its name in web/.
func (d pageData) File(name string) (string, error) {
	if p, ok := d.named[name]; ok {
		return p, nil
	}
	return "", fmt.Errorf("no file %q", name)
}

func (l *layouter) page(text []byte, base string) ([]byte, error) {
	t, err := template.New("page").Parse(string(text))
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = t.Execute(&b, pageData{base, l.version, l.named})
	return b.Bytes(), err
}

// manifest writes what the browser needs to install the app. Its addresses
// are relative to itself.
//
// Source: W3C Web Application Manifest.
func (l *layouter) manifest() error {
	type icon struct {
		Src     string `json:"src"`
		Sizes   string `json:"sizes"`
		Type    string `json:"type"`
		Purpose string `json:"purpose"`
	}
	data, err := json.MarshalIndent(struct {
		ID          string `json:"id"`
		Name        string `json:"name"`
		ShortName   string `json:"short_name"`
		Description string `json:"description"`
		Lang        string `json:"lang"`
		StartURL    string `json:"start_url"`
		Scope       string `json:"scope"`
		Display     string `json:"display"`
		Background  string `json:"background_color"`
		Theme       string `json:"theme_color"`
		Icons       []icon `json:"icons"`
	}{
		"./", "Duskline", "Duskline",
		"How long a portable solar-charged battery unit runs your devices, and when it warns and shuts off.",
		"en", "./", "./", "standalone", "#f7efe0", "#f7efe0",
		[]icon{
			{l.named["icons/icon.svg"], "any", "image/svg+xml", "any"},
			{l.named["icons/icon-192.png"], "192x192", "image/png", "any"},
			{l.named["icons/icon-512.png"], "512x512", "image/png", "any"},
			{l.named["icons/maskable-512.png"], "512x512", "image/png", "maskable"},
		},
	}, "", "  ")
	l.kept = append(l.kept, "manifest.webmanifest")
	l.sheets = append(l.sheets, sheet{"manifest.webmanifest", append(data, '\n')})
	return err
}

// documents are files for other programs and for the curious; the app does
// not need them offline.
func (l *layouter) documents() error {
	as := map[string]string{"robots.txt": "robots.txt", "fonts/OFL.txt": "fonts-licence.txt"}
	schemas, err := fs.Glob(l.src, "*.schema.json")
	if err != nil {
		return err
	}
	for _, s := range schemas {
		as[s] = s
	}
	for _, name := range slices.Sorted(maps.Keys(as)) {
		data, err := fs.ReadFile(l.src, name)
		if err != nil {
			return err
		}
		l.sheets = append(l.sheets, sheet{as[name], data})
	}
	return nil
}

// worker adds sw.js with the list of what it keeps and the hash of each.
func (l *layouter) worker(text []byte) error {
	var files [][2]string
	for _, p := range l.kept {
		name := p
		if p == "" || strings.HasSuffix(p, "/") {
			name = p + "index.html"
		}
		i := slices.IndexFunc(l.sheets, func(s sheet) bool { return s.path == name })
		files = append(files, [2]string{p, integrity(l.sheets[i].data)})
	}
	list, err := json.MarshalIndent(files, "", " ")
	if err != nil {
		return err
	}
	t, err := texttemplate.New("sw.js").Parse(string(text))
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := t.Execute(&b, struct{ Version, Files string }{l.version, string(list)}); err != nil {
		return err
	}
	l.sheets = append(l.sheets, sheet{"sw.js", b.Bytes()})
	return nil
}

// integrity is the hash of data as browsers check it.
//
// Source: W3C Subresource Integrity.
func integrity(data []byte) string {
	h := sha512.Sum384(data)
	return "sha384-" + base64.StdEncoding.EncodeToString(h[:])
}
