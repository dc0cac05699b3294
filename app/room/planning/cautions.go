package planning

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/calc/notice"
)

// cautions lists the standing cautions, each with the grade of its signal
// word. The short line is always in view; the rest unfolds. They are general:
// what a plan itself makes dangerous is a Notice of the core.
var cautions = map[string]notice.Grade{
	"case":     notice.Caution, // water, lifting, children
	"battery":  notice.Warning, // high current, fuses
	"damaged":  notice.Warning, // swollen, leaking
	"freezing": notice.Warning, // lithium below 0 °C
	"hydrogen": notice.Warning, // lead-acid
	"mains":    notice.Danger,  // the inverter's volts, back-feeding
	"panels":   notice.Warning, // live in daylight
	"joining":  notice.Danger,  // polarity, unlike volts, fuses
	"vehicle":  notice.Warning, // the fuse of its socket
	"life":     notice.Warning, // life-supporting equipment
	"engine":   notice.Danger,  // exhaust
}

// caution shows one of them at the place where it matters.
func caution(name string) app.UI { return room.Caution(name, cautions[name]) }
