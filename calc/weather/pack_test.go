package weather_test

import (
	"bytes"
	"errors"
	"reflect"
	"testing"

	"duskline/calc/weather"
)

// What is kept comes back as it was, with all that was missing.
func TestPackAndBack(t *testing.T) {
	for _, leap := range []bool{false, true} {
		s := high
		s.Leap, s.Name = leap, "Högfjäll 町"
		for row, column := range map[int]int{noon(3): 7, noon(4): 22, noon(5): 14, noon(6): 16} {
			s = set(s, row, column, "9999")
		}
		s = set(set(s, noon(7), 14, ""), noon(7), 15, "")
		y := read(t, synthetic(t, s))
		p := y.Pack()
		if len(p) > 100e3 {
			t.Errorf("%d bytes", len(p))
		}
		back, err := weather.Unpack(p)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(y, back) {
			t.Errorf("%+v came back as %+v", y.Missing, back.Missing)
		}
		if !bytes.Equal(p, back.Pack()) {
			t.Error("packed twice, it differs")
		}
		t.Logf("%d rows in %d bytes", y.Rows, len(p))
	}
}

// Anything else is refused: cut short, longer, of another version, one bit off.
func TestUnpackRefuses(t *testing.T) {
	p := read(t, synthetic(t, high)).Pack()
	bad := [][]byte{nil, {}, []byte("DusW"), []byte("DusW\x01"), []byte("DusW\x01\x00\x00\x00\x00\x00"), make([]byte, 70000), append(bytes.Clone(p), 0)}
	for _, n := range []int{1, 4, 5, 8, len(p) / 2, len(p) - 5} {
		bad = append(bad, p[:len(p)-n])
	}
	for i := 0; i < len(p); i += 1 + len(p)/300 {
		b := bytes.Clone(p)
		b[i] ^= 1 << (i % 8)
		bad = append(bad, b)
	}
	for i, b := range bad {
		y, err := weather.Unpack(b)
		var e *weather.Error
		if y != nil || !errors.As(err, &e) || e.Kind != weather.Damaged {
			t.Errorf("case %d: %v, %v", i, y, err)
		}
	}
}
