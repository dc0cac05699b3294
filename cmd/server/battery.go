package main

import (
	"fmt"
	"io"
	"strconv"

	"duskline/calc/care"
	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

const batteryHelp = `Usage: duskline battery [-json] [-from PERCENT] [-zone NAME] PLAN.json

Say of a Plan's battery what its volts mean at rest and under load, what the
alarm's setting means and which to choose, what to do once it sounds, how long
the Case may lie put away, and what the trip costs of the battery's life. "-" as
the file reads standard input.

PLAN.json is a document that web/plan.schema.json describes; web/demo has
examples. The answer as JSON is described by web/battery.schema.json.

-zone puts the trip into a time zone of the IANA database: see outlook -h.

Exit status:
   0  the alarm is set as well as can be
   2  another setting would be better
  64  bad document, its faults on standard error: one a line, with JSON
      Pointer, what is allowed and what was found; or wrong use
  70  anything else that failed`

// exitSetOther is that of a Plan whose alarm is early or late, where another
// setting is not.
const exitSetOther = 2

// A cared is all there is to say of a Plan's battery.
type cared struct {
	tide    *care.Tide
	alarms  *care.Alarms
	storage *care.Storage
	life    *care.Life
}

// careFor asks calc/care for all of it. from is the charge at which the Case is
// put away, in percent; under 0 the one at which the Plan keeps it.
func careFor(p plan.Plan, from float64) (c cared, err error) {
	if from < 0 {
		from = p.Case.Battery.KeptPct
	}
	o, err := outlook.Run(p)
	if err != nil {
		return c, err
	}
	if c.tide, err = care.NewTide(p); err != nil {
		return c, err
	}
	if c.alarms, err = care.NewAlarms(p); err != nil {
		return c, err
	}
	c.alarms.InTrip(o)
	if c.storage, err = care.NewStorage(p, qty.Fraction(from/100)); err != nil {
		return c, err
	}
	c.life, err = care.NewLife(p, o)
	return c, err
}

func runBattery(args []string, std streams) int {
	f := newFlags("battery", batteryHelp, std)
	asJSON := f.Bool("json", false, "everything, as JSON")
	from, slip := -1.0, ""
	f.Func("from", "charge, in `PERCENT`, at which the Case is put away; that at which the Plan keeps it if none is given", func(s string) (err error) {
		if from, err = strconv.ParseFloat(s, 64); err == nil && !(from >= 0 && from <= 100) {
			slip = "-from is 0 to 100"
		}
		return err
	})
	place := f.String("zone", "", "time zone of the place, by its `NAME` in the IANA database; the Plan's own if none is given")
	files, status, goOn := parse(f, args, std)
	if !goOn {
		return status
	}
	if wrong := misuse(files, false, 1); wrong != "" {
		slip = wrong
	}
	if slip != "" {
		fmt.Fprintf(std.err, "duskline: %s\n\n", slip)
		f.Usage()
		return exitUsage
	}
	p, ok := openPlan(files[0], *place, std)
	if !ok {
		return exitUsage
	}
	c, err := careFor(p, from)
	if err == nil {
		err = writeCare(std.out, p, &c, *asJSON)
	}
	if err != nil {
		fmt.Fprintln(std.err, "duskline:", err)
		return exitTrouble
	}
	if !c.alarms.Fits {
		return exitSetOther
	}
	return exitDone
}

func writeCare(w io.Writer, p plan.Plan, c *cared, asJSON bool) error {
	if asJSON {
		return writeCareJSON(w, c)
	}
	return writeCareText(w, p, c)
}
