package words

// englishWiring holds the words of what lies between the panels and the
// sockets: how panels are joined, the wire, the Case's parts in detail.
var englishWiring = map[string]string{
	"picture.joined":    "{one}The panels on one line to the Case: %[2]s, %[3]s.{other}The panels on %[1]d lines side by side to the Case: %[2]s, %[3]s.",
	"table.joined":      "The panels as they are joined, in full sun with cells at 25\u00a0°C",
	"column.panel":      "Panel",
	"column.amps":       "Amps",
	"column.watts":      "Watts",
	"joined_pic.times":  "%[1]s\u00a0×\u00a0%[2]s",
	"joined_pic.gives":  "%[1]s · %[2]s",
	"joined_pic.case":   "To the Case: %[1]s · %[2]s · %[3]s",
	"joined_pic.one":    "%s",
	"joined_pic.each":   "Each of %[1]s: %[2]s",
	"joined_pic.string": "String %s together",
	"joined_pic.whole":  "All together",
}
