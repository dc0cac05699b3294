package daylight

import (
	"math"
	"testing"
	"time"

	"duskline/calc/panel"
	"duskline/calc/power"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

// plainly is the light of a step written down without any preparation: exact
// positions, no horizon, no shade, panels that stay. It is how the outlook had
// it before this package.
func plainly(t *testing.T, s Spec, at time.Time) (light float64, offer power.Offer) {
	t.Helper()
	p, err := sun.PositionAt(at, s.Place, s.Place.StandardAir(s.Start))
	if err != nil {
		t.Fatal(err)
	}
	d := p.Direction()
	if d.Elevation <= 0 {
		return 0, offer
	}
	y, m, day := s.Start.Date()
	ly, lm, ld := at.In(s.Start.Location()).Date()
	first := time.Date(y, m, day, 12, 0, 0, 0, time.UTC)
	k := int(time.Date(ly, lm, ld, 12, 0, 0, 0, time.UTC).Sub(first).Hours() / 24)
	air, err := sun.NewAtmosphere(s.Place, s.Turbidity)
	if err != nil {
		t.Fatal(err)
	}
	doy := at.In(s.Start.Location()).YearDay()
	extra := sun.Extraterrestrial(doy)
	l := sun.Clouded(air.ClearSky(d, extra), s.Light.Indexes[min(k, len(s.Light.Indexes)-1)], d, extra)
	h, mi, sec := at.In(s.Start.Location()).Clock()
	hour := float64(h) + float64(mi)/60 + float64(sec)/3600
	mean, swing := float64(s.Warmest+s.Coldest)/2, float64(s.Warmest-s.Coldest)/2
	temp := qty.Celsius(mean + swing*math.Cos((hour-15)*math.Pi/12))
	array := panel.Array{Joined: s.Joined, Drop: s.Drop, Series: s.Series}
	sum := 0.0
	for _, p := range s.Panels {
		// Hay and Davies, as the outlook had it in its first version.
		n := sun.Toward(p.Lie.Tilt, p.Lie.Azimuth)
		facing := math.Max(n.East*d.East+n.North*d.North+n.Up*d.Up, 0)
		a := float64(l.DNI) / float64(extra)
		on := float64(l.DNI)*facing + float64(l.DHI)*(a*facing/math.Max(d.Up, 0.01745)+(1-a)*(1+n.Up)/2) +
			float64(l.GHI)*float64(s.Albedo)*(1-n.Up)/2
		light += on * float64(p.Watts)
		sum += float64(p.Watts)
		in := qty.Irradiance(on * float64(p.Clean))
		mount := panel.OpenRack
		if p.Mount.U0 > 0 {
			mount = p.Mount
		}
		array.Parts = append(array.Parts, panel.Part{Count: p.Count, String: p.String, Curve: p.Module.At(in, mount.Cell(temp, in, s.Wind))})
	}
	return light / sum, s.Controller.Offer(&array)
}

// With everything new at its default, and no glass, whose model has changed.
func TestAtAgainstPlainStep(t *testing.T) {
	for name, edit := range map[string]func(*Spec){
		"one panel": func(*Spec) {},
		"three planes, side by side": func(s *Spec) {
			s.Panels = append(s.Panels,
				Panel{Module: watts(t, 60), Count: 2, Watts: 120, Lie: Lie{Tilt: 50, Azimuth: 90}, Clean: 0.9},
				Panel{Module: watts(t, 60), Count: 1, Watts: 60, Lie: Lie{Tilt: 90, Azimuth: 300}, Clean: 1})
		},
		"end to end, PWM": func(s *Spec) {
			s.Joined, s.Controller.Kind = panel.EndToEnd, power.PWM
			s.Panels = append(s.Panels, Panel{Module: watts(t, 60), Count: 1, Watts: 60, Lie: Lie{Tilt: 0, Azimuth: 90}, Clean: 0.9})
		},
		"strings behind diodes and a cable, one without air behind it": func(s *Spec) {
			s.Joined, s.Drop, s.Series = panel.Strings, 0.4, 0.15
			s.Panels[0].String, s.Panels[0].Mount = 1, panel.Covered
			s.Panels = append(s.Panels,
				Panel{Module: watts(t, 60), Count: 1, Watts: 60, Lie: Lie{Tilt: 50, Azimuth: 90}, Clean: 0.9, String: 2},
				Panel{Module: watts(t, 80), Count: 1, Watts: 80, Lie: Lie{Tilt: 10, Azimuth: 300}, Clean: 1, String: 2})
		},
	} {
		s := hill(t)
		s.Glass = sun.NoGlass
		edit(&s)
		c := scene(t, s)
		worst, worstAmps := 0.0, 0.0
		for after := 150.0; after < s.Span.Seconds(); after += 300 {
			got := c.At(after)
			want, offer := plainly(t, s, s.Start.Add(time.Duration(after*float64(time.Second))))
			worst = math.Max(worst, math.Abs(got.Light-want)/math.Max(1, want))
			for _, v := range []qty.Volt{12, 13.6} {
				i := offer.Amps(v)
				worstAmps = math.Max(worstAmps, math.Abs(float64(got.Offer.Amps(v)-i))/math.Max(0.01, float64(i)))
			}
		}
		t.Logf("%s: worst difference: light %.2g, amps %.2g", name, worst, worstAmps)
		// An interpolated sun is good to 2.2e-7°, a millionth of the light of a
		// sun at the horizon.
		if worst > 1e-6 || worstAmps > 1e-6 {
			t.Errorf("%s: light differs by %.3g, amps by %.3g", name, worst, worstAmps)
		}
	}
}
