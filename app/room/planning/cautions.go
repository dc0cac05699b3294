package planning

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/words"
	"duskline/calc/notice"
)

// cautions lists the standing cautions, each with the grade of its signal
// word. The short line is always in view; the rest unfolds. They are general:
// what a plan itself makes dangerous is a Notice of the core.
var cautions = map[string]notice.Grade{
	"case":     notice.Caution, // water, lifting, children
	"battery":  notice.Warning, // high current, fuses, swollen
	"freezing": notice.Warning, // lithium below 0 °C
	"hydrogen": notice.Warning, // lead-acid
	"mains":    notice.Danger,  // the inverter's volts, back-feeding
	"panels":   notice.Warning, // live in daylight
	"life":     notice.Warning, // life-supporting equipment
	"engine":   notice.Danger,  // exhaust
}

// caution shows one of them at the place where it matters.
func caution(name string) app.UI {
	grade := cautions[name].String()
	return app.Details().Class("caution").DataSet("grade", grade).DataSet("caution", name).Body(
		app.Summary().Body(
			app.Strong().Class("signal").Text(words.T("signal."+grade)),
			app.Text(" "+words.T("caution."+name)),
		),
		app.P().Text(words.T("caution_more."+name)),
	)
}
