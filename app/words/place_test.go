package words

import (
	"errors"
	"strings"
	"testing"

	"duskline/calc/coords"
)

// Every kind of fault is worded, whatever it is about, and none speaks of
// arguments that it was not given.
func TestEveryCoordsFaultIsWorded(t *testing.T) {
	for _, kind := range coords.Kinds {
		for _, what := range []string{"", coords.Latitude, coords.Longitude, coords.Minutes, coords.Seconds} {
			if (kind == coords.OutOfRange || kind == coords.LetterMissing) && what == "" {
				continue // always of something
			}
			if kind == coords.LetterMissing && (what == coords.Minutes || what == coords.Seconds) {
				continue
			}
			text := CoordsFault(&coords.Error{Kind: kind, What: what, Found: "x", Got: 91, Max: 200})
			if strings.ContainsAny(text, "[]") || strings.Contains(text, "%!") || text == "" {
				t.Errorf("%s of %q: %q", kind, what, text)
			}
		}
	}
}

func TestCoordsFaultNamesWhatIsWrong(t *testing.T) {
	for text, want := range map[string]string{
		"91 15":         "91°",
		"52 181":        "181°",
		"52 60 15 36":   "Minutes stay below 60, not 60.",
		"52 N 15":       "Say E or W",
		"52.4 N":        "The longitude is missing.",
		"52,4,15,6":     "“52,4,15,6” can be read in two ways.",
		"-52 N 15 E":    "“N”",
		"52x4 15":       "“x”",
		"52.4, 15.6, 3": "From “3” on",
	} {
		_, _, err := coords.Parse(text)
		var e *coords.Error
		if !errors.As(err, &e) {
			t.Errorf("%q: %v", text, err)
			continue
		}
		if got := CoordsFault(e); !strings.Contains(got, want) {
			t.Errorf("%q: %q, want %q in it", text, got, want)
		}
	}
}
