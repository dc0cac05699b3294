package notice

import (
	"fmt"
	"testing"
)

func TestCodesAreListedOnce(t *testing.T) {
	seen := map[Code]bool{}
	for _, c := range Codes {
		if seen[c] || c == "" {
			t.Errorf("code %q is listed twice or empty", c)
		}
		seen[c] = true
	}
}

// The order of the grades is that of ANSI Z535.6 and ISO 3864: notice,
// caution, warning, danger.
func TestGradesRiseInTheirOrder(t *testing.T) {
	want := []string{"notice", "caution", "warning", "danger"}
	for i, g := range []Grade{Advice, Caution, Warning, Danger} {
		if g.String() != want[i] || int(g) != i {
			t.Errorf("grade %d is %s, want %s", g, g, want[i])
		}
		if text, err := g.MarshalText(); err != nil || string(text) != want[i] {
			t.Errorf("grade %s is written %q, %v", want[i], text, err)
		}
	}
}

func ExampleNotice_Number() {
	n := Notice{ColdCharge, Warning, []Value{{"core", -4, "°C"}}}
	core, ok := n.Number("core")
	_, other := n.Number("volts")
	fmt.Println(n.Grade, core, ok, other)
	// Output: warning -4 true false
}
