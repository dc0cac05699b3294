package room

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/words"
	"duskline/calc/notice"
)

// Caution is a standing caution at the place where it matters. The short line
// is always in view; the rest unfolds. It is general: what a plan itself makes
// dangerous is a Notice of the core.
func Caution(name string, grade notice.Grade) app.UI {
	return app.Details().Class("caution").DataSet("grade", grade.String()).DataSet("caution", name).Body(
		app.Summary().Body(
			app.Strong().Class("signal").Text(words.T("signal."+grade.String())),
			app.Text(" "+words.T("caution."+name)),
		),
		app.P().Text(words.T("caution_more."+name)),
	)
}
