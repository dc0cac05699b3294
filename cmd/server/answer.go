package main

import (
	"bytes"
	"io"
	"io/fs"
	"net/http"
	"path"
	"strconv"
	"strings"
	"sync"
	"time"
)

// headers go with every answer. The policy allows the app's own files and
// nothing else: no inline script or style, no other host. COOP and COEP give
// the page the fine clock and shared memory; Permissions-Policy leaves camera
// and place to the app, for the hand-over code and the Sky.
var headers = [][2]string{
	{"Content-Security-Policy", "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; worker-src 'self'; manifest-src 'self'; font-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"},
	{"Cross-Origin-Opener-Policy", "same-origin"},
	{"Cross-Origin-Embedder-Policy", "require-corp"},
	{"Cross-Origin-Resource-Policy", "same-origin"},
	{"Permissions-Policy", "camera=(self), geolocation=(self), microphone=(), payment=(), usb=(), serial=()"},
	{"Referrer-Policy", "no-referrer"},
	{"X-Content-Type-Options", "nosniff"},
}

// types of the files that a site has. A fixed list: the one of the machine
// may lack some or name them otherwise.
var types = map[string]string{
	".html":        "text/html; charset=utf-8",
	".js":          "text/javascript; charset=utf-8",
	".css":         "text/css; charset=utf-8",
	".wasm":        "application/wasm",
	".json":        "application/json",
	".webmanifest": "application/manifest+json",
	".svg":         "image/svg+xml",
	".png":         "image/png",
	".woff2":       "font/woff2",
	".txt":         "text/plain; charset=utf-8",
	".bin":         "application/octet-stream",
}

// A site answers requests with the files of a folder. It reads the folder for
// each request, so a new export is served without a restart. Only files with
// a known type are part of it, which leaves out the compressed forms, the
// list of files and what else may lie there.
type site struct {
	files fs.FS

	mu   sync.Mutex
	tags map[tagKey]string
}

// tagKey says of which bytes a tag is.
type tagKey struct {
	name string
	size int64
	time time.Time
}

func newSite(files fs.FS) *site {
	return &site{files: files, tags: map[tagKey]string{}}
}

func (s *site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	for _, kv := range headers {
		h.Set(kv[0], kv[1])
	}
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		h.Set("Allow", "GET, HEAD")
		http.Error(w, "only GET and HEAD", http.StatusMethodNotAllowed)
		return
	}
	name := strings.TrimPrefix(r.URL.Path, "/")
	switch {
	case name == "" || strings.HasSuffix(name, "/"):
		name += "index.html"
	case path.Base(name) == "index.html":
		s.redirect(w, r, "./")
		return
	case s.isFile(name + "/index.html"):
		s.redirect(w, r, path.Base(name)+"/")
		return
	}
	if name == listName || !s.isFile(name) {
		s.lost(w, r)
		return
	}
	s.file(w, r, name)
}

// redirect sends the browser to a place relative to the request, which stays
// right behind a proxy that serves the site in a folder.
func (s *site) redirect(w http.ResponseWriter, r *http.Request, to string) {
	if r.URL.RawQuery != "" {
		to += "?" + r.URL.RawQuery
	}
	w.Header().Set("Location", to)
	w.Header().Set("Cache-Control", "no-cache")
	w.WriteHeader(http.StatusMovedPermanently)
}

// isFile says whether name is a file of the site. fs.ValidPath inside Open
// keeps out "..", empty parts and the like.
func (s *site) isFile(name string) bool {
	if types[path.Ext(name)] == "" {
		return false
	}
	info, err := fs.Stat(s.files, name)
	return err == nil && info.Mode().IsRegular()
}

// lost answers a request for what is not there. The page was made for the
// root of the site; its relative addresses are lengthened to the depth of the
// request.
func (s *site) lost(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Cache-Control", "no-cache")
	page, err := fs.ReadFile(s.files, "404.html")
	if err != nil {
		http.Error(w, "not found", http.StatusNotFound)
		return
	}
	up := strings.Repeat("../", strings.Count(strings.TrimPrefix(r.URL.Path, "/"), "/"))
	page = bytes.ReplaceAll(page, []byte(`="./`), []byte(`="./`+up))
	w.Header().Set("Content-Type", types[".html"])
	w.Header().Set("Content-Length", strconv.Itoa(len(page)))
	w.WriteHeader(http.StatusNotFound)
	if r.Method == http.MethodGet {
		w.Write(page) // an error here is a visitor who left
	}
}

// file answers with a file in the best coding that the browser takes.
func (s *site) file(w http.ResponseWriter, r *http.Request, name string) {
	h := w.Header()
	h.Set("Content-Type", types[path.Ext(name)])
	h.Set("Cache-Control", "no-cache")
	if strings.HasPrefix(name, "asset/") {
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
	}
	form := name
	if isCompressible(name) {
		h.Set("Vary", "Accept-Encoding")
		for _, c := range codings {
			if accepts(r.Header.Get("Accept-Encoding"), c.name) {
				if _, err := fs.Stat(s.files, name+c.ending); err == nil {
					form = name + c.ending
					h.Set("Content-Encoding", c.name)
					break
				}
			}
		}
	}
	f, err := s.files.Open(form)
	if err != nil {
		http.Error(w, "cannot read the file", http.StatusInternalServerError)
		return
	}
	defer f.Close()
	info, err := f.Stat()
	seeker, ok := f.(io.ReadSeeker)
	if err != nil || !ok {
		http.Error(w, "cannot read the file", http.StatusInternalServerError)
		return
	}
	tag, err := s.tag(form, info, seeker)
	if err != nil {
		http.Error(w, "cannot read the file", http.StatusInternalServerError)
		return
	}
	h.Set("ETag", tag)
	if form != name {
		// ServeContent gives no length for encoded content, since it cannot
		// know whether a wrapper compresses. Nothing does here. Ranges of
		// compressed bytes help nobody.
		r = r.Clone(r.Context())
		r.Header.Del("Range")
		h.Set("Content-Length", strconv.FormatInt(info.Size(), 10))
	}
	http.ServeContent(w, r, name, time.Time{}, seeker)
}

// tag is a strong entity tag from the bytes of the file, kept as long as its
// size and time stay.
func (s *site) tag(name string, info fs.FileInfo, f io.ReadSeeker) (string, error) {
	key := tagKey{name, info.Size(), info.ModTime()}
	s.mu.Lock()
	tag, ok := s.tags[key]
	s.mu.Unlock()
	if ok {
		return tag, nil
	}
	data, err := io.ReadAll(f)
	if err != nil {
		return "", err
	}
	if _, err := f.Seek(0, io.SeekStart); err != nil {
		return "", err
	}
	tag = `"` + sum(data)[:20] + `"`
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.tags) > 1000 { // many exports while serving: forget the old ones
		clear(s.tags)
	}
	s.tags[key] = tag
	return tag, nil
}

// accepts says whether an Accept-Encoding header allows the coding.
//
// Source: RFC 9110 section 12.5.3; the weights' order is not followed, since
// all forms mean the same to every browser: the smallest allowed one wins.
func accepts(header, coding string) bool {
	star := false
	for part := range strings.SplitSeq(header, ",") {
		name, weight, _ := strings.Cut(part, ";")
		name = strings.ToLower(strings.TrimSpace(name))
		q := 1.0
		if v, ok := strings.CutPrefix(strings.ToLower(strings.ReplaceAll(weight, " ", "")), "q="); ok {
			var err error
			if q, err = strconv.ParseFloat(v, 64); err != nil {
				q = 0
			}
		}
		switch name {
		case coding:
			return q > 0
		case "*":
			star = q > 0
		}
	}
	return star
}
