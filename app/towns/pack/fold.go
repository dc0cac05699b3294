package main

import (
	"maps"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// special are letters that Unicode does not take apart, and those that people
// write for each other.
var special = map[rune]string{
	'ß': "ss", 'æ': "ae", 'œ': "oe", 'ø': "o", 'đ': "d", 'ð': "d", 'þ': "th", 'ł': "l", 'ħ': "h", 'ı': "i", 'ə': "a", 'ŋ': "n", 'ŧ': "t",
	'ĸ': "k", 'ɓ': "b", 'ɗ': "d", 'ƙ': "k", 'ƴ': "y", 'ɛ': "e", 'ɔ': "o", 'ʉ': "u", 'ς': "σ",
	'أ': "ا", 'إ': "ا", 'آ': "ا", 'ٱ': "ا", 'ة': "ه", 'ى': "ي", 'ی': "ي", 'ک': "ك", 'ـ': "",
	'ך': "כ", 'ם': "מ", 'ן': "נ", 'ף': "פ", 'ץ': "צ",
	'’': "", '‘': "", 'ʻ': "", 'ʼ': "", 'ʹ': "", 'ʾ': "", 'ʿ': "", 'ʽ': "", '´': "", '′': "", '׳': "", '״': "", '·': " ", '・': " ", '–': " ", '—': " ", '‐': " ", '־': " ",
	'\u00a0': " ", '\u3000': " ", '\u200c': " ", '\u200d': "", '\u200e': "", '\u200f': "", '（': " ", '）': " ", '－': " ", '＝': " ", '、': " ", '،': " ", '，': " ",
}

// folded is what a letter is searched by: small, and without the marks that
// keyboards leave out. Marks of Indic scripts and of kana are letters of their
// own and stay.
func folded(r rune) string {
	small := unicode.ToLower(r)
	if to, ok := special[small]; ok {
		return to
	}
	var b strings.Builder
	for _, d := range norm.NFKD.String(string(small)) {
		if mark(d) {
			continue
		}
		if to, ok := special[unicode.ToLower(d)]; ok {
			b.WriteString(to)
			continue
		}
		b.WriteRune(unicode.ToLower(d))
	}
	return norm.NFC.String(b.String())
}

// mark says that a character is an accent of Latin, Greek or Cyrillic, or a
// point of Arabic or Hebrew.
func mark(r rune) bool {
	return r >= 0x300 && r <= 0x36f || r >= 0x483 && r <= 0x487 || r >= 0x591 && r <= 0x5c7 && unicode.Is(unicode.Mn, r) ||
		r >= 0x64b && r <= 0x65f || r == 0x670
}

// foldings writes the table that app/towns reads: a line for each result, with
// the letters that become it. It holds all letters that a name of the list or
// a keyboard may have: Latin, Greek, Cyrillic, Armenian, Hebrew, Arabic and
// the wide forms of Latin.
func foldings(list []*town) string {
	from := map[rune]bool{}
	for _, span := range [][2]rune{{0xa0, 0x24f}, {0x250, 0x2bf}, {0x300, 0x36f}, {0x370, 0x3ff}, {0x400, 0x52f}, {0x531, 0x556},
		{0x591, 0x5f4}, {0x610, 0x6ff}, {0x1e00, 0x1eff}, {0x2010, 0x2033}, {0x200b, 0x200f}, {0xff01, 0xff5e}} {
		for r := span[0]; r <= span[1]; r++ {
			if unicode.IsGraphic(r) || unicode.Is(unicode.Cf, r) {
				from[r] = true
			}
		}
	}
	for r := range special {
		from[r] = true
	}
	for _, t := range list {
		for _, n := range append([]string{t.name}, t.others...) {
			for _, r := range n {
				from[r] = r > 0x7f
			}
		}
	}
	lines := map[string][]rune{}
	for r, is := range from {
		to := strings.TrimSpace(folded(r))
		if special[r] == " " || unicode.IsSpace(r) || unicode.IsPunct(r) && to == string(r) {
			to = " "
		}
		if is && r > 0x7f && to != string(r) && !strings.ContainsAny(to, "\t\n") {
			lines[to] = append(lines[to], r)
		}
	}
	var b strings.Builder
	for i, to := range slices.Sorted(maps.Keys(lines)) {
		if i > 0 {
			b.WriteByte('\n')
		}
		slices.Sort(lines[to])
		b.WriteString(to + "\t" + string(lines[to]))
	}
	return b.String()
}
