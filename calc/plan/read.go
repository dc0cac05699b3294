package plan

import (
	"bytes"
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"time"
)

// maxDepth is how many objects and lists may lie within each other. A sound
// document has five.
const maxDepth = 16

// Read reads a document. The Plan is whole and in range, or the error is
// [Faults]: every fault at once, in document order. errors.Is finds
// [ErrNewer] in it if a newer Duskline wrote the document.
//
// Refused are: more than MaxBytes; a byte-order mark; text after the
// document; an unknown field, a missing one, one that comes twice; a wrong
// type; a number, text, list or date out of its limits; and values that do
// not go together. Only fields that [Write] leaves out may be missing:
// those of a Device of which one or two are given, figures that stand for
// another one while they are absent, a panel's datasheet, the vehicle charger,
// and the list of days that the Sky does not use.
//
// After a slip in the JSON itself nothing more can be read, so that the
// faults are those before it, and it. A value that is wrong by itself is not
// compared with others, nor handed to the models.
func Read(data []byte) (Plan, error) {
	if len(data) > MaxBytes {
		return Plan{}, Faults{{Kind: TooBig, Found: strconv.Itoa(len(data)), Max: MaxBytes, Unit: "B", Line: 1}}
	}
	s := newSheet()
	body := data
	if bytes.HasPrefix(body, []byte("\xef\xbb\xbf")) {
		s.add(0, Fault{Kind: ByteOrderMark, Found: "U+FEFF"})
		delete(s.bad, "") // the document behind it may still be sound
		body = body[3:]
	}
	clean, odd := withoutNaN(body)
	d := &reader{sheet: s, data: body, clean: clean, dec: json.NewDecoder(bytes.NewReader(clean)), odd: odd, version: versionOf(clean)}
	d.dec.UseNumber()
	var p Plan
	d.value(&document, &p, "")
	if rest := bytes.TrimLeft(body[d.end():], " \t\r\n"); !d.stopped && len(rest) > 0 {
		d.add(len(body)-len(rest), Fault{Kind: Trailing, Found: snippet(rest)})
	}
	p.Duskline = Version
	if !d.stopped {
		relate(&p, s)
	}
	faults, at := s.result()
	if len(faults) == 0 {
		p.Trip.locate()
		return p, nil
	}
	line, from := 1, 0
	for i := range faults {
		line += bytes.Count(body[from:at[i]], []byte("\n"))
		from = at[i]
		faults[i].Line = line
	}
	return Plan{}, faults
}

// versionOf returns the version under whose rules a document is read, wherever
// its number stands. Where there is none that this code knows, it is the
// latest, and the number is the reader's to refuse.
func versionOf(clean []byte) int {
	dec := json.NewDecoder(bytes.NewReader(clean))
	dec.UseNumber()
	if tok, err := dec.Token(); err != nil || tok != json.Delim('{') {
		return Version
	}
	for dec.More() {
		name, err := dec.Token()
		if err != nil {
			return Version
		}
		if name == "duskline" {
			var v int
			if tok, err := dec.Token(); err == nil {
				if n, ok := tok.(json.Number); ok && putNumber(&v, n.String()) && v >= firstVersion && v < Version {
					return v
				}
			}
			return Version
		}
		for depth := 0; ; {
			tok, err := dec.Token()
			switch {
			case err != nil:
				return Version
			case tok == json.Delim('{'), tok == json.Delim('['):
				depth++
			case tok == json.Delim('}'), tok == json.Delim(']'):
				depth--
			}
			if depth == 0 {
				break
			}
			if depth > maxDepth {
				return Version
			}
		}
	}
	return Version
}

// A reader walks a document's tokens along the table.
type reader struct {
	*sheet
	data    []byte
	clean   []byte // data without NaN: what dec reads
	dec     *json.Decoder
	odd     map[int]int // offset and length of each NaN and infinity
	version int         // of the document, as far as this code knows it
	depth   int
	stopped bool // nothing more can be read
}

// end is the offset behind the last token.
func (d *reader) end() int { return int(d.dec.InputOffset()) }

// ahead is the offset of the next token.
func (d *reader) ahead() int {
	i := d.end()
	for i < len(d.data) && strings.IndexByte(" \t\r\n,:", d.data[i]) >= 0 {
		i++
	}
	return i
}

// next returns the next token and its offset. If there is none, it notes the
// fault and stops the reader.
func (d *reader) next(pointer string) (tok json.Token, start int) {
	start = d.ahead()
	tok, err := d.dec.Token()
	if _, isNumber := tok.(json.Number); err != nil || isNumber && !d.numberEnds() {
		d.add(start, Fault{Pointer: pointer, Kind: Syntax, Found: snippet(d.data[start:])})
		d.stopped = true
		return nil, start
	}
	switch tok {
	case json.Delim('{'), json.Delim('['):
		if d.depth++; d.depth > maxDepth {
			d.add(start, Fault{Pointer: pointer, Kind: TooDeep, Max: maxDepth})
			d.stopped = true
			return nil, start
		}
	case json.Delim('}'), json.Delim(']'):
		d.depth--
	}
	return tok, start
}

// numberEnds reports whether the number just read ends where it should. The
// decoder reads 040 as 0 and complains of 40, behind the fault.
func (d *reader) numberEnds() bool {
	i := d.end()
	return i >= len(d.clean) || strings.IndexByte(" \t\r\n,]}", d.clean[i]) >= 0
}

// withoutNaN writes a zero in the place of each bare NaN and infinity, padded
// to the same length, and returns where they were. JSON does not know them,
// but programs write them, and behind one the reader would see nothing more.
func withoutNaN(data []byte) ([]byte, map[int]int) {
	var odd map[int]int
	out := data
	inString := false
	for i := 0; i < len(data); i++ {
		switch c := data[i]; {
		case inString && c == '\\':
			i++
		case c == '"':
			inString = !inString
		case !inString && (c == '-' || c == '+' || isLetter(c)):
			n := 1
			for i+n < len(data) && isLetter(data[i+n]) {
				n++
			}
			switch strings.ToLower(strings.TrimLeft(string(data[i:i+n]), "+-")) {
			case "nan", "inf", "infinity":
				if odd == nil {
					odd, out = map[int]int{}, bytes.Clone(data)
				}
				odd[i] = n
				copy(out[i:], "0"+strings.Repeat(" ", n-1))
			}
			i += n - 1
		}
	}
	return out, odd
}

func isLetter(c byte) bool { return c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' }

// snippet is the first word of what could not be read.
func snippet(b []byte) string {
	switch i := bytes.IndexAny(b, ",]}\r\n"); {
	case i == 0:
		b = b[:1]
	case i > 0:
		b = b[:i]
	}
	if len(b) > 4*maxFound {
		b = b[:4*maxFound]
	}
	return cut(strings.TrimSpace(strings.ToValidUTF8(string(b), "�")))
}

// rest reads on to the end of the value that began with tok.
func (d *reader) rest(tok json.Token, pointer string) {
	if tok != json.Delim('{') && tok != json.Delim('[') {
		return
	}
	for floor := d.depth - 1; d.depth > floor && !d.stopped; {
		d.next(pointer)
	}
}

// skip reads over a whole value and returns it as short text.
func (d *reader) skip(pointer string) string {
	tok, start := d.next(pointer)
	d.rest(tok, pointer)
	if d.stopped {
		return ""
	}
	return shorten(d.data[start:d.end()])
}

// value reads one value into target, a pointer as rule.at gives it.
func (d *reader) value(r *rule, target any, pointer string) {
	tok, start := d.next(pointer)
	if d.stopped {
		return
	}
	d.pos[pointer] = start
	if n := d.odd[start]; n > 0 {
		d.add(start, Fault{Pointer: pointer, Kind: NotFinite, Found: string(d.data[start : start+n])})
		return
	}
	fits := false
	switch v := tok.(type) {
	case json.Delim:
		switch {
		case v == '{' && r.shape == object:
			d.members(r, target, pointer, start)
			return
		case v == '[' && r.shape == list:
			d.entries(r, target, pointer, start)
			return
		}
	case json.Number:
		fits = putNumber(target, v.String())
	case string:
		switch p := target.(type) {
		case *string:
			*p, fits = v, true
		case *time.Time:
			if *p, fits = parseStart(v); !fits {
				f := badStart(pointer)
				f.Found = shorten(d.data[start:d.end()])
				d.add(start, f)
				return
			}
		}
	case bool:
		if p, ok := target.(*bool); ok {
			*p, fits = v, true
		}
	}
	if !fits {
		f := Fault{Pointer: pointer, Kind: WrongType, Allowed: []string{jsonType[r.shape]}}
		if n, ok := tok.(json.Number); ok && r.shape == integer { // a number, but no int
			x, _ := strconv.ParseFloat(n.String(), 64)
			f, _ = r.judgeNumber(pointer, x)
		}
		d.rest(tok, pointer)
		if !d.stopped {
			f.Found = shorten(d.data[start:d.end()])
			d.add(start, f)
		}
		return
	}
	if f, bad := r.as(d.version).judge(pointer, target); bad && !(r == &document.fields[0] && d.version < Version) {
		f.Found = shorten(d.data[start:d.end()])
		d.add(start, f)
	}
}

// as is the rule as a version of the document had it.
func (r *rule) as(version int) *rule {
	if version >= r.widen {
		return r
	}
	old := *r
	old.choices = r.choices[:r.early]
	return &old
}

// members reads an object behind its brace.
func (d *reader) members(r *rule, target any, pointer string, start int) {
	seen := make(map[string]bool, len(r.fields))
	for d.dec.More() {
		tok, place := d.next(pointer)
		if d.stopped {
			return
		}
		name := tok.(string) // the decoder lets no other key pass
		at := pointer + "/" + escape(name)
		member := r.field(name)
		switch {
		case seen[name]:
			d.fault(place, Fault{Pointer: at, Kind: Duplicate, Found: d.skip(at)})
		case member == nil, member.since > d.version:
			d.fault(place, Fault{Pointer: at, Kind: Unknown, Found: d.skip(at)})
		default:
			d.value(member, member.give(target), at)
		}
		if d.stopped {
			return
		}
		seen[name] = true
	}
	if d.next(pointer); d.stopped {
		return
	}
	for i := range r.fields {
		f := &r.fields[i]
		switch {
		case seen[f.name] && f.since <= d.version:
		case f.since > d.version:
			f.fill(target)
		case !f.optional:
			d.add(start, Fault{Pointer: pointer + "/" + escape(f.name), Kind: Missing})
		case f.shape == list:
			f.clear(f.give(target))
		}
	}
}

// fault notes f unless the document broke off while its value was skipped.
func (d *reader) fault(place int, f Fault) {
	if !d.stopped {
		d.add(place, f)
	}
}

// entries reads a list behind its bracket. Entries beyond its limit are
// counted and not read: one fault says that they are too many.
func (d *reader) entries(r *rule, target any, pointer string, start int) {
	r.clear(target)
	n := 0
	for ; d.dec.More(); n++ {
		at := pointer + "/" + strconv.Itoa(n)
		if n < int(r.limit.Max) {
			d.value(r.item, r.grow(target), at)
		} else {
			d.skip(at)
		}
		if d.stopped {
			return
		}
	}
	if d.next(pointer); d.stopped {
		return
	}
	if f, bad := r.judgeCount(pointer, n); bad {
		d.add(start, f)
	}
}

// judgeCount checks how many entries a list has.
func (r *rule) judgeCount(pointer string, n int) (Fault, bool) {
	if n >= int(r.limit.Min) && n <= int(r.limit.Max) {
		return Fault{}, false
	}
	return Fault{Pointer: pointer, Kind: BadCount, Found: strconv.Itoa(n), Min: r.limit.Min, Max: r.limit.Max, Unit: entries}, true
}

// putNumber stores a JSON number, and reports whether it could. A number too
// big for a float64 is stored as an infinity, which no limit lets pass; one
// too small as the smallest there is, so that -1e-999 is not taken for 0.
func putNumber(target any, s string) bool {
	x, _ := strconv.ParseFloat(s, 64) // its one error here is "too big", with ±Inf
	if x == 0 {
		x = 0 // no minus zero
		mantissa, _, _ := strings.Cut(strings.ToLower(s), "e")
		if strings.ContainsAny(mantissa, "123456789") {
			x = math.SmallestNonzeroFloat64
			if s[0] == '-' {
				x = -x
			}
		}
	}
	switch p := target.(type) {
	case *float64:
		*p = x
		return true
	case *int:
		if x == math.Trunc(x) && math.Abs(x) < 1<<31 {
			*p = int(x)
			return true
		}
	}
	return false
}
