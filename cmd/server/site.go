package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sync"

	"duskline/web"
)

const siteHelp = `Usage: duskline site [options] DIR

Writes the whole app as static files into the folder DIR, which is made if it
is not there. Any file server can serve them, at the root of a host or in any
folder of it; only folder addresses must answer with their index.html. Beside
each file worth it lie a .br and a .gz for servers that can pick them. Files
under asset/ never change under their name and may be cached for ever; all
others should be asked for again each time. Phones keep the app for use
without a network only from https addresses and from localhost.

DIR must be empty, or hold a site that this command wrote; what has not
changed there is left alone, what is no longer part of it is removed.

Exit status: 0 written, 1 failed, 64 wrong use.`

// listName is the file that says which files of a folder are the site's own.
const listName = "site.json"

// A siteList is what listName holds.
type siteList struct {
	Version string            `json:"version"`
	Files   map[string]string `json:"files"` // path -> SHA-256 of its bytes
}

func runSite(args []string, std streams) int {
	f := newFlags("site", siteHelp, std)
	client := f.String("client", "build/app.wasm", "the compiled client `file`")
	wasmExec := f.String("wasm-exec", "", "wasm_exec.js of the Go that compiled the client (default: ask \"go env GOROOT\")")
	cache := f.String("cache", "build/cache", "`folder` that keeps compressed files for the next time; empty: keep none")
	quick := f.Bool("quick", false, "compress lightly: for trying out, not for publishing")
	words, status, ok := parse(f, args, std)
	if !ok {
		return status
	}
	if len(words) != 1 {
		fmt.Fprintln(std.err, "duskline site: name one folder to write into; -h explains")
		return exitUsage
	}
	program, err := os.ReadFile(*client)
	if errors.Is(err, fs.ErrNotExist) {
		return fail(std, fmt.Errorf("the client %s is not there: `make build` makes it", *client))
	}
	if err != nil {
		return fail(std, err)
	}
	glue, err := readWasmExec(*wasmExec, program)
	if err != nil {
		return fail(std, err)
	}
	if program, err = withoutLines(program); err != nil {
		return fail(std, fmt.Errorf("%s: %w", *client, err))
	}
	version, sheets, err := layout(web.Files, program, glue)
	if err != nil {
		return fail(std, err)
	}
	changed, err := export(words[0], version, sheets, packer{*cache, *quick})
	if err != nil {
		return fail(std, err)
	}
	fmt.Fprintf(std.out, "site %s in %s: %d files, %d of them changed\n", version, words[0], len(sheets), changed)
	return exitDone
}

// export writes the files and their compressed forms into dir, in their
// order, each whole or not at all, then removes what an earlier export left.
// It answers how many files were new or different.
func export(dir, version string, sheets []sheet, p packer) (changed int, err error) {
	old, err := readList(dir)
	if err != nil {
		return 0, err
	}
	packedSheets, err := p.packAll(sheets)
	if err != nil {
		return 0, err
	}
	list := siteList{version, map[string]string{}}
	put := func(s sheet) (bool, error) {
		name := filepath.Join(dir, filepath.FromSlash(s.path))
		list.Files[s.path] = sum(s.data)
		if have, err := os.ReadFile(name); err == nil && bytes.Equal(have, s.data) {
			return false, nil
		}
		return true, writeWhole(name, s.data)
	}
	for i, s := range sheets {
		for _, form := range packedSheets[i] { // first: a server that sees the file sees its forms
			if _, err := put(form); err != nil {
				return changed, err
			}
		}
		isNew, err := put(s)
		if err != nil {
			return changed, err
		}
		if isNew {
			changed++
		}
	}
	text, err := json.MarshalIndent(list, "", " ")
	if err != nil {
		return changed, err
	}
	if err := writeWhole(filepath.Join(dir, listName), append(text, '\n')); err != nil {
		return changed, err
	}
	return changed, removeStale(dir, old, list)
}

// removeStale removes what an earlier export left: what its list names, and
// whatever lies in asset/, where an export that was interrupted may have left
// files that no list knows.
func removeStale(dir string, old, now siteList) error {
	stale := slices.Collect(maps.Keys(old.Files))
	assets, err := os.ReadDir(filepath.Join(dir, "asset"))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	for _, a := range assets {
		stale = append(stale, "asset/"+a.Name())
	}
	for _, p := range stale {
		if _, still := now.Files[p]; still || !filepath.IsLocal(filepath.FromSlash(p)) {
			continue
		}
		name := filepath.Join(dir, filepath.FromSlash(p))
		if err := os.Remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		os.Remove(filepath.Dir(name)) // a folder goes when it is empty
	}
	return nil
}

// readList reads what an earlier export wrote. A folder with other things in
// it is refused: to write there could destroy them.
func readList(dir string) (siteList, error) {
	var list siteList
	entries, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) || err == nil && len(entries) == 0 {
		return list, nil
	}
	if err != nil {
		return list, err
	}
	text, err := os.ReadFile(filepath.Join(dir, listName))
	if errors.Is(err, fs.ErrNotExist) {
		return list, fmt.Errorf("%s is neither empty nor a site made by this command: name another folder", dir)
	}
	if err != nil {
		return list, err
	}
	if err := json.Unmarshal(text, &list); err != nil {
		return list, fmt.Errorf("%s: %w", filepath.Join(dir, listName), err)
	}
	return list, nil
}

// packAll compresses the files, the greatest first and as many at once as
// there are processors. A form that saves nothing is left out.
func (p packer) packAll(sheets []sheet) ([][]sheet, error) {
	type job struct{ sheet, coding int }
	var jobs []job
	for i, s := range sheets {
		if isCompressible(s.path) {
			for c := range codings {
				jobs = append(jobs, job{i, c})
			}
		}
	}
	slices.SortStableFunc(jobs, func(a, b job) int { return len(sheets[b.sheet].data) - len(sheets[a.sheet].data) })
	forms := make([][]byte, len(sheets)*len(codings))
	errs := make([]error, len(jobs))
	next := make(chan int)
	var wg sync.WaitGroup
	for range max(1, min(8, runtime.GOMAXPROCS(0))) {
		wg.Go(func() {
			for k := range next {
				j := jobs[k]
				forms[j.sheet*len(codings)+j.coding], errs[k] = p.packed(codings[j.coding], sheets[j.sheet].data)
			}
		})
	}
	for k := range jobs {
		next <- k
	}
	close(next)
	wg.Wait()
	out := make([][]sheet, len(sheets))
	for _, j := range jobs {
		s := sheets[j.sheet]
		form := forms[j.sheet*len(codings)+j.coding]
		if len(form) < len(s.data) {
			out[j.sheet] = append(out[j.sheet], sheet{s.path + codings[j.coding].ending, form})
		}
	}
	return out, errors.Join(errs...)
}
