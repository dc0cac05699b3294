package plan

import (
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
	"time"

	"duskline/calc/daylight"
)

// TestNoModelRefusesWhatCheckTakes: Check is the only door. Plans are changed
// at random in what light is made of; of those that it takes, the model takes
// every one.
func TestNoModelRefusesWhatCheckTakes(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	taken := map[LightKind]int{}
	for range 3000 {
		p := full()
		p.Sky.Light = []LightKind{ByClearSky, ByPeakSun, BySkyStates, ByLastThreeDays, ByWeatherFile}[r.IntN(5)]
		p.Trip.LengthH = float64(6 + r.IntN(60))
		for range r.IntN(6) {
			f := &document.fields[6] // the Sky
			switch r.IntN(3) {
			case 0:
				f = ruleAt("/panels")
			case 1:
				f = ruleAt("/trip")
			}
			spoil(r, f, map[string]any{"sky": &p.Sky, "panels": &p.Panels, "trip": &p.Trip}[f.name])
		}
		if p.Trip.LengthH > 100 || Check(p) != nil {
			continue
		}
		spec, err := p.Daylight()
		if err == nil {
			_, err = daylight.New(spec)
		}
		if err != nil {
			data, _ := Write(p)
			t.Fatalf("%v\n%s", err, data)
		}
		taken[p.Sky.Light]++
	}
	for _, k := range []LightKind{ByClearSky, ByPeakSun, BySkyStates, ByLastThreeDays, ByWeatherFile} {
		if taken[k] < 40 {
			t.Errorf("only %d plans with %s were taken", taken[k], k)
		}
	}
}

// A file whose every hour is at its bound has more light in its days than the
// sun sends: no hour may be blamed, but the day is refused.
func TestADayOfTheFileBrighterThanTheSun(t *testing.T) {
	p := full()
	p.Sky.Light = ByWeatherFile
	w := p.Sky.WeatherFile
	for i := range w.GHI {
		w.GHI[i], w.DHI[i] = brightest, 0
	}
	bright := 0
	for _, f := range Check(p) {
		if i, ok := strings.CutPrefix(f.Pointer, "/sky/weather_file/ghi_W_m2/"); ok && f.Kind == TooBright {
			n, _ := strconv.Atoi(i)
			w.GHI[n] = f.Max - 1
			bright++
		}
	}
	faults := Check(p)
	if bright < 60 || len(faults) != 1 || faults[0].Kind != NotPhysical || faults[0].Pointer != "/sky/weather_file/ghi_W_m2" || faults[0].Max < 9 || faults[0].Max > 13 {
		t.Errorf("%d hours too bright; then %v", bright, faults)
	}
}

// The bound of an hour of the file is what the sun sends above the air in it:
// by hand for an equinox noon on the equator, 1361 W/m² times the square of the
// distance, a little over 1370.
func TestTheBoundOfAnHourOnTheEquator(t *testing.T) {
	p := full()
	p.SetZone("", 0, nil)
	p.SetStart(time.Date(2026, 3, 20, 6, 0, 0, 0, time.UTC))
	p.Sky.LatitudeDeg, p.Sky.LongitudeDeg, p.Sky.Light = 0, 0, ByWeatherFile
	p.Sky.WeatherFile = weatherOf(p, 80)
	for i := range p.Sky.WeatherFile.GHI {
		p.Sky.WeatherFile.GHI[i], p.Sky.WeatherFile.DHI[i] = 0, 0
	}
	p.Sky.WeatherFile.GHI[7] = brightest // 12 to 13 UTC
	faults := Check(p)
	if len(faults) != 1 || faults[0].Kind != TooBright || faults[0].Max < 1370+brightMargin-5 || faults[0].Max > 1380+brightMargin {
		t.Error(faults)
	}
}
