package draw

import (
	"math"
	"strings"
	"testing"

	"duskline/calc/qty"
)

// ivSamples are curves drawn freehand: only their shape counts here.
func ivSamples() []IV {
	curve := func(isc, voc float64) (list []IVPoint) {
		for k := range 49 {
			v := voc * float64(k) / 48
			list = append(list, IVPoint{qty.Volt(v), qty.Ampere(isc * (1 - math.Pow(v/voc, 12)))})
		}
		return list
	}
	nan := qty.Volt(math.NaN())
	return []IV{
		{},
		{Curves: []IVCurve{{Points: curve(6, 21)}}, Work: IVPoint{13.4, 5.8}, Best: IVPoint{17, 5.4}, Battery: 13.3, Volts: 24, Amps: 7},
		{Curves: []IVCurve{{Points: curve(9, 21)}, {Name: "Folding", Points: curve(6, 21)}, {Name: "Flat", Points: curve(3, 20)}},
			Work: IVPoint{17, 8}, Best: IVPoint{17, 8}, Battery: 13.3, Volts: 24, Amps: 10},
		{Curves: []IVCurve{{Points: []IVPoint{{nan, 1}, {1, qty.Ampere(nan)}}}}, Work: IVPoint{nan, 3}, Volts: nan, Battery: nan},
	}
}

// The working point stands on the joined curve, its area under it, and the
// axes are even: half the volts are half way.
func TestWorkingPointStandsWhereItIs(t *testing.T) {
	c := ivSamples()[1]
	f := Frame{"v", 328, 240}
	list := read(t, DrawIV(c, f))
	var axis, joined [][2]float64
	var work [2]float64
	area := 0.0
	for _, e := range list {
		switch e.attrs["data-s"] {
		case "iv-axis":
			axis = points(t, e.attrs["d"])
		case "iv-joined":
			joined = points(t, e.attrs["d"])
		case "iv-work":
			work = [2]float64{numbers(t, e.attrs["cx"])[0], numbers(t, e.attrs["cy"])[0]}
		case "iv-work-area":
			p := points(t, strings.TrimSuffix(e.attrs["d"], "z"))
			area = (p[1][0] - p[0][0]) * (p[2][1] - p[1][1])
		}
	}
	left, top, foot, right := axis[0][0], axis[0][1], axis[1][1], axis[2][0]
	v := (work[0] - left) / (right - left) * float64(c.Volts)
	a := (foot - work[1]) / (foot - top) * float64(c.Amps)
	if math.Abs(v-13.4) > 0.05 || math.Abs(a-5.8) > 0.05 {
		t.Errorf("13.4 V and 5.8 A are drawn at %.2f V and %.2f A", v, a)
	}
	if w := area / (right - left) / (foot - top) * float64(c.Volts) * float64(c.Amps); math.Abs(w-13.4*5.8) > 0.5 {
		t.Errorf("the area is %.1f W, want %.1f", w, 13.4*5.8)
	}
	if first, last := joined[0], joined[len(joined)-1]; math.Abs(first[0]-left) > 0.2 || math.Abs(last[1]-foot) > 0.2 {
		t.Errorf("the curve runs from %v to %v", first, last)
	}
}

func TestRoundStep(t *testing.T) {
	for _, c := range []struct{ end, fit, want float64 }{{24, 6, 5}, {7, 5, 2}, {0.09, 5, 0.02}, {100, 5, 20}, {10, 10, 1}, {0, 5, 0}, {math.Inf(1), 5, 0}} {
		if got := roundStep(c.end, c.fit); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%g in %g parts: %g, want %g", c.end, c.fit, got, c.want)
		}
	}
}

func TestKindsAreTold(t *testing.T) {
	p := strings.ReplaceAll(DrawIV(ivSamples()[2], Frame{"v", 328, 240}), "\u00a0", " ")
	for _, want := range []string{">Folding<", ">Flat<", ">136 W<", "battery 13.3"} {
		if !strings.Contains(p, want) {
			t.Errorf("%s is missing in %s", want, p)
		}
	}
}
