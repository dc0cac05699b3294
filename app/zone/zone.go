// Package zone asks the machine how civil time runs at a place: the browser's
// time zone database through its Intl API, and elsewhere Go's. Duskline carries
// no database of its own to the phone.
//
// What is found goes into the plan as offsets, so that a plan reads the same on
// a machine whose database is older, newer or missing.
package zone

import (
	"errors"
	"fmt"
	"strings"
)

// ErrUnknown is a name that the machine's database does not have.
var ErrUnknown = errors.New("no such time zone")

// longestName is more than any name of the IANA database has, bytes.
const longestName = 64

// check refuses what cannot be the name of a place's civil time. Both databases
// take names beside those, each its own: "Local" and "", or "+05:30" and
// "europe/paris".
func check(name string) error {
	ok := len(name) > 0 && len(name) <= longestName && name != "Local"
	for i, part := range strings.Split(name, "/") {
		ok = ok && part != "" && strings.Trim(part, letters) == "" && (i > 0 || part[0] >= 'A' && part[0] <= 'Z')
	}
	if !ok {
		return unknown(name)
	}
	return nil
}

// letters are those of the names in the database.
const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_+-"

func unknown(name string) error { return fmt.Errorf("%w: %q", ErrUnknown, name) }
