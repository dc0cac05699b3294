// Package widget holds the small parts of a page: fields, the bar of hours,
// folds.
//
// A field is told what to show and hands on what is typed, spelled as it was
// typed; it decides nothing. Its exported fields compare equal as long as it
// shows the same, so that an edit elsewhere leaves it alone.
package widget

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/words"
	"duskline/calc/plan"
)

// A Host takes what is typed. The places are JSON Pointers into the Plan.
type Host interface {
	Enter(pointer, text string)
	EnterHours(pointer string, hours []plan.Window)
	Leave(pointer string) // the end of typing
	Drop(pointer string)  // back to the Plan's own value
}

// ID names the element of the field at a JSON Pointer:
// "case-battery-capacity_Ah". Parts of a field add "-less", "-more", "-sign",
// "-fault", "-help".
func ID(pointer string) string {
	return strings.ReplaceAll(strings.TrimPrefix(pointer, "/"), "/", "-")
}

// Help returns the help text of a field, "" if it needs none.
func Help(pointer string) string {
	if key := "help." + place(pointer); words.Has(key) {
		return words.T(key)
	}
	return ""
}

// place is a pointer without the numbers of lists: "gear.power_W".
func place(pointer string) string {
	var names []string
	for _, step := range strings.Split(strings.TrimPrefix(pointer, "/"), "/") {
		if step != "" && strings.Trim(step, "0123456789") != "" {
			names = append(names, step)
		}
	}
	return strings.Join(names, ".")
}

// frame lays out one field: label, control, help and fault. The fault is in
// the page all the time, so that a screen reader hears it come.
func frame(kind, pointer, label, help, fault string, control ...app.UI) app.UI {
	id := ID(pointer)
	body := []app.UI{app.Label().Class("label").For(id).Text(label)}
	body = append(body, control...)
	if help != "" {
		body = append(body, app.P().ID(id+"-help").Class("help").Text(help))
	}
	body = append(body, app.P().ID(id+"-fault").Class("fault").Aria("live", "polite").Text(fault))
	return app.Div().Class("field "+kind).Attr("data-bad", fault != "").Body(body...)
}

// described names the elements that describe a field, for aria-describedby.
func described(pointer, help string) string {
	id := ID(pointer)
	if help != "" {
		return id + "-fault " + id + "-help"
	}
	return id + "-fault"
}

func value(ctx app.Context) string { return ctx.JSSrc().Get("value").String() }

// Nothing stands where something may come. The elements behind it keep their
// places when it comes, and with their places the keyboard's focus and what is
// being typed: go-app matches old and new elements by place.
func Nothing() app.UI { return app.Div().Hidden(true) }

// unitName is a unit as it stands behind a number. Units of the SI are the
// same in every language.
func unitName(unit string) string {
	switch unit {
	case "per day":
		return words.T("unit.per_day")
	case "years":
		return words.T("unit.years")
	case "cycles":
		return words.T("unit.cycles")
	case "per year":
		return words.T("unit.per_year")
	}
	return unit
}
