package sun

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// Even height h all round: level ground keeps cos² h, see skyshare.go.
func TestSkyOfAnEvenHorizon(t *testing.T) {
	w := golden.Worst{What: "level sky under an even line less cos² h", Limit: 1e-12}
	for e := 0.0; e <= 90; e += 2.5 {
		h := mustHorizon(t, HorizonPoint{123, qty.Degree(e)})
		v := NewView(mustPlane(t, 0, 0), h, Isotropic, NoGlass)
		cos := math.Cos(e * rad)
		w.Add(int(e), float64(v.Sky())-cos*cos)
		w.Add(int(e), v.level-cos*cos)
	}
	w.Report(t)
}

// The open sky: (1 + cos tilt)/2, and a line at 0° is open.
func TestSkyInTheOpen(t *testing.T) {
	for tilt := 0.0; tilt <= 180; tilt += 5 {
		for _, h := range []*Horizon{nil, {}, mustHorizon(t, HorizonPoint{50, 0}), mustHorizon(t, HorizonPoint{0, 0}, HorizonPoint{200, 0})} {
			v := NewView(mustPlane(t, qty.Degree(tilt), 222), h, Isotropic, NoGlass)
			if want := (1 + math.Cos(tilt*rad)) / 2; math.Abs(float64(v.Sky())-want) > 1e-15 {
				t.Errorf("tilt %g: %g, want %g", tilt, v.Sky(), want)
			}
		}
	}
}

// wall is the line of an endless wall to the east whose top stands at a height
// straight before one: the plane through its top and the eye cuts the sphere
// where tan e = tan height · cos(a - 90°).
func wall(t *testing.T, height float64) *Horizon {
	var line []HorizonPoint
	for a := 0.0; a <= 180; a += 0.25 {
		e := math.Atan(math.Tan(height*rad)*math.Sin(a*rad)) / rad
		line = append(line, HorizonPoint{qty.Degree(a), qty.Degree(max(e, 0))})
	}
	return mustHorizon(t, line...)
}

// Across the wall everything happens in one plane, and the sky from the angle
// x to the angle y above the face of a panel gives (cos x - cos y)/2 of an
// even sky:
//
//	level                          (1 + cos w)/2, w the wall's height
//	leaning t toward the wall      (1 + cos(w + t))/2
//	leaning t away, wall above t   (cos t + cos(w - t))/2, below it the open sky
//	overhanging is leaning past 90
//
// The line is drawn with 721 points, so 1e-4 is allowed for its chords.
func TestSkyBehindAWall(t *testing.T) {
	w := golden.Worst{What: "sky over a wall", Limit: 1e-5}
	for _, height := range []float64{1, 10, 30, 45, 60, 85} {
		h := wall(t, height)
		for tilt := 0.0; tilt <= 180; tilt += 5 {
			toward := NewView(mustPlane(t, qty.Degree(tilt), 90), h, Isotropic, NoGlass)
			want := 0.0
			if height+tilt < 180 {
				want = (1 + math.Cos((height+tilt)*rad)) / 2
			}
			w.Add(int(tilt), float64(toward.Sky())-want)
			away := NewView(mustPlane(t, qty.Degree(tilt), 270), h, Isotropic, NoGlass)
			want = (math.Cos(tilt*rad) + math.Cos(max(height-tilt, 0)*rad)) / 2
			w.Add(int(tilt), float64(away.Sky())-want)
		}
		if math.Abs(h.leavesLevel()-(1+math.Cos(height*rad))/2) > 1e-5 {
			t.Errorf("level ground before a wall of %g°: %g", height, h.leavesLevel())
		}
	}
	w.Report(t)
}

// naiveSky counts an even sky in 0.25° squares above the line, without strips.
func naiveSky(h *Horizon, p Plane) (sum float64) {
	const step = 0.25
	for a := step / 2; a < 360; a += step {
		line := float64(h.Height(qty.Degree(a)))
		for e := step / 2; e < 90; e += step {
			d := Toward(qty.Degree(90-e), qty.Degree(a))
			if c := p.cosine(d); c > 0 && e > line {
				sum += c * math.Cos(e*rad) * (step * rad) * (step * rad) / math.Pi
			}
		}
	}
	return sum
}

// Any line and any plane, against the count. Its squares are cut or whole at
// the line, which leaves about 2e-4.
func TestSkyAgainstACount(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	w := golden.Worst{What: "sky's share less the count", Limit: 5e-4}
	for trial := range 12 {
		var line []HorizonPoint
		for a := 60 * r.Float64(); a < 360; a += 3 + 50*r.Float64() {
			line = append(line, HorizonPoint{qty.Degree(a), qty.Degree(max(0, 80*r.Float64()-20))})
			if r.Float64() < 0.3 { // a step
				line = append(line, HorizonPoint{qty.Degree(a), qty.Degree(40 * r.Float64())})
			}
		}
		h := mustHorizon(t, line...)
		for range 4 {
			p := mustPlane(t, qty.Degree(180*r.Float64()), qty.Degree(360*r.Float64()))
			v := NewView(p, h, Isotropic, NoGlass)
			w.Add(trial, float64(v.Sky())-naiveSky(h, p))
		}
	}
	w.Report(t)
}

func TestHorizonLine(t *testing.T) {
	// a hill, a wall from 90° to 120° with two upright edges, north crossed by a straight line
	h := mustHorizon(t, HorizonPoint{350, 10}, HorizonPoint{30, 20}, HorizonPoint{90, 0}, HorizonPoint{90, 35}, HorizonPoint{120, 35}, HorizonPoint{120, 0}, HorizonPoint{300, 0})
	for _, c := range []struct{ azimuth, want float64 }{
		{350, 10}, {0, 12.5}, {360, 12.5}, {10, 15}, {30, 20}, {60, 10}, {89.999999, 0}, {90, 35}, {105, 35}, {119.9, 35}, {120, 0}, {200, 0}, {325, 5},
	} {
		if got := float64(h.Height(qty.Degree(c.azimuth))); math.Abs(got-c.want) > 1e-5 {
			t.Errorf("at %g°: %g, want %g", c.azimuth, got, c.want)
		}
		if c.azimuth == 89.999999 || c.azimuth == 90 || c.azimuth == 120 {
			continue // the direction's azimuth is off by its last digit
		}
		if above := Toward(qty.Degree(90-c.want-0.001), qty.Degree(c.azimuth)); h.Hides(above) {
			t.Errorf("hides what stands above it at %g°", c.azimuth)
		}
		if below := Toward(qty.Degree(90-c.want+0.001), qty.Degree(c.azimuth)); !h.Hides(below) && c.want > 0 {
			t.Errorf("does not hide what stands below it at %g°", c.azimuth)
		}
	}
	if (&Horizon{}).Hides(Toward(90, 0)) || (*Horizon)(nil).Hides(Toward(10, 0)) {
		t.Error("an open horizon hides something")
	}
}

// However the points are listed, it is the same line; a step tells its way by
// the order, wherever the list begins.
func TestHorizonOrder(t *testing.T) {
	line := []HorizonPoint{{20, 5}, {90, 0}, {90, 35}, {120, 35}, {120, 0}, {300, 15}}
	want := mustHorizon(t, line...)
	for turn := range line {
		got := mustHorizon(t, append(append([]HorizonPoint{}, line[turn:]...), line[:turn]...)...)
		if fmt.Sprint(got.at) != fmt.Sprint(want.at) {
			t.Errorf("from point %d on: %v, want %v", turn, got.at, want.at)
		}
	}
	plain := mustHorizon(t, HorizonPoint{20, 5}, HorizonPoint{90, 0}, HorizonPoint{300, 15})
	mixed := mustHorizon(t, HorizonPoint{300, 15}, HorizonPoint{90, 0}, HorizonPoint{20, 5})
	if fmt.Sprint(plain.at) != fmt.Sprint(mixed.at) {
		t.Errorf("%v and %v", plain.at, mixed.at)
	}
	// a ring closed at 360, and a step at north
	ring := mustHorizon(t, HorizonPoint{0, 8}, HorizonPoint{180, 4}, HorizonPoint{360, 8})
	if got := ring.Height(270); got != 6 {
		t.Errorf("closed ring: %g", got)
	}
	north := mustHorizon(t, HorizonPoint{0, 30}, HorizonPoint{180, 30}, HorizonPoint{180, 0}, HorizonPoint{360, 0})
	if a, b := north.Height(359.9), north.Height(0); a != 0 || b != 30 {
		t.Errorf("step at north: %g to %g", a, b)
	}
	one := mustHorizon(t, HorizonPoint{90, 0}, HorizonPoint{90, 36})
	if got := one.Height(270); got != 18 {
		t.Errorf("one step and straight round: %g", got)
	}
}

func TestHorizonRefusals(t *testing.T) {
	nan := qty.Degree(math.NaN())
	for _, c := range []struct {
		what string
		line []HorizonPoint
	}{
		{"horizon height", []HorizonPoint{{10, 90.01}}},
		{"horizon height", []HorizonPoint{{10, -1}}},
		{"horizon height", []HorizonPoint{{10, nan}}},
		{"horizon azimuth", []HorizonPoint{{nan, 1}}},
		{"horizon azimuth", []HorizonPoint{{360.5, 1}}},
		{"horizon azimuth", []HorizonPoint{{-1, 1}}},
		{"horizon points at one azimuth", []HorizonPoint{{10, 5}, {10, 5}}},
		{"horizon points at one azimuth", []HorizonPoint{{10, 5}, {10, 6}, {10, 7}}},
		{"horizon points at one azimuth", []HorizonPoint{{0, 5}, {90, 0}, {360, 6}, {360, 7}}},
		// a wall listed against the clock: which way its edges go cannot be known
		{"horizon turns", []HorizonPoint{{120, 0}, {120, 35}, {90, 35}, {90, 0}, {20, 5}}},
	} {
		_, err := NewHorizon(c.line)
		wantRange(t, err, c.what)
	}
	if h, err := NewHorizon(nil); err != nil || h.Hides(Toward(45, 0)) {
		t.Errorf("no points: %v", err)
	}
}
