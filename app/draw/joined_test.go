package draw

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"duskline/calc/qty"
)

func wired(n int, rated, volts, amps float64) Wired {
	return Wired{Name: "Meadow", Count: n, Rated: qty.Watt(rated), Volts: qty.Volt(volts), Amps: qty.Ampere(amps)}
}

func row(w ...Wired) String {
	s := String{Wired: w}
	for _, x := range w {
		s.Volts += x.Volts * qty.Volt(x.Count)
		s.Amps = x.Amps
	}
	return s
}

var (
	big, small, house = wired(1, 100, 18, 5.6), wired(1, 60, 17.5, 3.4), wired(1, 400, 37.5, 10.7)

	joins = []struct {
		name    string
		j       Joined
		strings int // lines from minus to plus
		panels  int // boxes, one behind another not counted
	}{
		{"one", Joined{Strings: []String{row(big)}, Volts: 18, Amps: 5.6}, 1, 1},
		{"side by side", Joined{Strings: []String{row(big), row(small)}, Diode: true, Cable: "cable 5 m, 4 mm²", Volts: 17.8, Amps: 9}, 2, 2},
		{"end to end", Joined{Strings: []String{row(big, small)}, Volts: 37, Amps: 3.4}, 1, 2},
		{"four end to end", Joined{Strings: []String{row(wired(2, 100, 18, 5.6), wired(2, 60, 17.5, 3.4))}, Diode: true, Volts: 71, Amps: 3.4}, 1, 4},
		{"strings", Joined{Strings: []String{row(big, big), row(wired(3, 60, 12, 5)), row(house)}, Volts: 36, Amps: 20}, 3, 6},
		{"forty", Joined{Strings: []String{row(wired(20, 100, 18, 5.6)), row(wired(20, 100, 18, 5.6))}, Volts: 360, Amps: 11}, 2, 2},
		{"forty side by side", Joined{Strings: func() (s []String) {
			for range 40 {
				s = append(s, row(big))
			}
			return s
		}(), Volts: 18, Amps: 224}, 1, 1},
		{"seven kinds end to end", Joined{Strings: []String{row(big, small, wired(2, 50, 18, 2.8), big, small, house, wired(1, 20, 18, 1.1))}, Volts: 160, Amps: 1.1}, 1, 7},
		{"none", Joined{}, 0, 0},
	}
)

// What is drawn is what is joined: as many panels, as many ways from minus to
// plus, and no words beyond the sides or over one another.
func TestJoinedDrawsEveryPanelOnItsString(t *testing.T) {
	for _, c := range joins {
		for _, wide := range []float64{280, 328, 372, 400} {
			list := read(t, DrawJoined(c.j, Frame{"x", wide, 0}))
			var texts []box
			plus, panels := 0, 0
			for _, e := range list {
				d := e.attrs["d"]
				switch e.attrs["data-s"] {
				case "joined-plus":
					plus = strings.Count(d, "M") - 1 // the wire down to the Case
					if c.j.Diode {
						plus /= 2
					}
				case "joined-panel":
					panels = strings.Count(d, "z")
				}
				if e.name == "text" {
					x, y, w := numbers(t, e.attrs["x"])[0], numbers(t, e.attrs["y"])[0], 0.5*joinedSize*float64(len([]rune(e.text)))
					if e.attrs["text-anchor"] == "middle" {
						x -= w / 2
					}
					b := box{x, y - 10, w, 10}
					if x < 0 || x+w > wide {
						t.Errorf("%s, %g px: %q runs from %.0f to %.0f", c.name, wide, e.text, x, x+w)
					}
					for i, o := range texts {
						if b.x < o.x+o.w && o.x < b.x+b.w && b.y < o.y+o.h && o.y < b.y+b.h {
							t.Errorf("%s, %g px: %q stands on text %d", c.name, wide, e.text, i)
						}
					}
					texts = append(texts, b)
				}
			}
			if plus != c.strings {
				t.Errorf("%s, %g px: %d ways from minus to plus, want %d", c.name, wide, plus, c.strings)
			}
			// A narrow picture gathers panels of a kind sooner.
			if panels != c.panels && wide >= 328 {
				t.Errorf("%s, %g px: %d panels, want %d", c.name, wide, panels, c.panels)
			}
		}
	}
}

// The words under the panels and the row of the table are the figures handed
// in, and the last row is the whole.
func TestJoinedTableTellsEachAndTheWhole(t *testing.T) {
	j := Joined{Strings: []String{row(big, big), {Number: 2, Wired: []Wired{wired(3, 60, 12, 5)}, Volts: 36, Amps: 5}}, Volts: 35.9, Amps: 10.4}
	j.Strings[0].Number = 1
	table := JoinedTable(j)
	flat := ""
	for _, r := range table.Rows {
		if len(r) != len(table.Head) {
			t.Errorf("%q has not %d cells", r, len(table.Head))
		}
		flat += strings.ReplaceAll(strings.Join(r, " | "), "\u00a0", " ") + "\n"
	}
	for _, want := range []string{"Meadow | 18.0 V | 5.6 A | 101 W", "Each of 3: Meadow | 12.0 V | 5.0 A | 60 W", "String 2 together | 36.0 V | 5.0 A | 180 W", "All together, at the Case | 35.9 V | 10 A | 373 W"} {
		if !strings.Contains(flat, want) {
			t.Errorf("no %q in\n%s", want, flat)
		}
	}
	forty := JoinedTable(joins[6].j)
	if len(forty.Rows) != 2 {
		t.Errorf("forty alike side by side take %d rows", len(forty.Rows))
	}
}

func TestJoinedIsDrawnInEveryTheme(t *testing.T) {
	css, err := os.ReadFile("../../web/css/wiring.css")
	if err != nil {
		t.Fatal(err)
	}
	glare, night, ok := strings.Cut(string(css), `:root[data-theme="night"]`)
	if !ok {
		t.Fatal("no Night theme")
	}
	bad := wired(1, math.NaN(), math.Inf(1), math.NaN())
	all := []Joined{{Strings: []String{row(bad)}, Volts: qty.Volt(math.NaN())}}
	for _, c := range joins {
		all = append(all, c.j)
	}
	for _, j := range all {
		for _, e := range read(t, DrawJoined(j, Frame{"x", 328, 0})) {
			v := e.attrs["data-s"]
			if v == "" {
				continue
			}
			for name, text := range map[string]string{"Glare": glare, "Night": night} {
				if !strings.Contains(text, fmt.Sprintf("[data-s=%q]", v)) {
					t.Errorf("%s has no colour for %q", name, v)
				}
			}
		}
	}
}

// WCAG 2.2: words have at least 4.5 to 1 by Day, lines 3 to 1.
func TestJoinedStandsOut(t *testing.T) {
	for _, c := range []struct {
		part, ground string
		least        float64
	}{{"joined-name", "#fffaf0", 4.5}, {"joined-case-name", "#5d3a6e", 4.5}, {"joined-minus", "#fffaf0", 3}, {"joined-plus", "#fffaf0", 3}} {
		for _, e := range read(t, DrawJoined(joins[1].j, Frame{"x", 328, 0})) {
			if e.attrs["data-s"] != c.part {
				continue
			}
			colour := e.attrs["fill"]
			if e.name == "path" {
				colour = e.attrs["stroke"]
			}
			if got := contrast(t, colour, c.ground); got < c.least {
				t.Errorf("%s: %.2f to 1", c.part, got)
			}
		}
	}
}
