package draw

import (
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"duskline/app/words"
	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// An element is one tag of a picture, with the text inside it.
type element struct {
	name  string
	attrs map[string]string
	text  string
}

// read parses a picture as XML and fails on what no picture may have.
func read(t *testing.T, svg string) []element {
	t.Helper()
	var list []element
	ids := map[string]bool{}
	d := xml.NewDecoder(strings.NewReader(svg))
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("not well-formed: %v\n%s", err, svg)
		}
		switch token := token.(type) {
		case xml.StartElement:
			e := element{name: token.Name.Local, attrs: map[string]string{}}
			for _, a := range token.Attr {
				name := a.Name.Local
				if _, twice := e.attrs[name]; twice {
					t.Errorf("%s has %s twice", e.name, name)
				}
				e.attrs[name] = a.Value
				if name == "style" || name == "class" || strings.HasPrefix(name, "on") {
					t.Errorf("%s carries %s", e.name, name)
				}
				if strings.Contains(a.Value, "NaN") || strings.Contains(a.Value, "Inf") {
					t.Errorf("%s %s=%q", e.name, name, a.Value)
				}
			}
			if id := e.attrs["id"]; id != "" {
				if ids[id] {
					t.Errorf("id %s is there twice", id)
				}
				ids[id] = true
			}
			list = append(list, e)
		case xml.CharData:
			if len(list) > 0 {
				list[len(list)-1].text += string(token)
			}
		}
	}
	for _, e := range list {
		for _, v := range e.attrs {
			if m := regexp.MustCompile(`url\(#(.*)\)`).FindStringSubmatch(v); m != nil && !ids[m[1]] {
				t.Errorf("%s refers to %s, which is not there", e.name, m[1])
			}
		}
	}
	return list
}

func number(t *testing.T, e element, name string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(e.attrs[name], 64)
	if err != nil {
		t.Fatalf("%s %s=%q", e.name, name, e.attrs[name])
	}
	return v
}

// labels returns the boxes of all words, by the guess that placed them.
func labels(t *testing.T, list []element) (boxes []box, words []string) {
	t.Helper()
	for _, e := range list {
		if e.name != "text" {
			continue
		}
		size := number(t, e, "font-size")
		w, x := width(e.text, size), number(t, e, "x")
		switch e.attrs["text-anchor"] {
		case "middle":
			x -= w / 2
		case "end":
			x -= w
		}
		boxes = append(boxes, box{x, number(t, e, "y") - size + 2, w, size - 2})
		words = append(words, e.text)
	}
	return boxes, words
}

// clear fails if words meet or leave the frame.
func clear(t *testing.T, list []element, f Frame) {
	t.Helper()
	boxes, words := labels(t, list)
	for i, b := range boxes {
		if b.x < -1 || b.x+b.w > f.Width+1 || b.y < 0 || b.y+b.h > f.Height+2 {
			t.Errorf("%q leaves the frame: %.0f", words[i], b)
		}
		for k := range i {
			c := boxes[k]
			if b.x < c.x+c.w && c.x < b.x+b.w && b.y < c.y+c.h && c.y < b.y+b.h {
				t.Errorf("%q and %q meet", words[i], words[k])
			}
		}
	}
}

var frames = []Frame{Phone, Desk, Sticky, {"t", 40, 24}, Fit("w", 1200)}

func TestStripIsSoundForAnyTrip(t *testing.T) {
	for _, c := range []struct {
		name     string
		days     float64
		step     time.Duration
		latitude float64
	}{
		{"three nights", 2.75, 5 * time.Minute, 46},
		{"a week", 7, 5 * time.Minute, 46},
		{"a month", 30, 15 * time.Minute, 46},
		{"a month, fine", 30, time.Minute, 46},
		{"six hours", 0.25, time.Minute, 46},
		{"equator", 3, 15 * time.Minute, 0},
		{"white nights", 6, 15 * time.Minute, 64},
		{"polar day", 6, 15 * time.Minute, 80},
		{"pole", 30, 15 * time.Minute, 90},
		{"polar night", 6, 15 * time.Minute, -80},
		{"polar twilight", 12, 5 * time.Minute, -69},
	} {
		for _, draw := range []float64{0, 1, 3} {
			o, p := synthetic(c.days, c.step, c.latitude, draw)
			for _, f := range frames {
				t.Run(fmt.Sprintf("%s/draw %g/%gx%g", c.name, draw, f.Width, f.Height), func(t *testing.T) {
					list := read(t, Strip(o, p, f))
					if f.Width > 100 {
						clear(t, list, f)
					}
				})
			}
		}
	}
}

func TestStripWithHardlyAnyRows(t *testing.T) {
	o, p := synthetic(7, 5*time.Minute, 46, 1)
	for _, n := range []int{0, 1, 2} {
		s := &o.Series
		s.Charge, s.Elevation, s.Cloud = s.Charge[:n], s.Elevation[:n], s.Cloud[:n]
		s.Volts, s.AmpsIn, s.AmpsOut = s.Volts[:n], s.AmpsIn[:n], s.AmpsOut[:n]
		for _, f := range frames {
			read(t, Strip(o, p, f))
		}
		if got := len(StripTable(o, p).Rows); n > 0 && got < n {
			t.Errorf("%d rows gave a table of %d", n, got)
		}
		o, p = synthetic(7, 5*time.Minute, 46, 1)
	}
	read(t, Strip(&outlook.Outlook{}, plan.Plan{}, Phone))
}

// A number that is none must not cost the picture.
func TestStripSurvivesBadNumbers(t *testing.T) {
	o, p := synthetic(2, 15*time.Minute, 46, 1)
	for i := range o.Series.Charge {
		switch i % 5 {
		case 0:
			o.Series.Charge[i] = qty.Fraction(math.NaN())
		case 1:
			o.Series.Elevation[i] = qty.Degree(math.NaN())
		case 2:
			o.Series.Cloud[i] = qty.Fraction(math.Inf(1))
		case 3:
			o.Series.Elevation[i] = qty.Degree(math.Inf(-1))
		}
	}
	o.Figures.Lowest, o.Figures.AlarmCharge = qty.Fraction(math.NaN()), qty.Fraction(math.Inf(1))
	for _, f := range frames {
		read(t, Strip(o, p, f))
	}
}

// Targets: a phone parses the picture anew on every edit.
func TestStripStaysSmall(t *testing.T) {
	for _, c := range []struct {
		days         float64
		step         time.Duration
		nodes, bytes int
	}{{7, 5 * time.Minute, 150, 30000}, {7, 15 * time.Minute, 150, 30000}, {30, 5 * time.Minute, 300, 60000}} {
		o, p := synthetic(c.days, c.step, 46, 1.3)
		svg := Strip(o, p, Desk)
		if n := len(read(t, svg)); n > c.nodes || len(svg) > c.bytes {
			t.Errorf("%g days: %d nodes, %d bytes", c.days, n, len(svg))
		} else {
			t.Logf("%g days: %d nodes, %d bytes", c.days, n, len(svg))
		}
	}
}

func TestStripIsTheSameTwice(t *testing.T) {
	o, p := synthetic(3, 15*time.Minute, 46, 1)
	if first := Strip(o, p, Phone); first != Strip(o, p, Phone) {
		t.Error("two drawings of one Outlook differ")
	}
}

// The names of the first and the last day stay off the sides of the picture,
// whatever is seen of these days.
func TestDayNamesStayOffTheSides(t *testing.T) {
	for days := 0.3; days < 8; days += 0.07 {
		o, p := synthetic(days, 15*time.Minute, 46, 1)
		for _, f := range []Frame{Phone, Desk} {
			n := 0
			for _, e := range read(t, Strip(o, p, f)) {
				if e.attrs["data-s"] != "day-name" {
					continue
				}
				n++
				x, _ := strconv.ParseFloat(e.attrs["x"], 64)
				size, _ := strconv.ParseFloat(e.attrs["font-size"], 64)
				half := 0.3 * size * float64(len([]rune(e.text)))
				if x-half < 5 || x+half > f.Width-5 {
					t.Errorf("%.2f days, %g wide: %q from %.0f to %.0f", days, f.Width, e.text, x-half, x+half)
				}
			}
			if n == 0 {
				t.Errorf("%.2f days, %g wide: no day is named", days, f.Width)
			}
		}
	}
}

// Alarm and cut-off of a lithium battery lie close together near empty, those
// of other plans anywhere: their names are there, and clear of all else.
func TestMarksAreNamedWhereverTheyStand(t *testing.T) {
	o, p := synthetic(3, 15*time.Minute, 46, 1)
	for alarm := 0.0; alarm <= 1; alarm += 0.02 {
		for _, gap := range []float64{0, 0.02, 0.05, 0.08, 0.12, 0.3} {
			o.Figures.AlarmCharge, o.Figures.CutOffCharge = qty.Fraction(alarm), qty.Fraction(max(alarm-gap, 0))
			for _, f := range []Frame{Phone, Desk} {
				list, named := read(t, Strip(o, p, f)), 0
				for _, e := range list {
					if n := e.attrs["data-s"]; n == "alarm-name" || n == "cut-off-name" {
						named++
					}
				}
				clear(t, list, f)
				if named != 2 {
					t.Errorf("alarm %.2f, gap %.2f: %d names", alarm, gap, named)
				}
			}
		}
	}
}

// Two pictures on one page must not share ids.
func TestFramesKeepTheirIds(t *testing.T) {
	o, p := synthetic(3, 15*time.Minute, 64, 1)
	ids := map[string]bool{}
	for _, f := range []Frame{Phone, Desk, Sticky} {
		for _, e := range read(t, Strip(o, p, f)) {
			if id := e.attrs["id"]; id != "" && ids[id] {
				t.Errorf("id %s in two pictures", id)
			} else if id != "" {
				ids[id] = true
			}
		}
	}
}

// The water line stands at the charge: full at the top, empty at the floor,
// and the marks where the Outlook says.
func TestMarksAndWaterStandAtTheirCharge(t *testing.T) {
	o, p := synthetic(2, 15*time.Minute, 46, 1)
	for i := range o.Series.Charge {
		o.Series.Charge[i] = 0.5
	}
	o.Figures.AlarmCharge, o.Figures.CutOffCharge = 0.5, 0.25
	s := &strip{f: Phone, o: o, rows: 3, top: 0.29 * Phone.Height, floor: Phone.Height - 28}
	half := figure(s.y(0.5))
	var water, alarm, cut string
	for _, e := range read(t, Strip(o, p, Phone)) {
		switch e.attrs["data-s"] {
		case "water":
			water = e.attrs["d"]
		case "alarm":
			alarm = e.attrs["d"]
		case "cut-off":
			cut = e.attrs["d"]
		}
	}
	up := figure(s.y(0.5) - (Phone.Height + 6))
	if want := "M-6 251l0" + up; !strings.HasPrefix(water, want) {
		t.Errorf("water %.40q does not begin %q", water, want)
	}
	if want := "M0 " + half + "l360 0"; alarm != want {
		t.Errorf("alarm %q, want %q", alarm, want)
	}
	if want := "M0 " + figure(s.y(0.25)) + "l360 0"; cut != want {
		t.Errorf("cut-off %q, want %q", cut, want)
	}
	if s.y(0.5)-s.y(1) != s.y(0)-s.y(0.5) {
		t.Error("the scale of charge is not even")
	}
}

// The amber of every dusk lies where the series has the sun at one degree:
// in the shared gradient (a week) and in a dusk's own (two days, so wide that
// straight is not good enough).
func TestDuskLiesWhereTheSunSets(t *testing.T) {
	amber := (dayAbove - 1) / (dayAbove - nightBelow) // share of the shared gradient
	for _, days := range []float64{2, 7} {
		o, p := synthetic(days, 5*time.Minute, 46, 1)
		s := &strip{f: Desk, o: o, rows: len(o.Series.Charge), up: finite(o.Series.Elevation, -90, 90)}
		n, own := 0, math.NaN()
		for _, e := range read(t, Strip(o, p, Desk)) {
			if e.name == "stop" && e.attrs["stop-color"] == "#f2b04a" {
				own = number(t, e, "offset")
			}
			fill, at := e.attrs["fill"], 0.0
			switch {
			case e.name != "rect":
				continue
			case strings.HasSuffix(fill, "dusk)"):
				at = amber
			case strings.HasSuffix(fill, "dawn)"):
				at = 1 - amber
			case strings.Contains(fill, "own"):
				at = own
			default:
				continue
			}
			x := number(t, e, "x") + at*number(t, e, "width")
			if x < 0 || x > Desk.Width {
				continue
			}
			n++
			near := math.Inf(1)
			for i := range s.rows - 1 {
				if (s.up[i] < 1) != (s.up[i+1] < 1) {
					near = min(near, math.Abs(s.x(s.crossing(i, 1))-x))
				}
			}
			// A pixel and a half that straight may be off, and the rounding of
			// stops to a hundredth of a dusk.
			if near > 2 {
				t.Errorf("amber at x %.0f, %.1f pixels from where the sun passes 1°", x, near)
			}
		}
		if float64(n) < 2*days-1 {
			t.Errorf("%d dusks in %g days", n, days)
		}
	}
}

func TestNamesAreEscaped(t *testing.T) {
	o, p := synthetic(2, 15*time.Minute, 46, 1)
	p.Gear[3].Name = `<script>"&'`
	svg := Ledger(o, p, Desk)
	if strings.Contains(svg, "<script") {
		t.Error("a name became markup")
	}
	list := read(t, svg)
	found := false
	for _, e := range list {
		found = found || strings.Contains(e.text, `<script>"&'`)
	}
	if !found {
		t.Error("the name is lost")
	}
}

// The flag of an alarm says if it is early or late, and leaves that out where
// there is no room.
func TestFlagSaysWhatAnAlarmMeans(t *testing.T) {
	for _, c := range []struct {
		cause outlook.AlarmCause
		width float64
		want  string
	}{
		{outlook.Early, 700, "early alarm"}, {outlook.Late, 700, "late alarm"}, {outlook.InTime, 700, "alarm"}, {outlook.Early, 130, "alarm"},
	} {
		o, p := synthetic(3, 10*time.Minute, 55, 1.3)
		at := o.Series.Time(len(o.Series.Charge) / 3)
		o.Figures.FirstCutOff, o.Figures.FirstAlarm = time.Time{}, at
		o.Events = []outlook.Event{{Kind: outlook.AlarmOn, At: at, Charge: 0.5, Index: -1, Cause: c.cause}}
		got := ""
		for _, e := range read(t, Strip(o, p, Frame{ID: "s", Width: c.width, Height: 220})) {
			if e.attrs["data-s"] == "alarm-flag-name" {
				got = e.text
			}
		}
		if want := words.T("mark.flag", c.want, words.ShortWeekday(at), words.Clock(at)); got != want {
			t.Errorf("%s in %g pixels: %q, want %q", c.cause, c.width, got, want)
		}
	}
}
