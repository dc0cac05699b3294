package e2e

import (
	"bufio"
	"bytes"
	"flag"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"
)

func TestMain(m *testing.M) {
	flag.Parse()
	if testing.Short() {
		fmt.Println("e2e: -short, so NO BROWSER TEST RUNS")
	}
	os.Exit(m.Run())
}

// The tests build what they test, so that they never pass on an old build;
// Go's cache and the cache of compressed files make that quick.
const (
	root     = "../.."
	client   = root + "/build/app.wasm"
	command  = root + "/build/duskline"
	siteDir  = root + "/build/site"
	cacheDir = root + "/build/cache"
)

var build = sync.OnceValue(func() error {
	c := exec.Command("make", "--no-print-directory", "-C", root, "site")
	for _, e := range os.Environ() {
		// What a make above this test says to its own children is not for this one.
		if !strings.HasPrefix(e, "MAKE") && !strings.HasPrefix(e, "MFLAGS") {
			c.Env = append(c.Env, e)
		}
	}
	if out, err := c.CombinedOutput(); err != nil {
		return fmt.Errorf("make site: %w\n%s", err, out)
	}
	return nil
})

// built makes the client, the command and the site once, or skips the test.
func built(t testing.TB) {
	t.Helper()
	if testing.Short() {
		t.Skip("a browser test, and -short was given")
	}
	if err := build(); err != nil {
		t.Fatal(err)
	}
}

// A version is a site of its own in a folder of its own, from the current
// client with a mark in it, so that each mark gives another version.
func export(t testing.TB, dir, mark string) {
	t.Helper()
	program, err := os.ReadFile(client)
	if err != nil {
		t.Fatal(err)
	}
	marked := filepath.Join(t.TempDir(), "app.wasm")
	if err := os.WriteFile(marked, append(program, customSection(mark)...), 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(command, "site", "-quick", "-client", marked, "-cache", cacheDir, dir).CombinedOutput()
	if err != nil {
		t.Fatalf("site: %v\n%s", err, out)
	}
}

// customSection is a piece of a WebAssembly program that means nothing:
// section 0, its size, the length of its name, its name. Empty for no mark.
func customSection(name string) []byte {
	if name == "" {
		return nil
	}
	return append([]byte{0, byte(len(name) + 1), byte(len(name))}, name...)
}

// A server is the real command, serving.
type server struct {
	URL string // with a slash at the end

	dir  string
	cmd  *exec.Cmd
	mu   sync.Mutex
	asks []string // log lines
}

// serve starts a server for the site of this build.
func serve(t testing.TB) *server {
	t.Helper()
	built(t)
	return serveDir(t, siteDir, "127.0.0.1:0")
}

// serveOwn starts a server for a site in a new folder, which the test may
// change.
func serveOwn(t testing.TB, mark string) *server {
	t.Helper()
	built(t)
	dir := filepath.Join(t.TempDir(), "site")
	export(t, dir, mark)
	return serveDir(t, dir, "127.0.0.1:0")
}

func serveDir(t testing.TB, dir, addr string) *server {
	t.Helper()
	s := &server{dir: dir}
	s.cmd = exec.Command(command, "serve", "-log", "-dir", dir, "-addr", addr)
	out, err := s.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	s.cmd.Stderr = s
	if err := s.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.kill)
	line, err := bufio.NewReader(out).ReadString('\n')
	s.URL = regexp.MustCompile(`http://\S+/`).FindString(line)
	if err != nil || s.URL == "" {
		t.Fatalf("serve said %q, %v; standard error: %q", line, err, s.log())
	}
	return s
}

// Write takes the server's log.
func (s *server) Write(b []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.asks = append(s.asks, strings.Split(strings.TrimSpace(string(b)), "\n")...)
	return len(b), nil
}

// log is what the server was asked so far, a line each.
func (s *server) log() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]string(nil), s.asks...)
}

// kill ends the process at once, as a dead battery would, and makes sure that
// nothing answers any more.
func (s *server) kill() {
	if s.cmd.ProcessState == nil {
		s.cmd.Process.Kill()
		s.cmd.Wait()
	}
	c := http.Client{Timeout: time.Second}
	if r, err := c.Get(s.URL); err == nil {
		io.Copy(io.Discard, r.Body)
		r.Body.Close()
		panic("something answers at " + s.URL + " after the server was killed")
	}
}

// again starts a new server on the address of a killed one.
func (s *server) again(t testing.TB) *server {
	t.Helper()
	return serveDir(t, s.dir, strings.TrimSuffix(strings.TrimPrefix(s.URL, "http://"), "/"))
}

// damage flips bytes in every form of the program in a site.
func damage(t testing.TB, dir string) {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(dir, "asset", "app.*.wasm*"))
	if err != nil || len(names) == 0 {
		t.Fatal("no program in", dir, err)
	}
	for _, name := range names {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if filepath.Ext(name) != ".wasm" {
			if err := os.Remove(name); err != nil { // damaged brotli would fail for another reason
				t.Fatal(err)
			}
			continue
		}
		b = bytes.Clone(b)
		b[len(b)-1] ^= 1
		if err := os.WriteFile(name, b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
