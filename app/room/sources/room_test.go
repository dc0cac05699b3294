package sources

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/app/store"
	"duskline/app/words"
	"duskline/calc/ref"
)

func page() string {
	s := room.NewSession(store.NewShelf(nil, time.Now))
	s.Begin()
	return app.HTMLString((&Room{Session: s}).Render())
}

func Example() {
	fmt.Println(strings.Contains(page(), words.T("source_kind.practice")))
	// Output: true
}

func TestEverySourceStandsUnderItsKind(t *testing.T) {
	html := page()
	at := map[ref.Kind]int{}
	for _, k := range kinds {
		at[k.kind] = strings.Index(html, `id="sources-`+k.key+`"`)
	}
	for _, s := range ref.Table {
		i := strings.Index(html, `id="source-`+s.Key+`"`)
		if i < 0 || at[s.Kind] < 0 || i < at[s.Kind] {
			t.Errorf("%s is not under its kind", s.Key)
			continue
		}
		for kind, from := range at {
			if kind != s.Kind && from > at[s.Kind] && i > from {
				t.Errorf("%s stands under another kind", s.Key)
			}
		}
	}
}

func TestLicencesAndCautionsAreThere(t *testing.T) {
	html := page()
	for _, want := range []string{"GeoNames", "CC BY 4.0", "SIL Open Font License", "University of Oxford", "MIT licence", "BSD 3-clause", "clinician", "local codes"} {
		if !strings.Contains(html, want) {
			t.Errorf("%s is missing", want)
		}
	}
	for _, c := range cautions {
		if !words.Has("sources_caution." + c) {
			t.Errorf("no words for %s", c)
		}
	}
	if strings.Contains(html, "style=") || strings.Contains(html, "%!") {
		t.Error("a style attribute, or words without their numbers")
	}
}
