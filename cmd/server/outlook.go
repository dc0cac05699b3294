package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"
	"text/tabwriter"
	"time"

	"duskline/app/words"
	"duskline/calc/outlook"
	"duskline/calc/plan"
)

const outlookHelp = `Usage: duskline outlook [-json | -csv] [-every 3h] PLAN.json

Run a Plan and say how it ends: the verdict, a table, the events and where
the energy went. "-" as the file reads standard input.

Exit status: 0 Holds, 1 Tight, 2 Runs out, 64 a bad document (its faults are
on standard error, one a line, each with its JSON Pointer) or wrong use,
70 anything else that failed.`

// exitTrouble is EX_SOFTWARE of sysexits: 1 and 2 are verdicts here.
const exitTrouble = 70

var verdictExit = map[outlook.Verdict]int{outlook.Holds: 0, outlook.Tight: 1, outlook.RunsOut: 2}

func runOutlook(args []string, std streams) int {
	f := newFlags("outlook", outlookHelp, std)
	asJSON := f.Bool("json", false, "everything as JSON, as web/outlook.schema.json describes it")
	asCSV := f.Bool("csv", false, "one row a step as CSV (RFC 4180), units in the header")
	every := f.Duration("every", 3*time.Hour, "how far apart the rows of the table are")
	if status, goOn := parse(f, args, std); !goOn {
		return status
	}
	if f.NArg() != 1 || *asJSON && *asCSV || *every <= 0 {
		f.Usage()
		return exitUsage
	}
	data, err := readDocument(f.Arg(0), std.in)
	if err != nil {
		fmt.Fprintln(std.err, "duskline:", err)
		return exitUsage
	}
	p, err := plan.Read(data)
	if err != nil {
		reportFaults(std.err, f.Arg(0), err)
		return exitUsage
	}
	o, err := outlook.Run(p)
	if err != nil {
		fmt.Fprintln(std.err, "duskline:", err)
		return exitTrouble
	}
	switch {
	case *asJSON:
		err = writeJSON(std.out, o)
	case *asCSV:
		err = writeCSV(std.out, o)
	default:
		err = writeReport(std.out, p, o, *every)
	}
	if err != nil {
		fmt.Fprintln(std.err, "duskline:", err)
		return exitTrouble
	}
	return verdictExit[o.Verdict]
}

// readDocument reads a file, or standard input for "-". One byte more than a
// document may have is enough for the reader to refuse it.
func readDocument(name string, in io.Reader) ([]byte, error) {
	if name != "-" {
		file, err := os.Open(name)
		if err != nil {
			return nil, err
		}
		defer file.Close()
		in = file
	}
	return io.ReadAll(io.LimitReader(in, plan.MaxBytes+1))
}

func reportFaults(w io.Writer, name string, err error) {
	var faults plan.Faults
	if !errors.As(err, &faults) {
		fmt.Fprintf(w, "%s: %v\n", name, err)
		return
	}
	for _, f := range faults {
		pointer := f.Pointer
		if pointer == "" {
			pointer = `""`
		}
		fmt.Fprintf(w, "%s: %s: %s\n", name, pointer, words.FaultLine(f))
	}
}

// writeReport is the form for a person.
func writeReport(w io.Writer, p plan.Plan, o *outlook.Outlook, every time.Duration) error {
	lead, why := words.Reason(o, p)
	fmt.Fprintf(w, "%s.\n%s %s\n", words.Verdict(o.Verdict), lead, why)
	f := &o.Figures
	noSun := words.Duration(f.NoSun)
	if f.NoSunEndless {
		noSun = words.T("figure.more_than", noSun)
	}
	fmt.Fprintln(w)
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	row := func(cells ...string) { fmt.Fprintln(t, strings.Join(cells, "\t")) }
	row(words.T("figure.no_sun"), noSun)
	row(words.T("figure.lowest"), words.T("figure.lowest_at", words.Percent(f.Lowest), words.Moment(f.LowestAt, p.Trip.Start)))
	row(words.T("figure.day"), words.Energy(f.DrawADay))
	row(words.T("figure.idle"), words.Energy(f.IdleADay))
	row(words.T("figure.sun"), words.Energy(f.SunADay))
	if err := t.Flush(); err != nil {
		return err
	}
	for _, n := range o.Notices {
		fmt.Fprintf(w, "\n%s\n", words.Notice(n, p, p.Trip.Start))
	}

	fmt.Fprintln(w)
	writeTable(t, p, o, every)
	fmt.Fprintln(t)
	writeLedger(t, p, o)
	return t.Flush()
}

// writeTable prints a row every so often, and every event at its time.
func writeTable(t io.Writer, p plan.Plan, o *outlook.Outlook, every time.Duration) {
	row := func(cells ...string) { fmt.Fprintln(t, strings.Join(cells, "\t")) }
	row(words.T("column.time"), words.T("column.charge"), words.T("column.volts"),
		words.T("column.in"), words.T("column.out"), words.T("column.events"))
	s := &o.Series
	next, event := s.Start, 0
	clock := func(at time.Time) string {
		at = at.In(p.Trip.Start.Location())
		return words.ShortWeekday(at) + " " + words.Date(at) + " " + words.Clock(at)
	}
	for i := range s.Charge {
		now := s.Time(i)
		for ; event < len(o.Events) && !o.Events[event].At.After(now); event++ {
			e := o.Events[event]
			row(clock(e.At), words.Percent(e.Charge), words.Volts(e.Volts), "", "", words.Event(e, p))
		}
		if now.Before(next) {
			continue
		}
		next = now.Add(every)
		row(clock(now), words.Percent(s.Charge[i]), words.Volts(s.Volts[i]), words.Amps(s.AmpsIn[i]), words.Amps(s.AmpsOut[i]), "")
	}
}

// writeLedger prints where the energy came from and went.
func writeLedger(t io.Writer, p plan.Plan, o *outlook.Outlook) {
	row := func(cells ...string) { fmt.Fprintln(t, strings.Join(cells, "\t")) }
	row(words.T("column.flow"), words.T("column.energy"))
	for _, list := range [][]outlook.Flow{o.Ledger.Sources, o.Ledger.Uses, o.Ledger.Losses} {
		for _, f := range list {
			if f.Energy != 0 {
				row(words.Flow(f, p), words.Energy(f.Energy))
			}
		}
	}
	switch change := o.Ledger.Change; {
	case change < 0:
		row(words.T("flow.from_battery"), words.Energy(-change))
	case change > 0:
		row(words.T("flow.into_battery"), words.Energy(change))
	}
}

// writeCSV writes one row a step.
func writeCSV(w io.Writer, o *outlook.Outlook) error {
	c := csv.NewWriter(w)
	c.UseCRLF = true // RFC 4180
	j := toJSON(o).Series
	if err := c.Write([]string{"time", "soc_pct", "V", "A_in", "A_out", "poa_Wm2"}); err != nil {
		return err
	}
	num := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	for i := range j.Time {
		if err := c.Write([]string{j.Time[i], num(j.SoC[i]), num(j.V[i]), num(j.AmpsIn[i]), num(j.Out[i]), num(j.Light[i])}); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}
