package planning

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room/desk"
	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/notice"
	"duskline/calc/plan"
)

const (
	panelsAt = "/panels/list"
	joinedAt = "/panels/joined"
)

// panelsFields is the list of panels and how they are joined.
func (s *sheet) panelsFields(f form) []app.UI {
	p := f.d.Plan()
	list := p.Panels.List
	items := make([]app.UI, len(list))
	for i := range list {
		items[i] = s.panel(f, i)
	}
	return []app.UI{
		caution("panels"),
		app.Ul().ID("panels-list").Class("entries").Body(items...),
		s.undo(panelsAt),
		f.fault(panelsAt),
		app.Div().Class("adding").Body(
			app.Div().Class("row").Body(
				app.Button().ID("panels-add").Class("small strong").Type("button").Text(words.T("panels.add")).OnClick(s.onAddPanel),
				app.Button().ID("panels-add-label").Class("small").Type("button").Text(words.T("panels.add_label")).OnClick(s.onAddLabel),
			)),
		group(words.T("group.joined"), s.joinedFields(f)...),
	}
}

// joinedFields is how the panels come together, and the way to the Case.
func (s *sheet) joinedFields(f form) []app.UI {
	p := f.d.Plan()
	fields := []app.UI{
		&widget.Choice{Host: joinHost{f.d}, Pointer: joinedAt, Options: widget.Options(joinedAt), Text: f.d.Text(joinedAt), Fault: f.d.Fault(joinedAt)},
		&wiring{Desk: f.d, Version: f.d.Version(), Width: s.inner(), Tongue: words.Current()},
		said(f.d, notice.PanelOverVolts, notice.PanelOverPWM, notice.PanelTooLow),
		s.finer("wiring", words.Cable(p.Panels), func() []app.UI {
			return []app.UI{
				f.amount("/panels/cable_m"),
				f.choice("/panels/cable_gauge"),
				cableSaid(p),
				f.amount("/panels/blocking_V"),
			}
		}),
	}
	if len(p.Panels.List) > 1 || len(p.Panels.List) == 1 && p.Panels.List[0].Count > 1 {
		fields = append(fields, caution("joining"))
	}
	return fields
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
	}
	if f.d.Plan().Panels.Joined == plan.InStrings {
		fields = append(fields, f.amount(at+"/string"))
	}
	fields = append(fields, f.toggle(at+"/label", words.T("panels.label")))
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
	fields = append(fields, s.finer("panel", words.PanelFiner(*p), func() []app.UI {
		return []app.UI{
			f.choice(at + "/technology"),
			f.amount(at + "/age_years"),
			f.choice(at + "/back"),
			f.amount(at + "/series_fuse_A"),
		}
	}))
	fields = append(fields, s.lieFields(f, at, i, p)...)
	return append(fields, s.entryButtons(panelsAt, at, len(s.Desk.Plan().Panels.List)))
}

// onAddPanel adds a panel like the last one, or one of 100 W to the noon sun.
func (s *sheet) onAddPanel(ctx app.Context, e app.Event) { s.addPanel(ctx, false) }

// onAddLabel adds a panel of which the label is at hand.
func (s *sheet) onAddLabel(ctx app.Context, e app.Event) { s.addPanel(ctx, true) }

func (s *sheet) addPanel(ctx app.Context, label bool) {
	list := s.Desk.Plan().Panels.List
	n := len(list)
	var fresh plan.Panel
	if n > 0 {
		fresh = desk.Clone(*s.Desk.Plan()).Panels.List[n-1]
	} else {
		noon := 180.0
		if s.Desk.Plan().Sky.LatitudeDeg < 0 {
			noon = 0
		}
		fresh = plan.NewPanel(words.T("panels.new"), 30, noon)
	}
	if label && fresh.Datasheet == nil {
		if d, err := fresh.GenericLabel(); err == nil {
			fresh.Datasheet = &d
		}
	}
	if s.Desk.Insert(panelsAt, n, fresh) == nil {
		s.Session.Rows[panelsAt] = n
		s.focus(ctx, widget.ID(entryAt(panelsAt, n))+"-name")
	}
}

// joinHost takes how the panels are joined. Who has them side by side and says
// strings begins with a string for each kind: all of them on one would be end
// to end.
type joinHost struct{ desk *desk.Desk }

// Enter takes what was chosen.
func (h joinHost) Enter(pointer, text string) {
	p := h.desk.Plan().Panels
	if plan.Joined(text) == plan.InStrings && p.Joined == plan.SideBySide && oneString(p) && h.desk.Change(inStrings) == nil {
		return
	}
	h.desk.Enter(pointer, text)
}

// EnterHours is for fields of hours, which this is not.
func (h joinHost) EnterHours(string, []plan.Window) {}

// Leave is the end of typing.
func (h joinHost) Leave(pointer string) { h.desk.Leave(pointer) }

// Drop goes back to the plan's own.
func (h joinHost) Drop(pointer string) { h.desk.Drop(pointer) }

func oneString(p plan.Panels) bool {
	for _, l := range p.List {
		if l.String != p.List[0].String {
			return false
		}
	}
	return true
}

func inStrings(p *plan.Plan) {
	p.Panels.Joined = plan.InStrings
	for i := range p.Panels.List {
		p.Panels.List[i].String = i + 1
	}
}
