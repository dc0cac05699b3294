package words

// englishPlace holds the words of choosing a place: the search, positions as
// they are typed, and what is wrong with them.
var englishPlace = map[string]string{
	"place.find":       "Town, or latitude and longitude",
	"place.find_help":  "Any script, with or without accents. Or a position: 52.4 15.6, or 52° 24′ N 15° 36′ E.",
	"place.loading":    "The list of towns is being opened.",
	"place.no_list":    "The list of towns cannot be opened. A position, or where you are, goes without it.",
	"place.none":       "No town of the list begins so. Try a bigger one nearby, or a position.",
	"place.found":      "{one}One town found. The arrow keys lead to it.{other}%d towns found. The arrow keys lead to them.",
	"place.use":        "Use %s",
	"place.list":       "Places found",
	"place.credit":     "Place names and heights: GeoNames, CC BY 4.0, shortened.",
	"place.in":         "%[1]s, %[2]s",
	"place.other":      "%[1]s (%[2]s)",
	"place.height":     "%[1]s, %[2]s high",
	"place.at":         "%[1]s, altitude %[2]s.",
	"place.clock":      "Clock: %s, summer time counted.",
	"place.no_clock":   "This device does not know the clock of %s. Set it in Trip.",
	"place.no_height":  "The list has no altitude for it: set it below.",
	"place.old_height": "Altitude and clock are still those of the place before.",
	"place.near":       "Nearest town of the list: %[1]s, %[2]s away. %[3]s.",
	"place.take_near":  "Take its altitude and clock",
	"place.figures":    "Name, latitude, longitude",
	"place.refused":    "The plan does not take this place: %s",

	"sources_work.towns": "Names, positions, heights and time zones of places: GeoNames (geonames.org), licence CC BY 4.0 (creativecommons.org/licenses/by/4.0), from the dump of 18 March 2020 with regions and new names of a later one. Changed: reduced to some 25,000 places, positions rounded to 0.01°, heights to 10 m, other names chosen by script, letters folded for the search.",

	"here.late": "No position came within a minute. Try under open sky, or type it.",

	// What is wrong with a position that was typed. 1: what was found.
	"coords.empty":                    "Type a town, or latitude and longitude.",
	"coords.too_long":                 "Too long for a position: %[2]s characters at most.",
	"coords.unknown_mark":             "“%[1]s” is no part of a position. Letters are N, S, E, W, marks ° ′ ″.",
	"coords.bad_number":               "“%[1]s” is no number.",
	"coords.only_one":                 "This is only half of a position: latitude first, then longitude.",
	"coords.only_one_latitude":        "The longitude is missing.",
	"coords.only_one_longitude":       "The latitude is missing.",
	"coords.too_many":                 "From “%[1]s” on there is more than a latitude and a longitude.",
	"coords.ambiguous":                "“%[1]s” can be read in two ways. Write it like 52.4 15.6, or 52° 24′ N 15° 36′ E.",
	"coords.two_latitudes":            "Both are latitudes: N and S go with one, E and W with the other.",
	"coords.two_longitudes":           "Both are longitudes: N and S go with one, E and W with the other.",
	"coords.two_letters":              "“%[1]s” does not go with what stands beside it.",
	"coords.letter_missing_latitude":  "Say N or S at the latitude too.",
	"coords.letter_missing_longitude": "Say E or W at the longitude too.",
	"coords.sign_and_letter":          "The sign and “%[1]s” contradict each other. Leave one of them out.",
	"coords.fraction_inside":          "“%[1]s” has a fraction, but smaller parts follow. Only the last part may have one.",
	"coords.part_missing":             "Before “%[1]s” something is missing: degrees, then minutes, then seconds.",
	"coords.out_of_range_latitude":    "Latitude goes from 90° S to 90° N, not to %[2]s.",
	"coords.out_of_range_longitude":   "Longitude goes from 180° W to 180° E, not to %[2]s.",
	"coords.out_of_range_minutes":     "Minutes stay below 60, not %[2]s.",
	"coords.out_of_range_seconds":     "Seconds stay below 60, not %[2]s.",
}
