package weather_test

import (
	"strings"
	"testing"
	"time"

	"duskline/calc/weather"
)

// A file of 2 MB: each row is filled up in a column that is not read. Target:
// under 300 ms in WebAssembly.
func BenchmarkRead(b *testing.B) {
	s := high
	s.Row = func(_ int, f []string) []string {
		const row = 2000000/8760 + 1
		if n := row - len(strings.Join(f, ",")); n > 0 {
			f[5] += strings.Repeat("9", n)
		}
		return f
	}
	data := synthetic(b, s)
	if len(data) < 2e6 {
		b.Fatalf("only %d bytes", len(data))
	}
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := weather.Read(data); err != nil {
			b.Fatal(err)
		}
	}
}

// The same file with all sky light missing: each hour of daylight is parted.
func BenchmarkReadWithoutSkyLight(b *testing.B) {
	s := high
	s.Row = func(_ int, f []string) []string { f[14], f[15] = "9999", "9999"; return f }
	data := synthetic(b, s)
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := weather.Read(data); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkUnpack(b *testing.B) {
	p := read(b, synthetic(b, high)).Pack()
	for b.Loop() {
		if _, err := weather.Unpack(p); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCut(b *testing.B) {
	y := read(b, synthetic(b, high))
	from := time.Date(2027, 7, 1, 8, 0, 0, 0, time.UTC)
	for b.Loop() {
		if _, err := y.Cut(from, 7*24); err != nil {
			b.Fatal(err)
		}
	}
}
