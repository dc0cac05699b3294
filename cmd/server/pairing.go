package main

import (
	"encoding/json"
	"fmt"
	"io"
	"reflect"

	"duskline/calc/pairing"
	"duskline/calc/plan"
)

const pairingHelp = `Usage: duskline pairing [-json] [-zone NAME] PLAN.json

Try panels of 5 to 400 W in a Plan, and its own panels alone and joined: which
is the least that holds, which the most it can use, which to pack, and why; how
long a refill takes by sun, wall, vehicle and generator; what unlike panels
bring together. "-" as the file reads standard input.

PLAN.json is a document that web/plan.schema.json describes; web/demo has
examples. The answer as JSON is described by web/pairing.schema.json.

-zone puts the trip into a time zone of the IANA database: see outlook -h.

Exit status:
   0  there is a panel to pack
   2  none of them holds
  64  bad document, its faults on standard error: one a line, with JSON
      Pointer, what is allowed and what was found; or wrong use
  70  anything else that failed`

// exitNoPanel is that of a Plan that runs out: none of the panels holds.
const exitNoPanel = 2

func runPairing(args []string, std streams) int {
	f := newFlags("pairing", pairingHelp, std)
	asJSON := f.Bool("json", false, "everything, as JSON")
	place := f.String("zone", "", "time zone of the place, by its `NAME` in the IANA database; the Plan's own if none is given")
	files, status, goOn := parse(f, args, std)
	if !goOn {
		return status
	}
	if slip := misuse(files, false, 1); slip != "" {
		fmt.Fprintf(std.err, "duskline: %s\n\n", slip)
		f.Usage()
		return exitUsage
	}
	p, ok := openPlan(files[0], *place, std)
	if !ok {
		return exitUsage
	}
	l, err := pairing.Run(p, nil)
	if err == nil {
		if *asJSON {
			err = writeLadderJSON(std.out, l)
		} else {
			err = writeLadder(std.out, p, l)
		}
	}
	if err != nil {
		fmt.Fprintln(std.err, "duskline:", err)
		return exitTrouble
	}
	if l.Pack < 0 && !holds(l) {
		return exitNoPanel
	}
	return exitDone
}

// holds says whether one of the plan's own panels does.
func holds(l *pairing.Ladder) bool {
	return l.OwnedPack >= 0 && l.Owned[l.OwnedPack].Verdict.String() == "holds"
}

// writeLadderJSON writes the answer with its numbers rounded to what they are
// worth, so that two machines print the same. Panels and sky stay as they are:
// they are for a Plan.
func writeLadderJSON(w io.Writer, l *pairing.Ladder) error {
	out := *l
	out.Rungs, out.Owned = append([]pairing.Rung{}, l.Rungs...), append([]pairing.Rung{}, l.Owned...)
	out.Refill, out.Mixes = append([]pairing.Refill{}, l.Refill...), append([]pairing.Mix{}, l.Mixes...)
	for _, list := range []any{out.Rungs, out.Owned, out.Refill, out.Mixes} {
		roundAll(reflect.ValueOf(list))
	}
	e := json.NewEncoder(w)
	e.SetIndent("", " ")
	return e.Encode(&out)
}

var panelsType = reflect.TypeFor[plan.Panels]()

// roundAll rounds every number in a list of ours, in place.
func roundAll(v reflect.Value) {
	switch {
	case v.Type() == panelsType:
	case v.Kind() == reflect.Float64:
		v.SetFloat(round(v.Float(), 3))
	case v.Kind() == reflect.Struct:
		for i := range v.NumField() {
			roundAll(v.Field(i))
		}
	case v.Kind() == reflect.Slice:
		for i := range v.Len() {
			roundAll(v.Index(i))
		}
	}
}
