package desk

import (
	"errors"
	"slices"
	"testing"
	"time"

	"duskline/calc/civil"
	"duskline/calc/plan"
)

// lakeZone is an invented zone: +1 h, and +2 h from the last Sunday in March
// to that in October of 2026.
func lakeZone(name string, from, to time.Time) (time.Duration, []civil.Change, error) {
	if name != "Lake/North_Shore" {
		return 0, nil, errors.New("no such zone")
	}
	first := time.Hour
	var list []civil.Change
	for _, c := range []civil.Change{
		{At: time.Date(2026, 3, 29, 1, 0, 0, 0, time.UTC), Offset: 2 * time.Hour},
		{At: time.Date(2026, 10, 25, 1, 0, 0, 0, time.UTC), Offset: time.Hour},
	} {
		switch {
		case !c.At.After(from):
			first = c.Offset
		case !c.At.After(to):
			list = append(list, c)
		}
	}
	return first, list, nil
}

func atLake(t *testing.T) *Desk {
	p := heron(t)
	p.SetZone("Lake/North_Shore", 2*time.Hour, nil)
	d := New(p)
	d.Zone = lakeZone
	return d
}

func TestTheZoneFollowsTheDates(t *testing.T) {
	for _, c := range []struct {
		date, clock string
		want        string
		changes     int
	}{
		{"2026-05-20", "18:00", "2026-05-20T18:00:00+02:00", 0},
		{"2026-01-20", "18:00", "2026-01-20T18:00:00+01:00", 0},
		{"2026-03-27", "09:00", "2026-03-27T09:00:00+01:00", 1},
		{"2026-03-29", "12:00", "2026-03-29T12:00:00+02:00", 2}, // and what held before
		{"2026-10-24", "23:30", "2026-10-24T23:30:00+02:00", 1},
		{"2026-10-26", "00:30", "2026-10-26T00:30:00+01:00", 2},
	} {
		d := atLake(t)
		d.Enter(StartDate, c.date)
		d.Enter(StartClock, c.clock)
		got := d.Plan().Trip
		if s := got.Start.Format(time.RFC3339); s != c.want || got.Zone != "Lake/North_Shore" || len(got.ClockChanges) != c.changes || len(d.Waiting()) != 0 {
			t.Errorf("%s %s: %s, changes %v, waiting %v", c.date, c.clock, s, got.ClockChanges, d.Waiting())
		}
		// The Location is the zone's, on all days of the trip.
		first, changes, _ := lakeZone(got.Zone, got.Start, got.Start.Add(63*time.Hour))
		if f, list := civil.Offsets(got.Start, got.Start.Add(63*time.Hour)); f != first || !slices.EqualFunc(list, changes, func(a, b civil.Change) bool { return a.At.Equal(b.At) && a.Offset == b.Offset }) {
			t.Errorf("%s: the clock goes %v %v, want %v %v", c.date, f, list, first, changes)
		}
	}
}

// A longer trip meets a change, a shorter one again does not mind that it is
// known.
func TestTheZoneFollowsTheLength(t *testing.T) {
	d := atLake(t)
	d.Enter(StartDate, "2026-03-01")
	d.Enter("/trip/length_h", "720")
	if _, list := civil.Offsets(d.Plan().Trip.Start, d.Plan().Trip.Start.Add(720*time.Hour)); len(list) != 1 {
		t.Errorf("30 days from 1 March meet %v", list)
	}
	d.Enter("/trip/length_h", "6")
	if len(d.Waiting()) != 0 || d.Plan().Trip.LengthH != 6 {
		t.Errorf("waiting %v", d.Waiting())
	}
}

func TestAnOffsetByHandIsNoZone(t *testing.T) {
	d := atLake(t)
	d.Enter(StartOffset, "5.75")
	if tr := d.Plan().Trip; tr.Zone != "" || len(tr.ClockChanges) != 0 || tr.Start.Format(time.RFC3339) != "2026-05-15T18:00:00+05:45" {
		t.Errorf("%+v", tr)
	}
}

func TestAZoneThatTheDeviceDoesNotKnow(t *testing.T) {
	p := heron(t)
	p.SetZone("Sea/Nowhere", 2*time.Hour, nil)
	d := New(p)
	d.Zone = lakeZone
	d.Enter(StartDate, "2026-05-16")
	if tr := d.Plan().Trip; tr.Zone != "" || tr.Start.Format(time.RFC3339) != "2026-05-16T18:00:00+02:00" {
		t.Errorf("%+v", tr)
	}
}

// hoursFor cuts dull hours from an endless file, as the client does from a
// real one.
func hoursFor(p *plan.Plan) (*plan.Weather, bool) {
	w := &plan.Weather{Name: "dull", Start: p.Trip.Start.Truncate(time.Hour).UTC(), AirC: []float64{}, WindMs: []float64{}}
	n := int(p.Trip.LengthH) + 1
	w.GHI, w.DHI = make([]float64, n), make([]float64, n)
	return w, true
}

func TestAWeatherFileIsChosenWhenThereIsOne(t *testing.T) {
	const at = "/sky/light"
	d := New(heron(t))
	before := d.Plan().Sky.Light
	d.Enter(at, string(plan.ByWeatherFile))
	if d.Plan().Sky.Light != before || d.Text(at) != string(plan.ByWeatherFile) || d.Fault(at) == "" {
		t.Errorf("light %s, shows %s, fault %q", d.Plan().Sky.Light, d.Text(at), d.Fault(at))
	}
	d.Change(func(p *plan.Plan) {
		p.Sky.Light = plan.ByWeatherFile
		p.Sky.WeatherFile, _ = hoursFor(p)
	})
	if d.Plan().Sky.Light != plan.ByWeatherFile || len(d.Waiting()) != 0 {
		t.Errorf("light %s, waiting %v", d.Plan().Sky.Light, d.Waiting())
	}
	d.Enter(at, string(before))
	d.Enter(at, string(plan.ByWeatherFile)) // it is still there
	if d.Plan().Sky.Light != plan.ByWeatherFile || len(d.Waiting()) != 0 {
		t.Errorf("light %s, waiting %v", d.Plan().Sky.Light, d.Waiting())
	}
}

func TestTheWeatherFileFollowsTheTrip(t *testing.T) {
	p := heron(t)
	p.Sky.Light = plan.ByWeatherFile
	p.Sky.WeatherFile, _ = hoursFor(&p)
	for _, with := range []bool{true, false} {
		d := New(p)
		if with {
			d.Weather = hoursFor
		}
		d.Enter(StartDate, "2026-05-20")
		d.Enter("/trip/length_h", "240")
		if moved := d.Plan().Trip.Start.Day() == 20 && d.Plan().Trip.LengthH == 240; moved != with || with == (len(d.Waiting()) > 0) {
			t.Errorf("with a file at hand %v: %v, %g h, waiting %v", with, d.Plan().Trip.Start, d.Plan().Trip.LengthH, d.Waiting())
		}
	}
}

// A file that was tried and left must not keep the plan in its country; one in
// use does.
func TestAWeatherFileNotInUseKeepsNoPlanInItsPlace(t *testing.T) {
	for _, used := range []bool{false, true} {
		p := heron(t)
		w, _ := hoursFor(&p)
		for i := range w.GHI {
			if h := w.Start.Add(time.Duration(i) * time.Hour).Hour(); h >= 11 && h <= 13 {
				w.GHI[i], w.DHI[i] = 500, 100
			}
		}
		p.Sky.WeatherFile = w
		if used {
			p.Sky.Light = plan.ByWeatherFile
		}
		d := New(p)
		if faults := plan.Check(p); faults != nil {
			t.Fatal(faults)
		}
		d.Enter("/sky/altitude_m", "70") // the file goes with that
		if d.Plan().Sky.WeatherFile == nil {
			t.Error("the file is gone without need")
		}
		d.Enter("/sky/latitude_deg", "-78") // where the sun does not rise in May
		k := d.Plan().Sky
		if moved := k.LatitudeDeg == -78 && len(d.Waiting()) == 0; moved == used || (k.WeatherFile == nil) == used {
			t.Errorf("in use %v: at %g°, waiting %v, file %v", used, k.LatitudeDeg, d.Waiting(), k.WeatherFile != nil)
		}
	}
}

// Every way to give the weather can be chosen from every other one, and says
// something at once.
func TestEveryLightCanBeChosen(t *testing.T) {
	const at = "/sky/light"
	kinds := []plan.LightKind{plan.ByClearSky, plan.BySkyStates, plan.ByPeakSun, plan.ByLastThreeDays}
	for _, from := range kinds {
		for _, to := range kinds {
			p := heron(t)
			p.ChooseLight(plan.ByClearSky)
			p.Sky.SkyStates, p.Sky.PeakSunHours, p.Sky.LastThreeDays = nil, nil, nil
			d := New(p)
			d.Enter(at, string(from))
			d.Enter(at, string(to))
			if d.Plan().Sky.Light != to || len(d.Waiting()) != 0 || d.Err() != nil {
				t.Errorf("%s to %s: %s, fault %q, %v", from, to, d.Plan().Sky.Light, d.Fault(at), d.Err())
			}
		}
	}
}

func TestTheMetersUnitTakesItsReadingsAlong(t *testing.T) {
	p := heron(t)
	p.Sky.LastThreeDays = []float64{136, 272, 0}
	d := New(p)
	d.Enter("/sky/meter_unit", "Ah")
	if k := d.Plan().Sky; k.MeterUnit != plan.MeterAh || !slices.Equal(k.LastThreeDays, []float64{10, 20, 0}) {
		t.Errorf("%v %s", k.LastThreeDays, k.MeterUnit)
	}
	d.Enter("/sky/meter_unit", "Wh")
	if k := d.Plan().Sky; !slices.Equal(k.LastThreeDays, []float64{136, 272, 0}) {
		t.Errorf("%v %s", k.LastThreeDays, k.MeterUnit)
	}
}

// The new lists are edited like the others.
func TestListsOfSkyAndPanels(t *testing.T) {
	p := heron(t)
	p.Sky.Horizon = []plan.HorizonPoint{}
	p.ChooseLight(plan.BySkyStates)
	d := New(p)
	d.Insert("/sky/horizon", 0, plan.HorizonPoint{AzimuthDeg: 90, HeightDeg: 10})
	d.Insert("/sky/horizon", 1, plan.HorizonPoint{AzimuthDeg: 180, HeightDeg: 20})
	d.Enter("/sky/horizon/1/height_deg", "91")
	if d.Fault("/sky/horizon/1/height_deg") == "" || d.Plan().Sky.Horizon[1].HeightDeg != 20 {
		t.Error("a horizon over 90° got through")
	}
	d.Remove("/sky/horizon", 0)
	if h := d.Plan().Sky.Horizon; len(h) != 1 || h[0].AzimuthDeg != 180 || !slices.Equal(d.Waiting(), []string{"/sky/horizon/0/height_deg"}) {
		t.Errorf("%v, waiting %v", h, d.Waiting())
	}
	d.DropAll()
	d.Copy("/sky/sky_states", 0)
	d.Enter("/sky/sky_states/0", "rain")
	if s := d.Plan().Sky.SkyStates; s[0] != plan.SkyRain || len(s) != len(p.Sky.SkyStates)+1 || s[1] != p.Sky.SkyStates[0] {
		t.Errorf("%v", s)
	}
	const shade = "/panels/list/0/shade_hours"
	d.EnterHours(shade, []plan.Window{{FromH: 6, ToH: 9}})
	d.Enter(shade+"/0/to_h", "9:30")
	if w := d.Plan().Panels.List[0].ShadeHours; len(w) != 1 || w[0].ToH != 9.5 || d.Text(shade+"/0/to_h") == "" {
		t.Errorf("%v, waiting %v", w, d.Waiting())
	}
	d.Enter("/panels/list/0/lie", "turned")
	d.Enter("/panels/list/0/aims_per_day", "3")
	if l := d.Plan().Panels.List[0]; l.Lie != plan.LieTurned || l.AimsPerDay != 3 {
		t.Errorf("%+v", l)
	}
}
