package main

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"time"
	"unicode/utf8"

	"duskline/app/words"
	"duskline/calc/civil"
	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// The form for a person, at a terminal of 80 columns.

const columns = 79

// writeReport prints the answer, its figures, the notices, a row every so
// often with the events between, the Ledger, and the positions of the switch.
func writeReport(w io.Writer, p plan.Plan, o *outlook.Outlook, idle []outlook.Position, every time.Duration) error {
	b := bufio.NewWriter(w) // keeps the first error for Flush
	lead, why := words.Reason(o, p)
	fmt.Fprintf(b, "%s.\n%s\n\n", words.Verdict(o.Verdict), wrap(lead+" "+why, columns, 0))

	f := &o.Figures
	noSun := words.Duration(f.NoSun)
	if f.NoSunEndless {
		noSun = words.T("figure.more_than", noSun)
	}
	writeRows(b, [][]string{
		{words.T("figure.no_sun"), noSun},
		{words.T("figure.lowest"), words.T("figure.lowest_at", words.Percent(f.Lowest), words.Moment(f.LowestAt, p.Trip.Start))},
		{words.T("figure.day"), words.Energy(f.DrawADay)},
		{words.T("figure.idle"), words.Energy(f.IdleADay)},
		{words.T("figure.sun"), words.Energy(f.SunADay)},
		{words.T("figure.core"), words.T("figure.core_from_to", words.Temperature(f.CoreLowest), words.Temperature(f.CoreHighest))},
		{words.T("figure.night"), words.T("figure.night_takes", words.Percent(f.Safe.Night))},
		{words.T("figure.stop"), words.SafeLeast(f.Safe)},
	})
	for _, n := range o.Notices {
		fmt.Fprintf(b, "\n%s\n", wrap(words.Notice(n, p, p.Trip.Start).String(), columns, 0))
	}
	fmt.Fprintln(b)
	writeDays(b, p, o)
	writeMoves(b, p)
	fmt.Fprintln(b)
	writeTimes(b, p, o, every)
	fmt.Fprintln(b)
	writeLedger(b, p, o)
	fmt.Fprintln(b)
	writePositions(b, idle)
	return b.Flush()
}

// writePositions prints what each position of the main switch costs with
// nothing plugged in, and how long a full battery bears it.
func writePositions(w io.Writer, idle []outlook.Position) {
	fmt.Fprintf(w, "%s\n\n", wrap(words.T("table.idle"), columns, 0))
	rows := [][]string{{words.T("field.case.switch"), words.T("column.an_hour"), words.T("column.a_night"), words.T("column.a_day"), words.T("column.empties")}}
	for _, x := range idle {
		lasts := words.T("idle.never")
		if !x.Endless {
			lasts = words.Duration(time.Duration(x.Hours * float64(time.Hour)))
		}
		rows = append(rows, []string{words.Switch(x.Switch), words.Energy(x.AnHour), words.Energy(x.ANight), words.Energy(x.ADay), lasts})
	}
	writeRows(w, rows)
}

// writeDays prints the sun's times and the light of every day, on the panels
// or, without any, on level ground.
func writeDays(w io.Writer, p plan.Plan, o *outlook.Outlook) {
	light := words.T("column.on_panels")
	if len(p.Panels.List) == 0 {
		light = words.T("column.on_level")
	}
	rows := [][]string{{words.T("column.day"), light, words.T("column.clear"),
		words.T("column.dawn"), words.T("column.sunrise"), words.T("column.sunset"), words.T("column.dusk")}}
	clock := func(t, other time.Time, none string) string {
		switch {
		case !t.IsZero():
			return words.Clock(t)
		case other.IsZero(): // of a pair, both are missing: the sun stays where it is
			return none
		}
		return "–"
	}
	for _, d := range o.Days {
		up := "–"
		switch d.State {
		case outlook.PolarDay:
			up = words.T("sun.stays_up")
		case outlook.PolarNight:
			up = words.T("sun.stays_down")
		}
		rows = append(rows, []string{words.ShortWeekday(d.Midnight) + " " + words.Date(d.Midnight),
			words.Insolation(d.OnPanels), words.Insolation(d.Ceiling),
			clock(d.CivilDawn, d.CivilDusk, "–"), clock(d.Rise, d.Set, up), clock(d.Set, d.Rise, up), clock(d.CivilDusk, d.CivilDawn, "–")})
	}
	writeRows(w, rows)
}

// writeMoves says when the clock of the place is moved during the trip.
func writeMoves(w io.Writer, p plan.Plan) {
	was, changes := civil.Offsets(p.Trip.Start, p.Trip.Start.Add(time.Duration(p.Trip.LengthH*float64(time.Hour))))
	for _, c := range changes {
		at := func(offset time.Duration) time.Time {
			return c.At.In(time.FixedZone("", int(offset/time.Second)))
		}
		key := "zone.forward"
		if c.Offset < was {
			key = "zone.back"
		}
		said := words.T(key, words.Day(at(was)), words.Clock(at(was)), words.Clock(at(c.Offset)))
		fmt.Fprintf(w, "\n%s\n", wrap(said, columns, 0))
		was = c.Offset
	}
}

// writeTimes prints a row every so often and one for the end, and every event
// at its time.
func writeTimes(w io.Writer, p plan.Plan, o *outlook.Outlook, every time.Duration) {
	clock := func(at time.Time) string {
		at = at.In(p.Trip.Start.Location())
		return words.ShortWeekday(at) + " " + words.Date(at) + " " + words.Clock(at)
	}
	rows := [][]string{{words.T("column.time"), words.T("column.charge"), words.T("column.volts"),
		words.T("column.in"), words.T("column.out")}}
	s := &o.Series
	next, event, last := s.Start, 0, len(s.Charge)-1
	for i := range s.Charge {
		now := s.Time(i)
		for ; event < len(o.Events) && !o.Events[event].At.After(now); event++ {
			e := o.Events[event]
			rows = append(rows, []string{clock(e.At), words.Event(e, p)})
		}
		if i != last && now.Before(next) {
			continue
		}
		next = now.Add(every)
		rows = append(rows, []string{clock(now), words.Percent(s.Charge[i]), words.Volts(s.Volts[i]),
			words.Amps(s.AmpsIn[i]), words.Amps(s.AmpsOut[i])})
	}
	writeRows(w, rows)
}

// writeLedger prints what came, what went, and what stayed outside.
func writeLedger(w io.Writer, p plan.Plan, o *outlook.Outlook) {
	l := &o.Ledger
	rows := [][]string{{words.T("column.flow"), words.T("column.energy")}}
	add := func(name string, e qty.WattHour) {
		if e > 0 {
			rows = append(rows, []string{name, words.Energy(e)})
		}
	}
	flows := func(list []outlook.Flow) {
		for _, f := range list {
			add(words.Flow(f, p), f.Energy)
		}
	}
	flows(l.Sources)
	add(words.T("flow.from_battery"), -l.Change)
	rows = append(rows, nil)
	flows(l.Uses)
	flows(l.Losses)
	add(words.T("flow.into_battery"), l.Change)
	if l.NotTaken > 0 || l.NotGiven > 0 {
		rows = append(rows, nil)
	}
	add(words.T("flow.not_taken"), l.NotTaken)
	add(words.T("flow.not_given"), l.NotGiven)
	writeRows(w, rows)
}

// writeRows prints cells in columns. A row with fewer cells than the first
// ends in text that takes the room of all columns behind it.
func writeRows(w io.Writer, rows [][]string) {
	full := len(rows[0])
	width := make([]int, full)
	for _, row := range rows {
		for i, cell := range row {
			if i < len(row)-1 || len(row) == full {
				width[i] = max(width[i], utf8.RuneCountInString(cell)+2)
			}
		}
	}
	for _, row := range rows {
		line, at := "", 0
		for i, cell := range row {
			if i == len(row)-1 {
				line += wrap(cell, columns-at, at)
				break
			}
			line += cell + strings.Repeat(" ", width[i]-utf8.RuneCountInString(cell))
			at += width[i]
		}
		fmt.Fprintln(w, line)
	}
}

// wrap breaks text at its spaces into lines of at most so many characters; the
// lines after the first are set in. Numbers keep their units: the space
// between them is one that does not break.
func wrap(text string, most, indent int) string {
	var b strings.Builder
	used := 0
	for i, word := range strings.Split(text, " ") {
		n := utf8.RuneCountInString(word)
		switch {
		case i == 0:
		case used+1+n > most:
			b.WriteString("\n" + strings.Repeat(" ", indent))
			used = 0
		default:
			b.WriteByte(' ')
			used++
		}
		b.WriteString(word)
		used += n
	}
	return b.String()
}
