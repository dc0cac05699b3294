// Package room is what all rooms of the app share: the list of rooms, the
// page frame around them, and the session: the open plan and the shelf it
// came from.
package room

import "github.com/maxence-charriere/go-app/v9/pkg/app"

// A Place is one room as the bar shows it.
type Place struct {
	Path  string // "/plans/"; the page's address behind the site's folder
	Label string // catalogue key
}

// Places lists the rooms in the order of the bar. A new room is one line
// here and its route in cmd/client.
var Places = []Place{
	{"/", "room.plan"},
	{"/pairing/", "room.pairing"},
	{"/plans/", "room.plans"},
	{"/sources/", "room.sources"},
}

// Href returns the address of a room, wherever the site lies on its host.
func Href(path string) string { return app.Getenv("GOAPP_ROOT_PREFIX") + path }
