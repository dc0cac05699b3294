package e2e

import (
	"testing"
	"time"
)

// wait waits for something outside the page.
func wait(t testing.TB, ok func() bool, what string) {
	t.Helper()
	for end := time.Now().Add(patience); !ok(); time.Sleep(20 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("not in time: %s", what)
		}
	}
}
