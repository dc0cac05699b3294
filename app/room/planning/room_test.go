package planning

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/app/store"
	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/plan"
)

// session opens an example without any storage under it.
func session(t testing.TB, key string) *room.Session {
	t.Helper()
	s := room.NewSession(store.NewShelf(nil, time.Now))
	s.Begin()
	if !s.OpenExample(key) {
		t.Fatalf("no example %s", key)
	}
	return s
}

// unfold opens every section.
func unfold(s *room.Session) {
	for _, f := range folds {
		s.Folds[f.id] = true
	}
}

func page(s *room.Session) string { return app.HTMLString((&Room{Session: s}).Render()) }

// leaves lists the pointers of all single values of a document.
func leaves(pointer string, v any) []string {
	var list []string
	switch v := v.(type) {
	case map[string]any:
		for k, x := range v {
			list = append(list, leaves(pointer+"/"+k, x)...)
		}
	case []any:
		for i, x := range v {
			list = append(list, leaves(pointer+"/"+strconv.Itoa(i), x)...)
		}
	default:
		list = []string{pointer}
	}
	return list
}

// Every value of the document has a field with its own element. Not edited
// are the document's version and the mark of an example; the list of days
// that the kind of light does not use is not shown.
func TestEveryFieldCanBeEdited(t *testing.T) {
	total := 0
	for _, key := range []string{"bird-count", "eye-clinic", "river-festival"} {
		s := session(t, key)
		unfold(s)
		s.Folds["sky-counting"], s.Folds[figuresFold] = true, true
		d := s.Desk
		// Bring out what is optional.
		d.Enter("/panels/list/0/label", "true")
		d.Enter("/gear/0/cooler", "true")
		finely(s)
		if faults := d.Change(func(p *plan.Plan) {
			b := &p.Case.Battery
			b.AfterFull, b.AbsorptionH = plan.AfterFloat, 2
			p.Case.Inverter.Wave = plan.ModifiedSine
			inStrings(p)
			for i := range p.Sky.LastThreeDays { // two of a kind end to end bring less
				p.Sky.LastThreeDays[i] /= 2
			}
		}); faults != nil {
			t.Fatal(key, faults)
		}
		text, err := plan.Write(*d.Plan())
		if err != nil {
			t.Fatal(err)
		}
		var doc any
		json.Unmarshal(text, &doc)
		html := page(s)
		for i := range d.Plan().Gear {
			s.Rows[gearAt] = i
			html += page(s)
		}
		for i := range d.Plan().Panels.List {
			s.Rows[panelsAt] = i
			html += page(s)
		}
		for _, at := range leaves("", doc) {
			unused := "/sky/peak_sun_hours"
			if d.Plan().Sky.Light == plan.ByPeakSun {
				unused = "/sky/clear_sky_index"
			}
			if at == "/duskline" || at == "/example" || strings.HasPrefix(at, unused) {
				continue
			}
			if at == "/trip/start" {
				at = "/trip/start/date"
			}
			// Fields of the other kinds of draw come when that kind is chosen.
			if parts := strings.Split(at, "/"); parts[1] == "gear" {
				i, _ := strconv.Atoi(parts[2])
				refill := d.Plan().Gear[i].RefillWh != nil
				if refill && parts[3] == "duty_pct" || !refill && strings.HasPrefix(parts[3], "refill") {
					continue
				}
			}
			// So does that of volts that follow the heat, which lithium's do not.
			if at == "/case/battery/compensation_mV_per_K" && d.Plan().Case.Battery.Chemistry == plan.LiFePO4 {
				continue
			}
			// So do those of a route: the rest of an AC device's figures, and of a start.
			if parts := strings.Split(at, "/"); parts[1] == "gear" {
				i, _ := strconv.Atoi(parts[2])
				g := d.Plan().Gear[i]
				if ac := parts[3] == "power_factor" || parts[3] == "sensitivity"; ac && g.Route != plan.RouteAC || parts[3] == "surge_s" && g.SurgeW == 0 {
					continue
				}
			}
			// Age and cycles go where the capacity was measured.
			if at == "/case/battery/age_years" || at == "/case/battery/cycles" {
				continue
			}
			// So do those of a kind of light: see sky_test.go.
			if at == "/sky/meter_unit" || at == "/sky/peak_sun_on" && d.Plan().Sky.Light != plan.ByPeakSun {
				continue
			}
			// So do those of a way to lie and of a shade: see lie_test.go.
			if strings.HasPrefix(at, "/panels/list/") && (strings.HasSuffix(at, "/aims_per_day") || strings.HasSuffix(at, "/shaded_pct")) {
				continue
			}
			// The ground's own albedo comes with a ground of one's own, the direction
			// with a panel that is not turned.
			if at == "/sky/albedo" && d.Plan().Sky.Surface != plan.SurfaceOwn || strings.HasSuffix(at, "/azimuth_deg") && strings.HasPrefix(at, "/panels/list/") && turned(d.Plan(), at) {
				continue
			}
			total++
			id := widget.ID(at)
			// Heights are counted in fists, looks of the sky are chosen in rows.
			if point, ok := strings.CutSuffix(at, "/height_deg"); ok {
				id = widget.ID(point) + "-fists"
			} else if day, ok := strings.CutPrefix(at, "/sky/sky_states/"); ok {
				id = "sky-day-" + day + "-list"
			}
			if !strings.Contains(html, `id="`+id+`"`) {
				t.Errorf("%s: no field for %s", key, at)
			}
		}
	}
	if total < 250 {
		t.Errorf("only %d fields looked for", total)
	}
}

func turned(p *plan.Plan, at string) bool {
	i, err := strconv.Atoi(strings.Split(at, "/")[3])
	return err == nil && p.Panels.List[i].Lie != plan.LieFixed && p.Panels.List[i].Lie != plan.LieOnLid
}

func TestTheFieldsOfADrawComeWithIt(t *testing.T) {
	s := session(t, "bird-count")
	s.Rows[gearAt] = 0
	for kind, want := range map[string][]string{
		"power_W":   {"power_W", "duty_pct", "cooler", "surge_W"},
		"current_A": {"current_A", "duty_pct", "cooler", "surge_W"},
		"refill_Wh": {"refill_Wh", "refills_per_day", "refill_efficiency_pct", "surge_W"},
	} {
		s.Desk.Enter("/gear/0/draw", kind)
		html := page(s)
		for _, field := range want {
			if !strings.Contains(html, `id="gear-0-`+field+`"`) {
				t.Errorf("%s: no field for %s", kind, field)
			}
		}
	}
}

// Each control has a name: a label for its id, or an aria-label, or text.
func TestEveryControlHasAName(t *testing.T) {
	s := session(t, "bird-count")
	unfold(s)
	s.Rows[gearAt], s.Rows[panelsAt] = 0, 0
	html := page(s)
	inputs := regexp.MustCompile(`<(?:input|select|textarea)[^>]*>`).FindAllString(html, -1)
	id := regexp.MustCompile(` id="([^"]*)"`)
	for _, tag := range inputs {
		m := id.FindStringSubmatch(tag)
		if m == nil {
			t.Errorf("no id: %s", tag)
			continue
		}
		if !strings.Contains(html, `for="`+m[1]+`"`) && !strings.Contains(tag, "aria-label") {
			t.Errorf("no label for %s", m[1])
		}
	}
	if len(inputs) < 70 {
		t.Errorf("only %d controls", len(inputs))
	}
	ids := map[string]int{}
	for _, m := range id.FindAllStringSubmatch(html, -1) {
		ids[m[1]]++
	}
	for name, n := range ids {
		if n > 1 {
			t.Errorf("%d elements are called %s", n, name)
		}
	}
	for _, m := range regexp.MustCompile(`aria-(?:describedby|labelledby|controls)="([^"]*)"`).FindAllStringSubmatch(html, -1) {
		for _, name := range strings.Fields(m[1]) {
			if ids[name] == 0 && !strings.HasSuffix(name, "-body") {
				t.Errorf("nothing is called %s", name)
			}
		}
	}
}

// The content policy blocks style attributes, and a key in brackets is a text
// that is missing.
func TestPageHasNoInlineStyleAndNoMissingWords(t *testing.T) {
	for _, key := range []string{"bird-count", "eye-clinic", "river-festival"} {
		s := session(t, key)
		unfold(s)
		s.Folds["gear-add"] = true
		s.Rows[gearAt], s.Rows[panelsAt] = 0, 0
		html := page(s)
		if strings.Contains(html, "style=") {
			t.Error("a style attribute")
		}
		if m := regexp.MustCompile(`\[[a-z_]+\.[^\]]*\]|%!`).FindString(html); m != "" {
			t.Errorf("missing words: %s", m)
		}
	}
}

func TestRefusedValueIsSaidAtItsFieldAndAboveTheOutlook(t *testing.T) {
	s := session(t, "bird-count")
	unfold(s)
	before := page(s)
	verdict := regexp.MustCompile(`(?s)<h1 [^>]*>.*?</h1>`)
	s.Desk.Enter("/case/battery/capacity_Ah", "5000")
	html := page(s)
	for _, want := range []string{`value="5000"`, words.Fault(plan.Check(func() plan.Plan {
		p := *s.Desk.Plan()
		p.Case.Battery.CapacityAh = 5000
		return p
	}())[0]), `id="stale"`} {
		if !strings.Contains(html, want) {
			t.Errorf("%s is missing", want)
		}
	}
	clean := func(html string) string {
		return regexp.MustCompile(`<[^>]*>|\s`).ReplaceAllString(verdict.FindString(html), "")
	}
	if clean(html) == "" || clean(html) != clean(before) {
		t.Errorf("the answer went from %s to %s", clean(before), clean(html))
	}
	if strings.Contains(before, `id="stale"`) {
		t.Error("said without a cause")
	}
}

func TestVerdictsOfTheExamples(t *testing.T) {
	for key, want := range map[string]string{"bird-count": "Holds", "eye-clinic": "Tight", "river-festival": "Runs out"} {
		html := page(session(t, key))
		if !strings.Contains(html, want) {
			t.Errorf("%s does not say %s", key, want)
		}
		if !strings.Contains(html, `id="example"`) || !strings.Contains(html, `id="start-own"`) {
			t.Errorf("%s does not say that it is an example", key)
		}
	}
}

func TestClosedFoldsAreEmpty(t *testing.T) {
	s := session(t, "bird-count")
	for _, f := range folds {
		s.Folds[f.id] = false
	}
	html := page(s)
	if strings.Contains(html, "<input") || strings.Contains(html, "-body\"") && strings.Contains(html, "fold-body") {
		t.Error("a closed fold has something inside")
	}
	for _, f := range folds {
		if !strings.Contains(html, `id="`+f.id+`-fold"`) {
			t.Errorf("no button for %s", f.id)
		}
	}
}

func TestSummaries(t *testing.T) {
	s := session(t, "bird-count")
	d := s.Desk
	for _, f := range folds {
		if got := f.summary(d); got == "" || strings.Contains(got, "%!") {
			t.Errorf("%s: %q", f.id, got)
		}
	}
	for d.Plan().Gear != nil && len(d.Plan().Gear) > 0 {
		d.Remove(gearAt, 0)
	}
	for len(d.Plan().Panels.List) > 0 {
		d.Remove(panelsAt, 0)
	}
	if gearSummary(d) != words.T("summary.no_gear") || panelsSummary(d) != words.T("summary.no_panels") {
		t.Errorf("%q, %q", gearSummary(d), panelsSummary(d))
	}
	page(s) // a plan of nothing still has a page
}

// Each kind offered can be added to a plan as it is.
func TestKindsAreSoundDevices(t *testing.T) {
	s := session(t, "bird-count")
	for _, k := range kinds {
		n := len(s.Desk.Plan().Gear)
		if faults := s.Desk.Insert(gearAt, n, k.device(words.T("kind."+k.key))); faults != nil {
			t.Errorf("%s: %v", k.key, faults)
		}
	}
}

func TestCautionsStandAtTheirPlaces(t *testing.T) {
	s := session(t, "bird-count")
	unfold(s)
	finely(s)
	html := page(s)
	for name := range cautions {
		shown := strings.Contains(html, `data-caution="`+name+`"`)
		if want := name != "hydrogen"; shown != want {
			t.Errorf("%s: shown %v, want %v with lithium", name, shown, want)
		}
		if words.T("caution."+name) == "" || !strings.Contains(words.T("caution_more."+name), ".") {
			t.Errorf("%s has no words", name)
		}
	}
	s.Desk.Enter("/case/battery/reconnect_V", "12.6")
	s.Desk.Enter("/case/battery/chemistry", "AGM")
	if got := s.Desk.Plan().Case.Battery.Chemistry; got != plan.AGM {
		t.Fatalf("chemistry %s: %s", got, s.Desk.Fault("/case/battery/chemistry"))
	}
	html = page(s)
	if !strings.Contains(html, `data-caution="hydrogen"`) || strings.Contains(html, `data-caution="freezing"`) {
		t.Error("the cautions of lead-acid are missing")
	}
}

func TestStripFitsTheWindow(t *testing.T) {
	if f := (view{Width: 360}).strip(); f.Width != 360 {
		t.Errorf("phone %g", f.Width)
	}
	if f := (view{Width: 1280, Wide: true, Em: 16}).strip(); f.Width != 1280-416 {
		t.Errorf("desk %g", f.Width)
	}
}

func BenchmarkPage(b *testing.B) {
	s := session(b, "bird-count")
	s.Rows[gearAt] = 0
	b.ReportAllocs()
	for b.Loop() {
		page(s)
	}
}

func Example() {
	s := room.NewSession(store.NewShelf(nil, time.Now))
	s.Begin()
	s.Desk.Enter("/case/battery/capacity_Ah", "3")
	fmt.Println(strings.Contains(page(s), "Runs out"))
	// Output: true
}
