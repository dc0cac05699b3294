package e2e

import (
	"bytes"
	"errors"
	"os/exec"
	"strings"
	"syscall"
	"testing"
	"time"
)

func TestServeStopsWhenAsked(t *testing.T) {
	for _, sig := range []syscall.Signal{syscall.SIGTERM, syscall.SIGINT} {
		s := serve(t)
		if err := s.cmd.Process.Signal(sig); err != nil {
			t.Fatal(err)
		}
		done := make(chan error, 1)
		go func() { done <- s.cmd.Wait() }()
		select {
		case err := <-done:
			if err != nil {
				t.Errorf("%v: %v", sig, err)
			}
		case <-time.After(patience):
			t.Fatalf("%v: still serving", sig)
		}
	}
}

func TestServeOnATakenPortNamesTheVariable(t *testing.T) {
	s := serve(t)
	addr := strings.TrimSuffix(strings.TrimPrefix(s.URL, "http://"), "/")
	c := exec.Command(command, "serve", "-dir", siteDir, "-addr", addr)
	var text bytes.Buffer
	c.Stderr = &text
	err := c.Run()
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != 1 {
		t.Errorf("ended with %v, want exit status 1", err)
	}
	if line := text.String(); strings.Count(line, "\n") != 1 || !strings.Contains(line, "ADDR=") || !strings.Contains(line, addr) {
		t.Errorf("said %q", line)
	}
}
