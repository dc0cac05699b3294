package planning

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room/desk"
	"duskline/app/widget"
	"duskline/app/words"
)

// form makes the fields of a desk by their place in the document.
type form struct{ d *desk.Desk }

func (f form) amount(pointer string) app.UI {
	return &widget.Amount{Host: f.d, Pointer: pointer, Text: f.d.Text(pointer), Fault: f.d.Fault(pointer)}
}

// amountOf is one amount of a list whose help stands above it once.
func (f form) amountOf(pointer, label, helpAt string) app.UI {
	return &widget.Amount{Host: f.d, Pointer: pointer, Label: label, HelpAt: helpAt, Text: f.d.Text(pointer), Fault: f.d.Fault(pointer)}
}

func (f form) text(pointer string) app.UI {
	return &widget.Text{Host: f.d, Pointer: pointer, Text: f.d.Text(pointer), Fault: f.d.Fault(pointer)}
}

func (f form) paragraph(pointer string) app.UI {
	return &widget.Text{Host: f.d, Pointer: pointer, Text: f.d.Text(pointer), Fault: f.d.Fault(pointer), Long: true}
}

func (f form) choice(pointer string) app.UI {
	return f.choiceOf(pointer, "", widget.Options(pointer))
}

func (f form) choiceOf(pointer, label string, options []widget.Option) app.UI {
	return &widget.Choice{Host: f.d, Pointer: pointer, Label: label, Options: options,
		Text: f.d.Text(pointer), Fault: f.d.Fault(pointer)}
}

func (f form) toggle(pointer, label string) app.UI {
	return &widget.Toggle{Host: f.d, Pointer: pointer, Label: label, On: f.d.Text(pointer) == "true", Fault: f.d.Fault(pointer)}
}

// way is the switch of figures that a plan may go without.
func (s *sheet) way(pointer, key string, on bool) app.UI {
	return &widget.Toggle{Host: &wayHost{s.Desk, s.Session.Folds}, Pointer: pointer, Label: words.T(key), On: on}
}

func (f form) picker(pointer, kind, label string) app.UI {
	return &widget.Picker{Host: f.d, Pointer: pointer, Input: kind, Label: label, Text: f.d.Text(pointer), Fault: f.d.Fault(pointer)}
}

// hours is the bar of a list of windows; need says that there must be one.
func (f form) hours(pointer string, need bool) app.UI {
	list := f.d.Hours(pointer)
	h := &widget.HoursBar{Host: f.d, Pointer: pointer, Hours: list, Fault: f.d.Fault(pointer), Need: need}
	for i := range list {
		for _, end := range []string{"/from_h", "/to_h"} {
			at := pointer + "/" + strconv.Itoa(i) + end
			h.Texts = append(h.Texts, f.d.Text(at))
			h.Faults = append(h.Faults, f.d.Fault(at))
		}
	}
	return h
}

// fault is what is wrong with a list as a whole.
func (f form) fault(pointer string) app.UI {
	return app.P().ID(widget.ID(pointer)+"-fault").Class("fault").Aria("live", "polite").Text(f.d.Fault(pointer))
}

// group is a titled part of a section.
func group(title string, inside ...app.UI) app.UI {
	return app.FieldSet().Class("group").Body(append([]app.UI{app.Legend().Class("group-title").Text(title)}, inside...)...)
}
