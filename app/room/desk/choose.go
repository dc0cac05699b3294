package desk

import (
	"math"
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
// The kind of light brings its list of days, the kind of battery its marks.
//
// What comes with them is a start to edit from: common practice, no source.
const (
	drawEnd   = "/draw"
	coolerEnd = "/cooler"
	labelEnd  = "/label"
	lightAt   = "/sky/light"

	chemistryAt = "/case/battery/chemistry"
)

// choose makes such a choice. ok says that the pointer is one.
func choose(p *plan.Plan, pointer, text string) (done, ok bool) {
	if pointer == lightAt {
		p.Sky.Light = plan.LightKind(text)
		if p.Sky.Light == plan.ByPeakSun && len(p.Sky.PeakSunHours) == 0 {
			p.Sky.PeakSunHours = []float64{3}
		}
		if p.Sky.Light == plan.ByClearSky && len(p.Sky.ClearSkyIndex) == 0 {
			p.Sky.ClearSkyIndex = []float64{0.8}
		}
		return true, true
	}
	if pointer == chemistryAt {
		chooseChemistry(&p.Case.Battery, plan.Chemistry(text))
		return true, true
	}
	if d := deviceAt(p, pointer); d != nil {
		switch {
		case strings.HasSuffix(pointer, drawEnd):
			chooseDraw(d, text, p.Case.Inverter.OutputV)
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
			panel.Datasheet = sheetFor(panel.RatedW)
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
			switch {
			case d.RefillWh != nil:
				return "refill_Wh", true
			case d.CurrentA != nil:
				return "current_A", true
			}
			return "power_W", true
		case strings.HasSuffix(pointer, coolerEnd):
			return yes(d.DutyAtC != nil), true
		}
	}
	if panel := panelAt(p, pointer); panel != nil && strings.HasSuffix(pointer, labelEnd) {
		return yes(panel.Datasheet != nil), true
	}
	return "", false
}

// chooseChemistry puts another kind of battery in. Its volts are others, so
// the marks go with it; without that, most changes would be refused.
func chooseChemistry(b *plan.Battery, c plan.Chemistry) {
	if marks, ok := plan.UsualMarks(c); ok && c != b.Chemistry {
		b.SetMarks(marks)
	}
	b.Chemistry = c
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

// chooseDraw says the draw in another way. Watts and amps are carried over by
// the volts of the route; a refill starts as one hour of the draw.
func chooseDraw(d *plan.Device, kind string, acVolts float64) {
	volts := map[plan.Route]float64{plan.RouteDC: 12, plan.RouteUSB: 5, plan.RouteAC: acVolts}[d.Route]
	if !(volts > 0) {
		volts = 12
	}
	watts := 10.0
	switch {
	case d.PowerW != nil:
		watts = *d.PowerW
	case d.CurrentA != nil:
		watts = *d.CurrentA * volts
	case d.RefillWh != nil:
		watts = *d.RefillWh
	}
	d.PowerW, d.CurrentA, d.RefillWh, d.RefillsPerDay = nil, nil, nil, 0
	switch kind {
	case "current_A":
		amps := min(round(watts/volts), 100)
		d.CurrentA = &amps
	case "refill_Wh":
		wh := min(round(watts), 5000)
		d.RefillWh, d.RefillsPerDay, d.DutyPct = &wh, 1, 100
		d.DutyAtC, d.InsideC = nil, nil
	default:
		w := min(round(watts), 5000)
		d.PowerW = &w
	}
}

func round(x float64) float64 { return math.Round(x*100) / 100 }

// sheetFor makes up the label of a panel of that power: the usual proportions
// of 36 cells, and more cells for a large panel so that its amps stay usual.
// Common practice, no source.
func sheetFor(watts float64) *plan.Datasheet {
	n := min(max(math.Ceil(watts/216), 1), 4)
	vmp := 18 * n
	imp := watts / vmp
	return &plan.Datasheet{
		IscA: math.Round(imp*1.06e4) / 1e4, VocV: 22 * n, ImpA: math.Round(imp*1e4) / 1e4, VmpV: vmp,
		AlphaIscPctPerK: 0.05, BetaVocPctPerK: -0.33, Cells: 36 * int(n),
	}
}
