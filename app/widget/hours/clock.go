package hours

import (
	"strconv"
	"strings"

	"duskline/app/words"
)

// Read reads an hour of the day as people write it: "22:30", "22.30" is
// taken as 22.3 hours, "2230", "7", "24:00". The answer is 0 to 24.
func Read(text string) (hour float64, ok bool) {
	s := strings.TrimSpace(text)
	if h, m, ok := strings.Cut(s, ":"); ok {
		return clock(h, m)
	}
	if len(s) > 2 && len(s) < 5 && digits(s) {
		return clock(s[:len(s)-2], s[len(s)-2:])
	}
	x, ok := words.Number(s)
	if !ok || x < 0 || x > 24 {
		return 0, false
	}
	return x, true
}

func clock(h, m string) (float64, bool) {
	if !digits(h) || !digits(m) || len(h) > 2 || len(m) != 2 {
		return 0, false
	}
	hh, _ := strconv.Atoi(h)
	mm, _ := strconv.Atoi(m)
	if mm > 59 || hh*60+mm > 24*60 {
		return 0, false
	}
	return float64(hh) + float64(mm)/60, true
}

func digits(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }
