package calc_test

import (
	"go/ast"
	"go/build"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const module = "duskline/"

// level is the map of the core. A package imports only lower levels, so
// neighbours never meet. It is policy: if a build needs a new arrow, talk
// first, then draw it here with a reason.
var level = map[string]int{
	"qty": 0,
	"ref": 1, "notice": 1, "civil": 1, "coords": 1, "wire": 1,
	"sun": 2, "load": 2, "panel": 2, "power": 2, "battery": 2,
	"daylight": 3, "weather": 3, // join models, but know no document
	"plan":    4,
	"outlook": 5,
	"pairing": 6, "care": 6, "bench": 6, "gauge": 6, "drill": 6,
	"golden": 9, // above all: only tests, which are not counted, may import it
}

// std is what the core may use of the standard library: no files, no network,
// no machine. Two packages need a little more.
const std = "cmp context errors fmt iter maps math math/bits math/rand/v2 slices sort strconv strings time"

var stdMore = map[string]string{
	"plan":   " bytes compress/flate encoding/base64 encoding/json hash/crc32 io unicode/utf8",
	"golden": " bufio encoding/csv flag os path/filepath testing",
}

// never are the names in allowed packages that reach the clock, the screen,
// the machine's zone or shared random numbers.
var never = strings.Fields(`time.Now time.Since time.Until time.After time.Tick time.Sleep
	time.Local time.LoadLocation fmt.Print fmt.Printf fmt.Println
	rand.Float64 rand.NormFloat64 rand.IntN rand.Uint64 rand.Perm rand.Shuffle`)

func TestCalcImports(t *testing.T) {
	if deep, _ := filepath.Glob("*/*/*.go"); len(deep) > 0 {
		t.Errorf("%s: calc is one folder deep", deep[0])
	}
	files, _ := filepath.Glob("*/*.go")
	dirs := map[string]bool{}
	for _, f := range files {
		dirs[filepath.Dir(f)] = true
	}
	for dir := range dirs {
		mine, ok := level[dir]
		if !ok {
			t.Errorf("calc/%s has no level: give it one", dir)
			continue
		}
		p, err := build.ImportDir(dir, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, imp := range p.Imports {
			if own, ok := strings.CutPrefix(imp, module+"calc/"); ok {
				if l, ok := level[own]; !ok || l >= mine {
					t.Errorf("calc/%s imports calc/%s, which is not below it", dir, own)
				}
			} else if !slices.Contains(strings.Fields(std+stdMore[dir]), imp) {
				t.Errorf("calc/%s imports %s: the core is pure", dir, imp)
			}
		}
		for _, name := range p.GoFiles {
			fset := token.NewFileSet()
			file, err := parser.ParseFile(fset, filepath.Join(dir, name), nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			for _, imp := range file.Imports {
				if imp.Name != nil {
					t.Errorf("%s: renamed import %s: use its own name", fset.Position(imp.Pos()), imp.Path.Value)
				}
			}
			ast.Inspect(file, func(n ast.Node) bool {
				if s, ok := n.(*ast.SelectorExpr); ok {
					if x, ok := s.X.(*ast.Ident); ok && slices.Contains(never, x.Name+"."+s.Sel.Name) {
						t.Errorf("%s uses %s.%s: pass it in", fset.Position(s.Pos()), x.Name, s.Sel.Name)
					}
				}
				return true
			})
		}
	}
}

// TestClientStaysSmall walks what cmd/client imports of ours under js/wasm.
// go-app names net/http itself and the linker drops it; one call of ours to a
// server or a client keeps it and the TLS code, and the file grows from 7.0
// MB to 18.6 or 12.2 MB.
func TestClientStaysSmall(t *testing.T) {
	ctx := build.Default
	ctx.GOOS, ctx.GOARCH = "js", "wasm"
	done := map[string]bool{}
	var walk func(dir string)
	walk = func(dir string) {
		if done[dir] {
			return
		}
		done[dir] = true
		p, err := ctx.ImportDir(filepath.Join("..", dir), 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, imp := range p.Imports {
			if own, ok := strings.CutPrefix(imp, module); ok {
				walk(own)
			} else if imp == "net" || strings.HasPrefix(imp, "net/http") || imp == "crypto/tls" || strings.HasPrefix(imp, "os/") {
				t.Errorf("%s imports %s and is part of the client", dir, imp)
			}
		}
	}
	walk("cmd/client")
}
