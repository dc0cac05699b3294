package planning

import (
	"math"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/draw"
	"duskline/app/words"
	"duskline/calc/care"
	"duskline/calc/qty"
)

// tideCard is the tide gauge: why volts mislead.
func (c *batteryCare) tideCard() []app.UI {
	drawn := tideOf(c.tide)
	if len(drawn.Lines) == 0 {
		return nil
	}
	core, key := "", words.T("tide.key")
	if _, ok := voltsAt(c.tide, care.AtLargest, 0.9); ok {
		key += " " + words.T("tide.hardest")
	}
	if o := c.Desk.Outlook(); o != nil {
		core = words.T("tide.core", words.Temperature(o.Figures.CoreLowest), words.Temperature(o.Figures.CoreHighest))
	}
	return []app.UI{card("tide", "tide.title",
		reading(tideSaid(c.tide)),
		picture(draw.DrawTide(drawn, draw.Frame{ID: "g", Width: c.Width})),
		app.P().Class("help").Text(key),
		reading(core),
		c.tables("tide-numbers", "tide", tableAs{"table-tide-marks", passTable(c.tide)}, tableAs{"table-tide", tideTable(c.tide)}),
	)}
}

// tideOf is a tide as the picture takes it. The volts after charging stand in
// the table alone: on the picture they would hide those at rest.
func tideOf(t *care.Tide) draw.Tide {
	d := draw.Tide{Alarm: t.Marks.Alarm, CutOff: t.Marks.CutOff}
	for i := range t.Lines {
		l := &t.Lines[i]
		if l.Kind == care.AfterCharge || len(l.Volts) != len(t.Charges) {
			continue
		}
		line := draw.TideLine{Kind: draw.TideKind(l.Kind), Name: words.TideLine(l), AtAlarm: passed(l.Alarm), AtCutOff: passed(l.CutOff)}
		for k, v := range l.Volts {
			line.Points = append(line.Points, draw.TidePoint{Charge: t.Charges[k], V: v})
		}
		d.Lines = append(d.Lines, line)
	}
	return d
}

// passed is the charge at a mark, NaN for a mark that is never passed.
func passed(p care.Pass) qty.Fraction {
	if p.Above {
		return qty.Fraction(math.NaN())
	}
	return p.Charge
}

// voltsAt reads a line at a charge; ok is false where there are none.
func voltsAt(t *care.Tide, kind care.LineKind, charge qty.Fraction) (v qty.Volt, ok bool) {
	for i := range t.Lines {
		l := &t.Lines[i]
		if l.Kind != kind || len(l.Volts) != len(t.Charges) {
			continue
		}
		for k := 1; k < len(t.Charges); k++ {
			if a, b := t.Charges[k-1], t.Charges[k]; charge >= a && charge <= b && b > a && l.Volts[k-1] > 0 && l.Volts[k] > 0 {
				share := float64((charge - a) / (b - a))
				return l.Volts[k-1] + qty.Volt(share*float64(l.Volts[k]-l.Volts[k-1])), true
			}
		}
	}
	return 0, false
}

// tideSaid says what the picture shows: how much the volts tell of the charge
// and how much of the load.
func tideSaid(t *care.Tide) string {
	high, okHigh := voltsAt(t, care.AtRest, 0.8)
	low, okLow := voltsAt(t, care.AtRest, 0.2)
	half, okHalf := voltsAt(t, care.AtRest, 0.5)
	pulled, ok := voltsAt(t, care.AtLargest, 0.5)
	if !ok {
		pulled, ok = voltsAt(t, care.AtUsual, 0.5)
	}
	if !okHigh || !okLow {
		return ""
	}
	fall := words.Millivolts(high - low)
	switch {
	case !ok || !okHalf:
		return words.T("tide.rest", fall)
	case half-pulled > high-low:
		return words.T("tide.flat", fall, words.Millivolts(half-pulled))
	}
	return words.T("tide.sloped", fall, words.Millivolts(half-pulled))
}

// passTable is what is left at the marks for each line.
func passTable(t *care.Tide) draw.Table {
	out := draw.Table{Caption: words.T("table.tide_marks"),
		Head: []string{words.T("column.load"), words.T("column.alarm_left"), words.T("column.cutoff_left")}}
	for i := range t.Lines {
		l := &t.Lines[i]
		if l.Kind == care.OnCharge {
			continue
		}
		out.Rows = append(out.Rows, []string{words.TideLine(l), words.Passed(l.Alarm), words.PassedCutOff(l.CutOff)})
	}
	return out
}

// tideTable is the volts of all lines at every tenth of charge.
func tideTable(t *care.Tide) draw.Table {
	out := draw.Table{Caption: words.T("table.tide"), Head: []string{words.Column("charge")}}
	for i := range t.Lines {
		out.Head = append(out.Head, words.TideLine(&t.Lines[i]))
	}
	for n := 10; n >= 0; n-- {
		at := qty.Fraction(n) / 10
		row := []string{words.Percent(at)}
		for i := range t.Lines {
			cell := "–"
			if v, ok := voltsAt(t, t.Lines[i].Kind, at); ok {
				cell = words.Amount(float64(v), 2, "V")
			}
			row = append(row, cell)
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}
