package planning

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/words"
	"duskline/calc/daylight"
	"duskline/calc/plan"
)

func TestTheFieldsOfALieComeWithIt(t *testing.T) {
	s := session(t, "bird-count")
	unfold(s)
	s.Rows[panelsAt] = 0
	for lie, want := range map[plan.Lie]string{
		plan.LieFixed:   "tilt_deg azimuth_deg",
		plan.LieOnLid:   "tilt_deg azimuth_deg",
		plan.LieTurned:  "tilt_deg aims_per_day",
		plan.LieTwoAxis: "aims_per_day",
	} {
		if s.Desk.Enter("/panels/list/0/lie", string(lie)); s.Desk.Plan().Panels.List[0].Lie != lie {
			t.Fatalf("%s is not taken: %s", lie, s.Desk.Fault("/panels/list/0/lie"))
		}
		html := page(s)
		for _, field := range []string{"tilt_deg", "azimuth_deg", "aims_per_day"} {
			if has := strings.Contains(html, `id="panels-list-0-`+field+`"`); has != strings.Contains(want, field) {
				t.Errorf("%s: a field for %s: %v", lie, field, has)
			}
		}
		if !strings.Contains(html, `data-picture="lie"`) {
			t.Errorf("%s: no picture", lie)
		}
	}
	at := "/panels/list/0/shade_hours"
	s.Desk.EnterHours(at, []plan.Window{{FromH: 14, ToH: 16}})
	if html := page(s); !strings.Contains(html, `id="panels-list-0-shaded_pct"`) {
		t.Error("shade, and no field for how much it covers")
	}
}

// Every choice that the core may hand out has a name, and the advice stands
// in words with the figures of the core.
func TestBestLieInWords(t *testing.T) {
	s := session(t, "bird-count")
	a := &lieAdvice{Desk: s.Desk, Version: s.Desk.Version()}
	if html := app.HTMLString(a.Render()); !strings.Contains(html, words.T("best.working")) {
		t.Errorf("before it is found: %s", html)
	}
	a.find()
	if a.err != nil {
		t.Fatal(a.err)
	}
	a.open = true
	html := app.HTMLString(a.Render())
	for _, c := range a.advice.Choices {
		name, ok := wayNames[c.Kind]
		if !ok || !words.Has("way."+name) {
			t.Errorf("choice %d has no name", c.Kind)
		}
		if !strings.Contains(html, words.T("way."+name)) || !strings.Contains(html, words.Insolation(c.Light)) {
			t.Errorf("%s with %s is not in the table", words.T("way."+name), words.Insolation(c.Light))
		}
	}
	if len(a.advice.Choices) < 10 {
		t.Errorf("only %d choices", len(a.advice.Choices))
	}
	tilt, azimuth := handy(a.advice.Best.Lie)
	before := a.advice.Best.Light
	a.onUse(nil, app.Event{})
	got := s.Desk.Plan().Panels.List[0]
	if got.TiltDeg != tilt || got.AzimuthDeg != azimuth {
		t.Errorf("laid at %g°, %g°, advised %g°, %g°", got.TiltDeg, got.AzimuthDeg, tilt, azimuth)
	}
	a.find()
	for _, c := range a.advice.Choices {
		if c.Kind == daylight.AsItLies && c.Light < 0.99*before {
			t.Errorf("laid as advised it gets %.3f of %.3f kWh/m²", c.Light, before)
		}
	}
	if html := app.HTMLString(a.Render()); !strings.Contains(html, words.T("best.is_best")) {
		t.Errorf("laid as advised and not content: %s", html)
	}
}

func TestBestLieWithoutSun(t *testing.T) {
	a := &lieAdvice{found: 1, err: daylight.ErrNoLight}
	if html := app.HTMLString(a.Render()); !strings.Contains(html, words.T("best.none")) {
		t.Error(html)
	}
}

// An edit that has nothing to do with the light on the panel must not cost a
// search; one that has must.
func TestBestLieIsFoundAnewOnlyForAnotherLight(t *testing.T) {
	s := session(t, "bird-count")
	a := &lieAdvice{Desk: s.Desk, Version: s.Desk.Version()}
	search := func(pointer, text string) bool {
		t.Helper()
		before := s.Desk.Version()
		if s.Desk.Enter(pointer, text); s.Desk.Version() == before {
			t.Fatalf("%s %s is not taken: %s", pointer, text, s.Desk.Fault(pointer))
		}
		a.Version = s.Desk.Version()
		a.advice.Choices = nil // a search fills them
		a.find()
		return a.advice.Choices != nil
	}
	a.find()
	for pointer, text := range map[string]string{
		"/gear/0/name": "another lamp", "/case/battery/capacity_Ah": "77", "/panels/list/0/name": "Meadow",
		"/sky/place": "Elsewhere", "/trip/start_charge_pct": "71", "/trip/reserve_pct": "11",
	} {
		if search(pointer, text) {
			t.Errorf("%s costs a search", pointer)
		}
	}
	for pointer, text := range map[string]string{
		"/panels/list/0/tilt_deg": "61", "/panels/list/1/rated_W": "61", "/sky/linke_turbidity": "4.4", "/sky/surface": "snow",
		"/sky/horizon/0/height_deg": "22", "/trip/length_h": "31", "/sky/latitude_deg": "51",
	} {
		if !search(pointer, text) {
			t.Errorf("%s is not looked at", pointer)
		}
	}
}
