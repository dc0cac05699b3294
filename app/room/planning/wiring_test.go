package planning

import (
	"math"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/app/words"
	"duskline/calc/panel"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// two is a session whose plan has a panel of 100 W and so many of 60 W.
func two(t *testing.T, joined plan.Joined, small int) *room.Session {
	t.Helper()
	s := session(t, "bird-count")
	faults := s.Desk.Change(func(p *plan.Plan) {
		a, b := plan.NewPanel("Meadow", 30, 180), plan.NewPanel("Tent", 30, 180)
		b.RatedW, b.Count, b.String = 60, small, 2
		p.Panels.List, p.Panels.Joined = []plan.Panel{a, b}, joined
		p.Case.Controller.InputMaxV, p.Case.Controller.LimitA = 250, 60
	})
	if faults != nil {
		t.Fatal(faults)
	}
	return s
}

// What the picture is told is what the core answers for the same panels joined
// by hand.
func TestJoinedIsWhatTheCoreSays(t *testing.T) {
	at := func(w qty.Watt) panel.Curve {
		m, err := panel.FromWatts(w, panel.Crystalline)
		if err != nil {
			t.Fatal(err)
		}
		return m.At(1000, 25)
	}
	for _, c := range []struct {
		joined  plan.Joined
		small   int
		strings int
		by      panel.Array
	}{
		{plan.SideBySide, 1, 2, panel.Array{Parts: []panel.Part{{Curve: at(100), Count: 1}, {Curve: at(60), Count: 1}}}},
		{plan.SideBySide, 3, 4, panel.Array{Parts: []panel.Part{{Curve: at(100), Count: 1}, {Curve: at(60), Count: 3}}}},
		{plan.EndToEnd, 1, 1, panel.Array{Joined: panel.EndToEnd, Parts: []panel.Part{{Curve: at(100), Count: 1}, {Curve: at(60), Count: 1}}}},
		{plan.InStrings, 2, 2, panel.Array{Joined: panel.Strings, Parts: []panel.Part{{Curve: at(100), Count: 1, String: 1}, {Curve: at(60), Count: 2, String: 2}}}},
	} {
		s := two(t, c.joined, c.small)
		j, err := joinedOf(s.Desk.Plan())
		if err != nil {
			t.Fatal(err)
		}
		v, i := c.by.MaxPower()
		if math.Abs(float64(j.drawn.Volts-v)) > 1e-9 || math.Abs(float64(j.drawn.Amps-i)) > 1e-9 {
			t.Errorf("%s of 1 and %d: %.3f V %.3f A, by hand %.3f V %.3f A", c.joined, c.small, j.drawn.Volts, j.drawn.Amps, v, i)
		}
		if len(j.drawn.Strings) != c.strings {
			t.Errorf("%s of 1 and %d: %d strings", c.joined, c.small, len(j.drawn.Strings))
		}
		n := 0
		for _, x := range j.drawn.Strings {
			for _, w := range x.Wired {
				n += w.Count
			}
		}
		if n != 1+c.small {
			t.Errorf("%s of 1 and %d: %d panels drawn", c.joined, c.small, n)
		}
	}
}

// A 60 W end to end with a 100 W holds it back, and the page says what that
// costs; side by side, alike in volts, they cost nothing.
func TestTheCostOfJoiningIsSaid(t *testing.T) {
	for joined, want := range map[plan.Joined]bool{plan.SideBySide: false, plan.EndToEnd: true} {
		s := two(t, joined, 1)
		html := app.HTMLString((&wiring{Desk: s.Desk, Width: 328}).Render())
		j, _ := joinedOf(s.Desk.Plan())
		if got := j.cost() != ""; got != want {
			t.Errorf("%s: cost said: %v (%.1f W)", joined, got, j.lost)
		}
		if want && !strings.Contains(html, j.cost()) {
			t.Errorf("%s: the page does not say %q", joined, j.cost())
		}
		if !strings.Contains(html, words.Watts(qty.Power(j.drawn.Volts, j.drawn.Amps))) || !strings.Contains(html, `id="table-wiring"`) {
			t.Errorf("%s: the whole or its table is missing:\n%s", joined, html)
		}
	}
}

// Fuses from three lines on, or sooner where the label allows less than the
// others drive; a label under the least fuse says not to join them so.
func TestFusesAreAskedForWhereTheyAreNeeded(t *testing.T) {
	for _, c := range []struct {
		small int
		label float64
		want  string
	}{
		{1, 0, ""}, {2, 0, "wiring.fuse"}, {1, 15, ""}, {2, 15, ""}, {3, 15, "wiring.fuse_label"}, {3, 5, "wiring.no_fuse"},
	} {
		s := two(t, plan.SideBySide, c.small)
		s.Desk.Change(func(p *plan.Plan) {
			for i := range p.Panels.List {
				p.Panels.List[i].SeriesFuseA = c.label
			}
		})
		j, err := joinedOf(s.Desk.Plan())
		if err != nil {
			t.Fatal(err)
		}
		got := j.fuses()
		head, _, _ := strings.Cut(words.T("wiring.no_fuse", 1, "", "", ""), ":")
		switch {
		case c.want == "" && got != "":
			t.Errorf("%d small, label %g A: %q", c.small, c.label, got)
		case c.want != "" && !strings.Contains(got, head[2:]):
			t.Errorf("%d small, label %g A: %q", c.small, c.label, got)
		case (c.want == "wiring.no_fuse") != strings.Contains(got, "Do not join"):
			t.Errorf("%d small, label %g A: %q", c.small, c.label, got)
		}
	}
}

// The cable's volts, heat and share are Ohm's: 10 m of 1.5 mm² under 100 W.
func TestTheCableSaysVoltsAndHeat(t *testing.T) {
	s := two(t, plan.SideBySide, 1)
	if html := app.HTMLString(cableSaid(s.Desk.Plan())); strings.Contains(html, "flow") {
		t.Errorf("no cable, and said: %s", html)
	}
	s.Desk.Change(func(p *plan.Plan) {
		p.Panels.List = p.Panels.List[:1]
		p.Panels.CableM, p.Panels.CableGauge = 10, "1.5_mm2"
	})
	p := s.Desk.Plan()
	j, err := joinedOf(p)
	if err != nil {
		t.Fatal(err)
	}
	// IEC 60228, class 5: 13.3 Ω/km at 20 °C; copper 0.393 %/K; 40 °C; both ways.
	r := 2 * 10 * 13.3 / 1000 * (1 + 0.00393*20)
	if got := float64(j.run.Resistance()); math.Abs(got-r) > 1e-6 {
		t.Errorf("%.5f Ω, want %.5f", got, r)
	}
	i := float64(j.drawn.Amps)
	html := strings.ReplaceAll(app.HTMLString(cableSaid(p)), "\u00a0", " ")
	for _, want := range []string{words.Watts(qty.Watt(i * i * r)), "6 mm² would keep it under"} {
		if !strings.Contains(html, strings.ReplaceAll(want, "\u00a0", " ")) {
			t.Errorf("no %q in %s", want, html)
		}
	}
	// In the joint it counts, too: the Case gets that much less.
	bare := two(t, plan.SideBySide, 1)
	bare.Desk.Change(func(p *plan.Plan) { p.Panels.List = p.Panels.List[:1] })
	b, _ := joinedOf(bare.Desk.Plan())
	lost := float64(qty.Power(b.drawn.Volts, b.drawn.Amps) - qty.Power(j.drawn.Volts, j.drawn.Amps))
	if math.Abs(lost-i*i*r) > 0.1*i*i*r {
		t.Errorf("the cable takes %.2f W at the Case, %.2f W as heat", lost, i*i*r)
	}
}

// Panels under the battery's volts charge nothing, and the page says by how
// much; so do panels under the volts at which the controller starts.
func TestPanelsThatChargeNothingAreToldSo(t *testing.T) {
	s := two(t, plan.SideBySide, 1)
	said := func() string {
		j, err := joinedOf(s.Desk.Plan())
		if err != nil {
			t.Fatal(err)
		}
		return strings.ReplaceAll(j.nothing(s.Desk.Plan().Case), "\u00a0", " ")
	}
	if got := said(); got != "" {
		t.Errorf("panels of 18 V: %q", got)
	}
	s.Desk.Change(func(p *plan.Plan) { p.Case.Controller.StartV = 30 })
	if got := said(); !strings.Contains(got, "22.0 V") || !strings.Contains(got, "starts at 30.0 V") {
		t.Errorf("start at 30 V: %q", got)
	}
	s.Desk.Change(func(p *plan.Plan) { p.Panels.Joined = plan.EndToEnd })
	if got := said(); got != "" {
		t.Errorf("44 V end to end, start at 30 V: %q", got)
	}
	// A label of 18 cells: half the volts of the generic one.
	faults := s.Desk.Change(func(p *plan.Plan) {
		d, err := (plan.Panel{RatedW: 100}).GenericLabel()
		if err != nil {
			t.Fatal(err)
		}
		d.VocV, d.VmpV, d.Cells = d.VocV/2, d.VmpV/2, d.Cells/2
		p.Panels.List = p.Panels.List[:1]
		p.Panels.List[0].RatedW, p.Panels.List[0].Datasheet = 50, &d
		p.Case.Controller.StartV = 0
	})
	if faults != nil {
		t.Fatal(faults)
	}
	b, err := s.Desk.Plan().Case.Battery.Model()
	if err != nil {
		t.Fatal(err)
	}
	under := float64(b.Rest(0.5)) + 1 - 11 // MPPT wants 1 V more
	if got := said(); !strings.Contains(got, "11.0 V") || !strings.Contains(got, strings.ReplaceAll(words.Volts(qty.Volt(under)), "\u00a0", " ")+" under") {
		t.Errorf("11 V, %.2f V under: %q", under, got)
	}
}

// Side by side made strings stays side by side until a number is changed; end
// to end stays end to end.
func TestStringsBeginAsTheyWere(t *testing.T) {
	for joined, want := range map[plan.Joined]int{plan.SideBySide: 2, plan.EndToEnd: 1} {
		s := two(t, joined, 1)
		s.Desk.Change(func(p *plan.Plan) { p.Panels.List[1].String = 1 })
		before, _ := joinedOf(s.Desk.Plan())
		joinHost{s.Desk}.Enter(joinedAt, string(plan.InStrings))
		j, err := joinedOf(s.Desk.Plan())
		if err != nil || s.Desk.Plan().Panels.Joined != plan.InStrings || len(j.drawn.Strings) != want {
			t.Errorf("%s: %d strings, %v", joined, len(j.drawn.Strings), err)
		}
		if math.Abs(float64(j.drawn.Volts-before.drawn.Volts)) > 1e-6 {
			t.Errorf("%s: %.3f V, was %.3f V", joined, j.drawn.Volts, before.drawn.Volts)
		}
	}
}

func BenchmarkJoined(b *testing.B) {
	s := session(b, "eye-clinic")
	b.ReportAllocs()
	for b.Loop() {
		app.HTMLString((&wiring{Desk: s.Desk, Width: 328}).Render())
	}
}

// Hours of an engine that were kept when the vehicle charger went: said at the
// hours, with the way to one.
func TestEngineHoursWithoutAVehicleCharger(t *testing.T) {
	s := session(t, "bird-count")
	says := func() string {
		sh := &sheet{Session: s}
		html := ""
		for _, part := range sh.charging(form{d: s.Desk}) {
			html += app.HTMLString(part)
		}
		return html
	}
	line := words.T("charging.engine_idle")
	for _, c := range []struct {
		vehicle, hours, line, way bool
	}{{false, false, false, true}, {false, true, true, true}, {true, true, false, false}, {true, false, false, false}} {
		faults := s.Desk.Change(func(p *plan.Plan) {
			p.Case.Vehicle, p.Trip.EngineHours = nil, nil
			if c.vehicle {
				p.Case.Vehicle = &plan.VehicleCharger{CurrentA: 10, EfficiencyPct: 90}
			}
			if c.hours {
				p.Trip.EngineHours = []plan.Window{{FromH: 8, ToH: 10}}
			}
		})
		if faults != nil {
			t.Fatal(faults)
		}
		html := says()
		if strings.Contains(html, app.HTMLString(app.Text(line))) != c.line || strings.Contains(html, `id="to-vehicle"`) != c.way {
			t.Errorf("vehicle %v, hours %v: %s", c.vehicle, c.hours, html)
		}
		if shown := strings.Contains(html, "trip-engine_hours"); shown != (c.vehicle || c.hours) {
			t.Errorf("vehicle %v, hours %v: the hours are shown: %v", c.vehicle, c.hours, shown)
		}
	}
}
