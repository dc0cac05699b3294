package draw

import (
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"duskline/calc/qty"
)

var lies = []Lie{
	{Tilt: 35, Azimuth: 200}, {}, {Tilt: 90, Azimuth: 360}, {Tilt: 20, Turned: true},
	{Tilt: 45, Azimuth: 180, Turned: true, Leaned: true}, {OnLid: true}, {Tilt: 40, Azimuth: 250, OnLid: true},
}

// The end of the arrow lies where the panel faces, the drawn lean is its lean.
func TestLieTellsFacingAndLean(t *testing.T) {
	for _, l := range lies {
		if l.Tilt == 0 || l.OnLid {
			continue
		}
		list := read(t, DrawLie(l, Frame{"x", 300, 136}))
		var tip, foot, top [2]float64
		for _, e := range list {
			switch {
			case e.attrs["data-s"] == "lie-edge" && e.attrs["stroke-width"] == "2.6":
				p := points(t, e.attrs["d"])
				tip = [2]float64{p[1][0] - 75, 68 - p[1][1]}
			case e.attrs["data-s"] == "lie-side":
				p := points(t, e.attrs["d"])
				foot, top = p[0], p[1]
			}
		}
		if got := math.Mod(math.Atan2(tip[0], tip[1])*180/math.Pi+360, 360); math.Abs(math.Mod(got-float64(l.Azimuth)+540, 360)-180) > 1 {
			t.Errorf("%v: the arrow points to %.1f°", l, got)
		}
		if got := math.Atan2(foot[1]-top[1], top[0]-foot[0]) * 180 / math.Pi; math.Abs(got-float64(l.Tilt)) > 1 {
			t.Errorf("%v: drawn leaning %.1f°", l, got)
		}
	}
}

// points reads the absolute places of a path of moves and lines.
func points(t *testing.T, d string) (list [][2]float64) {
	t.Helper()
	x, y := 0.0, 0.0
	for _, part := range strings.FieldsFunc(strings.ReplaceAll(strings.ReplaceAll(d, "M", "|M"), "l", "|l"), func(r rune) bool { return r == '|' }) {
		p := numbers(t, part[1:])
		if part[0] == 'M' {
			x, y = p[0], p[1]
		} else {
			x, y = x+p[0], y+p[1]
		}
		list = append(list, [2]float64{x, y})
	}
	return list
}

var figures = regexp.MustCompile(`-?[0-9.]+`)

func numbers(t *testing.T, text string) (list []float64) {
	t.Helper()
	for _, n := range figures.FindAllString(text, -1) {
		v, err := strconv.ParseFloat(n, 64)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, v)
	}
	return list
}

func TestLieIsDrawnInEveryTheme(t *testing.T) {
	css, err := os.ReadFile("../../web/css/draw.css")
	if err != nil {
		t.Fatal(err)
	}
	_, night, _ := strings.Cut(string(css), `:root[data-theme="night"]`)
	for _, l := range append(lies, Lie{Tilt: qty.Degree(math.NaN()), Azimuth: qty.Degree(math.Inf(1))}) {
		picture := DrawLie(l, Frame{"x", 300, 136})
		if strings.Contains(picture, "NaN") || strings.Contains(picture, "Inf") {
			t.Errorf("%v: %s", l, picture)
		}
		for _, e := range read(t, picture) {
			if v := e.attrs["data-s"]; v != "" && !strings.Contains(night, `[data-s="`+v+`"]`) {
				t.Errorf("Night has no colour for %q", v)
			}
		}
	}
}
