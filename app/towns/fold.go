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
func (f *folding) fold(s string) string {
	var b strings.Builder
	f.write(&b, s)
	return b.String()
}

// write appends the folded name to b.
func (f *folding) write(b *strings.Builder, s string) {
	start, space := b.Len(), false
	for i := 0; i < len(s); {
		c := s[i]
		if c >= 'A' && c <= 'Z' {
			c += 'a' - 'A'
		}
		switch {
		case c >= 'a' && c <= 'z' || c >= '0' && c <= '9':
			if space {
				b.WriteByte(' ')
				space = false
			}
			b.WriteByte(c)
			i++
			continue
		case c == '\'' || c == '.' || c == '`':
			i++
			continue
		case c < utf8.RuneSelf:
			space = b.Len() > start
			i++
			continue
		}
		r, n := utf8.DecodeRuneInString(s[i:])
		to, ok := "", false
		if int(r) < len(f.near) {
			to, ok = f.near[r], true
		} else {
			to, ok = f.far[r]
		}
		if !ok {
			to = s[i : i+n]
		}
		i += n
		if to == " " {
			space = b.Len() > start
		} else if to != "" {
			if space {
				b.WriteByte(' ')
				space = false
			}
			b.WriteString(to)
		}
	}
}

// readFolding reads the table: a line for each result, with the letters that
// become it behind a tab.
func readFolding(text string) folding {
	f := folding{near: make([]string, nearest), far: map[rune]string{}}
	for r := range f.near {
		f.near[r] = string(rune(r))
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
