package desk

import (
	"strings"

	"duskline/calc/plan"
)

// Choices that bring other fields with them stand at places of their own,
// which the document does not have:
//
//	/gear/0/draw        power_W, current_A or refill_Wh
//	/gear/0/cooler      true: its duty follows the outside temperature
//	/panels/list/0/label  true: the five figures of the datasheet are given
//
// The kind of light brings its list of days, the meter's unit its readings,
// the kind of battery its marks, see chemistry.go; lithium of one's own table
// has no change of volts with the heat.
//
// What comes with them is a start to edit from: common practice, no source.
const (
	drawEnd   = "/draw"
	coolerEnd = "/cooler"
	labelEnd  = "/label"
	lightAt   = "/sky/light"

	meterUnitAt = "/sky/meter_unit"

	chemistryAt = "/case/battery/chemistry"
	lithiumAt   = "/case/battery/own/lithium"
)

// choose makes such a choice. ok says that the pointer is one.
func choose(p *plan.Plan, pointer, text string) (done, ok bool) {
	switch pointer {
	case lightAt:
		// A weather file that is not there yet: Check refuses the choice, so that
		// it waits in its field, where the page has the way to take one.
		p.ChooseLight(plan.LightKind(text))
		return true, true
	case meterUnitAt:
		p.Sky.RestateMeter(plan.MeterUnit(text))
		return true, true
	case chemistryAt:
		chooseChemistry(&p.Case.Battery, plan.Chemistry(text))
		return true, true
	case lithiumAt:
		// Its volts do not follow the heat any more.
		b := &p.Case.Battery
		if b.Own == nil {
			return false, true
		}
		b.Own.Lithium = text == "true"
		fitStages(b)
		return true, true
	}
	if d := deviceAt(p, pointer); d != nil {
		switch {
		case strings.HasSuffix(pointer, drawEnd):
			d.RestateDraw(plan.DrawKind(text), p.Case.Inverter.OutputV)
			return true, true
		case strings.HasSuffix(pointer, coolerEnd):
			d.DutyAtC, d.InsideC = nil, nil
			if text == "true" {
				outside, inside := 25.0, 4.0
				d.DutyAtC, d.InsideC = &outside, &inside
			}
			return true, true
		}
	}
	if panel := panelAt(p, pointer); panel != nil && strings.HasSuffix(pointer, labelEnd) {
		panel.Datasheet = nil
		if text == "true" {
			label, err := panel.GenericLabel()
			if err != nil {
				return false, true // no such panel in a checked Plan
			}
			panel.Datasheet = &label
		}
		return true, true
	}
	return false, false
}

// chosen returns what stands chosen there.
func chosen(p *plan.Plan, pointer string) (text string, ok bool) {
	if d := deviceAt(p, pointer); d != nil {
		switch {
		case strings.HasSuffix(pointer, drawEnd):
			return string(d.Draw()), true
		case strings.HasSuffix(pointer, coolerEnd):
			return yes(d.DutyAtC != nil), true
		}
	}
	if panel := panelAt(p, pointer); panel != nil && strings.HasSuffix(pointer, labelEnd) {
		return yes(panel.Datasheet != nil), true
	}
	return "", false
}

func yes(b bool) string {
	if b {
		return "true"
	}
	return "false"
}

func deviceAt(p *plan.Plan, pointer string) *plan.Device {
	if parts := strings.Split(pointer, "/"); len(parts) == 4 && parts[1] == "gear" {
		if v, ok := find(p, strings.Join(parts[:3], "/")); ok {
			return v.Addr().Interface().(*plan.Device)
		}
	}
	return nil
}

func panelAt(p *plan.Plan, pointer string) *plan.Panel {
	if parts := strings.Split(pointer, "/"); len(parts) == 5 && parts[1] == "panels" {
		if v, ok := find(p, strings.Join(parts[:4], "/")); ok {
			return v.Addr().Interface().(*plan.Panel)
		}
	}
	return nil
}
