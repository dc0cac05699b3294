package draw

import (
	"testing"

	"duskline/calc/sun"
)

// Every look has a tile of its own, and a look that is none does no harm.
func TestSignsAreSoundAndApart(t *testing.T) {
	seen := map[string]sun.State{}
	for s := range sun.State(sun.States) {
		svg := Sign(s)
		list := read(t, svg)
		if other, twice := seen[svg]; twice {
			t.Errorf("%d looks like %d", s, other)
		}
		seen[svg] = s
		if list[0].attrs["aria-hidden"] != "true" || len(list) < 3 {
			t.Errorf("%d: %d parts, %v", s, len(list), list[0].attrs)
		}
	}
	read(t, Sign(200))
}
