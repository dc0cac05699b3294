package draw

import (
	"fmt"
	"math"
	"testing"
)

func brights(n int) (days []Bright) {
	for i := range n {
		ceiling := 6.2 + 0.05*float64(i)
		days = append(days, Bright{may(14).AddDate(0, 0, i), ceiling * []float64{0.66, 0.2, 1, 0.45, 0.9}[i%5], ceiling})
	}
	return days
}

func TestLightIsSoundForAnyTrip(t *testing.T) {
	for _, n := range []int{0, 1, 2, 4, 7, 14, 31, 32} {
		for _, f := range []Frame{{"b", 328, 150}, {"b", 288, 150}, {"b", 600, 200}, {"b", 40, 24}} {
			t.Run(fmt.Sprintf("%d days/%g", n, f.Width), func(t *testing.T) {
				svg := Light(brights(n), f)
				list := read(t, svg)
				if f.Width > 100 {
					clear(t, list, f)
				}
				if len(svg) > 9000 || len(list) > 80 {
					t.Errorf("%d nodes, %d bytes", len(list), len(svg))
				}
			})
		}
	}
	bad := brights(4)
	bad[0].Light, bad[1].Ceiling, bad[2].Light = math.NaN(), math.Inf(1), -1
	read(t, Light(bad, Frame{"b", 328, 150}))
	LightTable(bad)
}

// Half of the light is half of the hill, under the line of the clear sky.
func TestLightIsAsHighAsItsFigure(t *testing.T) {
	g := &light{f: Frame{"b", 328, 150}, days: []Bright{{may(14), 3, 6}}, size: 13}
	g.floor = 150 - 2*13 - 10
	top := func(part string) float64 {
		for _, e := range read(t, Light(g.days, g.f)) {
			if e.attrs["data-s"] == part {
				var x, y, a, b, c, d, dx, dy float64
				if n, err := fmt.Sscanf(e.attrs["d"], "M%f %fc%f %f %f%f %f%f", &x, &y, &a, &b, &c, &d, &dx, &dy); n != 8 {
					t.Fatalf("%q: %v", e.attrs["d"], err)
				}
				return -dy
			}
		}
		t.Fatalf("no %s", part)
		return 0
	}
	if l, c := top("light"), top("ceiling"); math.Abs(2*l-c) > 0.2 || math.Abs(c-(g.floor-6)) > 0.2 {
		t.Errorf("hills of %g and %g", l, c)
	}
}

func TestLightTable(t *testing.T) {
	row := LightTable([]Bright{{may(15), 4.13, 6.2}}).Rows[0]
	for i, want := range []string{"Friday 15 May", "4.1 kWh/m²", "6.2 kWh/m²", "67 %"} {
		if got := spaced(row[i]); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if row := LightTable([]Bright{{may(15), 0, 0}}).Rows[0]; row[3] != "–" {
		t.Errorf("share of no light: %q", row[3])
	}
}
