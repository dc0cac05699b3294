package room

import (
	"strings"
	"testing"
)

func TestFileNames(t *testing.T) {
	for name, want := range map[string]string{
		"Heron count, three nights": "heron-count-three-nights.json",
		"../../etc/passwd":          "etc-passwd.json",
		"Ünïcode":                   "n-code.json",
		"夜":                         "plan.json",
		"  ":                        "plan.json",
	} {
		if got := FileName(name); got != want {
			t.Errorf("%q: %q, want %q", name, got, want)
		}
	}
}

func FuzzFileName(f *testing.F) {
	f.Add("Heron count")
	f.Add("a/b\\c:d\x00")
	f.Fuzz(func(t *testing.T, name string) {
		got := FileName(name)
		if strings.Trim(strings.TrimSuffix(got, ".json"), "abcdefghijklmnopqrstuvwxyz0123456789-") != "" || got == ".json" {
			t.Errorf("%q gave %q", name, got)
		}
	})
}
