package draw

import (
	"encoding/xml"
	"math"
	"os"
	"strings"
	"testing"

	"duskline/calc/outlook"
	"duskline/calc/qty"
)

var ladder = Ladder{Used: 400, Frame: Frame{ID: "r", Width: 328, Height: RungHeight}}

var rungs = []Rung{
	{Name: "100 W", Brings: 200, Verdict: outlook.Tight, Marks: []string{"least", "pack"}},
	{Name: "120 W", Brings: 400, Left: 40, Verdict: outlook.Holds},
	{Name: "5 W", Brings: 10, Verdict: outlook.RunsOut},
	{Name: "400 W", Brings: 500, Left: 900, Verdict: outlook.Holds, Danger: true},
}

// right returns where a part of a picture ends on the right.
func right(t *testing.T, picture, part string) float64 {
	t.Helper()
	end := math.Inf(-1)
	for _, e := range read(t, picture) {
		if e.attrs["data-s"] == part && e.name == "path" {
			for _, p := range points(t, strings.TrimSuffix(e.attrs["d"], "z")) {
				end = max(end, p[0])
			}
		}
	}
	return end
}

// A rung is as long as what its panels bring: half of the use reaches half way
// to the right rail, all of it reaches the rail.
func TestRungIsAsLongAsWhatItBrings(t *testing.T) {
	rail, ok := ladder.rail()
	if !ok {
		t.Fatal("no right rail")
	}
	if got := right(t, ladder.Rung(rungs[0]), "rung-tight"); math.Abs(got-(leftRail+(rail-leftRail)/2)) > 0.2 {
		t.Errorf("half of the use ends at %.1f, the rail stands at %.1f", got, rail)
	}
	p := ladder.Rung(rungs[1])
	if got := right(t, p, "rung-holds"); math.Abs(got-rail) > 0.2 {
		t.Errorf("all of the use ends at %.1f, the rail stands at %.1f", got, rail)
	}
	if got := right(t, p, "rung-left"); math.Abs(got-(leftRail+1.1*(rail-leftRail))) > 0.2 {
		t.Errorf("what is left ends at %.1f, the rail stands at %.1f", got, rail)
	}
	// What is longer than the picture is cut, and goes on with an arrow.
	p = ladder.Rung(rungs[3])
	if !strings.Contains(p, `data-s="rung-on"`) || right(t, p, "rung-left") > 328 {
		t.Error("a rung beyond the picture does not say so")
	}
	if strings.Contains(ladder.Rung(rungs[1]), `data-s="rung-on"`) {
		t.Error("a rung inside the picture goes on")
	}
	// Without any use there is no right rail, and the longest fills the room.
	idle := Ladder{Most: 100, Frame: ladder.Frame}
	if got := right(t, idle.Rung(Rung{Brings: 100, Verdict: outlook.Holds}), "rung-holds"); math.Abs(got-320) > 0.2 {
		t.Errorf("the longest ends at %.1f of 328", got)
	}
	if strings.Contains(idle.Head(), "<text") {
		t.Error("a right rail without use is named")
	}
}

// Each verdict has a sign of its own: colour alone says nothing.
func TestRungHasASignOfItsOwn(t *testing.T) {
	seen := map[string]string{}
	for _, r := range rungs {
		key, _ := rungLook(r)
		shape := ""
		for _, e := range read(t, ladder.Rung(r)) {
			if e.attrs["data-s"] == key+"-sign" {
				shape = e.attrs["d"]
			}
		}
		if shape == "" || seen[shape] != "" {
			t.Errorf("%s has the sign of %q: %q", key, seen[shape], shape)
		}
		seen[shape] = key
		if !strings.Contains(RungSign(r), shape) {
			t.Errorf("the key beside the ladder has another sign for %s", key)
		}
	}
	if len(seen) != 4 {
		t.Errorf("%d signs", len(seen))
	}
}

// No word runs into another or out of the picture, however long the name.
func TestRungNamesStayApart(t *testing.T) {
	for _, high := range []float64{RungHeight, TallRungHeight} {
		for _, wide := range []float64{240, 328, 640} {
			l := Ladder{Used: 400, Frame: Frame{ID: "r", Width: wide, Height: high}}
			for _, r := range append(rungs, Rung{Name: strings.Repeat("Folding 100 W + ", 6), How: "side by side", Brings: 12345, Marks: []string{"pack", "now"}}) {
				var lines = map[string]float64{}
				for _, e := range read(t, l.Rung(r)) {
					if e.name != "text" || e.attrs["data-s"] == "rung-mark-name" {
						continue
					}
					x, size := numbers(t, e.attrs["x"])[0], numbers(t, e.attrs["font-size"])[0]
					from, to := x, x+width(e.text, size)
					if e.attrs["text-anchor"] == "end" {
						from, to = x-width(e.text, size), x
					}
					if from < 0 || to > wide+1 {
						t.Errorf("%g px: %q from %.0f to %.0f", wide, e.text, from, to)
					}
					if e.attrs["text-anchor"] == "end" {
						lines[e.attrs["y"]] = from
					} else if edge, ok := lines[e.attrs["y"]]; ok && to > edge {
						t.Errorf("%g px: %q runs into the figure", wide, e.text)
					}
				}
			}
		}
	}
}

// TestLadderAndCurvesAreDrawnInEveryTheme looks for every part in both other
// themes; a figure that is none leaves no trace.
func TestLadderAndCurvesAreDrawnInEveryTheme(t *testing.T) {
	css, err := os.ReadFile("../../web/css/pairing.css")
	if err != nil {
		t.Fatal(err)
	}
	glare, night, ok := strings.Cut(string(css), `:root[data-theme="night"]`)
	if !ok {
		t.Fatal("no Night theme")
	}
	nan := qty.WattHour(math.NaN())
	pictures := []string{ladder.Head(), ladder.Foot(), ladder.Rung(Rung{Brings: nan, Left: nan}), Ladder{Used: nan}.Rung(rungs[0])}
	for _, r := range rungs {
		pictures = append(pictures, ladder.Rung(r))
	}
	for _, c := range ivSamples() {
		pictures = append(pictures, DrawIV(c, Frame{"v", 328, 240}))
	}
	for _, p := range pictures {
		if strings.Contains(p, "NaN") || strings.Contains(p, "Inf") || strings.Contains(p, `=""`) {
			t.Errorf("a figure that is none: %s", p)
		}
		if err := xml.Unmarshal([]byte(p), new(struct{})); err != nil {
			t.Errorf("%v: %s", err, p)
		}
		for _, e := range read(t, p) {
			if v := e.attrs["data-s"]; v != "" && !strings.Contains(night, `[data-s="`+v+`"]`) {
				t.Errorf("Night has no colour for %q", v)
			}
		}
	}
	for _, part := range []string{"rail", "rung-tight", "iv-axis", "iv-joined"} {
		if !strings.Contains(glare, `[data-s="`+part+`"]`) {
			t.Errorf("Glare has no colour for %q", part)
		}
	}
}

// WCAG 2.2: lines and fills that carry meaning have 3 to 1 against the ground,
// signs against their bolt as well. Amber is a fill that its sign, its length
// and its name explain: 1.7 to 1, and its sign has the ink.
func TestRungsStandOut(t *testing.T) {
	for _, r := range rungs {
		key, fill := rungLook(r)
		for _, e := range read(t, RungSign(r)) {
			if e.attrs["data-s"] == key+"-sign" {
				if c := contrast(t, e.attrs["stroke"], fill); c < 3 {
					t.Errorf("%s: its sign has %.1f to 1", key, c)
				}
			}
		}
		if c := contrast(t, fill, "#f7efe0"); c < 3 && key != "rung-tight" {
			t.Errorf("%s: %.1f to 1 on sand", key, c)
		}
	}
}
