package planning

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/app/words"
	"duskline/calc/care"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// careOf is the cards of a session, read.
func careOf(t *testing.T, s *room.Session) *batteryCare {
	t.Helper()
	c := &batteryCare{Session: s, Desk: s.Desk, Version: s.Desk.Version(), Width: 328}
	c.all()
	if c.failed {
		t.Fatal("the battery could not be read")
	}
	return c
}

func html(c *batteryCare) string { return app.HTMLString(c.Render()) }

// unfoldCare opens all that folds in the cards.
func unfoldCare(c *batteryCare) {
	c.unfurl = map[string]bool{"tide-numbers": true, "alarm-all": true, "standing-numbers": true, "life-numbers": true}
	for _, id := range []string{"after-alarm", "standing", "life"} {
		c.Session.Folds["care-"+id] = true
	}
}

// Every kind of battery and every example has its cards, in words and figures
// of the core, without a word missing.
func TestEveryBatteryHasItsCards(t *testing.T) {
	for _, key := range []string{"bird-count", "eye-clinic", "river-festival"} {
		for _, kind := range []plan.Chemistry{plan.LiFePO4, plan.NMC, plan.AGM, plan.Gel, plan.Flooded, plan.Own} {
			s := session(t, key)
			s.Desk.Enter("/case/battery/chemistry", string(kind))
			if got := s.Desk.Plan().Case.Battery.Chemistry; got != kind {
				t.Fatalf("%s: %s is not taken: %s", key, kind, s.Desk.Fault("/case/battery/chemistry"))
			}
			c := careOf(t, s)
			unfoldCare(c)
			page := html(c)
			if i := strings.Index(page, "["); i >= 0 {
				t.Errorf("%s, %s: a word is missing: %.80s", key, kind, page[i:])
			}
			if i := strings.Index(page, "%!"); i >= 0 {
				t.Errorf("%s, %s: a text has too few figures: %.80s", key, kind, page[i:])
			}
			for _, id := range []string{"tide", "alarm", "after-alarm", "standing", "life", "table-tide", "table-tide-marks", "table-alarms",
				"table-standing-all_off", "table-standing-meters", "table-standing-as_switched", "table-life", "table-keeping"} {
				if !strings.Contains(page, `id="`+id+`"`) {
					t.Errorf("%s, %s: no %s", key, kind, id)
				}
			}
			for _, picture := range []string{"tide", "standing", "wearing"} {
				if !strings.Contains(page, `data-picture="`+picture+`"`) {
					t.Errorf("%s, %s: no picture %s", key, kind, picture)
				}
			}
			for i := range c.alarms.Candidates {
				k := &c.alarms.Candidates[i]
				if !strings.Contains(page, words.AlarmReading(&k.Largest)) || !strings.Contains(page, words.Plain(float64(k.Volts), "V")) {
					t.Errorf("%s, %s: the setting %g V is not told", key, kind, k.Volts)
				}
			}
			for i := range c.alarms.Do {
				if !strings.Contains(page, words.Action(&c.alarms.Do[i], c.plan)) {
					t.Errorf("%s, %s: not told: %s", key, kind, words.Action(&c.alarms.Do[i], c.plan))
				}
			}
		}
	}
}

// Before the battery is read the cards say so, and are read one by one.
func TestCardsComeOneByOne(t *testing.T) {
	s := session(t, "bird-count")
	c := &batteryCare{Session: s, Desk: s.Desk, Version: s.Desk.Version(), Width: 328}
	if page := html(c); !strings.Contains(page, words.T("care.working")) {
		t.Errorf("before it is read: %s", page)
	}
	for i, id := range []string{"tide", "alarm", "standing", "life"} {
		c.step(i)
		if page := html(c); !strings.Contains(page, `id="`+id+`"`) {
			t.Errorf("after step %d there is no %s", i, id)
		}
	}
}

// What the gauge's table says are the core's volts: those of its own charges
// as they are.
func TestTideTableHoldsTheVoltsOfTheCore(t *testing.T) {
	c := careOf(t, session(t, "bird-count"))
	for i := range c.tide.Lines {
		l := &c.tide.Lines[i]
		for k, s := range c.tide.Charges {
			v, ok := voltsAt(c.tide, l.Kind, s)
			if there := l.Volts[k] > 0; there && (!ok || v-l.Volts[k] > 1e-9 || l.Volts[k]-v > 1e-9) {
				t.Fatalf("%s at %g: %v %v, the core has %v", l.Kind, s, v, ok, l.Volts[k])
			}
		}
	}
	table := tideTable(c.tide)
	if len(table.Rows) != 11 || table.Rows[0][0] != words.Percent(1) || table.Rows[10][0] != words.Percent(0) {
		t.Errorf("%d rows from %s", len(table.Rows), table.Rows[0][0])
	}
	for _, r := range append(table.Rows, table.Head) {
		if len(r) != 1+len(c.tide.Lines) {
			t.Errorf("a row has %d cells, there are %d lines", len(r), len(c.tide.Lines))
		}
	}
	flat := &care.Tide{Charges: []qty.Fraction{0, 0.2, 0.5, 0.8, 1}, Lines: []care.Line{
		{Kind: care.AtRest, Volts: []qty.Volt{11, 13, 13.1, 13.2, 13.6}}, {Kind: care.AtLargest, Volts: []qty.Volt{0, 12, 12.4, 12.5, 13}}}}
	if got := strings.ReplaceAll(tideSaid(flat), words.Space, " "); !strings.Contains(got, "0.20 V") || !strings.Contains(got, "0.70 V") || !strings.Contains(got, "more of the load") {
		t.Errorf("a flat one is told as %q", got)
	}
	flat.Lines[0].Volts = []qty.Volt{10, 11, 12.6, 13.2, 13.6}
	if got := tideSaid(flat); strings.Contains(got, "more of the load") {
		t.Errorf("a sloped one is told as %q", got)
	}
}

// The chosen setting goes into the plan and comes back out.
func TestAlarmIsSetAndTakenBack(t *testing.T) {
	s := session(t, "bird-count")
	s.Desk.Enter("/case/battery/alarm_V", "13")
	c := careOf(t, s)
	if c.alarms.Fits {
		t.Fatalf("13 V is called fair: %+v", c.alarms.Set)
	}
	best := float64(c.alarms.Candidates[c.alarms.Chosen].Volts)
	page := html(c)
	for _, want := range []string{`id="alarm-use"`, words.T("alarmset.use", words.Plain(best, "V"))} {
		if !strings.Contains(page, want) {
			t.Errorf("no %s in %s", want, page)
		}
	}
	if strings.Contains(page, `id="alarm-undo"`) {
		t.Error("there is something to take back before anything was set")
	}
	c.useAlarm(best)
	if got := s.Desk.Plan().Case.Battery.AlarmV; got != best {
		t.Fatalf("set to %g, want %g: %s", got, best, c.refused)
	}
	c.all()
	if page := html(c); !strings.Contains(page, `id="alarm-undo"`) || strings.Contains(page, `id="alarm-use"`) || !c.alarms.Fits {
		t.Errorf("after it is set: %s", page)
	}
	// An edit by hand since leaves nothing to take back.
	s.Desk.Enter("/case/battery/alarm_V", "12.5")
	if strings.Contains(html(c), `id="alarm-undo"`) {
		t.Error("an edit by hand would be taken back")
	}
	s.Desk.Enter("/case/battery/alarm_V", words.Amount(best, 1, ""))
	c.onUndo(nil, app.Event{})
	if got := s.Desk.Plan().Case.Battery.AlarmV; got != 13 {
		t.Errorf("taken back to %g, want 13", got)
	}
	// One that the plan cannot have says why and leaves it alone.
	c.useAlarm(s.Desk.Plan().Case.Battery.CutoffV)
	if c.refused == "" || s.Desk.Plan().Case.Battery.AlarmV != 13 || !strings.Contains(html(c), c.refused) {
		t.Errorf("an alarm at the cut-off: %q", c.refused)
	}
}

// The storage clock goes by the charge that is chosen.
func TestStorageGoesByTheChosenCharge(t *testing.T) {
	c := careOf(t, session(t, "bird-count"))
	unfoldCare(c)
	harm := map[string]float64{}
	for _, f := range c.froms(c.Desk.Plan()) {
		fromHost{c}.Enter(fromAt, f.key)
		if c.storage.From != f.charge || c.failed {
			t.Errorf("%s: from %g, want %g", f.key, c.storage.From, f.charge)
		}
		if !strings.Contains(html(c), words.T("standing.lead", words.Percent(f.charge), words.Temperature(c.storage.Kept))) {
			t.Errorf("%s: the page does not say so", f.key)
		}
		for i := range c.storage.Clocks {
			if k := &c.storage.Clocks[i]; k.Kept && k.Mode == care.MetersOn {
				harm[f.key] = k.Harm.Days
			}
		}
	}
	if !(harm["flat"] < harm["kept"] && harm["kept"] < harm["trip"]) {
		t.Errorf("harm after %v days", harm)
	}
}

// Closed, the cards say the gist; nothing of the inside is drawn.
func TestFoldedCardsSayTheGist(t *testing.T) {
	c := careOf(t, session(t, "bird-count"))
	page := html(c)
	for _, want := range []string{c.afterSaid(), words.Standing(c.storage), words.LifeSaid(c.life)} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q", want)
		}
	}
	for _, not := range []string{`id="steps"`, `data-picture="standing"`, `data-picture="wearing"`} {
		if strings.Contains(page, not) {
			t.Errorf("%s is there though folded", not)
		}
	}
}

// Lead-acid is never advised to lie half full, lithium never full.
func TestKeepingIsToldByTheKindOfBattery(t *testing.T) {
	half := words.T("life_keep.half")
	for kind, lead := range map[plan.Chemistry]bool{plan.LiFePO4: false, plan.NMC: false, plan.AGM: true, plan.Gel: true, plan.Flooded: true} {
		s := session(t, "bird-count")
		s.Desk.Enter("/case/battery/chemistry", string(kind))
		c := careOf(t, s)
		unfoldCare(c)
		page := html(c)
		if strings.Contains(page, words.T("life.so_full")) != lead || strings.Contains(page, words.T("life.so")) == lead || strings.Contains(page, half) == lead {
			t.Errorf("%s: half full told: %v", kind, strings.Contains(page, half))
		}
	}
}
