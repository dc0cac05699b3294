package coords

import (
	"strings"

	"duskline/calc/qty"
)

// The two writings with a standard of their own. They allow no other reading,
// so they are tried first.

// isGeo finds the first character behind "geo:".
func isGeo(text []rune) (at int, ok bool) {
	for at < len(text) && strings.ContainsRune(spaces, text[at]) {
		at++
	}
	if at+4 <= len(text) && strings.EqualFold(string(text[at:at+4]), "geo:") {
		return at + 4, true
	}
	return 0, false
}

// parseGeo reads latitude, longitude and perhaps a height, with commas between
// and points inside. Parameters follow a semicolon; one that names another
// system of coordinates is refused. So is a question behind a question mark,
// which may hold the position that is meant.
func parseGeo(text []rune, at int) (lat, lon qty.Degree, err error) {
	var list []coordinate
	for i := at; ; i++ {
		c := coordinate{at: i, axis: onLatitude + axis(min(len(list), 1))}
		if i < len(text) && text[i] == '-' {
			c.minus = true
			i++
		}
		if !digitAt(text, i) {
			found := ""
			if i < len(text) {
				found = string(text[i])
			}
			return 0, 0, &Error{Kind: PartMissing, At: i, Found: found}
		}
		t, _, bad := lexNumber(text, i, false)
		if bad != nil {
			return 0, 0, bad
		}
		c.parts = []part{{token: t}}
		list = append(list, c)
		i += len([]rune(t.text))
		if i < len(text) && text[i] == ',' && len(list) < 3 {
			continue
		}
		rest := strings.ToLower(strings.TrimSpace(string(text[i:])))
		if rest != "" && rest[0] != ';' || strings.Contains(rest, ";crs=") && !strings.Contains(rest, ";crs=wgs84") || strings.Contains(rest, "?") {
			return 0, 0, &Error{Kind: UnknownMark, At: i, Found: string(text[i])}
		}
		break
	}
	if len(list) == 1 {
		return 0, 0, &Error{Kind: OnlyOne, At: len(text), What: Latitude}
	}
	lat, lon, bad := ordered(list[0], list[1])
	if bad != nil {
		return 0, 0, bad
	}
	return lat, lon, nil
}

// parseISO reads +DD.D+DDD.D/, +DDMM.M+DDDMM.M/ and +DDMMSS.S+DDDMMSS.S/. The
// digits before the point say which; other counts are none of it (ok false).
func parseISO(text []rune) (lat, lon qty.Degree, err error, ok bool) {
	s := strings.NewReplacer("−", "-", ",", ".").Replace(strings.TrimSpace(string(text)))
	var list []coordinate
	rest := s
	for len(list) < 2 {
		if rest == "" || rest[0] != '+' && rest[0] != '-' {
			return 0, 0, nil, false
		}
		end := 1
		for end < len(rest) && (rest[end] >= '0' && rest[end] <= '9' || rest[end] == '.') {
			end++
		}
		whole, fraction, point := strings.Cut(rest[1:end], ".")
		degrees := 2 + len(list)
		if n := len(whole) - degrees; n < 0 || n > 4 || n%2 == 1 || point && (fraction == "" || strings.Contains(fraction, ".")) {
			return 0, 0, nil, false
		}
		c := coordinate{at: len(s) - len(rest), axis: onLatitude + axis(len(list)), minus: rest[0] == '-'}
		for from, to := 0, degrees; to <= len(whole); from, to = to, to+2 {
			text := whole[from:to]
			if to == len(whole) && point {
				text += "." + fraction
			}
			t, _, bad := lexNumber([]rune(text), 0, false)
			if bad != nil {
				return 0, 0, nil, false
			}
			t.at = c.at + 1 + from
			c.parts = append(c.parts, part{token: t})
		}
		list = append(list, c)
		rest = rest[end:]
	}
	if len(list[0].parts) != len(list[1].parts) {
		return 0, 0, nil, false
	}
	// A height and the name of the system may follow.
	tail, closed := strings.CutSuffix(rest, "/")
	if tail != "" && (!closed || strings.Trim(tail, "+-.0123456789CRSWG_") != "" || strings.Contains(tail, "CRS") && !strings.HasSuffix(tail, "CRSWGS_84")) {
		return 0, 0, nil, false
	}
	lat, lon, bad := ordered(list[0], list[1])
	if bad != nil {
		return 0, 0, bad, true
	}
	return lat, lon, nil, true
}
