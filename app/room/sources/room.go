// Package sources is the room that says what the numbers rest on, whose work
// the app uses, and what it cannot answer for.
package sources

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/app/words"
	"duskline/calc/ref"
)

const path = "/sources/"

// Room is the sources room.
type Room struct {
	app.Compo

	Session *room.Session // nil: the app's own
}

func (r *Room) OnMount(ctx app.Context) { r.session().Start(ctx) }

// OnNav sets the title of the page.
func (r *Room) OnNav(ctx app.Context) {
	r.session().Arrive(words.T("frame.title", words.T("room.sources")))
}

func (r *Room) session() *room.Session {
	if r.Session == nil {
		return room.Here()
	}
	return r.Session
}

// kinds orders the sources from the best kept to the least, with the ends of
// their catalogue keys.
var kinds = []struct {
	kind ref.Kind
	key  string
}{
	{ref.Published, "published"},
	{ref.Cited, "cited"},
	{ref.Library, "library"},
	{ref.Definition, "definition"},
	{ref.Practice, "practice"},
	{ref.Memory, "memory"},
}

// cautions are the ends of the keys of what has to be said on this page.
var cautions = []string{"figures", "codes", "life", "privacy"}

// works are those whose licences ask to be named.
var works = []string{"towns", "font", "vectors", "goapp", "text"}

func (r *Room) Render() app.UI {
	body := []app.UI{
		app.H1().Text(words.T("room.sources")),
		app.P().Text(words.T("sources.lead")),
		app.H2().Text(words.T("sources.cautions")),
	}
	list := make([]app.UI, len(cautions))
	for i, c := range cautions {
		list[i] = app.Li().Text(words.T("sources_caution." + c))
	}
	body = append(body, app.Ul().Body(list...), app.H2().Text(words.T("sources.numbers")))
	for _, k := range kinds {
		var rows []app.UI
		for _, s := range ref.Table {
			if s.Kind == k.kind {
				rows = append(rows, row(s))
			}
		}
		if len(rows) == 0 {
			continue
		}
		body = append(body,
			app.H3().ID("sources-"+k.key).Text(words.T("source_kind."+k.key)),
			app.P().Class("help").Text(words.T("source_kind_help."+k.key)),
			app.Dl().Class("sources").DataSet("kind", k.key).Body(rows...))
	}
	body = append(body, app.H2().Text(words.T("sources.works")))
	for _, w := range works {
		body = append(body, app.P().Text(words.T("sources_work."+w)))
	}
	return room.Page(r.session(), path, app.Main().ID("main").TabIndex(-1).Class("leaf").Body(body...))
}

// row is one source. An address of the web is a link; it opens beside the
// app, which goes on without a signal.
func row(s ref.Source) app.UI {
	cite := []app.UI{app.Text(s.Cite)}
	switch {
	case strings.HasPrefix(s.Where, "doi:"):
		cite = append(cite, app.Text(" "), link("https://doi.org/"+strings.TrimPrefix(s.Where, "doi:"), s.Where))
	case strings.HasPrefix(s.Where, "https://"):
		cite = append(cite, app.Text(" "), link(s.Where, s.Where))
	case s.Where != "":
		cite = append(cite, app.Text(" "+s.Where))
	}
	return app.Div().ID("source-"+s.Key).Body(app.Dt().Text(s.Key), app.Dd().Body(cite...))
}

func link(to, text string) app.UI {
	return app.A().Href(to).Target("_blank").Rel("noopener noreferrer").Text(text)
}
