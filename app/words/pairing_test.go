package words

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/text/language"

	"duskline/calc/notice"
	"duskline/calc/pairing"
	"duskline/calc/plan"
)

// TestEveryPairingReasonHasWords reads from the comments in
// calc/pairing/result.go which numbers each reason carries, and looks for every
// one of them in the words.
func TestEveryPairingReasonHasWords(t *testing.T) {
	source, err := os.ReadFile("../../calc/pairing/result.go")
	if err != nil {
		t.Fatal(err)
	}
	number := regexp.MustCompile(`(\w+) \(([^)]+)\)`)
	carries := map[pairing.Code][]notice.Value{}
	for _, m := range regexp.MustCompile(`Code = "(\w+)"\s*// \w+: (.*)`).FindAllStringSubmatch(string(source), -1) {
		for _, n := range number.FindAllStringSubmatch(m[2], -1) {
			s, ok := samples[n[2]]
			if !ok {
				t.Errorf("%s: unit %q is new", m[1], n[2])
			}
			carries[pairing.Code(m[1])] = append(carries[pairing.Code(m[1])], notice.Value{Name: n[1], Number: s.v, Unit: n[2]})
		}
	}
	eachLanguage(t, func(t *testing.T) {
		for _, code := range pairing.Codes {
			values := carries[code]
			var names []string
			for _, v := range values {
				names = append(names, v.Name)
			}
			if got := reasonNumbers[code]; len(names) == 0 || !slices.Equal(got, names) {
				t.Errorf("%s carries %v, words know %v", code, names, got)
			}
			signal, says := PairingReason(&pairing.Reason{Code: code, Fit: pairing.Danger, Values: values})
			sound(t, string(code), says)
			if Current() == language.English && signal != "DANGER" {
				t.Errorf("%s: the signal is %q", code, signal)
			}
			for _, v := range values {
				if want := samples[v.Unit].want; Current() == language.English && !strings.Contains(says, want) {
					t.Errorf("%s does not say %s: %q lacks %q", code, v.Name, says, want)
				}
			}
			if n := len([]rune(says)); n > 200 {
				t.Errorf("%s takes %d characters", code, n)
			}
		}
		// No size fits: then none is named.
		_, says := PairingReason(&pairing.Reason{Code: pairing.NeedsFuse, Values: []notice.Value{
			{Name: "strings", Number: 3, Unit: "1"}, {Name: "amps", Number: 14, Unit: "A"}, {Name: "size", Number: 0, Unit: "A"}}})
		sound(t, "no fuse", says)
		if strings.Contains(says, "0\u00a0A") || strings.Contains(says, "0.0") {
			t.Errorf("a fuse of nothing: %q", says)
		}
	})
	for code := range reasonNumbers {
		if !slices.Contains(pairing.Codes, code) {
			t.Errorf("%s has words, but is no code", code)
		}
	}
}

func TestEveryPairingChoiceHasWords(t *testing.T) {
	for prefix, typ := range map[string]string{"pairing_source.": "Source", "pairing_advice.": "Advice"} {
		for _, v := range constants(t, "../../calc/pairing/result.go", typ) {
			if !Has(prefix + v) {
				t.Errorf("no words for %s %s", typ, v)
			}
		}
	}
	for _, j := range []plan.Joined{plan.SideBySide, plan.EndToEnd, plan.InStrings} {
		if !Has("pairing_joined." + string(j)) {
			t.Errorf("no words for panels joined %s", j)
		}
	}
}

func TestPanelSet(t *testing.T) {
	list := []plan.Panel{{Name: "Folding", Count: 2, RatedW: 100}, {Count: 1, RatedW: 60}}
	for _, c := range []struct {
		p    plan.Panels
		want string
	}{
		{plan.Panels{Joined: plan.SideBySide, List: list}, "Folding ×2 + 60 W, side by side"},
		{plan.Panels{Joined: plan.EndToEnd, List: list[:1]}, "Folding ×2, end to end"},
		{plan.Panels{Joined: plan.EndToEnd, List: list[1:]}, "60 W"},
		{plan.Panels{}, ""},
	} {
		if got := strings.ReplaceAll(PanelSet(c.p), Space, " "); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

func TestMixSaysBothWays(t *testing.T) {
	p := plan.Plan{Panels: plan.Panels{List: []plan.Panel{{Name: "Folding", Count: 1, RatedW: 60}, {Name: "Lid", Count: 1, RatedW: 20}}}}
	m := pairing.Mix{Kinds: []int{0, 1}, AloneW: []float64{52, 18}, SumW: 70, BatteryV: 13.2,
		SideBySide: pairing.Joint{W: 69}, EndToEnd: pairing.Joint{W: 24}, Advice: pairing.JoinSideBySide}
	says := strings.ReplaceAll(MixSays(&m, &p), Space, " ")
	sound(t, "mix", says)
	for _, want := range []string{"Folding + Lid", "side by side they give 69 W", "end to end 24 W", "52 W + 18 W", "together 70 W", "13.2 V"} {
		if !strings.Contains(says, want) {
			t.Errorf("%q lacks %q", says, want)
		}
	}
	bad := m
	bad.AloneW, bad.SumW = []float64{0, 0}, 0
	if says := MixSays(&bad, &p); strings.Contains(says, "alone") {
		t.Errorf("none may be connected, and it says %q", says)
	}
	m.Kinds = []int{7, -1} // of another plan
	sound(t, "a mix of another plan", MixSays(&m, &p)+".")
}

func TestRefilled(t *testing.T) {
	for _, c := range []struct {
		h    pairing.Hours
		want string
	}{
		{pairing.Hours{H: 5.25, Ok: true}, "5 h 15 min"}, {pairing.Hours{Ok: true}, "full already"}, {pairing.Hours{H: 1}, "not within 30 d"},
	} {
		if got := strings.ReplaceAll(Refilled(c.h, 720), Space, " "); got != c.want {
			t.Errorf("%v is %q, want %q", c.h, got, c.want)
		}
	}
}
