package main

import (
	"bufio"
	"fmt"
	"io"
	"math"

	"duskline/app/words"
	"duskline/calc/care"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// What there is to say of a battery for a person, at a terminal of 80 columns.

// writeCareText prints what the marks leave, what the alarm means and which to
// choose, what to do, how long the Case may lie, and what the trip costs.
func writeCareText(w io.Writer, p plan.Plan, c *cared) error {
	b := bufio.NewWriter(w) // keeps the first error for Flush
	title := func(key string) { fmt.Fprintf(b, "\n%s\n\n", words.T(key)) }
	fmt.Fprintf(b, "%s\n\n", words.T("tide.title"))
	writeTide(b, c.tide)
	title("alarmset.title")
	writeAlarms(b, p, c)
	title("after_alarm.title")
	writeActions(b, p, c.alarms)
	title("standing.title")
	writeStorage(b, c.storage)
	title("life.title")
	writeLife(b, c.life)
	return b.Flush()
}

func writeTide(w io.Writer, t *care.Tide) {
	rows := [][]string{{words.T("column.load"), words.T("column.alarm_left"), words.T("column.cutoff_left")}}
	for k := range t.Lines {
		if l := &t.Lines[k]; l.Kind != care.OnCharge {
			rows = append(rows, []string{words.TideLine(l), words.Passed(l.Alarm), words.Passed(l.CutOff)})
		}
	}
	writeRows(w, rows)
}

func writeAlarms(w io.Writer, p plan.Plan, c *cared) {
	a := c.alarms
	usual := words.Watts(a.Usual.Watts)
	for k := range c.tide.Lines {
		if l := &c.tide.Lines[k]; l.Kind == care.AtUsual {
			usual = words.Watts(qty.Watt(math.Abs(float64(l.Watts))))
		}
	}
	for _, says := range words.AlarmSays(&a.Set, usual, p) {
		fmt.Fprintln(w, wrap(says, columns, 0))
	}
	fmt.Fprintln(w)
	rows := [][]string{{words.T("column.alarm_at"), words.T("column.at_rest"), words.T("column.at_usual"), words.T("column.at_largest"),
		words.T("column.in_cold"), words.T("column.to_cutoff")}}
	for k := range a.Candidates {
		o := &a.Candidates[k]
		rows = append(rows, []string{words.AlarmName(o, k == a.Chosen, a.Set.Volts), words.AlarmReading(&o.Rest), words.AlarmReading(&o.Usual),
			words.AlarmReading(&o.Largest), words.AlarmReading(&o.Cold), words.AlarmTime(&o.Usual)})
	}
	writeRows(w, rows)
	fmt.Fprintln(w)
	for k := range a.Why {
		fmt.Fprintln(w, wrap(words.AlarmWhy(&a.Why[k], p), columns, 0))
	}
	fmt.Fprintln(w, wrap(words.T("alarmset.bounds"), columns, 0))
}

func writeActions(w io.Writer, p plan.Plan, a *care.Alarms) {
	switch {
	case a.Set.Usual.Never:
		fmt.Fprintln(w, wrap(words.T("after_alarm.now"), columns, 0))
	case a.FromEndless:
		fmt.Fprintln(w, wrap(words.T("after_alarm.endless"), columns, 0))
	default:
		fmt.Fprintln(w, wrap(words.T("after_alarm.nothing", words.Minutes(a.FromMinutes, false)), columns, 0))
	}
	for k := range a.Do {
		d := &a.Do[k]
		line := fmt.Sprintf("%d. %s", k+1, words.Action(d, p))
		if gain := words.ActionGain(d); gain != "" {
			line += ": " + gain
		}
		fmt.Fprintln(w, wrap(line, columns, 3))
	}
}

func writeStorage(w io.Writer, s *care.Storage) {
	var mode care.StoreMode
	var rows [][]string
	flush := func() {
		if len(rows) > 0 {
			fmt.Fprintf(w, "%s\n", wrap(words.T("table.standing", words.StoreMode(mode), words.Percent(s.From)), columns, 0))
			writeRows(w, rows)
		}
		rows = nil
	}
	for k := range s.Clocks {
		c := &s.Clocks[k]
		if c.Mode != mode {
			flush()
			if mode != "" {
				fmt.Fprintln(w)
			}
			mode = c.Mode
			rows = [][]string{{words.T("column.kept_at"), words.T("column.to_alarm"), words.T("column.to_cut"), words.T("column.to_harm"), words.T("column.top_up")}}
		}
		if !c.Kept && c.At == s.Kept {
			continue // stands first already
		}
		rows = append(rows, []string{words.Temperature(c.At), words.Within(c.Alarm), words.Within(c.CutOff), harmed(c), words.Within(c.TopUp)})
	}
	flush()
	fmt.Fprintf(w, "\n%s\n", wrap(words.T("standing.low"), columns, 0))
}

// harmed is when the battery is harmed, and by what.
func harmed(c *care.Clock) string {
	if c.By == "" {
		return words.Within(c.Harm)
	}
	return words.Within(c.Harm) + ", " + words.T("harm."+string(c.By))
}

func writeLife(w io.Writer, l *care.Life) {
	rows := [][]string{
		{words.T("life_row.health"), words.Percent(l.Health)},
		{words.T("life_row.growth"), words.Plain(round(l.Growth, 2), "")},
		{words.T("life_row.cycles"), words.Plain(round(l.Cycles, 2), "")},
		{words.T("life_row.deepest"), words.Percent(l.Deepest)},
		{words.T("life_row.loss"), words.ShareBand(l.Low, l.High)},
	}
	if !l.Worn {
		rows = append(rows,
			[]string{words.T("life_row.share"), words.ShareBand(qty.Fraction(l.Share.Low), qty.Fraction(l.Share.High))},
			[]string{words.T("life_row.years"), words.YearBand(l.Years)})
	}
	writeRows(w, rows)
	fmt.Fprintf(w, "\n%s\n", words.T("table.keeping"))
	rows = [][]string{{words.T("column.kept_charge"), words.T("column.temperature"), words.T("column.lost_year")}}
	for _, k := range l.Keeping {
		rows = append(rows, []string{words.Percent(k.Charge), words.Temperature(k.At), words.ShareBand(k.Low, k.High)})
	}
	writeRows(w, rows)
	key := "life.models"
	if l.Practice {
		key = "life.practice"
	}
	fmt.Fprintf(w, "\n%s\n", wrap(words.T(key), columns, 0))
	if l.Beyond {
		fmt.Fprintln(w, wrap(words.T("life.beyond"), columns, 0))
	}
}
