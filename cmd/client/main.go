// Command client is Duskline in the browser: the routes and the start. It is
// the only WebAssembly main.
//
// The same program runs in workers, on the module that the boot script keeps in
// globalThis.appModule. A worker has no document: there it does the one job
// that it was started for, and go-app never starts.
package main

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/app/room/pairing"
	"duskline/app/room/planning"
	"duskline/app/room/shelf"
	"duskline/app/room/sources"
	"duskline/app/work"
)

// rooms makes the room of each place in room.Places.
var rooms = map[string]func() app.Composer{
	"/":         func() app.Composer { return &planning.Room{} },
	"/pairing/": func() app.Composer { return &pairing.Room{} },
	"/plans/":   func() app.Composer { return &shelf.Room{} },
	"/sources/": func() app.Composer { return &sources.Room{} },
}

func main() {
	if app.IsClient && !app.Window().Get("document").Truthy() {
		work.Serve(work.Jobs)
		return
	}
	for _, p := range room.Places {
		app.RouteFunc(p.Path, rooms[p.Path])
		// An address typed without its last slash, before the server or the
		// service worker could add it.
		app.RouteFunc(strings.TrimSuffix(p.Path, "/"), rooms[p.Path])
	}
	app.RunWhenOnBrowser()
}
