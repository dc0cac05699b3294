package zone

import (
	"fmt"
	"slices"
	"syscall/js"
	"time"

	"duskline/calc/civil"
)

// Here returns the name of the device's own time zone, "" if it is not known.
func Here() string {
	name := ""
	try(func() {
		name = js.Global().Get("Intl").Call("DateTimeFormat").Call("resolvedOptions").Get("timeZone").String()
	})
	if check(name) != nil {
		return ""
	}
	if _, err := newWall(name); err != nil {
		return ""
	}
	return name
}

// Lookup returns how far the clocks of a zone stand ahead of UTC at from, and
// how they are moved after from and up to to, to included.
//
// Errors: [ErrUnknown] for a name that this browser does not know.
func Lookup(name string, from, to time.Time) (first time.Duration, changes []civil.Change, err error) {
	if err := check(name); err != nil {
		return 0, nil, err
	}
	w, err := newWall(name)
	if err != nil {
		return 0, nil, err
	}
	if bad := try(func() { first, changes = walk(w.ahead, from.Unix(), to.Unix()) }); bad != nil {
		return 0, nil, bad
	}
	return first, changes, nil
}

// Names returns the zones that this browser lists, sorted; none if it is too
// old to list them. It knows more than it lists: older names of the same places.
func Names() []string {
	var names []string
	try(func() {
		list := js.Global().Get("Intl").Call("supportedValuesOf", "timeZone")
		for i := range list.Length() {
			names = append(names, list.Index(i).String())
		}
	})
	slices.Sort(names)
	return names
}

// A wall is the clock on the wall of a place.
type wall struct{ format js.Value }

func newWall(name string) (wall, error) {
	var w wall
	bad := try(func() {
		w.format = js.Global().Get("Intl").Get("DateTimeFormat").New("en-US", map[string]any{
			"timeZone": name, "calendar": "gregory", "numberingSystem": "latn", "hourCycle": "h23",
			"year": "numeric", "month": "numeric", "day": "numeric",
			"hour": "numeric", "minute": "numeric", "second": "numeric",
		})
	})
	if bad != nil {
		return w, unknown(name)
	}
	return w, nil
}

// ahead returns how many seconds the clock stands ahead of UTC at an instant.
// There is no shorter way that all browsers of the last years have.
func (w wall) ahead(unix int64) int64 {
	parts := w.format.Call("formatToParts", float64(unix)*1000)
	var year, month, day, hour, minute, second int
	for i := range parts.Length() {
		p := parts.Index(i)
		var into *int
		switch p.Get("type").String() {
		case "year":
			into = &year
		case "month":
			into = &month
		case "day":
			into = &day
		case "hour":
			into = &hour
		case "minute":
			into = &minute
		case "second":
			into = &second
		default:
			continue
		}
		for _, c := range p.Get("value").String() {
			*into = *into*10 + int(c-'0')
		}
	}
	return time.Date(year, time.Month(month), day, hour, minute, second, 0, time.UTC).Unix() - unix
}

// try turns a JavaScript exception into an error.
func try(f func()) (err error) {
	defer func() {
		if x := recover(); x != nil {
			err = fmt.Errorf("zone: %v", x)
		}
	}()
	f()
	return nil
}
