package civil

import "time"

// The Time Zone Information Format (RFC 8536) is the only door that package
// time has for a Location that changes its offset. It is written here in
// memory: version 2, whose instants have 64 bits, with an empty block of
// version 1 before it and an empty footer behind it, so that the last offset
// lasts.

// tzif writes an offset and its changes. Each of them has a local time type of
// its own, the first one's used by no change: that is the type before them.
func tzif(offset time.Duration, changes []Change) []byte {
	offsets := []time.Duration{offset}
	for _, c := range changes {
		offsets = append(offsets, c.Offset)
	}
	var names []byte
	var nameAt []byte
	for _, o := range offsets {
		nameAt = append(nameAt, byte(len(names)))
		names = append(append(names, abbreviation(o)...), 0)
	}
	b := header(nil, 0, 1, 1)
	b = append(b, 0, 0, 0, 0, 0, 0, 0) // version 1: one type and its empty name
	b = header(b, len(changes), len(offsets), len(names))
	for _, c := range changes {
		b = bigEndian(b, uint64(c.At.Unix()), 8)
	}
	for i := range changes {
		b = append(b, byte(i+1))
	}
	for i, o := range offsets {
		b = bigEndian(b, uint64(o/time.Second), 4)
		b = append(b, 0, nameAt[i]) // 0: not told whether it is summer time
	}
	return append(append(b, names...), "\n\n"...)
}

func header(b []byte, transitions, types, chars int) []byte {
	b = append(b, "TZif2"...)
	b = append(b, make([]byte, 15+3*4)...) // reserved; no UT indicators, no standard indicators, no leap seconds
	for _, n := range []int{transitions, types, chars} {
		b = bigEndian(b, uint64(n), 4)
	}
	return b
}

// bigEndian writes the lower bytes of v.
func bigEndian(b []byte, v uint64, bytes int) []byte {
	for i := bytes - 1; i >= 0; i-- {
		b = append(b, byte(v>>(8*i)))
	}
	return b
}

// abbreviation writes an offset as +01, -0330.
func abbreviation(d time.Duration) string {
	sign := byte('+')
	if d < 0 {
		sign, d = '-', -d
	}
	h, m := byte(d/time.Hour), byte(d%time.Hour/time.Minute)
	b := []byte{sign, '0' + h/10, '0' + h%10}
	if m > 0 {
		b = append(b, '0'+m/10, '0'+m%10)
	}
	return string(b)
}
