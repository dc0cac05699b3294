package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// readWasmExec reads the script that joins a Go program to JavaScript. It
// comes with the compiler and must be of the same version as the compiled
// program: another one may fail at any call, so a mismatch is an error here.
func readWasmExec(name string, program []byte) ([]byte, error) {
	if name == "" {
		out, err := exec.Command("go", "env", "GOROOT").Output()
		if err != nil {
			return nil, fmt.Errorf("wasm_exec.js: go env GOROOT: %w; -wasm-exec names the file itself", err)
		}
		name = filepath.Join(strings.TrimSpace(string(out)), "lib", "wasm", "wasm_exec.js")
	}
	script, err := os.ReadFile(name)
	if err != nil {
		return nil, fmt.Errorf("wasm_exec.js: %w", err)
	}
	// $GOROOT/VERSION begins with a line like "go1.26.8". A script copied out
	// of its GOROOT cannot be checked.
	have, err := os.ReadFile(filepath.Join(filepath.Dir(name), "..", "..", "VERSION"))
	if err != nil {
		return script, nil
	}
	line, _, _ := strings.Cut(string(have), "\n")
	if built := goVersion(program); built != "" && strings.TrimSpace(line) != built {
		return nil, fmt.Errorf("the client was compiled by %s, but %s is of %s: `make build` with one Go", built, name, strings.TrimSpace(line))
	}
	return script, nil
}

// goVersion finds the version of the compiler in a compiled program, "" if it
// is not written there. The compiler writes it into the "producers" section:
// the field "language" with one value, "Go", and its version. Go's own build
// information has no fixed shape in WebAssembly, whose zeroes are left out.
//
// Source: WebAssembly tool conventions, ProducersSection; lengths are LEB128,
// here always of one byte.
func goVersion(program []byte) string {
	_, after, ok := bytes.Cut(program, []byte("\x09producers"))
	if !ok {
		return ""
	}
	_, after, ok = bytes.Cut(after, []byte("\x08language\x01\x02Go"))
	if !ok || len(after) == 0 || after[0] > 127 || int(after[0]) > len(after)-1 {
		return ""
	}
	v, _, _ := strings.Cut(string(after[1:1+int(after[0])]), " ") // experiments follow a space
	return v
}
