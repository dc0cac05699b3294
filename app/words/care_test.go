package words

import (
	"math"
	"strings"
	"testing"

	"golang.org/x/text/language"

	"duskline/calc/care"
	"duskline/calc/qty"
)

// Every code of calc/care has words, with any numbers.
func TestEveryWordOfCareIsThere(t *testing.T) {
	eachLanguage(t, func(t *testing.T) {
		p := heron()
		for _, device := range []int{-1, 1} {
			for _, code := range constants(t, "../../calc/care/alarms.go", "ReasonCode") {
				for _, at := range []care.LineKind{care.AtRest, care.AtUsual, care.AtLargest, care.InCold, ""} {
					sound(t, code, AlarmWhy(&care.Reason{Code: care.ReasonCode(code), Volts: 12.2, Charge: 0.71, Minutes: 95, Device: device, At: at}, p))
				}
			}
			if device < 0 {
				continue
			}
			for _, code := range constants(t, "../../calc/care/actions.go", "ActionCode") {
				for _, watts := range []qty.Watt{0, 46} {
					a := care.Action{Code: care.ActionCode(code), Device: device, Watts: watts, Minutes: 45, Total: 90}
					sound(t, code, Action(&a, p))
					if gain := ActionGain(&a); gain != "" {
						sound(t, code, gain)
					}
				}
			}
		}
		sound(t, "endless", ActionGain(&care.Action{Endless: true}))
		sound(t, "nothing won", ActionGain(&care.Action{}))
		night := care.Action{Code: care.DoAwaitSun, Total: 90, Dark: 300}
		if short := ActionGain(&night); short != T("after_alarm.not_till_sun") {
			t.Errorf("90 minutes, 300 to sunrise: %s", short)
		}
		if night.Total = 301; ActionGain(&night) != T("after_alarm.till_sun") {
			t.Errorf("301 minutes, 300 to sunrise: %s", ActionGain(&night))
		}
		for _, m := range constants(t, "../../calc/care/storage.go", "StoreMode") {
			sound(t, m, StoreMode(care.StoreMode(m)))
		}
		for _, h := range constants(t, "../../calc/care/storage.go", "HarmKind") {
			s := care.Storage{Clocks: []care.Clock{{By: care.HarmKind(h), Harm: care.Days{Days: 41}}}}
			sound(t, h, Harms(&s, func(*care.Clock) bool { return true }))
		}
		for _, k := range constants(t, "../../calc/care/tide.go", "LineKind") {
			sound(t, k, TideLine(&care.Line{Kind: care.LineKind(k), Watts: -46, Core: -4}))
		}
	})
}

func TestAlarmIsToldForWhatItIs(t *testing.T) {
	SetLanguage(language.English)
	p, usual := heron(), "46 W"
	fair := care.Candidate{Volts: 12.2, Usual: care.Reading{Charge: 0.17, Minutes: 125.9, After: 125.9}, Cold: care.Reading{Charge: 0.3, Minutes: 100, After: 100}, Largest: care.Reading{Charge: 0.2, Minutes: 20, After: 130}, Rest: care.Reading{Charge: 0.1, After: 80}}
	early := fair
	early.Early, early.False = true, []care.False{{Device: 0, Charge: 0.71, ByStart: true}, {Device: 1, Charge: 0.5}}
	load := fair
	load.Early, load.Largest = true, care.Reading{Charge: 0.62, Minutes: 10, After: 300}
	late := fair
	late.Late, late.Rest.After = true, 12.5
	short := fair
	short.Cold.After = 41.5
	mute := fair
	mute.Late, mute.Rest = true, care.Reading{Never: true}
	for _, c := range []struct {
		name string
		c    care.Candidate
		want string
	}{
		{"fair", fair, "At 12.2 V and the usual draw, 46 W, it sounds with 17 % left, 2 h 5 min before the power shuts off."},
		{"early", early, "False alarm: the start of Audio recorders ×2 sounds it with up to 71 % left. One more device does so, too."},
		{"early by load", load, "False alarm: with all gear on it sounds with up to 62 % left."},
		{"late", late, "Late alarm: if it sounds with all gear off, the usual draw has only 12 min."},
		{"short in the cold", short, "2 h 5 min before the power shuts off. If it sounds in the cold, that draw has only 41 min."},
		{"mute at rest", mute, "Late alarm: at some load it does not sound at all."},
		{"never", care.Candidate{Volts: 9, Usual: care.Reading{Never: true}, Late: true}, "At 9 V and the usual draw, 46 W, it does not sound before the power shuts off."},
		{"always", care.Candidate{Volts: 13.5, Usual: care.Reading{Always: true}, Early: true}, "At 13.5 V and the usual draw, 46 W, it sounds even with a full battery."},
		{"no draw", care.Candidate{Volts: 12, Usual: care.Reading{Charge: 0.1, Endless: true}}, "At 12 V it sounds with 10 % left. The gear of this plan draws nothing then."},
	} {
		got := strings.ReplaceAll(strings.Join(AlarmSays(&c.c, usual, p), " "), Space, " ")
		if !strings.HasSuffix(got, c.want) {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
		if c.name == "fair" && got != c.want {
			t.Errorf("a fair one is blamed: %q", got)
		}
	}
	if got := strings.ReplaceAll(AlarmName(&early, true, 12.2), Space, " "); got != "12.2 V: my choice, set now, early" {
		t.Errorf("got %q", got)
	}
}

func TestLongTimesAndBands(t *testing.T) {
	SetLanguage(language.English)
	for days, want := range map[float64]string{0.75: "18 h", 1.99: "47 h", 2: "2 days", 41.9: "41 days", 61: "2 months", 400: "13 months", 731: "2.0 years", 1600: "4.3 years", 3652.5: "10 years"} {
		if got := strings.ReplaceAll(Long(days), Space, " "); got != want {
			t.Errorf("%g days: got %q, want %q", days, got, want)
		}
	}
	if Long(math.NaN()) != "–" || Long(-1) != "–" || Long(math.Inf(1)) != "–" {
		t.Errorf("no time is told as %q %q", Long(math.NaN()), Long(-1))
	}
	if got := strings.ReplaceAll(Within(care.Days{Days: 3652.5, Never: true}), Space, " "); got != "over 10 years" {
		t.Errorf("got %q", got)
	}
	for _, c := range []struct {
		low, high qty.Fraction
		want      string
	}{{0.00041, 0.00072, "0.04–0.07 %"}, {0.000069, 0.00013, "0.007–0.013 %"}, {0.0091, 0.016, "0.9–1.6 %"}, {0.041, 0.063, "4.1–6.3 %"}, {0.12, 0.31, "12–31 %"}, {0.02, 0.02, "2.0 %"}, {0, 0, "0 %"}} {
		got := strings.NewReplacer(Space, " ", "\u2060", "").Replace(ShareBand(c.low, c.high))
		if got != c.want {
			t.Errorf("%g to %g: got %q, want %q", c.low, c.high, got, c.want)
		}
	}
	for _, c := range []struct {
		s    care.Span
		want string
	}{{care.Span{Low: 9.2, High: 14.4}, "9.2–14.4 years"}, {care.Span{Low: 22, High: 300}, "22 to over 25 years"}, {care.Span{Low: 60, High: 100, Endless: true}, "over 25 years"}} {
		if got := strings.NewReplacer(Space, " ", "\u2060", "").Replace(YearBand(c.s)); got != c.want {
			t.Errorf("%+v: got %q, want %q", c.s, got, c.want)
		}
	}
}
