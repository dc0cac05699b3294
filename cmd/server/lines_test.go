package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// A program that tells of itself: its lines are gone, the names of its
// functions stay, and a panic is caught as before.
const teller = `package main

import "runtime"

func told() {
	_, file, line, ok := runtime.Caller(0)
	pc, _, _, _ := runtime.Caller(0)
	println(file, line, ok, runtime.FuncForPC(pc).Name())
}

func main() {
	defer func() { println("caught", recover() != nil) }()
	told()
	var list []int
	println(list[len(list)])
}
`

func TestWithoutLines(t *testing.T) {
	dir := t.TempDir()
	source, before, after := filepath.Join(dir, "main.go"), filepath.Join(dir, "before.wasm"), filepath.Join(dir, "after.wasm")
	if err := os.WriteFile(source, []byte(teller), 0o600); err != nil {
		t.Fatal(err)
	}
	build := exec.Command("go", "build", "-o", before, source)
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	whole, err := os.ReadFile(before)
	if err != nil {
		t.Fatal(err)
	}
	bare, err := withoutLines(whole)
	if err != nil {
		t.Fatal(err)
	}
	if len(bare) != len(whole) || goVersion(bare) != goVersion(whole) {
		t.Errorf("%d bytes of %s, were %d of %s", len(bare), goVersion(bare), len(whole), goVersion(whole))
	}
	small, err := packBrotli(bare, 4)
	if err != nil {
		t.Fatal(err)
	}
	large, err := packBrotli(whole, 4)
	if err != nil {
		t.Fatal(err)
	}
	if t.Logf("packed: %d bytes, were %d", len(small), len(large)); len(small) > len(large)*95/100 {
		t.Errorf("packed: %d bytes, were %d", len(small), len(large))
	}
	again, err := withoutLines(bare)
	if err != nil || !bytes.Equal(again, bare) {
		t.Errorf("a second time: %v, the same: %v", err, bytes.Equal(again, bare))
	}
	if err := os.WriteFile(after, bare, 0o600); err != nil {
		t.Fatal(err)
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := exec.LookPath("node"); err != nil {
		t.Skip("node is not here: the program was not run")
	}
	out, err := exec.Command("node", filepath.Join(string(bytes.TrimSpace(root)), "lib", "wasm", "wasm_exec_node.js"), after).CombinedOutput()
	if want := "? 0 true main.told\ncaught true\n"; err != nil || string(out) != want {
		t.Errorf("it says %q, %v; want %q", out, err, want)
	}
}

func TestWithoutLinesOfSomethingElse(t *testing.T) {
	for name, program := range map[string][]byte{
		"nothing":        nil,
		"a header":       []byte("\x00asm\x01\x00\x00\x00"),
		"a cut section":  []byte("\x00asm\x01\x00\x00\x00\x0b\x20\x01\x00\x41\x00"),
		"another table":  []byte("\x00asm\x01\x00\x00\x00\x0b\x0d\x01\x00\x41\x00\x0b\x07abcdefg"),
		"an endless leb": append([]byte("\x00asm\x01\x00\x00\x00\x0b"), bytes.Repeat([]byte{0xff}, 40)...),
	} {
		if out, err := withoutLines(program); !errors.Is(err, errLayout) || out != nil {
			t.Errorf("%s: %d bytes, %v", name, len(out), err)
		}
	}
}
