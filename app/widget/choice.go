package widget

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/words"
	"duskline/calc/plan"
)

// An Option is one thing to choose.
type Option struct{ Value, Name string }

// Choice is one of a few: buttons side by side for up to three, a list for
// more. Both are the browser's own, so the keyboard works as people know it.
type Choice struct {
	app.Compo

	Host    Host
	Pointer string
	Label   string // "" for the field's own name
	Options []Option
	Text    string // the value chosen
	Fault   string
}

func (c *Choice) Render() app.UI {
	label := c.Label
	if label == "" {
		label = words.FieldName(c.Pointer)
	}
	if len(c.Options) > 3 {
		return c.list(label)
	}
	id, help := ID(c.Pointer), Help(c.Pointer)
	body := []app.UI{app.Legend().Class("label").Text(label)}
	segments := make([]app.UI, len(c.Options))
	for i, o := range c.Options {
		segments[i] = app.Label().Class("segment").For(id+"-"+o.Value).Body(
			app.Input().ID(id+"-"+o.Value).Type("radio").Name(id).Attr("value", o.Value).
				Checked(c.Text == o.Value).OnChange(c.onChange),
			app.Span().Text(o.Name),
		)
	}
	body = append(body, app.Div().Class("segments").Body(segments...))
	if help != "" {
		body = append(body, app.P().ID(id+"-help").Class("help").Text(help))
	}
	body = append(body, app.P().ID(id+"-fault").Class("fault").Aria("live", "polite").Text(c.Fault))
	return app.FieldSet().ID(id).Class("field choice").Attr("data-bad", c.Fault != "").
		Aria("describedby", described(c.Pointer, help)).Body(body...)
}

func (c *Choice) list(label string) app.UI {
	help := Help(c.Pointer)
	options := make([]app.UI, len(c.Options))
	for i, o := range c.Options {
		options[i] = app.Option().Value(o.Value).Text(o.Name).Selected(c.Text == o.Value)
	}
	return frame("choice", c.Pointer, label, help, c.Fault,
		app.Select().ID(ID(c.Pointer)).Aria("describedby", described(c.Pointer, help)).
			Aria("invalid", c.Fault != "").Body(options...).OnChange(c.onChange))
}

func (c *Choice) onChange(ctx app.Context, e app.Event) {
	c.Host.Enter(c.Pointer, value(ctx))
	c.Host.Leave(c.Pointer)
}

// Options returns what the field at a pointer may hold, named.
func Options(pointer string) []Option {
	list, _ := plan.Choices(pointer)
	options := make([]Option, len(list))
	for i, v := range list {
		options[i] = Option{v, optionName(place(pointer), v)}
	}
	return options
}

func optionName(place, v string) string {
	switch place {
	case "case.battery.chemistry":
		c := plan.Chemistry(v)
		return words.T("chemistry.pick", words.Chemistry(c), words.ChemistryHelp(c))
	case "case.stands":
		return words.Stands(plan.Stands(v))
	case "case.battery.after_full":
		return words.AfterFull(plan.AfterFull(v))
	case "case.controller.kind":
		return words.ControllerKind(plan.ControllerKind(v))
	case "case.inverter.wave":
		return words.Wave(plan.Wave(v))
	case "case.switch":
		return words.Switch(plan.Switch(v))
	case "gear.route":
		return words.Route(plan.Route(v))
	case "gear.sensitivity":
		return words.Sensitivity(plan.Sensitivity(v))
	case "sky.light":
		return words.LightKind(plan.LightKind(v))
	case "panels.joined":
		return words.Joined(plan.Joined(v))
	case "panels.cable_gauge":
		return words.Gauge(v)
	case "panels.list.technology":
		return words.Technology(plan.Technology(v))
	case "panels.list.back":
		return words.Back(plan.Back(v))
	case "panels.list.lie":
		return words.LieKind(plan.Lie(v))
	case "trip.step_min":
		return v + words.Space + unitName("min")
	}
	return v
}
