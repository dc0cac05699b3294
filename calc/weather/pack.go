package weather

import (
	"math"
	"strings"
	"time"

	"duskline/calc/qty"
)

// Decision: a year is kept as it is held, eight bytes an hour behind a short
// header and before a checksum: 70 kB. Squeezing it further would save the
// device less than the code would cost the program.
//
//	"DusW" 1              magic and version
//	flags                 bit 0: 8784 rows
//	standard              minutes, int16
//	latitude, longitude, altitude    float64
//	6 counts of Missing   uint16
//	name, country         length in bytes, UTF-8
//	rows × (ghi, dhi, air, wind)     uint16 each, air as int16
//	checksum              uint32, FNV-1a of all before
//
// All numbers are little-endian.
const (
	magic    = "DusW\x01"
	maxBytes = 4 * maxName // of a name
)

// Pack returns the year as bytes to be kept on the device and handed from
// thread to thread: about 70 kB.
func (y *Year) Pack() []byte {
	w := packer{make([]byte, 0, 64+len(y.Name)+len(y.Country)+8*len(y.hours))}
	w.b = append(w.b, magic...)
	w.b = append(w.b, flags(y.Rows))
	w.u16(uint16(y.Standard / time.Minute))
	w.f64(float64(y.Place.Latitude))
	w.f64(float64(y.Place.Longitude))
	w.f64(float64(y.Place.Altitude))
	for _, n := range y.Missing.counts() {
		w.u16(uint16(*n))
	}
	for _, s := range []string{y.Name, y.Country} {
		w.u16(uint16(len(s)))
		w.b = append(w.b, s...)
	}
	for _, h := range y.hours {
		w.u16(h.ghi)
		w.u16(h.dhi)
		w.u16(uint16(h.air))
		w.u16(h.wind)
	}
	w.u32(checksum(w.b))
	return w.b
}

// Unpack reads what [Year.Pack] wrote.
//
// Errors: [Errors] of kind Damaged, for anything else.
func Unpack(data []byte) (*Year, error) {
	if y, ok := unpack(data); ok {
		return y, nil
	}
	return nil, Errors{{Kind: Damaged}}
}

func unpack(data []byte) (*Year, bool) {
	if len(data) < len(magic)+4 || string(data[:len(magic)]) != magic {
		return nil, false
	}
	body, sum := data[:len(data)-4], unpacker{b: data[len(data)-4:]}
	if checksum(body) != sum.u32() {
		return nil, false
	}
	r := unpacker{b: body[len(magic):]}
	y := &Year{Rows: commonRows}
	flag := r.u8()
	if flag == flags(leapRows) {
		y.Rows = leapRows
	} else if flag != 0 {
		return nil, false
	}
	y.Standard = time.Duration(int16(r.u16())) * time.Minute
	y.Place.Latitude = qty.Degree(r.f64())
	y.Place.Longitude = qty.Degree(r.f64())
	y.Place.Altitude = qty.Metre(r.f64())
	for _, n := range y.Missing.counts() {
		*n = int(r.u16())
		r.bad = r.bad || *n > y.Rows
	}
	y.Name, y.Country = r.name(), r.name()
	if r.bad || len(r.b) != 8*y.Rows || y.Place.Check() != nil ||
		y.Standard < minZone*time.Hour || y.Standard > maxZone*time.Hour {
		return nil, false
	}
	y.hours = make([]hour, y.Rows)
	var light, air, wind int
	for i := range y.hours {
		h := hour{ghi: r.u16(), dhi: r.u16(), air: int16(r.u16()), wind: r.u16()}
		switch {
		case h.ghi == noLight && h.dhi == noLight:
			light++
		case h.ghi > maxLight*10 || h.dhi > h.ghi:
			return nil, false
		}
		if h.air == noAir {
			air++
		} else if h.air < minAir*100 || h.air > maxAir*100 {
			return nil, false
		}
		if h.wind == noWind {
			wind++
		} else if h.wind > maxWind*100 {
			return nil, false
		}
		y.hours[i] = h
	}
	m := y.Missing
	return y, m.Light == light && m.Air == air && m.Wind == wind
}

func flags(rows int) byte {
	if rows == leapRows {
		return 1
	}
	return 0
}

// counts are all counts, in the order in which they are kept.
func (m *Missing) counts() [6]*int {
	return [...]*int{&m.Light, &m.Global, &m.Diffuse, &m.Trimmed, &m.Air, &m.Wind}
}

func checksum(b []byte) uint32 {
	h := uint32(2166136261)
	for _, c := range b {
		h = (h ^ uint32(c)) * 16777619
	}
	return h
}

type packer struct{ b []byte }

func (w *packer) u16(x uint16) { w.b = append(w.b, byte(x), byte(x>>8)) }
func (w *packer) u32(x uint32) { w.u16(uint16(x)); w.u16(uint16(x >> 16)) }
func (w *packer) f64(x float64) {
	u := math.Float64bits(x)
	w.u32(uint32(u))
	w.u32(uint32(u >> 32))
}

// An unpacker takes numbers off the front; past the end it turns bad and gives
// zeros.
type unpacker struct {
	b   []byte
	bad bool
}

func (r *unpacker) u8() byte {
	if len(r.b) == 0 {
		r.bad = true
		return 0
	}
	c := r.b[0]
	r.b = r.b[1:]
	return c
}

func (r *unpacker) u16() uint16 { return uint16(r.u8()) | uint16(r.u8())<<8 }
func (r *unpacker) u32() uint32 { return uint32(r.u16()) | uint32(r.u16())<<16 }
func (r *unpacker) f64() float64 {
	low := uint64(r.u32())
	return math.Float64frombits(low | uint64(r.u32())<<32)
}

func (r *unpacker) name() string {
	n := int(r.u16())
	if n > maxBytes || n > len(r.b) {
		r.bad = true
		return ""
	}
	s := string(r.b[:n])
	r.b = r.b[n:]
	r.bad = r.bad || strings.ToValidUTF8(s, "") != s
	return s
}
