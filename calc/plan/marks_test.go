package plan_test

import (
	"fmt"
	"testing"
	"time"

	"duskline/calc/battery"
	"duskline/calc/plan"
)

// Figures: common practice, no source. What is checked is that they fit: the
// chemistry's own charging band, the document's rules, and a battery that is
// neither alarmed nor cut off while it rests at half charge.
func TestUsualMarksFitTheirChemistry(t *testing.T) {
	start := time.Date(2026, 6, 12, 18, 0, 0, 0, time.UTC)
	chemistries, _ := plan.Choices("/case/battery/chemistry")
	if len(chemistries) < 2 {
		t.Fatalf("chemistries: %v", chemistries)
	}
	for _, name := range chemistries {
		m, ok := plan.UsualMarks(plan.Chemistry(name))
		if name == string(plan.Own) && !ok {
			continue // its table gives them
		}
		if !ok {
			t.Errorf("%s has no usual marks", name)
			continue
		}
		var c battery.Chemistry
		for _, c = range battery.Named() {
			if c.Name == name {
				break
			}
		}
		if c.Name != name {
			t.Fatalf("%s: the model has none of that name", name)
		}
		if m.ChargeV < float64(c.ChargeFrom) || m.ChargeV > float64(c.ChargeTo) {
			t.Errorf("%s: charging stops at %g V, usual are %g to %g", name, m.ChargeV, c.ChargeFrom, c.ChargeTo)
		}
		for _, ah := range []float64{1, 2.5, 7, 20, 40, 100, 250, 1000} {
			for _, mohm := range []float64{0.5, 2, 10, 25, 100, 500} {
				p := plan.Blank("marks", start)
				b := &p.Case.Battery
				b.Chemistry, b.CapacityAh, b.ResistanceMohm = plan.Chemistry(name), ah, mohm
				b.SetMarks(m)
				if b.Marks() != m {
					t.Fatalf("%s: marks %+v, set %+v", name, b.Marks(), m)
				}
				if faults := plan.Check(p); len(faults) > 0 {
					t.Errorf("%s, %g Ah, %g mΩ: %v", name, ah, mohm, faults)
					continue
				}
				model, err := b.Model()
				if err != nil {
					t.Fatal(err)
				}
				if rest := float64(model.Rest(0.5)); rest <= m.AlarmV {
					t.Errorf("%s: alarm at %g V, a half full battery rests at %.2f V", name, m.AlarmV, rest)
				}
				// An alarm under the volts of the empty battery at rest would come too
				// late with a small draw.
				if empty := float64(model.Rest(0)); m.AlarmV <= empty {
					t.Errorf("%s: alarm at %g V sounds too late, empty rests at %.2f V", name, m.AlarmV, empty)
				}
			}
		}
	}
	if _, ok := plan.UsualMarks("wood"); ok {
		t.Error("marks for an unknown chemistry")
	}
}

// A change of chemistry with its marks is taken either way; without them it
// often is not, which is why there are usual marks.
func TestChemistryChangesWithItsMarks(t *testing.T) {
	words, _ := plan.Choices("/case/battery/chemistry")
	refused := 0
	for _, from := range words {
		for _, to := range words {
			p := plan.Blank("change", time.Date(2026, 6, 12, 18, 0, 0, 0, time.UTC))
			b := &p.Case.Battery
			m, ok := plan.UsualMarks(plan.Chemistry(from))
			if b.SetMarks(m); !ok || to == string(plan.Own) {
				continue
			}
			if b.Chemistry = plan.Chemistry(to); len(plan.Check(p)) > 0 {
				refused++
			}
			m, _ = plan.UsualMarks(b.Chemistry)
			b.SetMarks(m)
			if faults := plan.Check(p); len(faults) > 0 {
				t.Errorf("from %s to %s: %v", from, to, faults)
			}
		}
	}
	if refused < 8 { // NMC to and from the four others
		t.Errorf("only %d changes need other marks", refused)
	}
}

func ExampleUsualMarks() {
	m, _ := plan.UsualMarks(plan.AGM)
	fmt.Println(m.ChargeV, m.AlarmV, m.CutoffV, m.ReconnectV)
	// Output: 14.4 12 11.1 12.6
}

func TestPlacelessUntilThePlaceIsSet(t *testing.T) {
	for _, hours := range []float64{-9.5, 0, 5.75, 14} {
		start := time.Date(2026, 6, 12, 18, 0, 0, 0, time.FixedZone("", int(hours*3600)))
		p := plan.Blank("place", start)
		if !p.Placeless() {
			t.Errorf("UTC%+g: a blank plan has a place", hours)
		}
		p.Sky.Place, p.Sky.AltitudeM = "Tern Lake", 10
		p.SetStart(start.In(time.FixedZone("", 3600)))
		if !p.Placeless() || p.Sky.LongitudeDeg != 15 {
			t.Errorf("UTC%+g: after another offset at %g°, placeless %v", hours, p.Sky.LongitudeDeg, p.Placeless())
		}
		for _, set := range []func(*plan.Sky){
			func(k *plan.Sky) { k.LatitudeDeg = -45 },
			func(k *plan.Sky) { k.LongitudeDeg = 15.1 },
		} {
			q := p
			set(&q.Sky)
			before := q.Sky
			if q.Placeless() {
				t.Errorf("%+v has no place", q.Sky)
			}
			if q.SetStart(start); q.Sky.LongitudeDeg != before.LongitudeDeg {
				t.Error("a set place moved with the clock")
			}
		}
	}
}
