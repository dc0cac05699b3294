package draw

import (
	"fmt"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"duskline/calc/outlook"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

// TestThemesKnowEveryPart looks for every part of the pictures in the Night
// theme: a bright spot forgotten there blinds.
func TestThemesKnowEveryPart(t *testing.T) {
	css, err := os.ReadFile("../../web/css/draw.css")
	if err != nil {
		t.Fatal(err)
	}
	_, night, ok := strings.Cut(string(css), `:root[data-theme="night"]`)
	if !ok {
		t.Fatal("no Night theme")
	}
	o, p := synthetic(7, 15*time.Minute, 46, 1.5)
	o.Ledger.Sources[1].Energy = 300
	o.Figures.FirstCutOff = o.Series.Time(200)
	o.Events = append(o.Events,
		outlook.Event{At: o.Series.Time(200), Kind: outlook.CutOff}, outlook.Event{At: o.Series.Time(20), Kind: outlook.Full, Charge: 1})
	list := read(t, Strip(o, p, Desk)+"")
	list = append(list, read(t, Ledger(o, p, Desk))...)
	o.Ledger.Change, o.Figures.FirstCutOff = 500, time.Time{}
	list = append(list, read(t, Ledger(o, p, Desk))...)
	list = append(list, read(t, Strip(o, p, Desk))...)
	march := trip(t, sun.Place{Latitude: 46, Longitude: 7}, may(-60), []int{0, 15, 30}, valley)
	list = append(list, read(t, DrawRing(march, Frame{"r", 376, 376}))...)
	list = append(list, read(t, Light(brights(4), Frame{"b", 376, 150}))...)
	for look := range sun.State(sun.States) {
		list = append(list, read(t, Sign(look))...)
	}
	for _, e := range list {
		for _, a := range []string{"data-s", "data-e"} {
			v := e.attrs[a]
			if v == "" || e.name == "text" && strings.Contains(night, `[data-picture="ledger"] text`) && (strings.HasPrefix(v, "to-") || strings.HasPrefix(v, "from-") || v == "ledger-name") {
				continue
			}
			if !strings.Contains(night, fmt.Sprintf("[%s=%q]", a, v)) {
				t.Errorf("Night has no colour for %s=%q", a, v)
			}
		}
	}
}

// WCAG 2.2, relative luminance and contrast ratio: names in bands have at
// least 4.5 to 1, by Day from the picture, by Night from the style sheet.
func TestNamesInBandsStandOut(t *testing.T) {
	css, err := os.ReadFile("../../web/css/draw.css")
	if err != nil {
		t.Fatal(err)
	}
	_, night, _ := strings.Cut(string(css), `:root[data-theme="night"]`)
	colour := func(selector string) string {
		for _, line := range strings.Split(night, "\n") {
			if strings.Contains(line, selector) {
				if m := regexp.MustCompile(`fill: (#\w{6})`).FindStringSubmatch(line); m != nil {
					return m[1]
				}
			}
		}
		t.Errorf("no Night colour for %s", selector)
		return "#000000"
	}
	o, p := synthetic(3, 15*time.Minute, 46, 1)
	o.Ledger.Sources[1].Energy = 500
	for i := range o.Ledger.Losses {
		o.Ledger.Losses[i].Energy *= 4
	}
	fills, seen := map[string]string{}, 0
	for _, change := range []qty.WattHour{-500, 500} {
		o.Ledger.Change = change
		for _, e := range read(t, Ledger(o, p, Frame{"l", 600, 900})) {
			key := e.attrs["data-s"]
			if e.name == "path" {
				fills[key] = e.attrs["fill"]
			}
			key, inside := strings.CutSuffix(key, "-name")
			if e.name != "text" || !inside || key == "ledger" {
				continue
			}
			seen++
			if c := contrast(t, e.attrs["fill"], fills[key]); c < 4.5 {
				t.Errorf("Day, %s: %.2f to 1", key, c)
			}
			if c := contrast(t, colour(`[data-picture="ledger"] text`), colour(fmt.Sprintf("[data-s=%q]", key))); c < 4.5 {
				t.Errorf("Night, %s: %.2f to 1", key, c)
			}
		}
	}
	if seen < 10 {
		t.Errorf("only %d names in bands", seen)
	}
}

func contrast(t *testing.T, a, b string) float64 {
	t.Helper()
	luminance := func(c string) float64 {
		var sum float64
		for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
			n, err := strconv.ParseUint(c[1+2*i:3+2*i], 16, 8)
			if err != nil {
				t.Fatal(err)
			}
			v := float64(n) / 255
			if v <= 0.04045 {
				v /= 12.92
			} else {
				v = math.Pow((v+0.055)/1.055, 2.4)
			}
			sum += weight * v
		}
		return sum
	}
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func TestContrastAgainstBlackOnWhite(t *testing.T) {
	if c := contrast(t, "#000000", "#ffffff"); math.Abs(c-21) > 1e-9 { // WCAG 2.2: 21 to 1
		t.Errorf("black on white is %g", c)
	}
}
