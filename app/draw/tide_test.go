package draw

import (
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"duskline/calc/qty"
)

// tideSample is a lithium battery drawn freehand: only its shape counts here.
// Each line crosses the marks where it says.
func tideSample(alarm, cut qty.Volt) Tide {
	t := Tide{Alarm: alarm, CutOff: cut}
	rest := func(s float64) float64 {
		return 13.05 + 0.28*s + 0.5*math.Pow(s, 40) - 1.6*math.Exp(-s/0.045) - 0.5*math.Exp(-s/0.015)
	}
	for _, l := range []struct {
		kind TideKind
		name string
		drop float64
	}{{TideRest, "At rest", 0}, {TideUsual, "Usual, 46 W", 0.12}, {TideLargest, "All at once, 340 W", 0.75}, {TideCold, "Usual, at −4 °C", 0.4}, {TideCharging, "Charging, 130 W", -0.3}} {
		line := TideLine{Kind: l.kind, Name: l.name, AtAlarm: qty.Fraction(math.NaN()), AtCutOff: qty.Fraction(math.NaN())}
		for n := 100.0; n >= 0; n-- {
			s := n / 100
			v := rest(s) - l.drop*(1+0.4*math.Exp(-s/0.1))
			line.Points = append(line.Points, TidePoint{qty.Fraction(s), qty.Volt(v)})
			if v < float64(alarm) && math.IsNaN(float64(line.AtAlarm)) {
				line.AtAlarm = qty.Fraction(s)
			}
			if v < float64(cut) && math.IsNaN(float64(line.AtCutOff)) {
				line.AtCutOff = qty.Fraction(s)
			}
		}
		t.Lines = append(t.Lines, line)
	}
	return t
}

func standingSample() Standing {
	nan := math.NaN()
	return Standing{Most: 3650, Rows: []StandingRow{
		{"Battery disconnected", "no harm in 10 years", nan, nan, nan},
		{"Meters left on", "harmed after 75 days", 41, 60, 75},
		{"Left as switched", "harmed after 13 days", 2.4, 3.1, 13},
	}}
}

func wearingSample() Wearing {
	return Wearing{Bars: []WearBar{
		{"At 50 %, 20 °C", "0.9–1.6 %", 0.009, 0.016, false}, {"At 50 %, 40 °C", "2.4–3.9 %", 0.024, 0.039, false},
		{"Full, 20 °C", "1.7–2.4 %", 0.017, 0.024, false}, {"Full, 40 °C", "4.1–6.3 %", 0.041, 0.063, true},
	}}
}

var cardFrames = []Frame{{"g", 376, 0}, {"g", 328, 0}, {"g", 288, 0}, {"g", 144, 0}}

func TestBatteryPicturesAreSound(t *testing.T) {
	nan := math.NaN()
	bad := tideSample(12.2, 11.2)
	for i := range bad.Lines {
		for k := range bad.Lines[i].Points {
			bad.Lines[i].Points[k].V = qty.Volt([]float64{nan, math.Inf(1), 0, math.Inf(-1), 13}[k%5])
		}
	}
	for _, f := range cardFrames {
		for _, c := range []Tide{tideSample(12.2, 11.2), tideSample(13.2, 13.0), tideSample(10, 9.9), tideSample(11, 11), {}, bad} {
			tall := f
			tall.Height = TideHeight(c, f.Width)
			list := read(t, DrawTide(c, f))
			if f.Width > 140 {
				clear(t, list, tall)
			}
		}
		for _, c := range []Standing{standingSample(), {}, {Most: nan, Rows: []StandingRow{{"x", "y", nan, 3, math.Inf(1)}, {"", "", 0, 0, 0}, {"", "", 5000, 6000, 7000}}}} {
			tall := f
			tall.Height = StandingHeight(len(c.Rows), f.Width)
			list := read(t, DrawStanding(c, f))
			if f.Width > 140 {
				clear(t, list, tall)
			}
		}
		for _, c := range []Wearing{wearingSample(), {}, {Bars: []WearBar{{"x", "y", nan, math.Inf(1), true}, {"", "", 0, 0, false}}}} {
			tall := f
			tall.Height = max(WearingHeight(len(c.Bars), f.Width), 24)
			list := read(t, DrawWearing(c, f))
			if f.Width > 140 {
				clear(t, list, tall)
			}
		}
	}
	for _, share := range []float64{nan, -1, 0, 0.5, 2, math.Inf(1)} {
		read(t, Gain(share))
	}
}

// Every dive of a line under the alarm stands where that line meets the mark,
// and the bar of what is left begins right under it.
func TestDivesStandOnTheirLines(t *testing.T) {
	for _, c := range []Tide{tideSample(12.2, 11.2), tideSample(12.9, 12)} {
		f := Frame{"g", 328, 0}
		lines := map[string][][2]float64{}
		var drops, bars [][2]float64
		var alarm float64
		for _, e := range read(t, DrawTide(c, f)) {
			key := e.attrs["data-s"]
			switch key {
			case "alarm":
				alarm = points(t, e.attrs["d"])[0][1]
			case "alarm-drop":
				for _, part := range strings.Split(strings.Trim(e.attrs["d"], "Mz"), "zM") {
					drops = append(drops, points(t, "M"+part)[0])
				}
			case "tide-lasts":
				for _, part := range strings.Split(strings.Trim(e.attrs["d"], "Mz"), "zM") {
					bars = append(bars, points(t, "M"+part)[0])
				}
			case "tide-rest", "tide-usual", "tide-largest", "tide-cold":
				if _, seen := lines[key]; !seen {
					lines[key] = points(t, e.attrs["d"])
				}
			}
		}
		if len(drops) != 4 || len(bars) != 4 || len(lines) != 4 {
			t.Fatalf("%d dives, %d bars, %d lines", len(drops), len(bars), len(lines))
		}
		for i, kind := range []string{"tide-rest", "tide-usual", "tide-largest", "tide-cold"} {
			x := drops[i][0]
			if math.Abs(x-bars[i][0]) > 0.2 {
				t.Errorf("%s: dives at %.1f, its bar begins at %.1f", kind, x, bars[i][0])
			}
			// The freehand crossing is to a hundredth of charge: 3 pixels.
			near := math.Inf(1)
			line := lines[kind]
			for k := 1; k < len(line); k++ {
				a, b := line[k-1], line[k]
				if (a[1]-alarm)*(b[1]-alarm) <= 0 {
					near = min(near, math.Abs(a[0]+(b[0]-a[0])*(alarm-a[1])/(b[1]-a[1])-x))
				}
			}
			if near > 4 {
				t.Errorf("%s: its dive stands %.1f pixels from where it meets the alarm", kind, near)
			}
		}
	}
}

// A load that never passes the alarm has no dive, and says so.
func TestLineThatNeverSoundsSaysSo(t *testing.T) {
	c := tideSample(10.9, 10.5)
	c.Lines = c.Lines[:1]
	svg := DrawTide(c, Frame{"g", 328, 0})
	if strings.Contains(svg, "alarm-drop") || !strings.Contains(svg, "does not sound") {
		t.Errorf("dives at a mark that it never passes: %s", svg)
	}
}

// The scale of days is even in powers: ten times as long is as far again.
func TestStandingScaleIsEven(t *testing.T) {
	const wide = 328.0
	at := map[float64]float64{}
	for _, days := range []float64{3, 30, 300} {
		svg := DrawStanding(Standing{Most: 3650, Rows: []StandingRow{{"x", "y", days, math.NaN(), math.NaN()}}}, Frame{"k", wide, 0})
		for _, e := range read(t, svg) {
			if e.attrs["data-s"] == "standing-water" {
				p := points(t, strings.TrimSuffix(e.attrs["d"], "z"))
				at[days] = p[1][0]
			}
		}
	}
	if a, b := at[30]-at[3], at[300]-at[30]; math.Abs(a-b) > 0.3 || a < 40 {
		t.Errorf("3, 30, 300 days stand at %.1f, %.1f, %.1f", at[3], at[30], at[300])
	}
}

// A bar's full part is the least loss, its open part the greatest, on one scale.
func TestWearBarsAreToScale(t *testing.T) {
	w := wearingSample()
	var full, open []float64
	for _, e := range read(t, DrawWearing(w, Frame{"w", 328, 0})) {
		if e.name != "path" {
			continue
		}
		p := points(t, strings.TrimSuffix(e.attrs["d"], "z"))
		if strings.HasSuffix(e.attrs["data-s"], "-open") {
			open = append(open, p[1][0]-p[0][0])
		} else {
			full = append(full, p[1][0]-p[0][0])
		}
	}
	for i, b := range w.Bars {
		if a, want := full[i]/open[i], b.Low/b.High; math.Abs(a-want) > 0.01 {
			t.Errorf("%s: %.3f of it is full, want %.3f", b.Name, a, want)
		}
		if a, want := open[i]/open[3], b.High/w.Bars[3].High; math.Abs(a-want) > 0.01 {
			t.Errorf("%s is %.3f of the longest, want %.3f", b.Name, a, want)
		}
	}
	if g := read(t, Gain(0.25)); g[2].attrs["width"] != strconv.Itoa(25) {
		t.Errorf("a quarter is %s wide of 100", g[2].attrs["width"])
	}
}

// A bright spot that the Night theme forgets blinds.
func TestNightKnowsTheBatteryPictures(t *testing.T) {
	night := ""
	for _, name := range []string{"draw", "battery"} {
		css, err := os.ReadFile("../../web/css/" + name + ".css")
		if err != nil {
			t.Fatal(err)
		}
		_, part, ok := strings.Cut(string(css), `:root[data-theme="night"]`)
		if !ok {
			t.Fatalf("%s.css has no Night theme", name)
		}
		night += part
	}
	list := read(t, DrawTide(tideSample(12.2, 11.2), Frame{"g", 328, 0}))
	list = append(list, read(t, DrawStanding(standingSample(), Frame{"k", 328, 0}))...)
	list = append(list, read(t, DrawWearing(wearingSample(), Frame{"w", 328, 0}))...)
	list = append(list, read(t, Gain(0.5))...)
	for _, e := range list {
		for _, a := range []string{"data-s", "data-e"} {
			// The sky is a gradient, whose colours stand for themselves.
			if v := e.attrs[a]; v != "" && v != "tide-sky" && v != "tide-sea" && !strings.Contains(night, `[`+a+`="`+v+`"]`) {
				t.Errorf("Night has no colour for %s=%q", a, v)
			}
		}
	}
}

// The tide is parsed anew at each edit.
func TestTideStaysSmall(t *testing.T) {
	svg := DrawTide(tideSample(12.2, 11.2), Frame{"g", 376, 0})
	if n := len(read(t, svg)); n > 90 || len(svg) > 16000 {
		t.Errorf("%d nodes, %d bytes", n, len(svg))
	} else {
		t.Logf("%d nodes, %d bytes", n, len(svg))
	}
}
