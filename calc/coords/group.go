package coords

// The second step: tokens to coordinates.

// A part is degrees, minutes or seconds.
type part struct {
	token
	mark tokenKind // degree, minute, second; number for none
}

// A coordinate is one latitude or longitude as it stands in the text.
type coordinate struct {
	at     int
	parts  []part
	axis   axis
	letter *token
	label  *token
	sign   *token
	colons bool // its parts are joined by colons
	closed bool // nothing more belongs to it
	minus  bool
}

func (a axis) name() string { return [...]string{"", Latitude, Longitude}[a] }

// value is the coordinate in degrees.
func (c *coordinate) value() float64 {
	v, unit := 0.0, 1.0
	for _, p := range c.parts {
		v += p.value / unit
		unit *= 60
	}
	if c.minus {
		return 0 - v
	}
	return v
}

func (c *coordinate) inRange(most float64) *Error {
	for i, p := range c.parts[1:] {
		if p.value >= 60 {
			return &Error{Kind: OutOfRange, At: p.at, Found: p.text, What: [...]string{Minutes, Seconds}[i], Got: p.value, Max: 60}
		}
	}
	if v := c.value(); !(v >= -most && v <= most) {
		return &Error{Kind: OutOfRange, At: c.at, Found: c.parts[0].text, What: c.axis.name(), Got: v, Min: -most, Max: most}
	}
	return nil
}

// settle checks what stands in one coordinate, and finds its axis and side.
func (c *coordinate) settle() *Error {
	if len(c.parts) == 0 {
		return &Error{Kind: PartMissing, At: c.at, Found: c.first().text}
	}
	if len(c.parts) > 3 {
		return &Error{Kind: TooMany, At: c.parts[3].at, Found: c.parts[3].text}
	}
	for _, p := range c.parts[:len(c.parts)-1] {
		if p.fraction {
			return &Error{Kind: FractionInside, At: p.at, Found: p.text}
		}
	}
	if c.label != nil {
		c.axis = c.label.axis
	}
	if l := c.letter; l != nil {
		if c.axis != onEither && c.axis != l.axis {
			return &Error{Kind: TwoLetters, At: l.at, Found: l.text}
		}
		if c.sign != nil && c.sign.value != l.value {
			return &Error{Kind: SignAndLetter, At: l.at, Found: l.text}
		}
		c.axis, c.minus = l.axis, l.value < 0
	}
	c.minus = c.minus || c.sign != nil && c.sign.value < 0
	return nil
}

// first is what a coordinate without numbers consists of.
func (c *coordinate) first() token {
	for _, t := range []*token{c.label, c.sign, c.letter} {
		if t != nil && t.at == c.at {
			return *t
		}
	}
	return token{}
}

// A grouper puts tokens together until a separator, a sign, a letter or a
// degree mark says that another coordinate begins.
type grouper struct {
	tokens []token
	list   []coordinate
	open   bool // the last of the list takes more
}

// group returns one or two coordinates, checked in settle.
func group(tokens []token) ([]coordinate, *Error) {
	g := grouper{tokens: tokens}
	for i := range tokens {
		t := &tokens[i]
		var bad *Error
		switch t.kind {
		case number:
			bad = g.number(i)
		case degree, minute, second:
			bad = g.mark(i)
		case letter:
			bad = g.letter(i)
		case label:
			bad = g.label(i)
		case sign:
			bad = g.sign(i)
		case colon:
			bad = g.colon(i)
		case separator:
			g.open = g.open && len(g.last().parts) == 0
		}
		if bad != nil {
			return nil, bad
		}
		if len(g.list) > 2 {
			return nil, &Error{Kind: TooMany, At: t.at, Found: t.text}
		}
	}
	if len(g.list) == 0 {
		return nil, &Error{Kind: Empty}
	}
	return g.list, nil
}

func (g *grouper) last() *coordinate { return &g.list[len(g.list)-1] }

// begun returns the coordinate that waits for its numbers, or a new one.
func (g *grouper) begun(t *token) *coordinate {
	if !g.open || len(g.last().parts) > 0 {
		g.list = append(g.list, coordinate{at: t.at})
		g.open = true
	}
	return g.last()
}

// kindAt is the kind of a token, or no kind where there is none.
func (g *grouper) kindAt(i int) tokenKind {
	if i < 0 || i >= len(g.tokens) {
		return separator
	}
	return g.tokens[i].kind
}

func (g *grouper) number(i int) *Error {
	t := &g.tokens[i]
	if g.open {
		c := g.last()
		n := len(c.parts)
		if n > 0 && (c.closed || g.kindAt(i+1) == degree || c.parts[n-1].mark == second || c.colons && g.kindAt(i-1) != colon) {
			g.open = false
		}
	}
	if !g.open {
		g.list = append(g.list, coordinate{at: t.at})
		g.open = true
	}
	c := g.last()
	c.parts = append(c.parts, part{*t, number})
	return nil
}

func (g *grouper) mark(i int) *Error {
	t := &g.tokens[i]
	if g.kindAt(i-1) != number {
		return &Error{Kind: PartMissing, At: t.at, Found: t.text}
	}
	c := g.last()
	n := len(c.parts) - 1
	if int(t.kind-degree) != n {
		return &Error{Kind: PartMissing, At: c.parts[n].at, Found: c.parts[n].text + t.text}
	}
	c.parts[n].mark = t.kind
	return nil
}

func (g *grouper) letter(i int) *Error {
	t := &g.tokens[i]
	if g.open && len(g.last().parts) > 0 && g.last().letter == nil {
		g.last().letter, g.last().closed = t, true
		return nil
	}
	c := g.begun(t)
	if c.letter != nil {
		return &Error{Kind: TwoLetters, At: t.at, Found: t.text}
	}
	c.letter = t
	return nil
}

func (g *grouper) label(i int) *Error {
	t := &g.tokens[i]
	c := g.begun(t)
	if c.label != nil || c.letter != nil || c.sign != nil {
		return &Error{Kind: TwoLetters, At: t.at, Found: t.text}
	}
	c.label = t
	return nil
}

// sign begins a coordinate. A minus right behind something, or with a space
// behind it, can also be a dash; behind a coordinate that has a sign it is one.
func (g *grouper) sign(i int) *Error {
	t := &g.tokens[i]
	if g.open && len(g.last().parts) > 0 && t.value < 0 && g.last().sign == nil {
		apart := i+1 < len(g.tokens) && g.tokens[i+1].at > t.at+1
		if t.glued || apart {
			return &Error{Kind: Ambiguous, At: t.at, Found: t.text}
		}
	}
	c := g.begun(t)
	if c.sign != nil {
		return &Error{Kind: TwoLetters, At: t.at, Found: t.text}
	}
	c.sign = t
	return nil
}

// colon joins two numbers, or stands behind a label.
func (g *grouper) colon(i int) *Error {
	t := &g.tokens[i]
	switch {
	case g.kindAt(i-1) == number && g.kindAt(i+1) == number:
		g.last().colons = true
	case g.kindAt(i-1) != label && g.kindAt(i-1) != letter:
		return &Error{Kind: PartMissing, At: t.at, Found: t.text}
	}
	return nil
}
