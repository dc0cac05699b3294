package planning

import (
	"reflect"
	"strings"
	"testing"

	"duskline/app/room"
	"duskline/app/room/desk"
	"duskline/app/widget"
	"duskline/calc/plan"
)

// finely opens all small folds and brings out every figure in them.
func finely(s *room.Session) {
	for id := range finerFields {
		s.Folds["finer-"+id] = true
	}
	for _, at := range allWays {
		wayHost{s.Desk, s.Folds}.Enter(at, "true")
	}
}

var allWays = []string{lowLightAt, nightAt, halfAt, sleepAt, ownCutAt, vehicleAt, healthAt, peukertAt, leaksAt, noChargeAt, heatAt, guardAt}

// all is the page with each device and each panel open in turn.
func all(s *room.Session) string {
	html := page(s)
	for i := range s.Desk.Plan().Gear {
		s.Rows[gearAt] = i
		html += page(s)
	}
	for i := range s.Desk.Plan().Panels.List {
		s.Rows[panelsAt] = i
		html += page(s)
	}
	return html
}

// Who plans for the first time sees no more than he did: what lies in small
// folds is not there until one is opened, and there then.
func TestFinerFieldsAreThereWhenTheirFoldIsOpen(t *testing.T) {
	for _, after := range []plan.AfterFull{plan.AfterFloat, plan.AfterRest} {
		s := session(t, "bird-count")
		unfold(s)
		s.Desk.Change(func(p *plan.Plan) {
			p.Case.Controller.Kind = plan.MPPT
			p.Case.Inverter.Wave = plan.ModifiedSine
			p.Case.Battery.AfterFull, p.Case.Battery.AbsorptionH = after, 2
			p.Case.Battery.Chemistry = plan.AGM
			marks, _ := plan.UsualMarks(plan.AGM)
			p.Case.Battery.SetMarks(marks)
			p.Gear[0].Route, p.Gear[0].SurgeW = plan.RouteAC, 100
		})
		closed := all(s)
		finely(s)
		open := all(s)
		// Measured, age and cycles are not asked for; a table is of its own kind.
		wayHost{s.Desk, s.Folds}.Enter(healthAt, "false")
		s.Desk.Enter(chemistryAt, string(plan.Own))
		open += page(s)
		for fold, list := range finerFields {
			for _, at := range list {
				id := `id="` + widget.ID(strings.ReplaceAll(at, "*", "0"))
				bar := strings.HasSuffix(at, "_hours") && !strings.HasSuffix(at, "/rated_hours")
				if at == "/case/battery/protection" {
					id += "-over_V"
				}
				if bar {
					id += "-bar"
				}
				id += `"`
				if strings.HasSuffix(at, "float_V") && after != plan.AfterFloat {
					continue
				}
				// What a device is counts on a modified sine: there it is in view.
				if strings.Contains(closed, id) && at != "/gear/*/sensitivity" {
					t.Errorf("%s: seen before %s is opened", at, fold)
				}
				if !strings.Contains(open, id) {
					t.Errorf("%s: not seen when %s is open", at, fold)
				}
				if got := finerOf(strings.ReplaceAll(at, "*", "7") + "/0/from_h"); got != fold {
					t.Errorf("%s is found in %q, lies in %q", at, got, fold)
				}
			}
		}
	}
	if got := finerOf("/case/battery/charge_V"); got != "" {
		t.Errorf("a plain field is found in %q", got)
	}
}

// A figure that is switched on is taken as it comes, and switched off again it
// leaves nothing behind.
func TestWaysComeAndGo(t *testing.T) {
	for _, key := range []string{"bird-count", "eye-clinic", "river-festival"} {
		for _, at := range allWays {
			s := session(t, key)
			before := desk.Clone(*s.Desk.Plan())
			ways(at, false)(&before)
			h := wayHost{s.Desk, s.Folds}
			version := s.Desk.Version()
			h.Enter(at, "true")
			if s.Desk.Version() == version {
				t.Errorf("%s: %s is not taken", key, at)
			}
			if reflect.DeepEqual(s.Desk.Plan().Case, before.Case) {
				t.Errorf("%s: %s brings nothing", key, at)
			}
			h.Enter(at, "false")
			if !reflect.DeepEqual(s.Desk.Plan().Case, before.Case) {
				t.Errorf("%s: %s leaves something behind", key, at)
			}
		}
	}
}

// The way from the answer to a value that is not taken ends at its field, also
// where that lies in a small fold.
func TestTheWayLeadsIntoSmallFolds(t *testing.T) {
	s := session(t, "bird-count")
	s.Desk.Enter("/panels/list/1/age_years", "99")
	if s.Desk.Fault("/panels/list/1/age_years") == "" {
		t.Fatal("99 years are taken")
	}
	at := s.Desk.Waiting()[0]
	fold, list, row := foldOf(at)
	s.Folds[fold], s.Rows[list], s.Folds["finer-"+finerOf(at)] = true, row, true
	if html := page(s); !strings.Contains(html, `id="`+widget.ID(at)+`"`) {
		t.Errorf("no field for %s", at)
	}
}

// One tap sets the usual stages of either kind of battery, and the plan takes
// them with its own charging volts, also the lowest that a plan may have.
func TestUsualStagesAreTaken(t *testing.T) {
	for _, c := range []plan.Chemistry{plan.LiFePO4, plan.AGM} {
		for _, charge := range []float64{0, 13.3} {
			s := session(t, "bird-count")
			s.Desk.Enter("/case/battery/chemistry", string(c))
			if charge > 0 {
				faults := s.Desk.Change(func(p *plan.Plan) {
					b := &p.Case.Battery
					b.CutoffV, b.AlarmV, b.ReconnectV, b.ChargeV = 11, 11.5, 12.5, charge
				})
				if faults != nil {
					t.Fatal(faults)
				}
			}
			was := s.Desk.Plan().Case.Battery.ChargeV
			if faults := s.Desk.Change(desk.UsualStages); faults != nil {
				t.Errorf("%s at %g V: %v", c, was, faults)
			}
			b := s.Desk.Plan().Case.Battery
			if b.AfterFull == plan.AfterHold || b.AbsorptionH == 0 || b.ChargeV != was || (b.CompensationMVPerK < 0) != (c == plan.AGM) {
				t.Errorf("%s: %+v", c, b)
			}
		}
	}
}

// A figure that is emptied to be typed anew keeps its field, and comes back.
func TestAnEmptiedFigureKeepsItsField(t *testing.T) {
	const at, id = "/case/controller/night_A", `id="case-controller-night_A"`
	s := session(t, "bird-count")
	unfold(s)
	s.Folds["finer-controller"] = true
	if strings.Contains(page(s), id) {
		t.Fatal("a draw at night before it is switched on")
	}
	wayHost{s.Desk, s.Folds}.Enter(nightAt, "true")
	for _, text := range []string{"", "0.02"} {
		s.Desk.Enter(at, text)
		if !strings.Contains(page(s), id) {
			t.Errorf("%q takes the field away", text)
		}
	}
	if n := s.Desk.Plan().Case.Controller.NightA; n == nil || *n != 0.02 {
		t.Errorf("typed 0.02 A, the plan has %v", n)
	}
	wayHost{s.Desk, s.Folds}.Enter(nightAt, "false")
	if strings.Contains(page(s), id) || s.Desk.Plan().Case.Controller.NightA != nil {
		t.Error("switched off it stays")
	}
}
