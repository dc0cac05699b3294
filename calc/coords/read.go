package coords

import "duskline/calc/qty"

// The last step: which of the readings of a text hold.

// readings lists the readings that a text allows.
func readings(text []rune) []reading {
	_, two, _ := lex(text, reading{})
	list := []reading{{}}
	if two.commaIsPoint {
		list = append(list, reading{commaIsPoint: true})
	}
	if two.sIsSeconds {
		for _, r := range list {
			list = append(list, reading{r.commaIsPoint, true})
		}
	}
	return list
}

// read tries every reading. One that holds is the answer, unless another one
// holds too or is a good beginning: "52,4" may be a latitude of 52.4 with the
// longitude still to come.
func read(text []rune, as []reading) (lat, lon qty.Degree, bad *Error) {
	good, doubt := 0, false
	for _, r := range as {
		la, lo, e := readAs(text, r)
		if e == nil {
			if good == 0 || la != lat || lo != lon {
				good++
			}
			lat, lon = la, lo
			continue
		}
		doubt = doubt || r.commaIsPoint && (e.Kind == OnlyOne || e.Kind == Ambiguous)
		if bad == nil || rank(e.Kind) >= rank(bad.Kind) {
			bad = e
		}
	}
	switch {
	case good == 1 && !doubt:
		return lat, lon, nil
	case good > 0:
		return 0, 0, &Error{Kind: Ambiguous, Found: string(text)}
	}
	return 0, 0, bad
}

// rank orders the errors of several readings: the one of the reading that came
// furthest is told, and among equals the later one, with commas as points.
func rank(k Kind) int {
	switch k {
	case OutOfRange:
		return 4
	case Ambiguous, SignAndLetter:
		return 3
	case TooMany, PartMissing:
		return 1
	case BadNumber:
		return 0
	}
	return 2
}

func readAs(text []rune, as reading) (lat, lon qty.Degree, bad *Error) {
	tokens, _, bad := lex(text, as)
	if bad != nil {
		return 0, 0, bad
	}
	list, bad := group(tokens)
	if bad != nil {
		return 0, 0, bad
	}
	if len(list) == 1 {
		if list, bad = halve(list[0], text); bad != nil {
			return 0, 0, bad
		}
	}
	for i := range list {
		if bad := list[i].settle(); bad != nil {
			return 0, 0, bad
		}
	}
	a, b := list[0], list[1]
	switch {
	case a.axis != onEither && a.axis == b.axis:
		kind := TwoLatitudes
		if a.axis == onLongitude {
			kind = TwoLongitudes
		}
		return 0, 0, &Error{Kind: kind, At: b.at}
	case a.axis == onEither && b.axis == onEither:
		a.axis, b.axis = onLatitude, onLongitude
	case a.axis == onEither:
		a.axis = onLatitude + onLongitude - b.axis
	case b.axis == onEither:
		b.axis = onLatitude + onLongitude - a.axis
	}
	// A letter at one of them: the other one's was forgotten, and it may have
	// been S or W.
	for _, c := range [2]coordinate{a, b} {
		if (a.letter != nil || b.letter != nil) && c.letter == nil && c.sign == nil {
			return 0, 0, &Error{Kind: LetterMissing, At: c.at, What: c.axis.name()}
		}
	}
	return ordered(a, b)
}

// halve finds the end of the latitude in numbers with nothing but spaces
// between them: in the middle, if there is one.
func halve(c coordinate, text []rune) ([]coordinate, *Error) {
	n := len(c.parts)
	plain := c.letter == nil && c.label == nil && !c.colons
	for _, p := range c.parts {
		plain = plain && p.mark == number
	}
	switch {
	case !plain || n <= 1:
		if bad := c.settle(); bad != nil {
			return nil, bad
		}
		return nil, &Error{Kind: OnlyOne, At: len(text), What: c.axis.name()}
	case n > 6:
		return nil, &Error{Kind: TooMany, At: c.parts[6].at, Found: c.parts[6].text}
	case n%2 == 1:
		return nil, &Error{Kind: Ambiguous, At: c.at, Found: string(text)}
	}
	rest := coordinate{at: c.parts[n/2].at, parts: c.parts[n/2:]}
	c.parts = c.parts[:n/2]
	return []coordinate{c, rest}, nil
}

// ordered puts two coordinates in their order and checks their ranges.
func ordered(a, b coordinate) (lat, lon qty.Degree, bad *Error) {
	if a.axis == onLongitude {
		a, b = b, a
	}
	if bad := a.inRange(90); bad != nil {
		return 0, 0, bad
	}
	if bad := b.inRange(180); bad != nil {
		return 0, 0, bad
	}
	return qty.Degree(a.value()), qty.Degree(b.value()), nil
}
