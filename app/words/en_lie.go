package words

// englishLie holds the words of how panels lie.
var englishLie = map[string]string{
	"facing.off": "%[1]s %[2]s of %[3]s",

	"lies.fixed":       "leans %[1]s, faces %[2]s",
	"lies.flat":        "lies flat",
	"lies.turned":      "{one}turned to the sun %[1]d time a day, leans %[2]s{other}turned to the sun %[1]d times a day, leans %[2]s",
	"lies.two_axis":    "{one}aimed at the sun %[1]d time a day{other}aimed at the sun %[1]d times a day",
	"lies.on_lid":      "on the Case's lid, leans %[1]s, faces %[2]s",
	"lies.on_lid_flat": "flat on the Case's lid",

	"picture.lie":    "The panel from above and from the side: it faces %[1]s and leans %[2]s.",
	"lie.fixed":      "Laid once, left alone",
	"lie.turned":     "Turned to the sun by hand",
	"lie.two_axis":   "Turned and leaned to the sun by hand",
	"lie.on_lid":     "On the Case's lid",
	"lie.leaned_too": "with the sun",
	"lie.title":      "How it lies",

	"over_flat.more": "+%s",
	"over_flat.less": "−%s",
	"over_flat.same": "the same",

	"best.title":    "How it would lie best",
	"best.working":  "Trying the ways to lay it …",
	"best.fixed":    "Face %[1]s, lean %[2]s: %[3]s over flat.",
	"best.flat":     "Lay it flat: on these days no lean gives more.",
	"best.is_best":  "It lies as well as it can without being moved.",
	"best.would":    "That is %s more light than as it lies now.",
	"best.none":     "No sun reaches this panel on these days, however it lies.",
	"best.failed":   "The ways to lay it could not be worked out.",
	"best.use":      "Lay it so",
	"best.others":   "What other ways cost or gain",
	"best.hide":     "Hide the other ways",
	"best.for_what": "Light through the glass on the days of this trip, with its weather, horizon and shade.",

	"column.way":       "Way to lay it",
	"column.light_day": "Light a day",
	"column.over_flat": "Against flat",
	"table.ways_lie":   "Ways to lay the panel",

	"way.as_it_lies":     "As it lies now",
	"way.flat":           "Flat",
	"way.best":           "Best without moving it",
	"way.upright":        "Upright",
	"way.lean_less":      "Best, but 15° flatter",
	"way.lean_more":      "Best, but 15° steeper",
	"way.earlier":        "Best, but 30° towards the morning",
	"way.later":          "Best, but 30° towards the evening",
	"way.turned_2":       "Turned 2 times a day",
	"way.turned_3":       "Turned 3 times a day",
	"way.two_axis_3":     "Turned and leaned 3 times a day",
	"way.two_axis_hours": "Turned and leaned every hour",

	"shade.title": "Shade on this panel",
}
