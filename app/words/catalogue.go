// Package words turns keys, codes and numbers into what a person reads.
//
// Every text of the app stands in a catalogue: one file a language (en.go,
// with en_screens.go for the words of screens). The core hands out codes and
// numbers only. Texts are plain: no markup, nothing to escape but what the
// page escapes anyway.
//
// A catalogue is a map of key to text. A text takes its arguments as in fmt:
// %s and %[2]s for what is formatted already, %d for a count. A text that
// depends on a count lists its plural forms, chosen by the first argument:
//
//	"{one}%d device{other}%d devices"
//	"{=0}no devices{one}%d device{other}%d devices"
//
// The percent sign itself is written %%.
package words

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/message/catalog"
)

// A Language is one that the app speaks.
type Language struct {
	Tag  language.Tag
	Name string // in that language: "English"
}

// A book is the catalogue of one language.
type book struct {
	Language
	texts []map[string]string
}

// catalogues lists the languages. The first one is complete and stands in for
// what another one lacks; a test refuses such gaps all the same.
var catalogues = []book{
	{Language{language.English, "English"}, []map[string]string{english, englishFields, englishScreens, englishSky, englishLie, englishFile, englishDays, englishPlace, englishWiring, englishChemistry, englishPairing, englishBattery}},
}

// speech is one language in use.
type speech struct {
	tag     language.Tag
	printer *message.Printer
	fixed   sync.Map // texts without arguments, worded already
}

var (
	keys    = texts(0) // what can be said
	builder = build(catalogues)
	current atomic.Pointer[speech]
)

func init() { SetLanguage(catalogues[0].Tag) }

// build makes the one catalogue of all languages. Gaps are filled here with
// the first language: x/text falls back by the tags' own tree (en-GB to en),
// never from one language to another. A wrong text is our own slip and stops
// the program at its first line.
func build(books []book) *catalog.Builder {
	b := catalog.NewBuilder(catalog.Fallback(books[0].Tag))
	for _, k := range books {
		for _, texts := range slices.Concat(books[0].texts, k.texts) {
			for key, text := range texts {
				m, err := parse(text)
				if err == nil {
					err = b.Set(k.Tag, key, m)
				}
				if err != nil {
					panic(fmt.Sprintf("words: %v, %s: %v", k.Tag, key, err))
				}
			}
		}
	}
	return b
}

// parse reads one text, with its plural forms if it has any.
func parse(text string) (catalog.Message, error) {
	if !strings.HasPrefix(text, "{") {
		return catalog.String(text), nil
	}
	var cases []any
	for _, form := range strings.Split(text, "{")[1:] {
		name, words, ok := strings.Cut(form, "}")
		if !ok {
			return nil, fmt.Errorf("plural form without a closing brace in %q", text)
		}
		cases = append(cases, name, words)
	}
	return plural.Selectf(1, "%d", cases...), nil
}

// T returns the text of a key in the language in use. A key that no catalogue
// knows comes back in brackets, so that the slip is seen and nothing breaks.
func T(key string, args ...any) string {
	if !Has(key) {
		return "[" + key + "]"
	}
	s := current.Load()
	if len(args) > 0 {
		return s.printer.Sprintf(key, args...)
	}
	if text, ok := s.fixed.Load(key); ok {
		return text.(string)
	}
	text := s.printer.Sprintf(key)
	s.fixed.Store(key, text)
	return text
}

// Has says whether a text for the key exists.
func Has(key string) bool {
	_, ok := keys[key]
	return ok
}

// SetLanguage switches to the language that fits best and returns it. One
// that the app does not speak gives English.
func SetLanguage(tag language.Tag) language.Tag {
	_, i, _ := language.NewMatcher(tags()).Match(tag)
	tag = catalogues[i].Tag
	current.Store(&speech{tag: tag, printer: message.NewPrinter(tag, message.Catalog(builder))})
	return tag
}

// Current returns the language in use.
func Current() language.Tag { return current.Load().tag }

// Languages lists what SetLanguage can give, the app's own first.
func Languages() []Language {
	list := make([]Language, len(catalogues))
	for i, c := range catalogues {
		list[i] = c.Language
	}
	return list
}

func tags() []language.Tag {
	list := make([]language.Tag, len(catalogues))
	for i, c := range catalogues {
		list[i] = c.Tag
	}
	return list
}

// texts returns all texts of the language at that place of the list.
func texts(i int) map[string]string {
	all := map[string]string{}
	for _, m := range catalogues[i].texts {
		maps.Copy(all, m)
	}
	return all
}
