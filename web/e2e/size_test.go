package e2e

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// maxBrotli is the bound for the program as it travels to a phone.
const maxBrotli = 2_200_000

func TestProgramIsSmall(t *testing.T) {
	built(t)
	program := ""
	for name := range siteFiles(t) {
		if strings.HasSuffix(name, ".wasm") {
			program = name
		}
	}
	sizes := map[string]int64{}
	for _, form := range []string{"", ".br", ".gz"} {
		info, err := os.Stat(filepath.Join(siteDir, program+form))
		if err != nil {
			t.Fatal(err)
		}
		sizes[form] = info.Size()
	}
	t.Logf("app.wasm: raw %d, brotli %d, gzip %d bytes; at most %d as brotli", sizes[""], sizes[".br"], sizes[".gz"], maxBrotli)
	if sizes[".br"] > maxBrotli {
		t.Errorf("%d bytes as brotli, at most %d", sizes[".br"], maxBrotli)
	}
}
