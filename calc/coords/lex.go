package coords

import (
	"strconv"
	"strings"
)

// The first step: characters to tokens. Two things can be read two ways, and
// the reading says which: a comma between digits (a point, or between two
// coordinates) and an s after a number (seconds, or south).
type reading struct {
	commaIsPoint bool
	sIsSeconds   bool
}

type tokenKind uint8

const (
	number    tokenKind = iota
	degree              // a mark behind a number
	minute              //
	second              //
	letter              // N S E W; axis and sign
	label               // lat, lon; axis
	sign                // + or -
	colon               // between the parts of one coordinate
	separator           // between coordinates
)

type axis uint8

const (
	onEither axis = iota
	onLatitude
	onLongitude
)

type token struct {
	kind     tokenKind
	at       int // index of its first character
	text     string
	value    float64 // number; letter and sign: +1 or -1
	fraction bool    // a number with a point
	axis     axis
	glued    bool // no space before it
}

// names are the words and letters that may stand in a position. A longer one
// stands before a shorter one that it begins with.
var names = []token{
	{kind: degree, text: "degrees"}, {kind: degree, text: "degree"}, {kind: degree, text: "deg"}, {kind: degree, text: "d"},
	{kind: minute, text: "minutes"}, {kind: minute, text: "minute"}, {kind: minute, text: "min"}, {kind: minute, text: "m"},
	{kind: second, text: "seconds"}, {kind: second, text: "second"}, {kind: second, text: "sec"},
	{kind: label, text: "latitude", axis: onLatitude}, {kind: label, text: "lat", axis: onLatitude},
	{kind: label, text: "longitude", axis: onLongitude}, {kind: label, text: "long", axis: onLongitude},
	{kind: label, text: "lon", axis: onLongitude}, {kind: label, text: "lng", axis: onLongitude},
	{kind: letter, text: "north", value: 1, axis: onLatitude}, {kind: letter, text: "n", value: 1, axis: onLatitude},
	{kind: letter, text: "south", value: -1, axis: onLatitude}, {kind: letter, text: "s", value: -1, axis: onLatitude},
	{kind: letter, text: "east", value: 1, axis: onLongitude}, {kind: letter, text: "e", value: 1, axis: onLongitude},
	{kind: letter, text: "west", value: -1, axis: onLongitude}, {kind: letter, text: "w", value: -1, axis: onLongitude},
}

// marks are the signs behind a number and between numbers.
var marks = [...]struct {
	kind  tokenKind
	value float64
	chars string
}{
	{degree, 0, "°º˚"},
	{minute, 0, minuteMarks},
	{second, 0, "\"″”“ʺ＂"},
	{sign, -1, "-−–‒﹣－"},
	{sign, 1, "+＋"},
	{colon, 0, ":"},
	{separator, 0, ",;/&\n\r،，、；"},
}

const (
	minuteMarks = "'′’‘´`ʹ＇"
	spaces      = " \t\u00a0\u202f\u2009\u2007\u200e\u200f\u200b\ufeff\u3000=()[]"
)

// digitRows are the zeros of the digits that phones and computers type.
var digitRows = [...]rune{'0', '٠', '۰', '०', '০', '０'}

func digit(r rune) (byte, bool) {
	for _, zero := range digitRows {
		if r >= zero && r <= zero+9 {
			return byte('0' + r - zero), true
		}
	}
	return 0, false
}

func isPoint(r rune) bool { return r == '.' || r == '٫' || r == '．' }

func isComma(r rune) bool { return r == ',' || r == '，' || r == '،' }

func digitAt(text []rune, i int) bool {
	if i < 0 || i >= len(text) {
		return false
	}
	_, ok := digit(text[i])
	return ok
}

// lex makes tokens. twoWays says what in the text can be read two ways.
func lex(text []rune, as reading) (tokens []token, twoWays reading, err *Error) {
	for i := 0; i < len(text); {
		r := text[i]
		before := separator
		if len(tokens) > 0 {
			before = tokens[len(tokens)-1].kind
		}
		// A point may also be the end of a sentence, or stand in "lat.", "N.".
		idle := r == '.' && (strings.Trim(string(text[i+1:]), spaces) == "" || before >= degree && before <= label)
		if !digitAt(text, i) && !isPoint(r) && strings.ContainsRune(spaces, r) || idle && !digitAt(text, i+1) {
			i++
			continue
		}
		t := token{at: i}
		n := 1 // characters
		switch {
		case digitAt(text, i) || isPoint(r) && digitAt(text, i+1):
			var two bool
			t, n, two, err = lexNumber(text, i, as.commaIsPoint)
			twoWays.commaIsPoint = twoWays.commaIsPoint || two
		case !lexMark(&t, r):
			t, n, err = lexName(text, i)
			if t.value < 0 && t.axis == onLatitude && n == 1 && before == number {
				twoWays.sIsSeconds = true
				if as.sIsSeconds {
					t.kind = second
				}
			}
		case t.kind == minute && i+1 < len(text) && strings.ContainsRune(minuteMarks, text[i+1]):
			t.kind, n = second, 2 // two apostrophes
		}
		if err != nil {
			return nil, twoWays, err
		}
		t.glued = i > 0 && !strings.ContainsRune(spaces, text[i-1])
		t.text = string(text[i : i+n])
		tokens = append(tokens, t)
		i += n
	}
	return tokens, twoWays, nil
}

func lexMark(t *token, r rune) bool {
	for _, m := range marks {
		if strings.ContainsRune(m.chars, r) {
			t.kind, t.value = m.kind, m.value
			return true
		}
	}
	return false
}

// lexNumber reads digits with at most one point. More than 15 digits are no
// position: a double has no more.
func lexNumber(text []rune, at int, commaIsPoint bool) (t token, n int, twoWays bool, err *Error) {
	var digits []byte
	points, commas := 0, 0
	for ; at+n < len(text); n++ {
		i := at + n
		d, ok := digit(text[i])
		if !ok {
			if !digitAt(text, i+1) {
				break
			}
			if isPoint(text[i]) {
				points++
			} else if isComma(text[i]) {
				twoWays = true
				if !commaIsPoint {
					break
				}
				commas++
			} else {
				break
			}
			d = '.'
		}
		digits = append(digits, d)
	}
	t = token{kind: number, at: at, fraction: points+commas > 0}
	if points+commas > 1 || len(digits) > 16 {
		kind := BadNumber
		if points == 0 && commas > 1 {
			kind = Ambiguous // 52,4,15,6: which of them stands for a point?
		}
		return t, n, twoWays, &Error{Kind: kind, At: at, Found: string(text[at : at+n])}
	}
	t.value, _ = strconv.ParseFloat(string(digits), 64) // digits and one point: no error
	return t, n, twoWays, nil
}

// lexName reads a word or a letter. O is west in one language and east in
// another.
func lexName(text []rune, at int) (token, int, *Error) {
	rest := strings.ToLower(string(text[at:min(len(text), at+len("longitude"))]))
	for _, n := range names {
		if strings.HasPrefix(rest, n.text) {
			n.at = at
			return n, len(n.text), nil
		}
	}
	kind := UnknownMark
	if rest[0] == 'o' {
		kind = Ambiguous
	}
	return token{}, 1, &Error{Kind: kind, At: at, Found: string(text[at])}
}
