package towns

import (
	"encoding/binary"
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// The file. It is made for a compressor: towns are sorted by country, region
// and latitude, each quantity lies in a column of its own, and numbers of two
// bytes are two columns. In 25,000 towns a column of differences costs half
// of what the same numbers cost side by side.
//
//	"duskline towns 1\t" package "\t" towns "\n"
//	then each with its length in front, as a varint:
//	foldings    text, see readFolding
//	runs        lines: country, two letters; region; tab; towns in it
//	zones       lines
//	zone of     pairs of varints: index, for how many towns
//	lat, lat    high bytes, low bytes: zigzag of the difference to the town before, 0.01°
//	lon, lon    the same; differences wrap at 16 bits
//	alt, alt    high bytes, low bytes: tens of metres above -500 m; 0 is unknown
//	people      a byte each: thirds of a power of two
//	names       lines
//	others      lines: other names, tabs between, empty for none
const (
	magic   = "duskline towns 1"
	unknown = -1 << 15 // altitude
	bottom  = -51      // tens of metres; an altitude of 1 stands for -500 m

	// Bounds on what is read; the list has about half of each.
	maxBytes = 4 << 20
	maxTowns = 60000
	maxRuns  = 1 << 16
)

// ErrDamaged says that the bytes are no list of towns that this version reads.
var ErrDamaged = errors.New("towns: the list is damaged or of another version")

// breath is how many names are opened between two pauses: some milliseconds on
// a slow phone.
const breath = 4000

// Load opens a packed list. It keeps no reference to data. It calls pause, if
// that is not nil, now and then, so that a page can go on meanwhile.
//
// Errors: ErrDamaged, with the section in its text.
func Load(data []byte, pause func()) (*List, error) {
	if pause == nil {
		pause = func() {}
	}
	if len(data) > maxBytes {
		return nil, damaged("size")
	}
	head, rest, ok := strings.Cut(string(data), "\n")
	fields := strings.Split(head, "\t")
	if !ok || len(fields) != 3 || fields[0] != magic {
		return nil, damaged("header")
	}
	n, err := strconv.Atoi(fields[2])
	if err != nil || n < 1 || n > maxTowns {
		return nil, damaged("header")
	}
	l := &List{origin: fields[1], towns: make([]place, n)}
	s := sections{all: rest, rest: rest}
	l.fold = readFolding(s.next())
	l.readRuns(&s)
	l.readZones(&s)
	pause()
	l.readColumns(&s)
	pause()
	l.readNames(&s, pause)
	if s.bad == "" && s.rest != "" {
		s.fail("end")
	}
	if s.bad != "" {
		return nil, damaged(s.bad)
	}
	return l, nil
}

func damaged(where string) error { return fmt.Errorf("%w: %s", ErrDamaged, where) }

// sections takes the file apart. The first fault stays.
type sections struct {
	all  string
	rest string
	bad  string
}

func (s *sections) fail(where string) {
	if s.bad == "" {
		s.bad = where
	}
}

func (s *sections) next() string {
	n, k := uvarint(s.rest)
	if k <= 0 || n > uint64(len(s.rest)-k) {
		s.fail("length")
		s.rest = ""
		return ""
	}
	text := s.rest[k : k+int(n)]
	s.rest = s.rest[k+int(n):]
	return text
}

// column is a section of n bytes.
func (s *sections) column(n int) string {
	text := s.next()
	if len(text) != n {
		s.fail("column")
		return strings.Repeat("\x00", n)
	}
	return text
}

func uvarint(s string) (uint64, int) {
	return binary.Uvarint([]byte(s[:min(len(s), binary.MaxVarintLen64)]))
}

func (l *List) readRuns(s *sections) {
	at := 0
	for line := range strings.Lines(s.next()) {
		what, count, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "\t")
		n, err := strconv.Atoi(count)
		if err != nil || n < 1 || n > len(l.towns)-at || len(what) < 2 || len(l.runs) == maxRuns {
			s.fail("runs")
			return
		}
		for range n {
			l.towns[at].run = uint16(len(l.runs))
			at++
		}
		l.runs = append(l.runs, run{what[:2], what[2:]})
	}
	if at != len(l.towns) {
		s.fail("runs")
	}
}

func (l *List) readZones(s *sections) {
	l.zones = strings.Split(s.next(), "\n")
	text, at := s.next(), 0
	for at < len(l.towns) {
		zone, k := uvarint(text)
		n, m := uvarint(text[max(k, 0):])
		if k <= 0 || m <= 0 || zone >= uint64(len(l.zones)) || zone > 1<<16-1 || n < 1 || n > uint64(len(l.towns)-at) {
			s.fail("zones")
			return
		}
		text = text[k+m:]
		for range n {
			l.towns[at].zone = uint16(zone)
			at++
		}
	}
}

func (l *List) readColumns(s *sections) {
	n := len(l.towns)
	latHigh, latLow := s.column(n), s.column(n)
	lonHigh, lonLow := s.column(n), s.column(n)
	altHigh, altLow := s.column(n), s.column(n)
	people := s.column(n)
	var lat, lon int16
	for i := range l.towns {
		lat += unzigzag(latHigh[i], latLow[i])
		lon += unzigzag(lonHigh[i], lonLow[i])
		if lat < -9000 || lat > 9000 || lon < -18000 || lon > 18000 {
			s.fail("position")
			return
		}
		t := &l.towns[i]
		t.lat, t.lon, t.people, t.altitude = lat, lon, people[i], unknown
		if a := int16(altHigh[i])<<8 | int16(altLow[i]); a > 0 {
			t.altitude = a + bottom
			if t.altitude > 900 {
				s.fail("altitude")
				return
			}
		}
	}
}

func unzigzag(high, low byte) int16 {
	v := uint16(high)<<8 | uint16(low)
	return int16(v>>1) ^ -int16(v&1)
}

func (l *List) readNames(s *sections, pause func()) {
	first, others := strings.Split(s.next(), "\n"), strings.Split(s.next(), "\n")
	if len(first) != len(l.towns) || len(others) != len(l.towns) {
		s.fail("names")
		return
	}
	size := len(first) + 1
	for _, o := range others {
		size += strings.Count(o, "\t") + 1
	}
	l.names = make([]name, 0, size)
	folded := make([]byte, 1, len(s.all)+1)
	folded[0] = '\n'
	add := func(town int, text string) {
		at := len(folded)
		if folded = l.fold.add(folded, text); len(folded) == at {
			s.fail("names")
		}
		folded = append(folded, '\n')
		l.names = append(l.names, name{text, uint16(town)})
		if len(l.names)%breath == 0 {
			pause()
		}
	}
	for i := range l.towns {
		add(i, first[i])
		for other, rest := "", others[i]; rest != ""; {
			other, rest, _ = strings.Cut(rest, "\t")
			add(i, other)
		}
	}
	l.folded = string(folded)
	pause()

	l.words = make([]word, 0, size+size/2)
	n := 0
	for i := range len(l.folded) - 1 {
		switch l.folded[i] {
		case '\n':
			l.words = append(l.words, word{uint32(i + 1), uint32(n)})
			n++
		case ' ':
			l.words = append(l.words, word{uint32(i + 1), uint32(n - 1)})
		}
	}
}
