package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func TestExportTouchesOnlyWhatChanged(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	one := []sheet{{"index.html", []byte("one")}, {"asset/a.1.js", bytes.Repeat([]byte("a"), 200)}, {"keep.txt", []byte("same")}}
	if n, err := export(dir, "1", one, packer{}); n != 3 || err != nil {
		t.Fatal(n, err)
	}
	// As an export leaves it that was killed half way.
	if err := os.WriteFile(filepath.Join(dir, "asset", "half.2.js"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	past := time.Now().Add(-time.Hour)
	if err := os.Chtimes(filepath.Join(dir, "keep.txt"), past, past); err != nil {
		t.Fatal(err)
	}
	two := []sheet{{"index.html", []byte("two")}, {"asset2/b.1.js", []byte("b")}, {"keep.txt", []byte("same")}}
	if n, err := export(dir, "2", two, packer{}); n != 2 || err != nil {
		t.Fatal(n, err)
	}
	info, err := os.Stat(filepath.Join(dir, "keep.txt"))
	if err != nil || info.ModTime().After(past.Add(time.Minute)) {
		t.Error("an unchanged file was written again", err)
	}
	if got, err := os.ReadFile(filepath.Join(dir, "index.html")); string(got) != "two" {
		t.Errorf("index.html is %q, %v", got, err)
	}
	if _, err := os.Stat(filepath.Join(dir, "asset")); !os.IsNotExist(err) {
		t.Error("what the earlier export left is still there:", err)
	}
	if stray, _ := filepath.Glob(filepath.Join(dir, ".new-*")); stray != nil {
		t.Error("left behind:", stray)
	}
}

func TestExportRefusesAForeignFolder(t *testing.T) {
	dir := t.TempDir()
	mine := filepath.Join(dir, "mine.txt")
	if err := os.WriteFile(mine, []byte("precious"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := export(dir, "1", []sheet{{"mine.txt", []byte("site")}}, packer{}); err == nil {
		t.Error("wrote into a folder with other things in it")
	}
	if got, _ := os.ReadFile(mine); string(got) != "precious" {
		t.Errorf("the file there is now %q", got)
	}
	// A list that names files outside the folder must not get them removed.
	site := filepath.Join(dir, "site")
	if err := os.Mkdir(site, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(site, listName), []byte(`{"files":{"../mine.txt":""}}`), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := export(site, "1", nil, packer{}); err != nil {
		t.Fatal(err)
	}
	if got, _ := os.ReadFile(mine); string(got) != "precious" {
		t.Errorf("the file beside the folder is now %q", got)
	}
}

func TestCompressedFormsComeFromTheCache(t *testing.T) {
	cache := t.TempDir()
	p := packer{cache: cache}
	data := []byte("some text")
	if _, err := p.packed(codings[0], data); err != nil {
		t.Fatal(err)
	}
	kept, err := filepath.Glob(filepath.Join(cache, "*.br"))
	if err != nil || len(kept) != 1 {
		t.Fatal(kept, err)
	}
	if err := os.WriteFile(kept[0], []byte("from the cache"), 0o644); err != nil {
		t.Fatal(err)
	}
	if got, err := p.packed(codings[0], data); string(got) != "from the cache" {
		t.Errorf("got %q, %v", got, err)
	}
	if got, _ := (packer{cache: cache, quick: true}).packed(codings[0], data); string(got) == "from the cache" {
		t.Error("a quick site took what was kept for a published one")
	}
}

func TestSiteSaysHowToMakeTheClient(t *testing.T) {
	var out, err bytes.Buffer
	status := run([]string{"site", "-client", filepath.Join(t.TempDir(), "app.wasm"), t.TempDir()}, streams{strings.NewReader(""), &out, &err})
	if status != exitFailed || !strings.Contains(err.String(), "make build") {
		t.Errorf("status %d, %s", status, err.String())
	}
}

func TestWrongUse(t *testing.T) {
	for _, c := range []struct {
		args   string
		status int
		out    string // in standard output
		err    string // in standard error
	}{
		{"", exitUsage, "", "Usage: duskline"},
		{"-h", exitDone, "Usage: duskline", ""},
		{"help", exitDone, "Usage: duskline", ""},
		{"nothing", exitUsage, "", `no subcommand "nothing"`},
		{"site", exitUsage, "", "one folder"},
		{"site a b", exitUsage, "", "one folder"},
		{"site -h", exitDone, "Exit status", ""},
		{"serve -h", exitDone, "Exit status", ""},
		{"serve --help", exitDone, "-addr", ""},
		{"serve -nothing", exitUsage, "", "-addr"},
		{"serve extra", exitUsage, "", `"extra"`},
		{"serve -dir /nowhere", exitFailed, "", "make site"},
	} {
		var out, err bytes.Buffer
		status := run(strings.Fields(c.args), streams{strings.NewReader(""), &out, &err})
		if status != c.status || !strings.Contains(out.String(), c.out) || !strings.Contains(err.String(), c.err) {
			t.Errorf("%q: status %d\nout: %s\nerr: %s", c.args, status, out.String(), err.String())
		}
		if c.out == "" && out.Len() > 0 || c.err == "" && err.Len() > 0 {
			t.Errorf("%q: more was said\nout: %s\nerr: %s", c.args, out.String(), err.String())
		}
	}
}
