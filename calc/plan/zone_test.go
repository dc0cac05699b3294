package plan

import (
	"slices"
	"testing"
	"time"

	"duskline/calc/civil"
	"duskline/calc/daylight"
)

func at(s string) time.Time {
	t, err := time.Parse(time.RFC3339, s)
	if err != nil {
		panic(err)
	}
	return t
}

// The location of a read trip shows the zone's clock on both sides of a
// change; written again, it is the same document.
func TestClockChangesMakeTheTripsLocation(t *testing.T) {
	for _, c := range []struct {
		file, instant, clock string
	}{
		{"zone-spring-change-in-the-trip", "2026-03-29T00:59:00Z", "2026-03-29T01:59:00+01:00"},
		{"zone-spring-change-in-the-trip", "2026-03-29T01:00:00Z", "2026-03-29T03:00:00+02:00"},
		{"zone-autumn-change-in-the-trip", "2026-10-25T00:30:00Z", "2026-10-25T02:30:00+02:00"},
		{"zone-autumn-change-in-the-trip", "2026-10-25T01:30:00Z", "2026-10-25T02:30:00+01:00"},
		{"zone-change-in-the-morning-of-the-start", "2026-03-28T23:30:00Z", "2026-03-29T00:30:00+01:00"},
		{"zone-change-in-the-morning-of-the-start", "2026-03-29T10:00:00Z", "2026-03-29T12:00:00+02:00"},
	} {
		p, err := Read(documents(t, "good")["good/"+c.file+".json"])
		if err != nil {
			t.Fatal(err)
		}
		if got := at(c.instant).In(p.Trip.Start.Location()).Format(time.RFC3339); got != c.clock {
			t.Errorf("%s: at %s the clock shows %s, want %s", c.file, c.instant, got, c.clock)
		}
	}
}

// SetZone takes the zone of a place from [civil.Offsets] of any Location, and
// keeps what the start's clock shows.
func TestSetZoneKeepsTheClock(t *testing.T) {
	first := time.Hour
	all := []civil.Change{{At: at("2026-03-29T01:00:00Z"), Offset: 2 * time.Hour}, {At: at("2026-10-25T01:00:00Z"), Offset: time.Hour}}
	truth, err := civil.Location("Lake", first, all)
	if err != nil {
		t.Fatal(err)
	}
	for day := at("2026-01-02T09:30:00Z"); day.Year() == 2026; day = day.AddDate(0, 0, 1) {
		p := Blank("zone", day.In(time.FixedZone("", -5*3600)))
		clock := p.Trip.Start.Format("2006-01-02 15:04")
		p.SetZone("Lake", first, all)
		tr := p.Trip
		if got := tr.Start.Format("2006-01-02 15:04"); got != clock {
			t.Fatalf("%s became %s", clock, got)
		}
		if f := Check(p); f != nil {
			t.Fatalf("%s: %v", clock, f)
		}
		data, err := Write(p)
		if err != nil {
			t.Fatal(err)
		}
		q, err := Read(data)
		if err != nil || !equal(p, q) {
			t.Fatalf("%s: read back other: %v", clock, err)
		}
		// From a day before the start to two days after the longest trip.
		for h := -24; h < 32*24; h += 5 {
			then := tr.Start.Add(time.Duration(h) * time.Hour)
			want := then.In(truth).Format(time.RFC3339)
			if a, b := then.In(tr.Start.Location()).Format(time.RFC3339), then.In(q.Trip.Start.Location()).Format(time.RFC3339); a != want || b != want {
				t.Fatalf("start %s: %s, read back %s, want %s", clock, a, b, want)
			}
		}
	}
}

// A clock that the zone leaves out is moved by what is left out.
func TestSetZoneOnAClockThatIsLeftOut(t *testing.T) {
	p := Blank("gap", at("2026-03-29T02:30:00+01:00"))
	p.SetZone("Lake", time.Hour, []civil.Change{{At: at("2026-03-29T01:00:00Z"), Offset: 2 * time.Hour}})
	if got := p.Trip.Start.Format(time.RFC3339); got != "2026-03-29T03:30:00+02:00" && got != "2026-03-29T01:30:00+01:00" {
		t.Error(got)
	}
	if f := Check(p); f != nil {
		t.Error(f)
	}
}

func TestSetStartKeepsTheOffsetItIsGiven(t *testing.T) {
	p := full() // +2 h, from 14 June 1:00 UTC on +3 h
	for _, s := range []string{"2026-06-13T09:00:00+02:00", "2026-06-20T09:00:00+02:00", "2026-06-20T09:00:00+03:00", "2026-12-24T18:00:00-04:00"} {
		q := p
		q.SetStart(at(s))
		if got := q.Trip.Start.Format(time.RFC3339); got != s || q.Trip.Zone != p.Trip.Zone {
			t.Errorf("%s became %s", s, got)
		}
		q.Sky.WeatherFile = nil
		if f := Check(q); f != nil {
			t.Errorf("%s: %v", s, f)
		}
	}
}

func TestSetZoneWithoutAName(t *testing.T) {
	p := full()
	p.SetZone("", -3*time.Hour, []civil.Change{{At: p.Trip.Start, Offset: time.Hour}})
	if tr := p.Trip; tr.Zone != "" || len(tr.ClockChanges) != 0 || tr.Start.Format(time.RFC3339) != "2026-06-12T18:00:00-03:00" {
		t.Errorf("%+v", tr)
	}
}

// What the document says reaches the model under the model's own names.
func TestDaylightOfAPlan(t *testing.T) {
	p := full()
	p.Sky.Light, p.Sky.Surface, p.Sky.SkyModel, p.Sky.GlassModel = ByWeatherFile, SurfaceSnow, Perez, GlassPhysical
	p.Panels.List[0].Lie, p.Panels.List[0].AimsPerDay = LieTwoAxis, 3
	s, err := p.Daylight()
	if err != nil {
		t.Fatal(err)
	}
	l := s.Panels[0]
	if s.Light.Kind != daylight.ByWeather || !slices.Equal(s.Light.Weather.GHI, p.Sky.WeatherFile.GHI) || s.Albedo < 0.5 ||
		l.Lie != (daylight.Lie{Kind: daylight.TwoAxis, Azimuth: 180, Aims: 3}) || l.Shaded != 1 || l.Shade[0] != (daylight.Window{From: 6, To: 9}) ||
		!s.Start.Equal(p.Trip.Start) || s.Span != 72*time.Hour || s.Step != 5*time.Minute || s.Horizon.Height(200) != 0 || s.Horizon.Height(91) < 19 {
		t.Errorf("%+v", s)
	}
	if _, err := daylight.New(s); err != nil {
		t.Error(err)
	}
	// Each word of the document is another one of the model.
	for pointer, set := range map[string]func(string) any{
		"/sky/surface": func(w string) any {
			g, own := Surface(w).Ground()
			return [2]any{g, own}
		},
		"/sky/sky_model":          func(w string) any { return SkyModel(w).model() },
		"/sky/glass_model":        func(w string) any { return GlassModel(w).model() },
		"/sky/sky_states/0":       func(w string) any { return SkyState(w).State() },
		"/panels/list/0/lie":      func(w string) any { return Lie(w).kind() },
		"/sky/light":              func(w string) any { return Sky{Light: LightKind(w)}.light().Kind },
		"/sky/peak_sun_on":        func(w string) any { return Sky{PeakSunOn: PeakSunOn(w)}.light().OnPanels },
		"/sky/meter_unit":         func(w string) any { return Sky{MeterUnit: MeterUnit(w)}.light().MeterAh },
		"/case/battery/chemistry": func(w string) any { return w },
	} {
		words, ok := Choices(pointer)
		if !ok || len(words) < 2 {
			t.Errorf("%s has no choices", pointer)
		}
		seen := map[any]string{}
		for _, w := range words {
			if other, twice := seen[set(w)]; twice {
				t.Errorf("%s: %s and %s are the same to the model", pointer, w, other)
			}
			seen[set(w)] = w
		}
	}
}

// Weather said in another way is the same weather, as near as that way can say
// it.
func TestChooseLightCarriesTheWeatherOver(t *testing.T) {
	p := full()
	p.Sky.WeatherFile, p.Sky.Horizon, p.Panels.List[0].ShadeHours = nil, nil, nil
	p.Sky.ClearSkyIndex = []float64{0.95, 0.2, 0.6, 0.6}
	p.Sky.PeakSunHours, p.Sky.SkyStates, p.Sky.LastThreeDays = nil, nil, nil
	level := func(p Plan) (sum float64) {
		for _, d := range p.expected() {
			sum += d.OnLevel
		}
		return sum
	}
	want := level(p)
	if want <= 0 {
		t.Fatal("no light")
	}
	for kind, near := range map[LightKind]float64{ByPeakSun: 0.02, BySkyStates: 0.15} {
		q := p
		if q.ChooseLight(kind); Check(q) != nil {
			t.Fatalf("%s: %v", kind, Check(q))
		}
		if got := level(q); got < want*(1-near) || got > want*(1+near) {
			t.Errorf("%s: %.2f kWh/m² on level ground, was %.2f", kind, got, want)
		}
		q.Sky.ClearSkyIndex = nil
		if q.ChooseLight(ByClearSky); Check(q) != nil || len(q.Sky.ClearSkyIndex) < 3 {
			t.Errorf("%s and back: %v, %v", kind, q.Sky.ClearSkyIndex, Check(q))
		}
		if got := level(q); got < want*(1-near-0.02) || got > want*(1+near+0.02) {
			t.Errorf("%s and back: %.2f kWh/m² on level ground, was %.2f", kind, got, want)
		}
	}
	// Readings of three half clouded days are read as half clouded days.
	q := p
	q.ChooseLight(ByLastThreeDays)
	if f := Check(q); f != nil {
		t.Fatal(f)
	}
	half := SkyHalfCloud.State().Look().Index.Mean()
	for _, unit := range []MeterUnit{MeterWh, MeterAh} {
		q.Sky.MeterUnit, q.Sky.LastThreeDays = unit, nil
		q.Sky.Light = ByClearSky
		q.ChooseLight(ByLastThreeDays)
		days := q.expected()
		if len(days) == 0 || days[0].Index < half-0.05 || days[0].Index > half+0.01 {
			t.Errorf("%s: %v give an index of %v, half clouded is %.3f", unit, q.Sky.LastThreeDays, days, half)
		}
	}
	q = p
	q.ChooseLight(ByWeatherFile)
	if f := Check(q); len(f) != 1 || f[0].Kind != Missing || f[0].Pointer != "/sky/weather_file" {
		t.Error(f)
	}
}
