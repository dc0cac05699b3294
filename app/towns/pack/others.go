package main

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Which of the other names of a town are kept. The source has up to a hundred
// a town, without their languages, far more than fits. Kept are: the name in
// the script of the place's own country, where that is not Latin; and for the
// towns that many languages have names of their own for, those in Latin
// letters that the first name does not find anyway.

// known is how many other names the source must have for a town to be such.
const known = 25

// scripts are those in use in a country for its own places, the first one
// first. From general knowledge; a script too many costs a little room, one
// too few costs names.
var scripts = map[string][]*unicode.RangeTable{}

func init() {
	for countries, list := range map[string][]*unicode.RangeTable{
		"RU UA BY BG MK RS ME BA KZ KG TJ MN": {unicode.Cyrillic},
		"GR CY":                               {unicode.Greek},
		"GE":                                  {unicode.Georgian, unicode.Cyrillic},
		"AM":                                  {unicode.Armenian, unicode.Cyrillic},
		"UZ TM AZ MD":                         {unicode.Cyrillic},
		"IL PS":                               {unicode.Hebrew, unicode.Arabic},
		"DZ BH KM DJ EG ER IQ JO KW LB LY MR MA OM QA SA SO SD SY TN AE YE EH TD": {unicode.Arabic},
		"IR AF PK":    {unicode.Arabic},
		"ET":          {unicode.Ethiopic},
		"CN TW HK MO": {unicode.Han},
		"JP":          {unicode.Han, unicode.Hiragana, unicode.Katakana},
		"KR KP":       {unicode.Hangul},
		"TH":          {unicode.Thai},
		"LA":          {unicode.Lao},
		"KH":          {unicode.Khmer},
		"MM":          {unicode.Myanmar},
		"LK":          {unicode.Sinhala, unicode.Tamil},
		"BD":          {unicode.Bengali},
		"NP BT":       {unicode.Devanagari},
		"MV":          {unicode.Thaana},
		"IN":          {unicode.Devanagari},
	} {
		for _, c := range strings.Fields(countries) {
			scripts[c] = list
		}
	}
}

// indian are the scripts of the states of India that do not write Devanagari.
var indian = map[string]*unicode.RangeTable{
	"Tamil Nadu": unicode.Tamil, "Puducherry": unicode.Tamil, "Kerala": unicode.Malayalam, "Karnataka": unicode.Kannada,
	"Andhra Pradesh": unicode.Telugu, "Telangana": unicode.Telugu, "West Bengal": unicode.Bengali, "Tripura": unicode.Bengali,
	"Assam": unicode.Bengali, "Gujarat": unicode.Gujarati, "Punjab": unicode.Gurmukhi, "Odisha": unicode.Oriya,
}

// chooseOthers fills others.
func chooseOthers(list []*town) {
	for _, t := range list {
		own := scripts[t.country]
		if s := indian[t.admin]; s != nil && t.country == "IN" {
			own = []*unicode.RangeTable{s, unicode.Devanagari}
		}
		t.others = local(t, own)
		if f := foldedAll(t.former); f != "" && !strings.HasPrefix(foldedAll(t.name), f) {
			t.others = append(t.others, t.former)
		}
		if len(t.alternates) >= known {
			t.others = append(t.others, abroad(t)...)
		}
	}
}

// local returns the names in the place's own scripts: for each script the ones
// nearest to how the place is spoken and written there, as far as that can be
// told. Where one name is written in several ways, more than one is kept.
func local(t *town, own []*unicode.RangeTable) (names []string) {
	for _, script := range own {
		var fit []string
		for _, a := range t.alternates {
			a = clean(a)
			if a != "" && utf8.RuneCountInString(a) <= 24 && allIn(a, script) {
				fit = append(fit, a)
			}
		}
		n := 2
		away := func(a string) int { return utf8.RuneCountInString(a) + 20*foreign(a, t.country) }
		switch script {
		case unicode.Han:
			n = 4
		case unicode.Cyrillic, unicode.Greek:
			n = 3
			away = func(a string) int { return apart(spoken(a), plain(t.ascii)) + 20*foreign(a, t.country) }
		}
		slices.SortStableFunc(fit, func(a, b string) int { return away(a) - away(b) })
		for _, a := range fit {
			if n > 0 && !slices.ContainsFunc(names, func(have string) bool { return strings.HasPrefix(foldedAll(have), foldedAll(a)) }) {
				names = append(names, a)
				n--
			}
		}
	}
	return names
}

// allIn says that a name is written in one script, spaces and hyphens aside.
func allIn(name string, script *unicode.RangeTable) bool {
	some := false
	for _, r := range name {
		switch {
		case unicode.Is(script, r):
			some = true
		case r == ' ' || r == '-' || r == '\'' || r == '’' || unicode.Is(unicode.Inherited, r) || r == 'ー' || unicode.Is(unicode.Mn, r):
		default:
			return false
		}
	}
	return some
}

// strange are letters that a script has for other languages than the country's.
var strange = map[string]string{
	"RU": "іїєґўјљњћђџқғңөүұһәҳҷ", "UA": "ыъэёўјљњћђџқғңөүұһәҳҷ", "BY": "иїєґщъјљњћђџқғңөүұһәҳҷ", "BG": "ыэёіїєґўјљњћђџқғңөүұһәҳҷ",
	"RS": "ыэёіїєґўйщъьюяқғңөүұһәҳҷ", "MK": "ыэёіїєґўйщъьюяћђқғңөүұһәҳҷ", "IR": "ېٹڈڑںۆ", "AF": "ٹڈڑں", "PK": "ېۆ",
}

// arabic are the letters that Arabic itself does not have.
const arabic = "پچژگکیېےہھںۆەێڵٹڈڑ"

// foreign counts the strange letters of a name.
func foreign(name, country string) (n int) {
	letters, ok := strange[country]
	if !ok {
		letters = arabic
	}
	for _, r := range name {
		if strings.ContainsRune(letters, unicode.ToLower(r)) {
			n++
		}
	}
	return n
}

// abroad returns the names in Latin letters that are neither found by the
// beginning of another one nor only spelled out from another script.
func abroad(t *town) (names []string) {
	spelled := map[string]bool{}
	for _, a := range t.alternates {
		if allIn(a, unicode.Cyrillic) {
			if f := letterByLetter(a); slices.ContainsFunc(odd, func(o string) bool { return strings.Contains(f, o) }) {
				spelled[f] = true
			}
		}
	}
	var fit []string
	words := strings.Count(t.name, " ")
	for _, a := range t.alternates {
		a = clean(a)
		f := foldedAll(a)
		if len(f) >= 3 && len(f) <= 24 && strings.Count(a, " ") <= words && a != strings.ToLower(a) && a != strings.ToUpper(a) && latin(a) && !spelled[f] {
			fit = append(fit, a) // not too short, with a title, transcribed, an airport's code
		}
	}
	// Of one name with and without its accents the one with them is kept.
	slices.SortStableFunc(fit, func(a, b string) int {
		return cmp.Or(cmp.Compare(foldedAll(a), foldedAll(b)), cmp.Compare(len(b), len(a)), cmp.Compare(b, a))
	})
	have := []string{foldedAll(t.name), foldedAll(t.former)}
	for i := len(fit) - 1; i >= 0; i-- { // the longer one of two that begin alike comes first
		if i > 0 && foldedAll(fit[i-1]) == foldedAll(fit[i]) {
			continue
		}
		f := foldedAll(fit[i])
		umlaut := strings.NewReplacer("ae", "a", "oe", "o", "ue", "u").Replace(f)
		if slices.ContainsFunc(have, func(h string) bool {
			return strings.HasPrefix(h, f) || strings.HasPrefix(f, h+" ") || h == umlaut
		}) || umlaut != f && slices.ContainsFunc(fit, func(o string) bool { return foldedAll(o) == umlaut }) {
			continue
		}
		have, names = append(have, f), append(names, fit[i])
	}
	slices.Reverse(names)
	return names
}

// odd are spellings that come of going letter by letter and that no language
// of Latin letters uses.
var odd = []string{"kh", "zh", "shch", "eh", "jo", "ju", "ja", "aj", "ej", "oj"}

func latin(name string) bool {
	for _, r := range name {
		if !unicode.Is(unicode.Latin, r) && r != ' ' && r != '-' && r != '\'' && r != '’' {
			return false
		}
	}
	return true
}

func foldedAll(name string) string {
	var b strings.Builder
	for _, r := range name {
		b.WriteString(folded(r))
	}
	return b.String()
}
