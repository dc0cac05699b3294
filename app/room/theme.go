package room

import "github.com/maxence-charriere/go-app/v9/pkg/app"

// Themes lists the looks in the order in which the button goes through them.
// The names are values of data-theme and ends of catalogue keys.
var Themes = []string{"day", "glare", "night"}

// skies are the colours of the browser's own bars.
var skies = map[string]string{"day": "#f7efe0", "glare": "#ffffff", "night": "#0d0605"}

// Theme returns the look in use.
func (s *Session) Theme() string {
	t := s.Shelf.Setting(settingTheme)
	if _, ok := skies[t]; !ok {
		return Themes[0]
	}
	return t
}

// NextTheme switches to the next look and keeps it.
func (s *Session) NextTheme() {
	now := s.Theme()
	for i, t := range Themes {
		if t == now {
			s.Shelf.Set(settingTheme, Themes[(i+1)%len(Themes)])
			break
		}
	}
	s.showTheme()
}

func (s *Session) showTheme() {
	if app.IsServer {
		return
	}
	document := app.Window().Get("document")
	document.Get("documentElement").Call("setAttribute", "data-theme", s.Theme())
	if meta := document.Call("querySelector", `meta[name="theme-color"]`); meta.Truthy() {
		meta.Call("setAttribute", "content", skies[s.Theme()])
	}
}
