package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

func TestCompilerAndGlueMustMatch(t *testing.T) {
	if runtime.GOOS == "js" {
		t.Skip("needs the go command")
	}
	dir := t.TempDir()
	main := filepath.Join(dir, "main.go")
	if err := os.WriteFile(main, []byte("package main\nfunc main() {}\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	wasm := filepath.Join(dir, "main.wasm")
	c := exec.Command("go", "build", "-trimpath", "-ldflags=-s -w", "-o", wasm, main)
	c.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=")
	if out, err := c.CombinedOutput(); err != nil {
		t.Fatal(err, string(out))
	}
	program, err := os.ReadFile(wasm)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := goVersion(program), runtime.Version(); got != want {
		t.Errorf("the program says %q, its compiler is %q", got, want)
	}
	if _, err := readWasmExec("", program); err != nil {
		t.Error(err)
	}

	// A glue of another Go is refused.
	other := filepath.Join(dir, "go")
	script := filepath.Join(other, "lib", "wasm", "wasm_exec.js")
	if err := writeWhole(script, []byte("x")); err != nil {
		t.Fatal(err)
	}
	if err := writeWhole(filepath.Join(other, "VERSION"), []byte("go1.99.9\ntime x\n")); err != nil {
		t.Fatal(err)
	}
	if _, err := readWasmExec(script, program); err == nil || !strings.Contains(err.Error(), "go1.99.9") {
		t.Error("a glue of go1.99.9:", err)
	}
	if _, err := readWasmExec(filepath.Join(dir, "none.js"), program); err == nil {
		t.Error("a glue that is not there was read")
	}
}

func TestGoVersionOfNonsense(t *testing.T) {
	const start = "\x09producers\x02\x08language\x01\x02Go"
	for _, s := range []string{"", "\x00asm", "\x09producers", start, start + "\x09go1.26", start + "\xff" + strings.Repeat("x", 300)} {
		if got := goVersion([]byte(s)); got != "" {
			t.Errorf("%q: version %q", s, got)
		}
	}
	if got := goVersion([]byte(start + "\x0cgo1.99 X:all\x0cprocessed-by")); got != "go1.99" {
		t.Errorf("with experiments: %q", got)
	}
}
