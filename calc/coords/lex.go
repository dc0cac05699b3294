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
const (
	degreeMarks = "°º˚"
	minuteMarks = "'′’‘´`ʹ＇"
	secondMarks = "\"″”“ʺ＂"
	minusSigns  = "-−–‒﹣－"
	separators  = ",;/&\n\r،，、；"
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
		add := func(kind tokenKind, n int, value float64) {
			tokens = append(tokens, token{kind: kind, at: i, text: string(text[i : i+n]), value: value, glued: i > 0 && !strings.ContainsRune(spaces, text[i-1])})
			i += n
		}
		switch {
		case digitAt(text, i) || isPoint(r) && digitAt(text, i+1):
			t, two, e := lexNumber(text, i, as.commaIsPoint)
			if e != nil {
				return nil, twoWays, e
			}
			twoWays.commaIsPoint = twoWays.commaIsPoint || two
			tokens = append(tokens, t)
			i += len([]rune(t.text))
		case strings.ContainsRune(spaces, r):
			i++
		case r == '.' && (strings.Trim(string(text[i+1:]), spaces) == "" || len(tokens) > 0 && tokens[len(tokens)-1].kind >= degree && tokens[len(tokens)-1].kind <= label):
			i++ // the end of a sentence, "lat.", "deg.", "N."
		case strings.ContainsRune(degreeMarks, r):
			add(degree, 1, 0)
		case strings.ContainsRune(minuteMarks, r):
			if i+1 < len(text) && strings.ContainsRune(minuteMarks, text[i+1]) {
				add(second, 2, 0) // two apostrophes
			} else {
				add(minute, 1, 0)
			}
		case strings.ContainsRune(secondMarks, r):
			add(second, 1, 0)
		case strings.ContainsRune(minusSigns, r):
			add(sign, 1, -1)
		case r == '+' || r == '＋':
			add(sign, 1, 1)
		case r == ':':
			add(colon, 1, 0)
		case strings.ContainsRune(separators, r):
			add(separator, 1, 0)
		default:
			t, e := lexName(text, i)
			if e != nil {
				return nil, twoWays, e
			}
			if t.kind == letter && len(t.text) == 1 && t.value < 0 && t.axis == onLatitude && len(tokens) > 0 && tokens[len(tokens)-1].kind == number {
				twoWays.sIsSeconds = true
				if as.sIsSeconds {
					t.kind = second
				}
			}
			tokens = append(tokens, t)
			i += len(t.text)
		}
	}
	return tokens, twoWays, nil
}

// lexNumber reads digits with at most one point. More than 15 digits are no
// position: a double has no more.
func lexNumber(text []rune, at int, commaIsPoint bool) (t token, twoWays bool, err *Error) {
	var b strings.Builder
	points, commas := 0, 0
	i := at
	for ; i < len(text); i++ {
		if d, ok := digit(text[i]); ok {
			b.WriteByte(d)
		} else if isPoint(text[i]) && digitAt(text, i+1) {
			b.WriteByte('.')
			points++
		} else if isComma(text[i]) && digitAt(text, i-1) && digitAt(text, i+1) {
			twoWays = true
			if !commaIsPoint {
				break
			}
			b.WriteByte('.')
			commas++
		} else {
			break
		}
	}
	t = token{kind: number, at: at, text: string(text[at:i]), fraction: points+commas > 0}
	if points == 0 && commas > 1 {
		// 52,4,15,6: which of them stands for a point?
		return t, twoWays, &Error{Kind: Ambiguous, At: at, Found: t.text}
	}
	if points+commas > 1 || b.Len() > 16 {
		return t, twoWays, &Error{Kind: BadNumber, At: at, Found: t.text}
	}
	t.value, _ = strconv.ParseFloat(b.String(), 64) // digits and one point: no error
	return t, twoWays, nil
}

// lexName reads a word or a letter. O is west in one language and east in
// another.
func lexName(text []rune, at int) (token, *Error) {
	rest := strings.ToLower(string(text[at:min(len(text), at+len("longitude"))]))
	for _, n := range names {
		if strings.HasPrefix(rest, n.text) {
			n.at, n.text = at, string(text[at:at+len(n.text)])
			return n, nil
		}
	}
	if text[at] == 'o' || text[at] == 'O' {
		return token{}, &Error{Kind: Ambiguous, At: at, Found: string(text[at])}
	}
	return token{}, &Error{Kind: UnknownMark, At: at, Found: string(text[at])}
}
