package planning

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room/desk"
)

// idling is what each position of the main switch costs with nothing plugged
// in.
type idling struct {
	app.Compo

	Desk    *desk.Desk
	Version int

	open bool
}

func (t *idling) Render() app.UI { return app.Div() }
