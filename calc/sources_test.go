package calc_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"duskline/calc/ref"
)

var sourceLine = regexp.MustCompile(`(?m)^Source: (\w+)`)

// TestEveryFigureHasASource reads the doc comments of the models. An exported
// function that returns a quantity names its source; a named source is in the
// table; a row of the table is named somewhere.
func TestEveryFigureHasASource(t *testing.T) {
	used := map[string]bool{}
	known := func(key string) bool {
		return slices.ContainsFunc(ref.Table, func(s ref.Source) bool { return s.Key == key })
	}
	for _, dir := range strings.Fields("civil sun load panel power battery weather wire daylight care") {
		files, _ := filepath.Glob(dir + "/*.go")
		for _, name := range files {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			fset := token.NewFileSet()
			f, err := parser.ParseFile(fset, name, nil, parser.ParseComments)
			if err != nil {
				t.Fatal(err)
			}
			for _, c := range f.Comments {
				for _, m := range sourceLine.FindAllStringSubmatch(c.Text(), -1) {
					used[m[1]] = true
					if !known(m[1]) {
						t.Errorf("%s: source %s is not in ref.Table", fset.Position(c.Pos()), m[1])
					}
				}
			}
			for _, d := range f.Decls {
				if fn, ok := d.(*ast.FuncDecl); ok && fn.Name.IsExported() && givesQuantity(fn) && !sourceLine.MatchString(fn.Doc.Text()) {
					t.Errorf("%s: %s returns a quantity; its doc comment lacks a Source: line", fset.Position(fn.Pos()), fn.Name)
				}
			}
		}
	}
	for _, s := range ref.Table {
		if !used[s.Key] {
			t.Errorf("ref.Table: %s is named nowhere", s.Key)
		}
	}
}

func givesQuantity(fn *ast.FuncDecl) (yes bool) {
	if fn.Type.Results != nil {
		ast.Inspect(fn.Type.Results, func(n ast.Node) bool {
			if s, ok := n.(*ast.SelectorExpr); ok {
				x, ok := s.X.(*ast.Ident)
				yes = yes || ok && x.Name == "qty"
			}
			return true
		})
	}
	return yes
}
