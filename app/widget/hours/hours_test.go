package hours

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"duskline/calc/plan"
)

func ExamplePaint() {
	night := []plan.Window{{FromH: 22, ToH: 6}}
	fmt.Println(Paint(night, 3, 4, false))
	fmt.Println(Paint(night, 6, 8, true))
	// Output:
	// [{4 6} {22 3}]
	// [{22 8}]
}

func TestPaint(t *testing.T) {
	w := func(h ...float64) []plan.Window {
		list := []plan.Window{}
		for i := 0; i < len(h); i += 2 {
			list = append(list, plan.Window{FromH: h[i], ToH: h[i+1]})
		}
		return list
	}
	for _, c := range []struct {
		name     string
		have     []plan.Window
		from, to float64
		on       bool
		want     []plan.Window
	}{
		{"on an empty day", w(), 8, 9, true, w(8, 9)},
		{"off all there is", w(8, 9), 8, 9, false, w()},
		{"joins neighbours", w(8, 9, 10, 11), 9, 10, true, w(8, 11)},
		{"cuts in two", w(8, 12), 9, 10, false, w(8, 9, 10, 12)},
		{"keeps odd minutes", w(8.25, 12.75), 10, 10.5, false, w(8.25, 10, 10.5, 12.75)},
		{"over midnight from both sides", w(22, 24), 0, 1, true, w(22, 1)},
		{"off inside midnight", w(22, 6), 23.5, 24, false, w(0, 6, 22, 23.5)},
		{"a whole day", w(0, 12), 12, 24, true, w(0, 24)},
		{"a hole in a whole day", w(0, 24), 12, 12.5, false, w(12.5, 12)},
		{"nothing", w(8, 9), 10, 10, true, w(8, 9)},
		{"overlaps are one", w(8, 12, 10, 14), 20, 21, true, w(8, 14, 20, 21)},
	} {
		if got := Paint(c.have, c.from, c.to, c.on); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

func TestPaintCellsInEitherOrder(t *testing.T) {
	a, b := PaintCells(nil, 3, 5, true), PaintCells(nil, 5, 3, true)
	if want := []plan.Window{{FromH: 1.5, ToH: 3}}; !slices.Equal(a, want) || !slices.Equal(b, want) {
		t.Errorf("%v and %v, want %v", a, b, want)
	}
}

func TestCoveredSaysPart(t *testing.T) {
	list := Spans([]plan.Window{{FromH: 23.75, ToH: 0.25}})
	for cell, want := range map[int]float64{0: 0.5, 1: 0, 46: 0, 47: 0.5} {
		if got := Covered(list, cell); got != want {
			t.Errorf("cell %d: %g, want %g", cell, got, want)
		}
	}
}

// A painted stretch is on, or off, and nothing else changed.
func FuzzPaint(f *testing.F) {
	f.Add(22.0, 6.0, 8.5, 12.25, uint8(3), uint8(5), true)
	f.Add(0.0, 24.0, 1.0, 1.0, uint8(0), uint8(47), false)
	f.Fuzz(func(t *testing.T, a, b, c, d float64, from, to uint8, on bool) {
		for _, h := range []float64{a, b, c, d} {
			if !(h >= 0 && h <= 24) {
				t.Skip()
			}
		}
		x, y := int(from%Cells), int(to%Cells)
		if x > y {
			x, y = y, x
		}
		have := []plan.Window{{FromH: a, ToH: b}, {FromH: c, ToH: d}}
		got := PaintCells(have, x, y, on)
		before, after := Spans(have), Spans(got)
		for cell := range Cells {
			want := Covered(before, cell)
			if cell >= x && cell <= y {
				want = map[bool]float64{true: 1, false: 0}[on]
			}
			if math.Abs(Covered(after, cell)-want) > 1e-9 {
				t.Fatalf("%v, cells %d to %d %v: %v, cell %d", have, x, y, on, got, cell)
			}
		}
		for _, w := range got {
			if w.FromH == w.ToH || !(w.FromH >= 0 && w.FromH <= 24 && w.ToH >= 0 && w.ToH <= 24) {
				t.Fatalf("%v gave the window %v", have, w)
			}
		}
	})
}

func TestReadTakesTheClockAsPeopleTypeIt(t *testing.T) {
	for text, want := range map[string]float64{
		"22:30": 22.5, "2230": 22.5, " 7 ": 7, "730": 7.5, "07": 7, "0": 0, "24:00": 24, "24": 24, "6.5": 6.5, "6,5": 6.5, "0:05": 5.0 / 60,
	} {
		if got, ok := Read(text); !ok || got != want {
			t.Errorf("%q: %g %v, want %g", text, got, ok, want)
		}
	}
	for _, text := range []string{"", "24:01", "25", "12:60", "1:2", "-1", "2460", "x", "12:30:00", "NaN", "１２:00"} {
		if got, ok := Read(text); ok {
			t.Errorf("%q gave %g", text, got)
		}
	}
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"22:30", "2230", "7", "24:00", "6,5", ":", "::", "-0"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if h, ok := Read(text); ok && !(h >= 0 && h <= 24) {
			t.Fatalf("%q gave %g", text, h)
		}
	})
}
