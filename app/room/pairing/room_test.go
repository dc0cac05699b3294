package pairing

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/app/room/desk"
	"duskline/app/store"
	"duskline/calc/outlook"
	core "duskline/calc/pairing"
	"duskline/calc/plan"
)

// seen is the results for an example, changed before they are found.
func seen(t testing.TB, change func(*plan.Plan)) *view {
	t.Helper()
	s := room.NewSession(store.NewShelf(nil, time.Now))
	s.Begin()
	if !s.OpenExample("bird-count") {
		t.Fatal("no example")
	}
	if change != nil {
		if f := s.Desk.Change(change); f != nil {
			t.Fatal(f)
		}
	}
	p := desk.Clone(*s.Desk.Plan())
	l, err := core.Run(p, nil)
	if err != nil {
		t.Fatal(err)
	}
	return &view{r: &Room{Session: s, tables: map[string]bool{}, more: map[string]int{}}, s: s, l: l, p: &p, fresh: true}
}

// all is the whole of it.
func (v *view) all() string {
	html := ""
	for _, part := range []app.UI{v.picks(), v.generic(), v.owned(), v.refill(), v.mixes(), v.engine()} {
		html += app.HTMLString(part)
	}
	return html
}

func text(html string) string {
	html = regexp.MustCompile(`<[^>]*>`).ReplaceAllString(html, " ")
	return strings.Join(strings.Fields(strings.NewReplacer("\u00a0", " ", `\u00a0`, " ", "&#39;", "'", "&#34;", `"`).Replace(html)), " ")
}

func Example() {
	s := room.NewSession(store.NewShelf(nil, time.Now))
	s.Begin()
	p := s.Desk.Plan()
	l, err := core.Run(*p, nil) // on the page it is tried by Session.Pairing, beside it
	v := &view{r: &Room{Session: s}, s: s, l: l, p: p, fresh: true}
	fmt.Println(strings.Contains(app.HTMLString(v.picks()), "The least that holds"), err)
	// Output: true <nil>
}

// Every rung is a button that says what its picture shows, its reasons unfold
// below it, and nothing is without words or blocked by the page's policy.
func TestEveryRungUnfoldsItsReasons(t *testing.T) {
	v := seen(t, nil)
	keys := []string{""}
	for i := range v.l.Rungs {
		keys = append(keys, key(genericKey, i))
	}
	for i := range v.l.Owned {
		keys = append(keys, key(ownedKey, i))
	}
	if len(keys) < 1+12+3 {
		t.Fatalf("only %d rungs", len(keys))
	}
	for _, k := range keys {
		v.r.open = k
		for _, wide := range []bool{false, true} {
			v.r.wide = wide
			html := v.all()
			for _, bad := range []string{"style=", "%!", "pairing.", "pairing_", ">[", "NaN", "iv."} {
				if strings.Contains(html, bad) {
					t.Errorf("%q, wide %v: contains %q", k, wide, bad)
				}
			}
			if n := strings.Count(html, `class="rung-button"`); n != len(keys)-1 {
				t.Errorf("%d buttons for %d rungs", n, len(keys)-1)
			}
			if k != "" && (strings.Count(html, `class="reasons"`) != 1 || !strings.Contains(html, `id="reasons-`+k+`"`)) {
				t.Errorf("%q, wide %v: not its reasons and no other's", k, wide)
			}
		}
	}
	v.r.open = key(genericKey, 6)
	said := text(app.HTMLString(v.generic()))
	for _, want := range []string{"Lowest charge", "Refill from empty", "Volts in the cold", "limit 60.0 V", "Fuse in each string", "none needed"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not said: %s", want, said)
		}
	}
}

// Sixteen kinds make hundreds of joinings, which come some at a time.
func TestManyKindsComeSomeAtATime(t *testing.T) {
	v := seen(t, func(p *plan.Plan) {
		one := p.Panels.List[0]
		p.Panels.List, one.Datasheet = nil, nil
		for i := range plan.MaxPanels {
			one.Name, one.RatedW = fmt.Sprintf("Kind %d", i), float64(20+10*i)
			p.Panels.List = append(p.Panels.List, one)
		}
		p.Trip.LengthH, p.Trip.StepMin = 24, 15
	})
	if len(v.l.Owned) < 200 || v.l.OwnedWhole {
		t.Fatalf("%d joinings, all %v", len(v.l.Owned), v.l.OwnedWhole)
	}
	count := func() int { return strings.Count(app.HTMLString(v.owned()), `class="rung-button"`) }
	first := count()
	if first > fewRungs+1 || !strings.Contains(text(app.HTMLString(v.owned())), "You have many kinds") {
		t.Errorf("%d rungs at first", first)
	}
	v.r.open = key(ownedKey, 200) // where an answer may lead
	if html := app.HTMLString(v.owned()); !strings.Contains(html, `id="rung-o200"`) {
		t.Error("the rung that is open is not shown")
	}
	for range 30 {
		v.r.more["yours-more"]++
	}
	if n := count(); n != len(v.l.Owned) || strings.Contains(app.HTMLString(v.owned()), "yours-more") {
		t.Errorf("%d of %d at the end", n, len(v.l.Owned))
	}
	if n := strings.Count(app.HTMLString(v.mixes()), `class="mix"`); n != fewMixes {
		t.Errorf("%d mixes", n)
	}
}

// Panels that would harm the controller cannot be taken without saying so.
func TestDangerIsNotTakenWithoutSayingSo(t *testing.T) {
	v := seen(t, func(p *plan.Plan) { p.Case.Controller.InputMaxV = 22 })
	r, _, _ := v.rung("g6")
	if r.Fit != core.Danger {
		t.Fatalf("100 W at 22 V is %s", r.Fit)
	}
	if v.l.Least >= 0 || v.l.Pack >= 0 {
		t.Error("a danger is recommended")
	}
	v.r.open = "g6"
	html := app.HTMLString(v.generic())
	said := text(html)
	for _, want := range []string{"DANGER", "Do not connect them", "100 W: do not connect", "I know: these panels must not be connected"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not said: %s", want, said)
		}
	}
	use := regexp.MustCompile(`<button[^>]*id="use-g6"[^>]*>`)
	if b := use.FindString(html); !strings.Contains(b, "disabled") {
		t.Errorf("the button can be tapped: %s", b)
	}
	before := v.s.Desk.Version()
	v.take("g6")
	if v.s.Desk.Version() != before {
		t.Error("taken without saying so")
	}
	v.r.know = true
	v.take("g6")
	if got := v.s.Desk.Plan().Panels.List; len(got) != 1 || got[0].RatedW != 100 || got[0].Name == "" {
		t.Errorf("not taken by who knows: %+v", got)
	}
	if v.s.Notice.Undo == nil {
		t.Error("no way back")
	}
}

// What is in the plan already is not offered, what is stale neither.
func TestUseIsOfferedOnlyWhereItDoesSomething(t *testing.T) {
	v := seen(t, nil)
	for i, r := range v.l.Owned {
		v.r.open = key(ownedKey, i)
		html := app.HTMLString(v.owned())
		if in := strings.Contains(html, `id="in-plan"`); in != r.AsIs || strings.Contains(html, `id="use-`) == r.AsIs {
			t.Errorf("%s: in the plan %v, as it stands %v", v.r.open, in, r.AsIs)
		}
	}
	v.r.open, v.fresh = "g3", false
	version := v.s.Desk.Version()
	v.take("g3")
	if v.s.Desk.Version() != version {
		t.Error("panels of another plan were taken")
	}
	v.fresh = true
	v.take("g99")
	v.take("")
	if v.s.Desk.Version() != version {
		t.Error("a rung that is not there was taken")
	}
}

// The three answers lead to their rungs; none is said where there is none.
func TestPicks(t *testing.T) {
	v := seen(t, nil)
	html := app.HTMLString(v.picks())
	for name, i := range map[string]int{"least": v.l.Least, "most": v.l.Most, "pack": v.l.Pack} {
		if i < 0 || !regexp.MustCompile(`<button[^>]*id="pick-`+name+`"`).MatchString(html) {
			t.Errorf("%s, at %d, is no button", name, i)
		}
	}
	v = seen(t, func(p *plan.Plan) { p.Panels.List = nil; p.Gear[0].Count = 100 })
	html = v.all()
	if v.l.Least != -1 || !strings.Contains(text(html), "none of these") || !strings.Contains(text(html), "no panels yet") {
		t.Errorf("nothing holds (%d), and the page says %s", v.l.Least, text(html))
	}
}

// Panels that are too much side by side are told by what they are too much:
// volts, or amps.
func TestMixesSayWhatIsTooMuch(t *testing.T) {
	for _, c := range []struct {
		change       func(*plan.Plan)
		says, saysNo string
	}{
		{func(p *plan.Plan) { p.Case.Controller.InputMaxV = 21 }, "Not side by side: in the cold they reach", "their amps are over"},
		{func(p *plan.Plan) { p.Case.Controller.Kind, p.Case.Controller.LimitA = plan.PWM, 5 }, "Not side by side: their amps are over", "Not side by side: in the cold"},
	} {
		v := seen(t, c.change)
		html := text(app.HTMLString(v.mixes()))
		if !strings.Contains(html, c.says) || strings.Contains(html, c.saysNo) {
			t.Errorf("%q is not said, or %q is: %s", c.says, c.saysNo, html)
		}
	}
}

// Where nothing holds, the answers say which size comes nearest and what it
// lacks, and lead there.
func TestPicksWhereNothingHolds(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*plan.Plan)
		edit   func(*core.Ladder)
		to     string
		says   []string
	}{
		{"much too much gear", func(p *plan.Plan) { p.Gear[0].Count = 100 }, nil, "g11",
			[]string{"400 W comes nearest and still runs out", "the gear asks for more, or sooner", "If you must go, take 400 W"}},
		{"four times the gear", func(p *plan.Plan) {
			for i := range p.Gear {
				p.Gear[i].Count *= 4
			}
		}, nil, "g11", []string{"400 W comes nearest and still runs out", "Wh is used"}},
		{"a large reserve", func(p *plan.Plan) { p.Trip.ReservePct = 80 }, nil, "",
			[]string{"inside your reserve of 80 %", "Start fuller"}},
		{"gear without power", func(p *plan.Plan) { p.Trip.ReservePct = 80 }, func(l *core.Ladder) { l.Rungs[4].LowestPct = 99 }, "g4",
			[]string{"its lowest charge is 99 %, but some gear gets no power"}},
		{"volts over its own", func(p *plan.Plan) { p.Case.Controller.InputMaxV = 15 }, nil, "",
			[]string{"Every size here is too much for this Case's controller"}},
	} {
		v := seen(t, c.change)
		if c.edit != nil {
			for i := range v.l.Rungs {
				v.l.Rungs[i].Verdict = core.Verdict(outlook.Tight)
			}
			c.edit(v.l)
		}
		if v.l.Least != -1 || v.l.Pack != -1 {
			t.Fatalf("%s: %d holds", c.name, v.l.Least)
		}
		html := app.HTMLString(v.picks())
		for _, want := range c.says {
			if !strings.Contains(text(html), want) {
				t.Errorf("%s: %q is not said: %s", c.name, want, text(html))
			}
		}
		at, _ := v.nearest()
		if led := strings.Contains(html, `data-to="`+key(genericKey, at)+`"`); led != (at >= 0) {
			t.Errorf("%s: leads to %d: %v", c.name, at, led)
		}
		if c.to != "" && c.to != key(genericKey, at) {
			t.Errorf("%s: %d comes nearest, want %s", c.name, at, c.to)
		}
		if at >= 0 && v.l.Rungs[at].Fit.Bars() {
			t.Errorf("%s: %d must not be connected", c.name, at)
		}
	}
}

// Every hour has its table, dark ones too, and the axes stay through the trip.
func TestCurves(t *testing.T) {
	v := seen(t, nil)
	c := &curves{Plan: v.p, Of: "x", Width: 328}
	c.make()
	if c.view == nil || c.after <= 0 {
		t.Fatalf("at %g s", c.after)
	}
	first := c.view.At(c.after)
	if !first.Lit || first.BestW <= 0 {
		t.Fatalf("the first look is into the dark: %+v", first)
	}
	volts, amps := c.drawn(&first).Volts, c.drawn(&first).Amps
	dark := 0
	for after := 0.0; after <= c.view.Length(); after += slide {
		iv := c.view.At(after)
		d := c.drawn(&iv)
		if d.Volts != volts || d.Amps != amps {
			t.Errorf("other axes at %g s", after)
		}
		table := c.table(&iv)
		if !iv.Lit {
			dark++
			if len(table.Rows) > 8 {
				t.Errorf("%d rows in the dark", len(table.Rows))
			}
			continue
		}
		if len(table.Rows) < 12 {
			t.Errorf("%d rows at %g s", len(table.Rows), after)
		}
	}
	if dark == 0 {
		t.Error("no night")
	}
	html := text(app.HTMLString(c.Render()))
	for _, want := range []string{"Hour of the trip", "into the battery", "Working point", "Open circuit"} {
		if !strings.Contains(html, want) {
			t.Errorf("%q is not said: %s", want, html)
		}
	}
}

// A month in steps of a minute holds the page no longer than a week in steps
// of five: it is looked at in coarser ones.
func TestCurvesOfALongTrip(t *testing.T) {
	v := seen(t, nil)
	p := *v.p
	p.Trip.LengthH, p.Trip.StepMin = 720, 1
	q := coarse(p)
	if n := q.Trip.LengthH * 60 / float64(q.Trip.StepMin); n > 3000 {
		t.Errorf("%g steps", n)
	}
	if n := len(middays(q.Trip)); n > 100 || n < 60 {
		t.Errorf("%d looks", n)
	}
	p.Trip.LengthH, p.Trip.StepMin = 48, 5
	if q := coarse(p); q.Trip.StepMin != 5 {
		t.Error("a short trip is made coarse")
	}
}
