package widget

import "testing"

// Typed faster than the page is drawn, a word and the space behind it come in
// one; go-app would write the word alone.
func TestASpaceThatWasJustTypedStays(t *testing.T) {
	var s spelling
	for _, c := range []struct {
		name, typed, text string
		want              string
		reset             bool
	}{
		{"as it came", "", "Lamp", "Lamp", false},
		{"a word and a space at once", "Tent ", "Tent ", "Lamp", false},
		{"drawn again", "Tent ", "Tent ", "Lamp", false},
		{"the next letter", "Tent l", "Tent l", "Tent l", false},
		{"a space at the end", "Tent l ", "Tent l ", "Tent l", false},
		{"back to what stood there", "Tent l ", "Tent l", "Tent l", true},
		{"and drawn again", "Tent l ", "Tent l", "Tent l", false},
		{"another entry with a space", "Tent l ", "Cooler ", "Cooler ", false},
	} {
		s.typed = c.typed
		if got, reset := s.show(c.text); got != c.want || reset != c.reset {
			t.Errorf("%s: writes %q, reset %v; want %q, %v", c.name, got, reset, c.want, c.reset)
		}
	}
}
