package words

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/text/language"
	"golang.org/x/text/message"
)

func TestUnknownKeyIsSeen(t *testing.T) {
	if got := T("no.such.key"); got != "[no.such.key]" {
		t.Errorf("got %q", got)
	}
}

func TestUnknownLanguageGivesEnglish(t *testing.T) {
	if got := SetLanguage(language.Japanese); got != language.English {
		t.Errorf("got %v", got)
	}
}

func TestPluralsFollowTheCount(t *testing.T) {
	for n, want := range map[int]string{1: "On one day the sun does not set.", 4: "On 4 days the sun does not set."} {
		if got := T("notice.polar_day", n); got != want {
			t.Errorf("%d gave %q", n, got)
		}
	}
	if _, err := parse("{one a day"); err == nil {
		t.Error("a plural form without a closing brace was taken")
	}
}

// A language with gaps speaks English there.
func TestGapsSpeakEnglish(t *testing.T) {
	welsh := book{Language{language.MustParse("cy"), "Cymraeg"}, []map[string]string{{"verdict.holds": "Yn dal"}}}
	p := message.NewPrinter(welsh.Tag, message.Catalog(build(append(catalogues[:1:1], welsh))))
	for key, want := range map[string]string{"verdict.holds": "Yn dal", "verdict.tight": "Tight"} {
		if got := p.Sprintf(key); got != want {
			t.Errorf("%s is %q, want %q", key, got, want)
		}
	}
}

// TestEveryLanguageIsComplete also compares the arguments that a text takes:
// a translation that drops a number is as wrong as one that is missing.
func TestEveryLanguageIsComplete(t *testing.T) {
	want := texts(0)
	for i, c := range catalogues {
		have := texts(i)
		n := 0
		for _, m := range c.texts {
			n += len(m)
		}
		if n != len(have) {
			t.Errorf("%v: a key stands in two files", c.Tag)
		}
		for key, text := range want {
			if strings.TrimSpace(have[key]) == "" {
				t.Errorf("%v has no words for %s", c.Tag, key)
			} else if a, b := arguments(text), arguments(have[key]); !slices.Equal(a, b) {
				t.Errorf("%v, %s: takes arguments %v, English %v", c.Tag, key, b, a)
			}
		}
		for key := range have {
			if want[key] == "" {
				t.Errorf("%v: %s is not in English", c.Tag, key)
			}
		}
	}
}

var verb = regexp.MustCompile(`%(\[\d+\])?[-+# 0-9.]*([a-zA-Z%])`)

// arguments lists the places of the arguments that a text takes, sorted.
func arguments(text string) []int {
	var list []int
	for _, form := range strings.Split(text, "{") {
		next := 1
		for _, m := range verb.FindAllStringSubmatch(form, -1) {
			if m[2] == "%" {
				continue
			}
			if m[1] != "" {
				next, _ = strconv.Atoi(strings.Trim(m[1], "[]"))
			}
			list = append(list, next)
			next++
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// TestKeysMeetTheSource walks the app's source. A key handed to T must exist.
// A key in the catalogue must be used: named as a literal anywhere (labels
// travel through fields), or under a prefix that T is called with, as in
// T("chemistry." + string(c)).
func TestKeysMeetTheSource(t *testing.T) {
	literals, prefixes := map[string]bool{}, map[string]bool{}
	for _, root := range []string{"..", "../../cmd"} {
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			if strings.HasPrefix(path, "../words/en") {
				return nil
			}
			fset := token.NewFileSet()
			file, err := parser.ParseFile(fset, path, nil, 0)
			if err != nil {
				return nil // the compiler says it better
			}
			ast.Inspect(file, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.BasicLit:
					if s, ok := literal(n); ok {
						literals[s] = true
					}
				case *ast.BinaryExpr:
					if s, ok := literal(leftmost(n)); ok && strings.HasSuffix(s, ".") {
						prefixes[s] = true
					}
				case *ast.CallExpr:
					if !isT(n.Fun) || len(n.Args) == 0 {
						return true
					}
					if s, ok := literal(n.Args[0]); ok && !Has(s) {
						t.Errorf("%s: no words for %q", fset.Position(n.Pos()), s)
					}
				}
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	for key := range keys {
		used := literals[key]
		for p := range prefixes {
			used = used || strings.HasPrefix(key, p)
		}
		if !used {
			t.Errorf("%s is used nowhere", key)
		}
	}
}

func isT(fun ast.Expr) bool {
	switch f := fun.(type) {
	case *ast.Ident:
		return f.Name == "T"
	case *ast.SelectorExpr:
		x, ok := f.X.(*ast.Ident)
		return ok && x.Name == "words" && f.Sel.Name == "T"
	}
	return false
}

func leftmost(e ast.Expr) ast.Expr {
	for {
		b, ok := e.(*ast.BinaryExpr)
		if !ok {
			return e
		}
		e = b.X
	}
}

func literal(e ast.Expr) (string, bool) {
	l, ok := e.(*ast.BasicLit)
	if !ok || l.Kind != token.STRING {
		return "", false
	}
	s, err := strconv.Unquote(l.Value)
	return s, err == nil
}
