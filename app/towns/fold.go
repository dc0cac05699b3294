package towns

import (
	"strings"
	"unicode/utf8"
)

// A folding turns letters into what they are searched by: small, without
// accents. Its table comes with the list, so that the program carries no
// tables of Unicode for it. What is not in it stays as it is.
type folding struct {
	near []string        // of letters below len(near): itself for none
	far  map[rune]string // of the others
}

// nearest is the end of the letters that a map would be too slow for: Latin,
// Greek, Cyrillic, Hebrew, Arabic.
const nearest = 0x700

// fold folds a name or what was typed: no points and apostrophes, one space
// for anything else between words.
func (f *folding) fold(s string) string { return string(f.add(nil, s)) }

// add appends the folded name to b.
func (f *folding) add(b []byte, s string) []byte {
	start, space := len(b), false
	for i, r := range s {
		to := ""
		if r < nearest {
			to = f.near[r]
		} else if far, ok := f.far[r]; ok {
			to = far
		} else {
			_, n := utf8.DecodeRuneInString(s[i:])
			to = s[i : i+n]
		}
		if to == " " {
			space = len(b) > start
		} else if to != "" {
			if space {
				b = append(b, ' ')
				space = false
			}
			b = append(b, to...)
		}
	}
	return b
}

// readFolding reads the table: a line for each result, with the letters that
// become it behind a tab.
func readFolding(text string) folding {
	f := folding{near: make([]string, nearest), far: map[rune]string{}}
	for r := range f.near {
		switch c := rune(r); {
		case c >= 'A' && c <= 'Z':
			f.near[r] = string(c + 'a' - 'A')
		case c == '\'' || c == '.' || c == '`':
		case c < utf8.RuneSelf && !(c >= 'a' && c <= 'z' || c >= '0' && c <= '9'):
			f.near[r] = " "
		default:
			f.near[r] = string(c)
		}
	}
	for line := range strings.SplitSeq(text, "\n") {
		to, from, _ := strings.Cut(line, "\t")
		for _, r := range from {
			if r < nearest {
				f.near[r] = to
			} else {
				f.far[r] = to
			}
		}
	}
	return f
}
