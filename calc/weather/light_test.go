package weather

import (
	"math"
	"testing"
	"time"

	"duskline/calc/sun"
)

// Figures: the extraterrestrial column, hours 8 to 17 of 1 to 3 January, of
// NREL's typical year (TMY3, 2008) for Golden, Colorado, as the EnergyPlus
// source holds it. It proves the hour that a row stands for: half an hour more
// or less would be off by up to 100 W/m². The file's years are others than
// ours, and its figures whole numbers; its solar constant is 1367.
func TestHourlyExtraterrestrialAgainstTMY3(t *testing.T) {
	above, err := newOverhead(sun.Place{Latitude: 39.74, Longitude: -105.18, Altitude: 1829}, -7*time.Hour, false)
	if err != nil {
		t.Fatal(err)
	}
	worst := 0.0
	for day, want := range [][]float64{
		{0, 41, 242, 429, 563, 635, 640, 577, 452, 272, 62, 0},
		{0, 40, 242, 429, 564, 637, 642, 580, 455, 275, 65, 0},
		{0, 40, 242, 430, 565, 638, 644, 583, 458, 278, 67, 0},
	} {
		for i, w := range want {
			s := above.hour(day*24 + 6 + i)
			got := s.up * float64(sun.Extraterrestrial(s.day))
			worst = max(worst, math.Abs(got-w))
			if math.Abs(got-w) > 3 {
				t.Errorf("%d January, hour %d: %.1f W/m², the file has %v", day+1, 7+i, got, w)
			}
			if s.most < got {
				t.Errorf("%d January, hour %d: greatest %.1f is below the mean %.1f", day+1, 7+i, s.most, got)
			}
		}
	}
	t.Logf("worst %.2f W/m²", worst)
}

// A year put together from others is a quarter of a degree off at most: the
// sun of any year and ours differ by less than the slack.
func TestOneYearServesAll(t *testing.T) {
	place := sun.Place{Latitude: 50, Longitude: 15}
	above, err := newOverhead(place, time.Hour, false)
	if err != nil {
		t.Fatal(err)
	}
	worst := 0.0
	for year := 1995; year < 2031; year++ {
		from := time.Date(year, 1, 1, 0, 0, 0, 0, time.FixedZone("", 3600))
		track, err := sun.NewTrack(from, from.AddDate(1, 0, 0), place)
		if err != nil {
			t.Fatal(err)
		}
		for day := range 365 {
			date := time.Date(2002, 1, 1+day, 0, 0, 0, 0, time.UTC)
			start := time.Date(year, date.Month(), date.Day(), 8, 30, 0, 0, from.Location()).Sub(from)
			ours := above.track.At(time.Duration(day)*24*time.Hour + 8*time.Hour + 30*time.Minute)
			worst = max(worst, math.Abs(track.At(start).Up-ours.Up)*1410)
		}
	}
	if worst > slack/2 {
		t.Errorf("%.1f W/m² of %d", worst, slack)
	}
	t.Logf("worst %.2f W/m²", worst)
}
