package panel

import (
	"testing"

	"duskline/calc/qty"
)

// battery walks through the volts of a battery, so that no benchmark asks the
// same question twice in a row.
func battery(n int) qty.Volt { return 12 + qty.Volt(n&255)*(2.5/256) }

func BenchmarkModuleAt(b *testing.B) {
	m, _ := FromWatts(100, Crystalline)
	n := 0
	for b.Loop() {
		m.At(qty.Irradiance(100+n&511), 40)
		n++
	}
}

func BenchmarkCurveCurrent(b *testing.B) {
	m, _ := FromWatts(100, Crystalline)
	c := m.At(800, 45)
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		c.Current(battery(n))
		n++
	}
}

func BenchmarkCurveMaxPower(b *testing.B) {
	m, _ := FromWatts(100, Crystalline)
	var cs [256]Curve
	for i := range cs {
		cs[i] = m.At(qty.Irradiance(20+4*i), qty.Celsius(i%60))
	}
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		cs[n&255].MaxPower()
		n++
	}
}

type joined struct {
	name string
	Array
}

// arrays are joined panels, first of one kind, then of two in unequal light.
func arrays(b *testing.B) []joined {
	m, err := FromWatts(100, Crystalline)
	if err != nil {
		b.Fatal(err)
	}
	bright, dim := m.At(800, 45), m.At(350, 30)
	return []joined{
		{"one", Array{Parts: []Part{{Curve: bright, Count: 1}}}},
		{"alike/side_by_side", Array{Parts: []Part{{Curve: bright, Count: 2}}}},
		{"alike/end_to_end", Array{Joined: EndToEnd, Parts: []Part{{Curve: bright, Count: 2}}}},
		{"unequal/side_by_side", Array{Parts: []Part{{Curve: bright, Count: 1}, {Curve: dim, Count: 1}}}},
		{"unequal/end_to_end", Array{Joined: EndToEnd, Parts: []Part{{Curve: bright, Count: 1}, {Curve: dim, Count: 1}}}},
	}
}

func BenchmarkArrayCurrent(b *testing.B) {
	for _, a := range arrays(b) {
		b.Run(a.name, func(b *testing.B) {
			b.ReportAllocs()
			n := 0
			for b.Loop() {
				a.Current(battery(n))
				n++
			}
		})
	}
}

func BenchmarkArrayMaxPower(b *testing.B) {
	for _, a := range arrays(b) {
		b.Run(a.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				a.MaxPower()
			}
		})
	}
}

func BenchmarkFromDatasheet(b *testing.B) {
	for b.Loop() {
		if _, err := FromDatasheet(label); err != nil {
			b.Fatal(err)
		}
	}
}

// A label that cannot be met is answered with a range, by a scan.
func BenchmarkFromDatasheetRefused(b *testing.B) {
	d := label
	d.Vmp = 21
	for b.Loop() {
		if _, err := FromDatasheet(d); err == nil {
			b.Fatal("fits")
		}
	}
}
