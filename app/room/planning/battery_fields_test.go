package planning

import (
	"fmt"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/plan"
)

var kindsOfBattery = []plan.Chemistry{plan.LiFePO4, plan.NMC, plan.AGM, plan.Gel, plan.Flooded, plan.Own}

// Hydrogen with lead-acid, frost with lithium; current and damage with all.
func TestCautionsGoWithTheKindOfBattery(t *testing.T) {
	s := session(t, "bird-count")
	unfold(s)
	shows := func(of string, want map[string]bool) {
		t.Helper()
		html := page(s)
		for name, want := range want {
			if got := strings.Contains(html, `data-caution="`+name+`"`); got != want {
				t.Errorf("%s: caution %s shown %v, want %v", of, name, got, want)
			}
		}
	}
	for _, c := range kindsOfBattery {
		s.Desk.Enter(chemistryAt, string(c))
		b := s.Desk.Plan().Case.Battery
		if b.Chemistry != c {
			t.Fatalf("%s: %s", c, s.Desk.Fault(chemistryAt))
		}
		lithium := c == plan.LiFePO4 || c == plan.NMC || c == plan.Own && b.Own.Lithium
		shows(string(c), map[string]bool{"hydrogen": !lithium, "freezing": lithium, "battery": true, "damaged": true})
	}
	for _, of := range []plan.Chemistry{plan.Flooded, plan.NMC} {
		s := session(t, "bird-count")
		unfold(s)
		s.Desk.Enter(chemistryAt, string(of))
		s.Desk.Enter(chemistryAt, string(plan.Own))
		if html := page(s); strings.Contains(html, `data-caution="hydrogen"`) != (of == plan.Flooded) {
			t.Errorf("a table that began as %s: hydrogen shown %v", of, of != plan.Flooded)
		}
	}
}

// owned is a session with a table of one's own, unfolded.
func owned(t *testing.T) *room.Session {
	t.Helper()
	s := session(t, "bird-count")
	unfold(s)
	h := &kindHost{s.Desk, s.Folds}
	h.Enter(chemistryAt, string(plan.Own))
	if s.Desk.Plan().Case.Battery.Own == nil || !s.Folds["finer-own"] {
		t.Fatalf("own table: %q, open %v", s.Desk.Fault(chemistryAt), s.Folds["finer-own"])
	}
	return s
}

// Rows come in the widest gap, on the line that is there: the Outlook's rest
// volts stay. They go, and come back.
func TestRowsOfATableComeAndGo(t *testing.T) {
	s := owned(t)
	sheet := &sheet{Session: s, Desk: s.Desk}
	before := s.Desk.Plan().Case.Battery
	was, _ := before.Model()
	n := len(before.Own.Rest)
	i, faults := sheet.addRow()
	if faults != nil || i < 1 || i > n {
		t.Fatal(i, faults)
	}
	o := s.Desk.Plan().Case.Battery.Own
	a, r, b := o.Rest[i-1], o.Rest[i], o.Rest[i+1]
	if len(o.Rest) != n+1 || r.ChargePct != (a.ChargePct+b.ChargePct)/2 || !(a.Volts < r.Volts && r.Volts < b.Volts) {
		t.Errorf("between %v and %v came %v", a, b, r)
	}
	for k := 1; k < len(before.Own.Rest); k++ {
		if gap := before.Own.Rest[k].ChargePct - before.Own.Rest[k-1].ChargePct; gap > b.ChargePct-a.ChargePct {
			t.Errorf("a gap of %g %% is wider than %g %%", gap, b.ChargePct-a.ChargePct)
		}
	}
	now, _ := s.Desk.Plan().Case.Battery.Model()
	if d := float64(was.Rest(0.15) - now.Rest(0.15)); d > 0.001 || d < -0.001 {
		t.Errorf("a new row moves the volts by %g", d)
	}
	html := page(s)
	for _, want := range []string{
		fmt.Sprintf(`id="case-battery-own-rest-%d-volts"`, n), words.OwnTable(s.Desk.Plan().Case.Battery),
		`id="case-battery-own-rest-0-charge_pct"`, `aria-label="` + words.T("own.volts_in", 1) + `"`,
	} {
		if !strings.Contains(html, want) {
			t.Errorf("no %s", want)
		}
	}
	if got := strings.Count(html, `class="own-end"`); got != 2 {
		t.Errorf("%d charges cannot be typed, want the two ends", got)
	}
	// The ends stand for empty and full, and stay.
	for _, end := range []int{0, n} {
		if strings.Contains(html, fmt.Sprintf(`id="case-battery-own-rest-%d-remove"`, end)) {
			t.Errorf("row %d can be removed", end)
		}
	}
	if s.Desk.Remove(restAt, i) != nil || len(s.Desk.Plan().Case.Battery.Own.Rest) != n || !strings.Contains(page(s), `id="case-battery-own-rest-undo"`) {
		t.Error("the row does not go, or not with a way back")
	}
	if s.Desk.Undo() != nil || s.Desk.Plan().Case.Battery.Own.Rest[i] != r {
		t.Error("the row does not come back")
	}
	for range plan.MaxRest {
		sheet.addRow()
	}
	if got := len(s.Desk.Plan().Case.Battery.Own.Rest); got != plan.MaxRest || s.Desk.Plan().Case.Battery.Chemistry != plan.Own {
		t.Errorf("%d rows, at most %d", got, plan.MaxRest)
	}
}

// A row that does not rise says so at the row, and the answer stays.
func TestARowThatDoesNotRiseSaysSo(t *testing.T) {
	s := owned(t)
	version, k := s.Desk.Version(), 0
	for s.Desk.Plan().Case.Battery.Own.Rest[k].ChargePct < 50 {
		k++
	}
	at, html := entryAt(restAt, k)+"/volts", ""
	for _, text := range []string{"2", "9", "12.5"} {
		s.Desk.Enter(at, text)
		fault := s.Desk.Fault(at)
		html = page(s)
		if fault == "" || s.Desk.Version() != version {
			t.Errorf("%s V are taken", text)
		}
		if !strings.Contains(html, `id="`+widget.ID(at)+`-fault"`) || !strings.Contains(html, fault) {
			t.Errorf("%s V: the page does not say %q at the row", text, fault)
		}
	}
	fold, _, _ := foldOf(at)
	if fold != "case" || finerOf(restAt+"/4/volts") != "own" {
		t.Errorf("the way leads to %s, %s", fold, finerOf(restAt+"/4/volts"))
	}
	if id := widget.ID(at); !strings.Contains(html, `id="`+id+`"`) {
		t.Errorf("no %s", id)
	}
}

// The marks that suit a table are one tap, or it says why not.
func TestMarksThatSuitATable(t *testing.T) {
	s := owned(t)
	sheet := &sheet{Session: s, Desk: s.Desk}
	sheet.setOwnMarks()
	b := s.Desk.Plan().Case.Battery
	if want, ok := b.UsualMarks(); !ok || b.Marks() != want || sheet.ownSaid != "" {
		t.Errorf("marks %v, want %v, said %q", b.Marks(), want, sheet.ownSaid)
	}
	// 7 V when full: its alarm would lie under what a plan may have.
	if faults := s.Desk.Change(func(p *plan.Plan) {
		b := &p.Case.Battery
		b.Own.Rest = []plan.OwnPoint{{ChargePct: 0, Volts: 7}, {ChargePct: 100, Volts: 9.6}}
		b.ChargeV, b.AlarmV, b.CutoffV, b.ReconnectV = 10, 8.2, 7.5, 9
		b.Protection = nil
	}); faults != nil {
		t.Fatal(faults)
	}
	was := s.Desk.Version()
	sheet.setOwnMarks()
	if sheet.ownSaid == "" || s.Desk.Version() != was || !strings.Contains(app.HTMLString(sheet.ownFold(form{s.Desk})), sheet.ownSaid) {
		t.Errorf("nothing is said: %q", sheet.ownSaid)
	}
}

// A protection is one tap for every kind of battery; so is taking it away.
func TestEveryKindTakesAProtection(t *testing.T) {
	for _, c := range kindsOfBattery {
		s := session(t, "eye-clinic")
		s.Desk.Enter(chemistryAt, string(c))
		h := wayHost{s.Desk, s.Folds}
		h.Enter(guardAt, "true")
		b := s.Desk.Plan().Case.Battery
		if b.Chemistry != c || b.Protection == nil {
			t.Errorf("%s: %s %+v", c, b.Chemistry, b.Protection)
			continue
		}
		// It lets the Case's own marks come first, and charging end.
		if p := b.Protection; p.UnderV >= b.CutoffV || p.OverV <= b.ChargeV || (p.ChargeColdC >= 0) != b.Lithium() {
			t.Errorf("%s: %+v", c, p)
		}
		if h.Enter(guardAt, "false"); s.Desk.Plan().Case.Battery.Protection != nil {
			t.Errorf("%s: it stays", c)
		}
	}
}
