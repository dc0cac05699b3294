package words

import (
	"strconv"
	"strings"
)

// FieldName names a field of a Plan by its JSON Pointer: "/gear/3/power_W" is
// "Power while running". A pointer into a list names the list's field, for
// every place in it. One that this version does not know comes back as it is.
func FieldName(pointer string) string {
	path, _ := fieldPath(pointer)
	if key := "field." + path; Has(key) {
		return T(key)
	}
	return pointer
}

// FieldPlace names it with its place in its lists, for a message that stands
// away from the field: "Gear 4: Power while running".
func FieldPlace(pointer string) string {
	name := FieldName(pointer)
	_, places := fieldPath(pointer)
	for i := len(places) - 1; i >= 0; i-- {
		list := T("place.in_list", FieldName(places[i].list), places[i].number)
		if FieldName(places[i].list) == name {
			name = list
			continue
		}
		name = T("place.joint", list, name)
	}
	return name
}

type listPlace struct {
	list   string // pointer of the list
	number int    // from 1
}

// fieldPath drops the numbers of lists from a pointer and joins the rest by
// points, as the catalogue's keys have it.
func fieldPath(pointer string) (path string, places []listPlace) {
	var names []string
	at := ""
	for _, token := range strings.Split(strings.TrimPrefix(pointer, "/"), "/") {
		if n, err := strconv.Atoi(token); err == nil && n >= 0 && len(names) > 0 {
			places = append(places, listPlace{at, n + 1})
		} else {
			names = append(names, token)
		}
		at += "/" + token
	}
	return strings.Join(names, "."), places
}
