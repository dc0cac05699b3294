package pairing

import (
	"slices"

	"duskline/app/room"
	"duskline/app/words"
	core "duskline/calc/pairing"
	"duskline/calc/plan"
)

// named is a rung's panels with a name for each: the core has no words for
// generic ones.
func (v *view) named(r *core.Rung) plan.Panels {
	p := r.Panels
	p.List = slices.Clone(p.List)
	for i := range p.List {
		if p.List[i].Name == "" {
			p.List[i].Name = words.T("pairing.name", words.Plain(p.List[i].RatedW, "W"))
		}
	}
	return p
}

// take puts a rung's panels into the plan.
func (v *view) take(k string) {
	r, _, ok := v.rung(k)
	if !ok || !v.fresh || r.Fit.Bars() && !v.r.know {
		return
	}
	panels := v.named(r)
	faults := v.s.Pairing.UsePanels(panels, v.l.Sky, room.Notice{Key: "pairing.used", Args: []any{words.PanelSet(panels)}})
	v.r.refused = ""
	if faults != nil {
		v.r.refused = words.T("pairing.refused", words.FaultLine(faults[0]))
		return
	}
	if k[:1] == ownedKey {
		v.r.open = "" // the plan's own panels are others now
	}
}
