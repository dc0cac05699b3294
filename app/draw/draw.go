// Package draw turns the core's numbers into pictures: SVG text, and the
// table that stands beside each one for those who cannot see it.
//
// A picture is one string, to be mounted whole (app.Raw of go-app). Measured
// there: changed attributes cost, not nodes; a string that did not change is
// not touched at all, one that did is parsed in one go. No style attribute
// and no class is used: the page's content policy blocks the first, and SVG
// loses the second. Colours are presentation attributes of the Day theme, so
// that a picture stands by itself; web/css/draw.css overrules them by data-s
// and data-e for Day, Glare and Night.
//
// All pictures are drawn at the size they are shown at: text keeps its size,
// circles stay round.
//
// Missing: the fan of odds on the strip. Languages written from right to left keep the time axis from left to
// right; nobody has looked at one yet.
package draw

// A Frame is where a picture goes.
type Frame struct {
	ID            string  // starts the ids in the picture; unique on the page, letters and digits
	Width, Height float64 // CSS pixels; at least 40 × 24
}

// Frames of the look: on a phone, beside the plan on a desk, and the strip
// that sticks to the top while editing.
var (
	Phone  = Frame{"p", 360, 245}
	Desk   = Frame{"d", 820, 300}
	Sticky = Frame{"s", 360, 56}
)

// Fit is the frame of a full strip of that width: as high as a phone's, and
// a little more where there is room.
func Fit(id string, width float64) Frame {
	return Frame{id, width, min(max(245, 0.366*width), 320)}
}

// least is the frame below which a picture has no room for itself.
func (f Frame) least() Frame {
	f.Width, f.Height = max(f.Width, 40), max(f.Height, 24)
	return f
}

// A Table is a picture in figures. Every row has as many cells as Head.
type Table struct {
	Caption string
	Head    []string
	Rows    [][]string
}
