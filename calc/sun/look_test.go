package sun_test

import (
	"fmt"
	"math"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

// The mean that a state promises is the area under its quantile function.
func TestSpreadMeanIsTheAreaUnderTheQuantiles(t *testing.T) {
	for s := range sun.State(sun.States) {
		index := s.Look().Index
		const n = 20000
		var sum float64
		last := -1.0
		for i := range n {
			q := index.Quantile((float64(i) + 0.5) / n)
			if q < last || q < 0 || q > 1.2 {
				t.Fatalf("state %d: quantile %d is %v after %v", s, i, q, last)
			}
			sum, last = sum+q, q
		}
		golden.Near(t, fmt.Sprintf("state %d, mean index", s), index.Mean(), sum/n, 5)
		if index.Low() != index.Quantile(0.1) || index.Middle() != index.Quantile(0.5) || index.High() != index.Quantile(0.9) {
			t.Errorf("state %d: %v %v %v are not the quantiles", s, index.Low(), index.Middle(), index.High())
		}
	}
}

func TestSpreadEdges(t *testing.T) {
	index := sun.HalfCloud.Look().Index
	for _, c := range []struct{ u, want float64 }{
		{0, 0.38}, {-1, 0.38}, {math.NaN(), 0.38}, {1, 1.02}, {2, 1.02}, {math.Inf(1), 1.02},
	} {
		if got := index.Quantile(c.u); got != c.want {
			t.Errorf("quantile %v: got %v, want %v", c.u, got, c.want)
		}
	}
	if m := (sun.Spread{}).Mean(); m != 0 {
		t.Errorf("the zero spread has mean %v", m)
	}
}

// A day without cloud is the clear sky itself: a mean a hair off 1 would send
// its beam through the split for cloud.
func TestStatesWithoutCloudHaveMeanOne(t *testing.T) {
	for _, s := range []sun.State{sun.Clear, sun.Smoke, sun.Dust} {
		if m := s.Look().Index.Mean(); m != 1 {
			t.Errorf("state %d: mean %v", s, m)
		}
	}
}

// Darker looks are darker: by their mean, and each quantile of them. Smoke and
// dust are judged by the turbidity, as their index is about their own sky.
func TestStatesRunFromBrightToDark(t *testing.T) {
	order := []sun.State{sun.Clear, sun.ThinVeil, sun.HalfCloud, sun.Overcast, sun.Rain}
	for i := 1; i < len(order); i++ {
		a, b := order[i-1].Look(), order[i].Look()
		if !(a.Index.Mean() > b.Index.Mean()) || a.Turbidity != 0 || b.Turbidity != 0 {
			t.Errorf("states %d and %d: %+v, %+v", order[i-1], order[i], a, b)
		}
		for _, u := range []float64{0.1, 0.5, 0.9} {
			if a.Index.Quantile(u) < b.Index.Quantile(u) {
				t.Errorf("quantile %v of state %d is below that of state %d", u, order[i-1], order[i])
			}
		}
	}
}

// Four and eight oktas, sun at 20, 30, 40 and 50° and up: generalised gamma
// with scale a, power p and shape d, density x^(d-1) exp(-(x/a)^p), whose mean
// is a Γ((d+1)/p) / Γ(d/p). Figures: coefficients of the paper's fits to
// automatic observers, as one author published them. (Eight oktas has no row
// for 20°.)
func TestCloudStatesAgainstSmith2017(t *testing.T) {
	for _, c := range []struct {
		state sun.State
		rows  [][3]float64
	}{
		{sun.HalfCloud, [][3]float64{
			{0.974592663, 7.684412120, 3.139798302},
			{0.993042269, 10.02624460, 3.491953440},
			{0.995177810, 11.93575235, 3.630871979},
			{0.994027855, 14.37955261, 4.151900930},
		}},
		{sun.Overcast, [][3]float64{
			{0.201529223, 1.331344298, 2.956426748},
			{0.266130988, 1.553540024, 2.833357620},
			{0.256395382, 1.541268725, 2.897819486},
		}},
	} {
		var mean float64
		for _, r := range c.rows {
			a, p, d := r[0], r[1], r[2]
			mean += a * math.Gamma((d+1)/p) / math.Gamma(d/p) / float64(len(c.rows))
		}
		index := c.state.Look().Index
		if math.Abs(index.Mean()-mean) > 0.005 { // ours has two digits
			t.Errorf("state %d: mean %v, the paper's fits have %.4f", c.state, index.Mean(), mean)
		}
	}
}

// Figures: Shapiro's table for thin cirrus and cirrostratus, as coded; weighed
// by the light that falls at each height of the sun, it is 0.82 with the sun
// passing 50° at noon.
func TestThinVeilAgainstShapiro1982(t *testing.T) {
	var sum, all float64
	for c := 0.05; c < 0.77; c += 0.01 {
		sum += c * (0.63547 + c*(0.35229+c*(0.08709-c*0.22902)))
		all += c
	}
	if got := sun.ThinVeil.Look().Index.Mean(); math.Abs(got-sum/all) > 0.03 {
		t.Errorf("mean %v, the table has %.3f", got, sum/all)
	}
}

// Figures: 1 - 0.75 (N/8)^3.4 and, for nimbostratus, 0.16, as two programs
// quote the paper; the paper was not opened.
func TestCloudedShareAgainstKasten1980(t *testing.T) {
	for _, c := range []struct{ oktas, want float64 }{
		{0, 1}, {4, 0.9290}, {6, 0.7180}, {8, 0.25},
	} {
		golden.Near(t, fmt.Sprintf("%v oktas", c.oktas), sun.CloudedShare(c.oktas), c.want, 4)
	}
	if got := sun.Rain.Look().Index.Mean(); got != 0.16 {
		t.Errorf("rain: %v", got)
	}
}

// turbidityOf is Kasten's pyrheliometric formula at air mass 2 for an optical
// depth at 700 nm and cm of water, as pvlib atmosphere.kasten96_lt reads it.
func turbidityOf(depth, water float64) float64 {
	dry := -0.101 + 0.235*math.Pow(2, -0.16)
	wet := 0.112 * math.Pow(2, -0.55) * math.Pow(water, 0.34)
	return (9.4 + 0.9*2) * (dry + wet + depth)
}

// Figures: the abstract: smoke of optical depth 1 (500 nm) takes 16 % (Brazil)
// to 22 % (Africa) of all light, sun at 55 to 65°, against background air.
func TestSmokeAgainstSchafer2002(t *testing.T) {
	smoke := sun.Smoke.Look().Turbidity
	background := turbidityOf(0.06, 4) // optical depth 0.1 at 500 nm, moist air: practice
	camp := sun.Place{Latitude: -10, Longitude: -62, Altitude: 200}
	d := sun.Direction{Up: math.Sin(60 * math.Pi / 180), Elevation: 60}
	ghi := func(turbidity float64) float64 {
		air, err := sun.NewAtmosphere(camp, turbidity)
		if err != nil {
			t.Fatal(err)
		}
		return float64(air.ClearSky(d, 1367).GHI)
	}
	if loss := 1 - ghi(smoke)/ghi(background); loss < 0.16 || loss > 0.22 {
		t.Errorf("turbidity %v takes %.3f from that of %.2f", smoke, loss, background)
	}
	direct := turbidityOf(math.Pow(700.0/500, -1.8), 3) // small grains: exponent 1.8, practice
	golden.Near(t, "turbidity of depth 1", direct, 8.6, 2)
	if math.Abs(direct-smoke) > 1 {
		t.Errorf("turbidity %v, by the formula %.2f", smoke, direct)
	}
}

// Figures: the abstract: of 469 dust days more than half had an optical depth
// of 0.4 to 0.6 at 440 nm. The exponent 0.3 and 1.5 cm of water are practice.
func TestDustAgainstDustDays2012(t *testing.T) {
	dust := sun.Dust.Look().Turbidity
	low, high := turbidityOf(0.4*math.Pow(700.0/440, -0.3), 1.5), turbidityOf(0.6*math.Pow(700.0/440, -0.3), 1.5)
	if dust < low || dust > high {
		t.Errorf("turbidity %v is not within %.2f to %.2f", dust, low, high)
	}
	if _, err := sun.NewAtmosphere(sun.Place{}, dust); err != nil {
		t.Error(err)
	}
}

// Figures: pvlib-python 0.13.1, SURFACE_ALBEDOS.
func TestAlbedoAgainstPvlib(t *testing.T) {
	want := map[sun.Surface]qty.Fraction{
		sun.Grass: 0.20, sun.Sand: 0.40, sun.Snow: 0.75, sun.OldSnow: 0.65,
		sun.Water: 0.06, sun.Earth: 0.17, sun.Asphalt: 0.12, sun.Concrete: 0.30,
	}
	if len(want) != sun.Surfaces {
		t.Fatalf("%d surfaces checked of %d", len(want), sun.Surfaces)
	}
	for s, a := range want {
		if s.Albedo() != a {
			t.Errorf("surface %d: %v, want %v", s, s.Albedo(), a)
		}
	}
}

func ExampleState_Look() {
	for _, s := range []sun.State{sun.Clear, sun.HalfCloud, sun.Smoke} {
		l := s.Look()
		fmt.Printf("%.2f (%.2f to %.2f) turbidity %g\n", l.Index.Mean(), l.Index.Low(), l.Index.High(), l.Turbidity)
	}
	// Output:
	// 1.00 (0.94 to 1.05) turbidity 0
	// 0.77 (0.60 to 0.92) turbidity 0
	// 1.00 (0.90 to 1.10) turbidity 8
}

func ExampleSurface_Albedo() {
	fmt.Println(sun.Grass.Albedo(), sun.Snow.Albedo())
	// Output: 0.2 0.75
}
