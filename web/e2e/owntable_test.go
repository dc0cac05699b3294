package e2e

import (
	"strconv"
	"strings"
	"testing"
)

// A table of one's own battery, with one thumb and no signal: it begins as the
// battery before, rows are typed, come, go and come back, a row that does not
// rise says so at the row, and the answer goes along.
func TestATableOfOnesOwnOffline(t *testing.T) {
	p := phoneOffline(t)
	p.unfold("case")
	const (
		chemistry = "case-battery-chemistry"
		rest      = "case-battery-own-rest"
		rows      = `document.querySelectorAll(".own-row").length`
	)
	before := p.answer()
	p.choose(chemistry, "own")
	p.until(`document.getElementById("own-add")`)
	n := eval[int](p, rows)
	if n < 5 {
		t.Fatalf("%d rows", n)
	}

	// A row that sinks: said at the row, not taken, and taken once it rises.
	p.enter(rest+"-3-volts", "9")
	p.until(`document.getElementById("` + rest + `-3-volts-fault").textContent.includes("Row 4 must be above")`)
	if !eval[bool](p, `document.getElementById("`+rest+`-3-volts").getAttribute("aria-invalid") === "true"`) {
		t.Error("the cell is not marked")
	}
	const inside = `(e => { const r = e.getBoundingClientRect(); return r.left >= 0 && r.right <= innerWidth })(document.getElementById("` + rest + `-3-volts-fault"))`
	if !eval[bool](p, inside) {
		t.Error("what is wrong runs out of the page")
	}
	p.enter(rest+"-3-volts", "12.2")
	p.until(`document.getElementById("` + rest + `-3-volts-fault").textContent === ""`)

	// A new row has the keyboard in its charge.
	p.click("#own-add")
	p.until(rows + ` === ` + strconv.Itoa(n+1) + ` && document.activeElement.id.startsWith("` + rest + `-") && document.activeElement.id.endsWith("-charge_pct")`)
	if got := p.text("#finer-own"); !strings.Contains(got, strconv.Itoa(n+1)+" rows") {
		t.Errorf("the fold says %q", got)
	}

	// Gone, and back.
	p.click("#" + rest + "-1-remove")
	p.until(rows + ` === ` + strconv.Itoa(n) + ` && document.activeElement.id === "` + rest + `-undo"`)
	p.click("#" + rest + "-undo")
	p.until(rows + ` === ` + strconv.Itoa(n+1) + ` && document.activeElement.id === "` + rest + `-1-row"`)

	// What does not come out again is missed: another answer.
	p.enter("case-battery-own-coulombic_pct", "60")
	p.until(`document.getElementById("case-battery-own-coulombic_pct-fault").textContent === ""`)
	if p.answer() == before {
		t.Error("amp-hours that do not come out again change nothing")
	}

	// Another kind, and the table is there again with its own.
	p.choose(chemistry, "gel")
	p.until(`!document.getElementById("own-add")`)
	p.choose(chemistry, "own")
	p.until(rows + ` === ` + strconv.Itoa(n+1))
	if got := eval[string](p, `document.getElementById("`+rest+`-3-volts").value`); got != "12.2" && eval[string](p, `document.getElementById("`+rest+`-4-volts").value`) != "12.2" {
		t.Errorf("the table came back with %s V", got)
	}
}
