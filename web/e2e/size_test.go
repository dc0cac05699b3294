package e2e

import (
	"os"
	"path/filepath"
	"testing"
)

// maxBrotli is the bound for the program as it travels to a phone.
const maxBrotli = 2_200_000

func TestProgramIsSmall(t *testing.T) {
	built(t)
	sizes := map[string]int64{}
	for what, pattern := range map[string]string{"raw": "app.*.wasm", "brotli": "app.*.wasm.br", "gzip": "app.*.wasm.gz"} {
		names, err := filepath.Glob(filepath.Join(siteDir, "asset", pattern))
		if err != nil || len(names) != 1 {
			t.Fatalf("%s: %v %v", pattern, names, err)
		}
		info, err := os.Stat(names[0])
		if err != nil {
			t.Fatal(err)
		}
		sizes[what] = info.Size()
	}
	t.Logf("app.wasm: raw %d, brotli %d, gzip %d bytes; at most %d as brotli", sizes["raw"], sizes["brotli"], sizes["gzip"], maxBrotli)
	if sizes["brotli"] > maxBrotli {
		t.Errorf("%d bytes as brotli, at most %d", sizes["brotli"], maxBrotli)
	}
}
