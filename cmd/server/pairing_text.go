package main

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"duskline/app/words"
	"duskline/calc/pairing"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// The ladder for a person, at a terminal of 80 columns.

// writeLadder prints the answers, a row for each size, the plan's own panels
// with their reasons, the refills, and what unlike panels bring.
func writeLadder(w io.Writer, p plan.Plan, l *pairing.Ladder) error {
	b := bufio.NewWriter(w) // keeps the first error for Flush
	name := func(list []pairing.Rung, i int, owned bool) string {
		if i < 0 {
			return words.T("pairing.no_least")
		}
		return words.RungName(&list[i], owned)
	}
	rows := [][]string{
		{words.T("pairing.least"), name(l.Rungs, l.Least, false)},
		{words.T("pairing.most"), name(l.Rungs, l.Most, false)},
		{words.T("pairing.pack"), name(l.Rungs, l.Pack, false)},
	}
	if len(l.Owned) > 0 {
		rows = append(rows, []string{words.T("pairing.owned_pack"), name(l.Owned, l.OwnedPack, true)})
	}
	writeRows(b, rows)
	fmt.Fprintln(b)
	writeSizes(b, l)
	for _, r := range l.Rungs {
		if r.Fit != pairing.Fits {
			writeReasons(b, r, false, l)
		}
	}
	if len(l.Owned) > 0 {
		fmt.Fprintf(b, "\n%s\n", words.T("pairing.owned_ladder"))
	}
	for _, r := range l.Owned {
		writeReasons(b, r, true, l)
	}
	if !l.OwnedWhole {
		fmt.Fprintf(b, "\n%s\n", wrap(words.T("pairing.owned_part"), columns, 0))
	}
	fmt.Fprintln(b)
	writeRefills(b, p, l)
	for _, m := range l.Mixes {
		says := words.MixSays(&m, &p) + " " + words.PairingAdvice(&m)
		fmt.Fprintf(b, "\n%s\n", wrap(says, columns, 0))
	}
	return b.Flush()
}

// writeSizes prints a row for each generic panel.
func writeSizes(w io.Writer, l *pairing.Ladder) {
	rows := [][]string{{words.T("column.panels"), words.T("column.verdict"), words.T("column.brings"),
		words.T("column.put_back"), words.T("column.from_empty")}}
	for _, r := range l.Rungs {
		rows = append(rows, []string{words.RungName(&r, false), words.RungVerdict(&r), words.Energy(qty.WattHour(r.HarvestWh)),
			words.DaysOf(r.BackDays, l.Days), words.Refilled(r.FromEmpty, l.HorizonH)})
	}
	writeRows(w, rows)
}

// writeReasons prints a rung in a sentence, and all there is to know of it.
func writeReasons(w io.Writer, r pairing.Rung, owned bool, l *pairing.Ladder) {
	says := []string{words.RungSays(&r, owned, qty.WattHour(r.DrawWh))}
	for _, why := range r.Reasons {
		signal, text := words.PairingReason(&why)
		if signal != "" {
			text = signal + ": " + text
		}
		says = append(says, text)
	}
	fmt.Fprintf(w, "\n%s\n", wrap(strings.Join(says, " "), columns, 0))
	if owned {
		writeRows(w, [][]string{
			{"  " + words.T("pairing_fact.back"), words.DaysOf(r.BackDays, l.Days)},
			{"  " + words.T("pairing_fact.empty"), words.Refilled(r.FromEmpty, l.HorizonH)},
		})
	}
}

// writeRefills prints the table of refills.
func writeRefills(w io.Writer, p plan.Plan, l *pairing.Ladder) {
	rows := [][]string{{words.T("column.from"), words.T("column.from_empty"),
		words.T("column.from_now", words.Amount(p.Trip.StartChargePct, 0, "%"))}}
	var missing []string
	for _, r := range l.Refill {
		name := words.RefillSource(r.Source)
		if r.There {
			rows = append(rows, []string{name, words.Refilled(r.FromEmpty, l.HorizonH), words.Refilled(r.FromNow, l.HorizonH)})
		} else if r.Source != pairing.All {
			missing = append(missing, name)
		}
	}
	writeRows(w, rows)
	if len(missing) > 0 {
		fmt.Fprintln(w, words.T("pairing.not_there", strings.Join(missing, ", ")))
	}
}
