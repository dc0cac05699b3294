package weather

import "strings"

// Decision: a scanner of our own over the bytes, without strings and without
// allocation for each field, because 300,000 fields are read in a phone's
// browser.

// A span is where a field stands in its line.
type span struct{ lo, hi int }

// maxFields is one more than the format has: some programs end a line with a
// comma.
const maxFields = 36

// fieldSpans are the fields of one line; only the first n are set.
type fieldSpans struct {
	at [maxFields]span
	n  int // how many the line has, which may be more than maxFields
}

// split finds the fields of a line.
func (f *fieldSpans) split(line []byte) {
	f.n = 0
	lo := 0
	for i := 0; i <= len(line); i++ {
		if i < len(line) && line[i] != ',' {
			continue
		}
		if f.n < maxFields {
			f.at[f.n] = span{lo, i}
		}
		f.n++
		lo = i + 1
	}
}

// get returns the text of a field that is there, by its number from 1.
func (f *fieldSpans) get(line []byte, column int) []byte {
	s := f.at[column-1]
	return trim(line[s.lo:s.hi])
}

func trim(b []byte) []byte {
	for len(b) > 0 && (b[0] == ' ' || b[0] == '\t') {
		b = b[1:]
	}
	for len(b) > 0 && (b[len(b)-1] == ' ' || b[len(b)-1] == '\t') {
		b = b[:len(b)-1]
	}
	return b
}

// nextLine returns the bytes of the line that begins at i, without its end,
// and where the next one begins. The end is LF or CR LF. Past the last line
// there are empty ones.
func nextLine(data []byte, i int) (line []byte, next int) {
	i = min(i, len(data))
	end := i
	for end < len(data) && data[end] != '\n' {
		end++
	}
	next = end + 1
	if end > i && data[end-1] == '\r' {
		end--
	}
	return data[i:end], next
}

var tens = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18}

// number reads a decimal number: sign, digits with a point, exponent. It takes
// 18 digits at most and an exponent of -18 to 18, which is far beyond what a
// file of weather holds; anything else is no number.
func number(b []byte) (x float64, ok bool) {
	i := 0
	negative := false
	if i < len(b) && (b[i] == '-' || b[i] == '+') {
		negative = b[i] == '-'
		i++
	}
	var digits int64
	seen, behind, point := 0, 0, false
	for ; i < len(b); i++ {
		c := b[i]
		if c == '.' && !point {
			point = true
			continue
		}
		if c < '0' || c > '9' {
			break
		}
		seen++
		if seen > 18 {
			return 0, false
		}
		digits = digits*10 + int64(c-'0')
		if point {
			behind++
		}
	}
	if seen == 0 {
		return 0, false
	}
	exponent := 0
	if i < len(b) && (b[i] == 'e' || b[i] == 'E') {
		i++
		down := false
		if i < len(b) && (b[i] == '-' || b[i] == '+') {
			down = b[i] == '-'
			i++
		}
		first := i
		for ; i < len(b) && b[i] >= '0' && b[i] <= '9'; i++ {
			if exponent = exponent*10 + int(b[i]-'0'); exponent > 18 {
				return 0, false
			}
		}
		if i == first {
			return 0, false
		}
		if down {
			exponent = -exponent
		}
	}
	if i != len(b) {
		return 0, false
	}
	x = float64(digits) / tens[behind]
	if exponent < 0 {
		x /= tens[-exponent]
	} else {
		x *= tens[exponent]
	}
	if negative {
		x = -x
	}
	return x, true
}

// text returns bytes of a file as UTF-8: as they are if they are that already,
// otherwise each byte as a character of Latin-1. Control characters become
// spaces.
func text(b []byte) string {
	s := string(b)
	if strings.ToValidUTF8(s, "") != s {
		runes := make([]rune, len(b))
		for i, c := range b {
			runes[i] = rune(c)
		}
		s = string(runes)
	}
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if r < ' ' || r >= 0x7f && r < 0xa0 {
			return ' '
		}
		return r
	}, s))
}

// short cuts a text for a message.
func short(b []byte) string {
	const most = 40
	if n := 4 * most; len(b) > n { // enough for so many characters; not within one
		for n > 0 && b[n]&0xC0 == 0x80 {
			n--
		}
		b = b[:n]
	}
	return strings.TrimSpace(firstRunes(text(b), most))
}

// firstRunes cuts a text at so many characters.
func firstRunes(s string, most int) string {
	n := 0
	for i := range s {
		if n == most {
			return s[:i]
		}
		n++
	}
	return s
}

// character returns which character of a line, from 1, begins at a byte.
func character(line []byte, at int) int {
	s := string(line[:at])
	if strings.ToValidUTF8(s, "") != s {
		return at + 1
	}
	n := 1
	for range s {
		n++
	}
	return n
}
