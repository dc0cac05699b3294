package coords

import (
	"slices"
	"strings"
)

// The two writings with a standard of their own are brought into the form of
// the others, so that one reader serves all. They have one reading only.

// fromGeo takes what follows "geo:", up to the parameters and without the
// height. The prefix becomes spaces, so that positions in the text stay. One
// parameter matters: another system of coordinates is refused. A question
// behind it, which may hold the position that is meant, is no mark we know.
func fromGeo(text []rune) (plain []rune, ok bool, bad *Error) {
	s := strings.ToLower(string(text))
	if !strings.HasPrefix(s, "geo:") {
		return nil, false, nil
	}
	plain = append([]rune("    "), text[4:]...)
	if i := slices.Index(plain, '?'); i >= 0 {
		return nil, true, &Error{Kind: UnknownMark, At: i, Found: "?"}
	}
	commas := 0
	for i, r := range plain {
		if r == ',' {
			commas++
		}
		if r == ';' || commas == 2 {
			if strings.Contains(s, ";crs=") && !strings.Contains(s, ";crs=wgs84") {
				return nil, true, &Error{Kind: UnknownMark, At: i, Found: string(r)}
			}
			return plain[:i], true, nil
		}
	}
	return plain, true, nil
}

// fromISO puts spaces between the parts of +DD.D+DDD.D/, +DDMM.M+DDDMM.M/ and
// +DDMMSS.S+DDDMMSS.S/; the digits before the point say which. A height and
// the name of the system may follow. from tells where each character of plain
// stood. Texts of any other form are none of it.
func fromISO(text []rune) (plain []rune, from []int, ok bool) {
	i := 0
	cuts := make([]int, 0, 8) // where a space comes
	for degrees := 2; degrees <= 3; degrees++ {
		if i >= len(text) || !strings.ContainsRune("+-−", text[i]) {
			return nil, nil, false
		}
		i++
		start := i
		for digitAt(text, i) {
			i++
		}
		n := i - start - degrees
		if n != 0 && n != 2 && n != 4 {
			return nil, nil, false
		}
		for ; n > 0; n -= 2 {
			cuts = append(cuts, i-n)
		}
		if i < len(text) && (isPoint(text[i]) || isComma(text[i])) {
			for i++; digitAt(text, i); i++ {
			}
		}
		cuts = append(cuts, i)
	}
	rest := string(text[i:])
	if rest != "" && (!strings.HasSuffix(rest, "/") || strings.Trim(rest, "+-.0123456789CRSWG_/") != "" ||
		strings.Contains(rest, "CRS") && !strings.HasSuffix(rest, "CRSWGS_84/")) {
		return nil, nil, false
	}
	for j := 0; j < i; j++ {
		r := text[j]
		if isComma(r) {
			r = '.'
		}
		if slices.Contains(cuts, j) {
			plain, from = append(plain, ' '), append(from, j)
		}
		plain, from = append(plain, r), append(from, j)
	}
	return plain, from, true
}
