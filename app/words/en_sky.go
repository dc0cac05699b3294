package words

// englishSky holds the words of the Sky: its pictures, the looks of the sky
// and the horizon.
var englishSky = map[string]string{
	"fists.one":  "1 fist",
	"fists.many": "%s fists",
	"day.named":  "%[1]s %[2]s",

	"compass_letter.n": "N",
	"compass_letter.e": "E",
	"compass_letter.s": "S",
	"compass_letter.w": "W",

	"picture.ring":  "The horizon as a ring around you, with the sun's way over it. The tables beside it have the figures.",
	"picture.light": "Light on the panel day by day, under the line of a clear sky. The table beside it has the figures.",

	"table.ways":       "The sun over this horizon",
	"table.horizon":    "What stands on the horizon",
	"table.light":      "Light on the panel, day by day",
	"column.day":       "Day",
	"column.sun_comes": "Sun comes out",
	"column.sun_goes":  "Sun goes",
	"column.hidden":    "Hidden while up",
	"column.highest":   "Highest",
	"column.direction": "Direction",
	"column.fists":     "Height",
	"column.degrees":   "Degrees",
	"column.on_panels": "On the panel",
	"column.ceiling":   "Under a clear sky",
	"ways.never":       "not seen",
	"ways.no_rise":     "does not rise",
	"horizon.open":     "open all round",
}
