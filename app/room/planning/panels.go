package planning

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/plan"
)

const panelsAt = "/panels/list"

// panelsFields is the list of panels and how they are joined.
func (s *sheet) panelsFields(f form) []app.UI {
	list := f.d.Plan().Panels.List
	items := make([]app.UI, len(list))
	for i := range list {
		items[i] = s.panel(f, i)
	}
	return []app.UI{
		caution("panels"),
		f.choice("/panels/joined"),
		app.Ul().ID("panels-list").Class("entries").Body(items...),
		s.undo(panelsAt),
		f.fault(panelsAt),
		app.Div().Class("adding").Body(
			app.Button().ID("panels-add").Class("small strong").Type("button").Text(words.T("panels.add")).OnClick(s.onAddPanel)),
	}
}

func (s *sheet) panel(f form, i int) app.UI {
	p := f.d.Plan().Panels.List[i]
	at := entryAt(panelsAt, i)
	open := s.rowOpen(panelsAt, i)
	name := p.Name
	if p.Count > 1 {
		name = words.T("device.many", p.Name, words.Amount(float64(p.Count), 0, ""))
	}
	body := []app.UI{
		app.Button().ID(widget.ID(at)+"-row").Class("entry-button").Type("button").Aria("expanded", open).
			OnClick(s.turnRow(panelsAt, i), panelsAt, i).Body(
			app.Span().Class("entry-name").Text(name),
			app.Span().Class("entry-day").Text(words.Plain(p.RatedW, "W")),
			app.Span().Class("entry-how").Text(words.Lies(p)),
		),
	}
	if open {
		body = append(body, app.Div().Class("entry-fields").Body(s.panelFields(f, at, i, &p)...))
	}
	return app.Li().ID(widget.ID(at)).Class("entry").Attr("data-open", open).Body(body...)
}

func (s *sheet) panelFields(f form, at string, i int, p *plan.Panel) []app.UI {
	fields := []app.UI{
		f.text(at + "/name"),
		f.amount(at + "/count"),
		f.amount(at + "/rated_W"),
		f.amount(at + "/loss_pct"),
		f.toggle(at+"/label", words.T("panels.label")),
	}
	if p.Datasheet != nil {
		sheet := at + "/datasheet"
		fields = append(fields,
			f.amount(sheet+"/isc_A"),
			f.amount(sheet+"/voc_V"),
			f.amount(sheet+"/imp_A"),
			f.amount(sheet+"/vmp_V"),
			f.amount(sheet+"/alpha_isc_pct_per_K"),
			f.amount(sheet+"/beta_voc_pct_per_K"),
			f.amount(sheet+"/cells"),
		)
	}
	fields = append(fields, s.lieFields(f, at, i, p)...)
	return append(fields, s.entryButtons(panelsAt, at, len(s.Desk.Plan().Panels.List)))
}

// onAddPanel adds a panel like the last one, or one of 100 W to the noon sun.
func (s *sheet) onAddPanel(ctx app.Context, e app.Event) {
	list := s.Desk.Plan().Panels.List
	n := len(list)
	var faults plan.Faults
	if n > 0 {
		faults = s.Desk.Copy(panelsAt, n-1)
	} else {
		noon := 180.0
		if s.Desk.Plan().Sky.LatitudeDeg < 0 {
			noon = 0
		}
		faults = s.Desk.Insert(panelsAt, 0, plan.NewPanel(words.T("panels.new"), 30, noon))
	}
	if faults == nil {
		s.Session.Rows[panelsAt] = n
		s.focus(ctx, widget.ID(entryAt(panelsAt, n))+"-name")
	}
}
