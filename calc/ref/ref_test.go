package ref

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite SOURCES.md")

var kinds = map[Kind]string{
	Published:  "read by us",
	Cited:      "named by a source that we read",
	Library:    "computed by a general-purpose library",
	Definition: "true by definition",
	Practice:   "common practice, no source",
	Memory:     "from memory",
}

func TestTableIsSortedAndWhole(t *testing.T) {
	for i, s := range Table {
		if s.Key == "" || s.Cite == "" {
			t.Errorf("row %d lacks its key or its text: %+v", i, s)
		}
		if i > 0 && Table[i-1].Key >= s.Key {
			t.Errorf("%s stands after %s", s.Key, Table[i-1].Key)
		}
		if kinds[s.Kind] == "" {
			t.Errorf("%s is of kind %d, which has no name here", s.Key, s.Kind)
		}
	}
}

// SOURCES.md is the table for people who read the repository.
func TestSourcesFileIsTheTable(t *testing.T) {
	var b strings.Builder
	b.WriteString("# What the numbers rest on\n\nWritten from `ref.go` by `make golden`; do not edit.\n\n| key | source | where | how far we read it |\n| --- | --- | --- | --- |\n")
	for _, s := range Table {
		fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", s.Key, strings.ReplaceAll(s.Cite, "|", "\\|"), s.Where, kinds[s.Kind])
	}
	if *update {
		if err := os.WriteFile("SOURCES.md", []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	have, err := os.ReadFile("SOURCES.md")
	if err != nil {
		t.Fatal(err)
	}
	if string(have) != b.String() {
		t.Error("SOURCES.md is behind the table: run make golden")
	}
}

func Example() {
	for _, s := range Table {
		if s.Key == "Faiman2008" {
			fmt.Println(s.Where)
		}
	}
	// Output: doi:10.1002/pip.813
}
