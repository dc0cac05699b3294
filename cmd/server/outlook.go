package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"time"

	"duskline/app/words"
	"duskline/app/zone"
	"duskline/calc/outlook"
	"duskline/calc/plan"
)

const outlookHelp = `Usage: duskline outlook [-json | -csv | -every 3h] [-zone NAME] PLAN.json

Run a Plan and say how it ends: the verdict and its reasons, advice, the light
of each day, a table with the events at their times, where the energy went, and
what each position of the main switch costs with nothing plugged in.
"-" as the file reads standard input.

PLAN.json is a document that web/plan.schema.json describes; web/demo has
examples. The answer as JSON is described by web/outlook.schema.json.

-zone puts the trip into a time zone of the IANA database, as Europe/Lisbon:
the trip starts when the clock there shows the Plan's time, and all hours go by
that clock, also where it is moved for summer time.

Exit status:
   0  Holds
   1  Tight
   2  Runs out
  64  bad document, its faults on standard error: one a line, with JSON
      Pointer, what is allowed and what was found; or wrong use
  70  anything else that failed`

// exitTrouble is EX_SOFTWARE of sysexits: 1 and 2 are verdicts here.
const exitTrouble = 70

var verdictExit = map[outlook.Verdict]int{outlook.Holds: 0, outlook.Tight: 1, outlook.RunsOut: 2}

// openPlan reads the Plan of a file, or of standard input, and puts it into the
// zone that was asked for, if one was. It says on std.err why it could not.
func openPlan(file, zone string, std streams) (plan.Plan, bool) {
	data, err := readDocument(file, std.in)
	if err != nil {
		fmt.Fprintln(std.err, "duskline:", err)
		return plan.Plan{}, false
	}
	p, err := plan.Read(data)
	if err != nil {
		reportFaults(std.err, file, err)
		return plan.Plan{}, false
	}
	if zone != "" {
		if err := setZone(&p, zone); err != nil {
			reportFaults(std.err, "-zone "+zone, err)
			return plan.Plan{}, false
		}
	}
	return p, true
}

func runOutlook(args []string, std streams) int {
	f := newFlags("outlook", outlookHelp, std)
	asJSON := f.Bool("json", false, "everything, as JSON")
	asCSV := f.Bool("csv", false, "one row a step as CSV (RFC 4180), units in the header")
	every := f.Duration("every", 3*time.Hour, "how far apart the rows of the table are")
	place := f.String("zone", "", "time zone of the place, by its `NAME` in the IANA database; the Plan's own if none is given")
	files, status, goOn := parse(f, args, std)
	if !goOn {
		return status
	}
	if slip := misuse(files, *asJSON && *asCSV, *every); slip != "" {
		fmt.Fprintf(std.err, "duskline: %s\n\n", slip)
		f.Usage()
		return exitUsage
	}
	p, ok := openPlan(files[0], *place, std)
	if !ok {
		return exitUsage
	}
	o, err := outlook.Run(p)
	if err != nil {
		fmt.Fprintln(std.err, "duskline:", err)
		return exitTrouble
	}
	idle, err := outlook.Idle(p)
	if err != nil {
		fmt.Fprintln(std.err, "duskline:", err)
		return exitTrouble
	}
	switch {
	case *asJSON:
		err = writeJSON(std.out, o, idle)
	case *asCSV:
		err = writeCSV(std.out, o)
	default:
		err = writeReport(std.out, p, o, idle, *every)
	}
	if err != nil {
		fmt.Fprintln(std.err, "duskline:", err)
		return exitTrouble
	}
	return verdictExit[o.Verdict]
}

// misuse says what is wrong with the words of a call, or "".
func misuse(files []string, both bool, every time.Duration) string {
	switch {
	case len(files) == 0:
		return "which Plan? A file is missing"
	case len(files) > 1:
		return fmt.Sprintf("one file at a time: %q is too much", files[1:])
	case both:
		return "-json and -csv exclude each other"
	case every <= 0:
		return "-every must be above 0"
	}
	return ""
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

// setZone puts a trip into a zone of Go's database, or the machine's own.
func setZone(p *plan.Plan, name string) error {
	// What the clock shows, as if it stood on UTC: the true instant lies within
	// a day of it. What comes before and after the trip is for the days it
	// begins and ends in, and for the run without sun.
	y, m, d := p.Trip.Start.Date()
	wall := time.Date(y, m, d, p.Trip.Start.Hour(), p.Trip.Start.Minute(), 0, 0, time.UTC)
	first, changes, err := zone.Lookup(name, wall.AddDate(0, 0, -4), wall.Add(outlook.NoSunLimit).AddDate(0, 0, 4))
	if err != nil {
		return err
	}
	p.SetZone(name, first, changes)
	if faults := plan.Check(*p); len(faults) > 0 {
		return faults
	}
	return nil
}

func reportFaults(w io.Writer, name string, err error) {
	if name == "-" {
		name = "standard input"
	}
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
		fmt.Fprintf(w, "%s: %s: %s\n", name, pointer, faultLine(f))
	}
}

// faultLine words a fault. Where its kind leaves the range of a number open,
// the range comes behind it.
func faultLine(f plan.Fault) string {
	line := words.FaultLine(f)
	l, ok := plan.LimitOf(f.Pointer)
	if !ok || f.Kind != plan.NotFinite && f.Kind != plan.WrongType || l.Unit == "characters" || l.Unit == "entries" {
		return line
	}
	limit := plan.Fault{Kind: plan.OutOfRange, Min: l.Min, Max: l.Max, Unit: l.Unit}
	if l.OrZero {
		limit.Allowed = []string{"0"}
	}
	return line + " " + words.Fault(limit)
}

// writeCSV writes one row a step.
func writeCSV(w io.Writer, o *outlook.Outlook) error {
	c := csv.NewWriter(w)
	c.UseCRLF = true // RFC 4180
	j := toJSON(o).Series
	if err := c.Write([]string{"time", "soc_pct", "V", "A_in", "A_out", "poa_Wm2", "battery_C"}); err != nil {
		return err
	}
	num := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	for i := range j.Time {
		if err := c.Write([]string{j.Time[i], num(j.SoC[i]), num(j.V[i]), num(j.AmpsIn[i]), num(j.Out[i]), num(j.Light[i]), num(j.Core[i])}); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}
