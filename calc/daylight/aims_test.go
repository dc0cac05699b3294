package daylight

import (
	"math"
	"testing"
	"time"

	"duskline/calc/qty"
	"duskline/calc/sun"
)

// In the middle of each part of the daylight the panel looks where the sun is.
func TestAimsLookAtTheSun(t *testing.T) {
	for _, lat := range []qty.Degree{46, -33, 0, 68} {
		for _, aims := range []int{1, 2, 3, 12} {
			s := hill(t)
			s.Place.Latitude = lat
			s.Light.Indexes = []float64{1}
			for _, kind := range []LieKind{Turned, TwoAxis} {
				l := Lie{Kind: kind, Tilt: 40, Azimuth: 10, Aims: aims}
				s.Panels[0].Lie = l
				c := scene(t, s)
				for k, d := range c.Days() {
					for j := range aims {
						mid := d.Rise.Add(time.Duration((float64(j) + 0.5) / float64(aims) * float64(d.Set.Sub(d.Rise))))
						p, err := sun.PositionAt(mid, s.Place, s.Place.StandardAir(s.Start))
						if err != nil {
							t.Fatal(err)
						}
						tilt, azimuth := c.aim(l, &c.days[k], j)
						want := p.ApparentZenith
						if kind == Turned {
							want = 40
						}
						if math.Abs(float64(azimuth-p.Azimuth)) > 1e-4 || math.Abs(float64(tilt-want)) > 1e-4 {
							t.Errorf("latitude %g, part %d of %d: %g°, %g°; the sun is at %g°, %g°", float64(lat), j, aims, float64(tilt), float64(azimuth), float64(want), float64(p.Azimuth))
						}
						// It is that view that the step uses: a panel square to the
						// sun has the whole beam.
						after := mid.Sub(s.Start).Seconds()
						x := c.At(after)
						if after > 0 && kind == TwoAxis {
							l := c.days[k].air.ClearSky(c.toward(after), c.days[k].extra)
							if x.Light < float64(l.DNI) || x.Light > float64(l.DNI+l.DHI)*1.2 {
								t.Errorf("latitude %g, part %d of %d: %g W/m² of a beam of %g", float64(lat), j, aims, x.Light, float64(l.DNI))
							}
						}
					}
				}
			}
		}
	}
}

func TestAimsWithoutNightAndWithoutDay(t *testing.T) {
	s := hill(t)
	s.Place = sun.Place{Latitude: 78, Longitude: 15}
	s.Start, s.Span = time.Date(2026, 6, 20, 0, 0, 0, 0, time.FixedZone("", 3600)), 24*time.Hour
	l := Lie{Kind: TwoAxis, Aims: 4}
	s.Panels[0].Lie = l
	c := scene(t, s)
	for j := range 4 { // the 24 hours in four
		_, azimuth := c.aim(l, &c.days[0], j)
		at := c.toward(float64(j)*21600 + 10800)
		if math.Abs(float64(azimuth-facing(at))) > 1e-9 {
			t.Errorf("part %d looks to %g°, the sun is at %g°", j, float64(azimuth), float64(facing(at)))
		}
	}
	s.Start = time.Date(2026, 12, 20, 0, 0, 0, 0, time.FixedZone("", 3600))
	s.Light = Light{Indexes: []float64{1}}
	c = scene(t, s)
	for j := range 4 { // as at noon, which is in the south
		if tilt, azimuth := c.aim(l, &c.days[0], j); tilt != 90 || math.Abs(float64(azimuth-180)) > 0.1 {
			t.Errorf("part %d of the polar night: %g°, %g°", j, float64(tilt), float64(azimuth))
		}
	}
}

// Turning at one and the same lean: under a clear sky in the open, from 60° to
// 60°, three aims or more never bring less than looking to the noon sun all
// day. Under cloud or between trees they may.
func TestTurnedAgainstFixed(t *testing.T) {
	worst := 1.0
	for lat := qty.Degree(-60); lat <= 60; lat += 10 {
		for month := 1; month <= 12; month++ {
			for _, tilt := range []qty.Degree{15, 35, 60} {
				s := hill(t)
				s.Place = sun.Place{Latitude: lat}
				s.Start, s.Span = time.Date(2026, time.Month(month), 15, 0, 0, 0, 0, time.UTC), 24*time.Hour
				s.Light.Indexes = []float64{1}
				s.Panels[0].Lie = Lie{Kind: Turned, Tilt: tilt, Aims: 1} // to the noon sun
				fixed := scene(t, s).Days()[0].OnPanels
				for _, aims := range []int{3, 6} {
					s.Panels[0].Lie.Aims = aims
					worst = math.Min(worst, scene(t, s).Days()[0].OnPanels/fixed)
				}
			}
		}
	}
	t.Logf("least share of the fixed panel's light: %.4f", worst)
	if worst < 0.9999 {
		t.Errorf("turned panels get %.4f of fixed ones", worst)
	}
}

// On the lid a panel lies as it would anywhere.
func TestOnLidIsFixed(t *testing.T) {
	s := hill(t)
	want := scene(t, s).Days()[0].OnPanels
	s.Panels[0].Lie.Kind = OnLid
	if got := scene(t, s).Days()[0].OnPanels; got != want {
		t.Errorf("%g kWh/m², want %g", got, want)
	}
}
