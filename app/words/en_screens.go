package words

// englishScreens holds the words of screens, grouped by room.
var englishScreens = map[string]string{}
