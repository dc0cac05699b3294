package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/andybalholm/brotli"
)

// Files are compressed once, at the highest setting, when the site is made:
// brotli 11 takes tens of seconds for the program, far too long for a
// request. The result is kept under the hash of the content, so that a second
// `make site` compresses only what changed.

// A coding is one Content-Encoding with the ending of its files. best is the
// level of a site to be published, quick the one for trying out.
type coding struct {
	name, ending string
	best, quick  int
	pack         func(data []byte, level int) ([]byte, error)
}

// codings in the order of preference: smallest first.
var codings = []coding{
	{"br", ".br", brotli.BestCompression, 4, packBrotli},
	{"gzip", ".gz", gzip.BestCompression, 4, packGzip},
}

// compressible lists the file endings worth compressing. Images and woff2
// fonts are compressed in themselves.
const compressible = " .html .js .css .wasm .svg .json .webmanifest .txt .bin "

func isCompressible(path string) bool {
	return strings.Contains(compressible, " "+filepath.Ext(path)+" ")
}

func packBrotli(data []byte, level int) ([]byte, error) {
	var b bytes.Buffer
	w := brotli.NewWriterOptions(&b, brotli.WriterOptions{Quality: level, LGWin: 22})
	if _, err := w.Write(data); err != nil {
		return nil, err
	}
	err := w.Close()
	return b.Bytes(), err
}

func packGzip(data []byte, level int) ([]byte, error) {
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, level)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(data); err != nil {
		return nil, err
	}
	err = w.Close()
	return b.Bytes(), err
}

// A packer compresses. An empty cache keeps nothing.
type packer struct {
	cache string // folder
	quick bool   // not as small as can be
}

// packed returns data in the coding, from the cache if it is there.
func (p packer) packed(c coding, data []byte) ([]byte, error) {
	level := c.best
	if p.quick {
		level = c.quick
	}
	if p.cache == "" {
		return c.pack(data, level)
	}
	name := filepath.Join(p.cache, fmt.Sprintf("%s-%d%s", sum(data), level, c.ending))
	if b, err := os.ReadFile(name); err == nil {
		return b, nil
	}
	b, err := c.pack(data, level)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c.name, err)
	}
	return b, writeWhole(name, b)
}

// writeWhole writes a file so that a reader sees all of it or none.
func writeWhole(name string, data []byte) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return err
	}
	t, err := os.CreateTemp(filepath.Dir(name), ".new-*")
	if err != nil {
		return err
	}
	defer os.Remove(t.Name()) // does nothing after the rename
	_, err = t.Write(data)
	if err == nil {
		err = t.Chmod(0o644)
	}
	if cerr := t.Close(); err == nil {
		err = cerr
	}
	if err == nil {
		err = os.Rename(t.Name(), name)
	}
	return err
}

// sum is the SHA-256 of data in hexadecimal.
func sum(data []byte) string {
	h := sha256.Sum256(data)
	return hex.EncodeToString(h[:])
}
