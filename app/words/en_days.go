package words

// englishDays holds the words of the sun's times and the light of a day, as
// the command prints them.
var englishDays = map[string]string{
	"column.on_level": "On level ground",
	"column.clear":    "Clear sky",
	"column.dawn":     "Dawn",
	"column.sunrise":  "Sunrise",
	"column.sunset":   "Sunset",
	"column.dusk":     "Dusk",
	"sun.stays_up":    "up",
	"sun.stays_down":  "down",
}
