package planning

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"duskline/app/draw"
	"duskline/app/room"
	"duskline/app/words"
	"duskline/calc/plan"
	"duskline/calc/sun"
)

// skySheet is the sheet of an example after a change of its plan.
func skySheet(t *testing.T, edit func(*plan.Plan)) (*sheet, *room.Session) {
	t.Helper()
	s := session(t, "bird-count")
	unfold(s)
	if f := s.Desk.Change(edit); f != nil {
		t.Fatal(f)
	}
	return &sheet{Session: s, Desk: s.Desk}, s
}

// plain shows spaces at which no line breaks as others.
func plain(s string) string { return strings.ReplaceAll(s, "\u00a0", " ") }

func states(list ...plan.SkyState) func(*plan.Plan) {
	return func(p *plan.Plan) { p.Sky.Light, p.Sky.SkyStates = plan.BySkyStates, list }
}

// A day is given another look, and no other day changes: not those that had
// theirs from an earlier one.
func TestOneDayOfTheSkyIsSet(t *testing.T) {
	clear, rain, dust := plan.SkyClear, plan.SkyRain, plan.SkyDust
	for _, c := range []struct {
		list []plan.SkyState
		day  int
		to   plan.SkyState
		want []plan.SkyState // of the four days
	}{
		{[]plan.SkyState{clear}, 0, rain, []plan.SkyState{rain, clear, clear, clear}},
		{[]plan.SkyState{clear}, 2, rain, []plan.SkyState{clear, clear, rain, clear}},
		{[]plan.SkyState{clear}, 3, rain, []plan.SkyState{clear, clear, clear, rain}},
		{[]plan.SkyState{clear, rain}, 1, dust, []plan.SkyState{clear, dust, rain, rain}},
		{[]plan.SkyState{clear, rain}, 1, clear, []plan.SkyState{clear, clear, rain, rain}},
		{[]plan.SkyState{clear, rain, rain, dust, rain, rain}, 0, rain, []plan.SkyState{rain, rain, rain, dust}},
	} {
		s, _ := skySheet(t, states(c.list...))
		days := len(tripDays(s.Desk.Plan()))
		if days != 4 {
			t.Fatalf("%d days", days)
		}
		s.setState(c.day, days, c.to)
		for i, want := range c.want {
			if got := stateOf(s.Desk.Plan().Sky.SkyStates, i); got != want {
				t.Errorf("%v, day %d to %s: day %d is %s, want %s", c.list, c.day, c.to, i, got, want)
			}
		}
		if s.tapped != c.day || !strings.Contains(s.skySaid, words.SkyState(c.to)) {
			t.Errorf("said %q of day %d", s.skySaid, s.tapped)
		}
		s.allDays()
		if got := s.Desk.Plan().Sky.SkyStates; len(got) != 1 || got[0] != c.to {
			t.Errorf("all days like day %d: %v", c.day, got)
		}
	}
}

// Taps go through all the looks and come back.
func TestTapsGoThroughAllLooks(t *testing.T) {
	seen := map[plan.SkyState]bool{}
	k := plan.SkyClear
	for range looks {
		seen[k] = true
		k = nextLook(k)
	}
	if len(seen) != sun.States || k != plan.SkyClear {
		t.Errorf("%d looks, back at %s", len(seen), k)
	}
	for i, k := range looks {
		if int(k.State()) != i {
			t.Errorf("%s is the core's look %d", k, k.State())
		}
	}
}

// Every row says the day, the look, what it means for the light and what it
// gives on the panels.
func TestEveryDayOfTheSkySaysWhatItMeans(t *testing.T) {
	_, s := skySheet(t, states(plan.SkyClear, plan.SkyOvercast, plan.SkySmoke, plan.SkyHalfCloud))
	html := strings.ReplaceAll(plain(page(s)), `\u00a0`, " ") // attributes are printed as Go prints them
	smoke := plan.SkySmoke.State().Look().Turbidity
	over := plan.SkyOvercast.State().Look().Index.Mean()
	for _, want := range []string{
		"Friday 15 May", "Monday 18 May", "all of a clear day", plain(words.ClearShare(over)),
		fmt.Sprintf("no cloud, turbidity %g", smoke), "Tap for the next: thin veil.", "Sky on Sunday 17 May",
	} {
		if !strings.Contains(html, want) {
			t.Errorf("no %q", want)
		}
	}
	days := s.Desk.Outlook().Days
	for i, d := range days {
		if want := plain(fmt.Sprintf("%s of %s", words.Amount(d.OnPanels, 1, ""), words.Insolation(d.Ceiling))); !strings.Contains(html, want) {
			t.Errorf("day %d: no %q", i, want)
		}
	}
}

func TestClearShareIsRoundedAsSeen(t *testing.T) {
	for mean, want := range map[float64]string{0.31: "about 30 % of a clear day", 0.18: "about 20 % of a clear day", 0.93: "about 95 % of a clear day",
		0.975: "all of a clear day", 1: "all of a clear day"} {
		if got := plain(words.ClearShare(mean)); got != want {
			t.Errorf("%g: %q, want %q", mean, got, want)
		}
	}
}

// A long trip shows a week of days, and all of them when asked.
func TestLongTripFoldsItsDays(t *testing.T) {
	_, s := skySheet(t, func(p *plan.Plan) {
		states(plan.SkyClear, plan.SkyRain)(p)
		p.Trip.LengthH = 24 * 20
	})
	rows := func() int { return strings.Count(page(s), `class="sky-day"`) }
	if n := rows(); n != fewDays-1 {
		t.Errorf("%d rows", n)
	}
	s.Folds["sky-days"] = true
	if n := rows(); n != 21 {
		t.Errorf("%d rows of 21 days", n)
	}
}

// The fields of each kind of light come with it.
func TestTheFieldsOfALightComeWithIt(t *testing.T) {
	for kind, want := range map[plan.LightKind][]string{
		plan.BySkyStates:     {"sky-day-0", "sky-day-3-list", "sky-all-days"},
		plan.ByPeakSun:       {"sky-peak_sun_on", "sky-peak_sun_hours-0", "sky-peak_sun_hours-add"},
		plan.ByLastThreeDays: {"sky-meter_unit", "sky-last_three_days-0", "sky-last_three_days-2"},
		plan.ByClearSky:      {"sky-clear_sky_index-0", "sky-clear_sky_index-remove"},
	} {
		s := session(t, "bird-count")
		unfold(s)
		s.Desk.Enter(lightAt, string(kind))
		s.Desk.Leave(lightAt)
		if got := s.Desk.Plan().Sky.Light; got != kind {
			t.Fatalf("%s is not taken: %s, %q", kind, got, s.Desk.Fault(lightAt))
		}
		html := page(s)
		for _, id := range want {
			if !strings.Contains(html, `id="`+id+`"`) {
				t.Errorf("%s: no %s", kind, id)
			}
		}
	}
}

// Every ground is offered; one that has a figure says it, one's own is asked.
func TestGroundsSayWhatTheyThrowBack(t *testing.T) {
	known, _ := plan.Choices("/sky/surface")
	if len(known) != len(surfaces) {
		t.Errorf("%d grounds offered of %d", len(surfaces), len(known))
	}
	for _, k := range surfaces {
		_, s := skySheet(t, func(p *plan.Plan) { p.Sky.Surface = k })
		html := plain(page(s))
		g, has := k.Ground()
		if said := strings.Contains(html, `id="sky-albedo-said"`); said != has {
			t.Errorf("%s: said %v", k, said)
		}
		if asked := strings.Contains(html, `id="sky-albedo"`); asked == has {
			t.Errorf("%s: asked %v", k, asked)
		}
		if has && !strings.Contains(html, fmt.Sprintf("It throws back %s of the light.", plain(words.Percent(g.Albedo())))) {
			t.Errorf("%s: its figure is not said", k)
		}
	}
}

func TestLightIsSaidOfTodayAndOfTheDullestDay(t *testing.T) {
	s := session(t, "bird-count")
	friday := time.Date(2026, 5, 15, 0, 0, 0, 0, time.UTC)
	before := friday.AddDate(0, -1, 0)
	day := func(i int, light, ceiling float64) draw.Bright {
		return draw.Bright{Day: friday.AddDate(0, 0, i), Light: light, Ceiling: ceiling}
	}
	for _, c := range []struct {
		now  time.Time
		days []draw.Bright
		want string
	}{
		{before, []draw.Bright{day(0, 4.1, 6.2)}, "Light on the panel: 4.1 kWh/m² on Friday; a clear sky would give 6.2 kWh/m²."},
		{before, []draw.Bright{day(0, 4.1, 6.2), day(1, 2.04, 6.1)},
			"Light on the panel: 4.1 kWh/m² on Friday; a clear sky would give 6.2 kWh/m². The dullest day is Saturday: 2.0 of 6.1 kWh/m²."},
		{friday.Add(30 * time.Hour), []draw.Bright{day(0, 4.1, 6.2), day(1, 2.04, 6.1)},
			"Light on the panel: 2.0 kWh/m² on Saturday, the dullest day; a clear sky would give 6.1 kWh/m²."},
		{friday.Add(24 * time.Hour), []draw.Bright{day(0, 2, 6.2), day(1, 3, 6.1), day(2, 4, 6.1)},
			"Light on the panel: 3.0 kWh/m² on Saturday; a clear sky would give 6.1 kWh/m². The dullest day is Friday: 2.0 of 6.2 kWh/m²."},
		{before, []draw.Bright{day(0, 4.11, 6.2), day(1, 4.09, 6.21)}, "Light on the panel: 4.1 kWh/m² on each day; a clear sky would give 6.2 kWh/m²."},
	} {
		if got := plain(sayLight(s.Desk, c.days, c.now)); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	var long []draw.Bright
	for i := range 9 {
		long = append(long, day(i, 4+float64((i+1)%9), 13))
	}
	if got, want := plain(sayLight(s.Desk, long, before)), "Light on the panel: 5.0 kWh/m² on Friday 15 May; a clear sky would give 13.0 kWh/m². The dullest day is Saturday 23 May: 4.0 of 13.0 kWh/m²."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	s.Desk.Change(func(p *plan.Plan) { p.Panels.List = []plan.Panel{} })
	if got := sayLight(s.Desk, []draw.Bright{day(0, 4.1, 6.2)}, before); !strings.HasPrefix(got, "Light on level ground: ") {
		t.Errorf("without panels: %q", got)
	}
}

// On a phone the light stands in the Sky; side by side it is in the Outlook,
// once.
func TestLightStandsBesideTheSky(t *testing.T) {
	for _, wide := range []bool{false, true} {
		_, s := skySheet(t, func(*plan.Plan) {})
		r := &Room{Session: s}
		r.view = view{Width: 1280, Wide: wide}
		html := appString(r)
		if n := strings.Count(html, `id="light"`); n != 1 {
			t.Errorf("wide %v: there %d times", wide, n)
		}
		inSky := strings.Index(html, `id="light"`) < strings.Index(html, `id="panels"`)
		if inSky == wide {
			t.Errorf("wide %v: in the Sky %v", wide, inSky)
		}
	}
}

// The summary of the fold names the sky of the trip's own days.
func TestSummaryNamesTheSky(t *testing.T) {
	for _, c := range []struct {
		edit func(*plan.Plan)
		want string
	}{
		{states(plan.SkyRain), "rain"},
		{states(plan.SkyRain, plan.SkyClear), "mixed"},
		{states(slices.Concat(slices.Repeat([]plan.SkyState{plan.SkyRain}, 4), []plan.SkyState{plan.SkyClear})...), "rain"}, // the fifth is after the trip
		{func(p *plan.Plan) { p.Sky.Light, p.Sky.ClearSkyIndex = plan.ByClearSky, []float64{1} }, "clear"},
		{func(p *plan.Plan) { p.Sky.Light, p.Sky.PeakSunHours = plan.ByPeakSun, []float64{4, 5} }, "4.5 peak sun hours"},
	} {
		s, _ := skySheet(t, c.edit)
		if got := plain(skySummary(s.Desk)); !strings.HasSuffix(got, ", "+c.want) {
			t.Errorf("%q does not end in %q", got, c.want)
		}
	}
}
