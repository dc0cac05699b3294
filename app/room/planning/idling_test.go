package planning

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/words"
	"duskline/calc/outlook"
	"duskline/calc/plan"
)

// Each position stands in the table with what the core says of it, the chosen
// one in the sentence over it.
func TestIdleTableTellsEveryPosition(t *testing.T) {
	s := session(t, "bird-count")
	list, err := outlook.Idle(*s.Desk.Plan())
	if err != nil || len(list) != 3 {
		t.Fatalf("%d positions: %v", len(list), err)
	}
	for _, o := range list {
		s.Desk.Enter("/case/switch", string(o.Switch))
		html := app.HTMLString((&idling{Desk: s.Desk, open: true}).Render())
		for _, want := range []string{words.Switch(o.Switch), words.Energy(o.AnHour), words.Energy(o.ANight), words.Energy(o.ADay), empties(o), idleSaid(o)} {
			if !strings.Contains(html, want) {
				t.Errorf("%s: no %q in %s", o.Switch, want, html)
			}
		}
		if ac := strings.Contains(live(o), words.T("idle.ac")); ac != o.AC {
			t.Errorf("%s feeds %q", o.Switch, live(o))
		}
	}
	if list[1].ADay <= list[0].ADay {
		t.Errorf("the inverter costs nothing: %v and %v", list[0].ADay, list[1].ADay)
	}
	wayHost{s.Desk, s.Folds}.Enter(sleepAt, "true")
	asleep, err := outlook.Idle(*s.Desk.Plan())
	if err != nil || asleep[1].ADay >= list[1].ADay || !strings.Contains(live(asleep[1]), words.T("idle.asleep")) {
		t.Errorf("asleep: %v, awake %v, %q, %v", asleep[1].ADay, list[1].ADay, live(asleep[1]), err)
	}
}

// A Case that draws nothing, or next to nothing, lasts; no figure is made up.
func TestIdleWithoutAnyDraw(t *testing.T) {
	s := session(t, "bird-count")
	for _, amps := range []float64{0, 1e-6} {
		faults := s.Desk.Change(func(p *plan.Plan) {
			c := &p.Case
			c.Controller.StandbyA, c.DC.StandbyA, c.USB.StandbyA, c.Meters.StandbyA = 0, 0, 0, amps
			c.Switch, c.Inverter.RatedW = plan.DCOnly, 0
		})
		if faults != nil {
			t.Fatal(faults)
		}
		html := app.HTMLString((&idling{Desk: s.Desk, open: true}).Render())
		want := words.T("idle.never")
		if amps > 0 {
			want = words.T("figure.more_than", "")
		}
		if !strings.Contains(html, want) || strings.Contains(html, "Inf") || strings.Contains(html, "NaN") {
			t.Errorf("%g A: %s", amps, html)
		}
	}
}
