package sun

import (
	"errors"
	"math"
	"testing"
	"time"

	"duskline/calc/qty"
)

// Properties of the light chain that hold by definition, over a grid of skies.
func TestLightAddsUp(t *testing.T) {
	for _, altitude := range []qty.Metre{-400, 0, 2500, 6000} {
		for _, turbidity := range []float64{1, 2, 3.5, 7, 10} {
			a, err := NewAtmosphere(Place{Altitude: altitude}, turbidity)
			if err != nil {
				t.Fatal(err)
			}
			for zenith := qty.Degree(0); zenith < 90; zenith += 1.7 {
				d := Toward(zenith, 0)
				clear := a.ClearSky(d, 1366)
				last := qty.Irradiance(-1)
				for _, index := range []float64{0, 0.1, 0.4, 0.8, 0.9999, 1, 1.0001, 1.2} {
					l := Clouded(clear, index, d, Extraterrestrial(80))
					if e := float64(l.DHI) + float64(l.DNI)*d.Up - float64(l.GHI); math.Abs(e) > 1e-9 {
						t.Fatalf("z %g, index %g: beam and sky differ from all light by %g W/m²", zenith, index, e)
					}
					if math.Abs(float64(l.GHI)-index*float64(clear.GHI)) > 1e-9 {
						t.Fatalf("z %g: GHI %g at index %g of %g", zenith, l.GHI, index, clear.GHI)
					}
					if l.GHI <= last && clear.GHI > 0 {
						t.Fatalf("z %g: no more light at index %g", zenith, index)
					}
					last = l.GHI
					if l.DNI < 0 || l.DHI < -1e-9 || float64(l.DNI) > 1366*1.2 {
						t.Fatalf("z %g, turbidity %g, index %g: %+v", zenith, turbidity, index, l)
					}
				}
			}
		}
	}
}

func TestClearSkyLosesByHaze(t *testing.T) {
	d := Toward(50, 180)
	last := Light{GHI: 2000, DNI: 2000, DHI: -1}
	for turbidity := 1.5; turbidity <= 10; turbidity += 0.5 {
		a, err := NewAtmosphere(berlin, turbidity)
		if err != nil {
			t.Fatal(err)
		}
		l := a.ClearSky(d, 1366)
		if !(l.GHI < last.GHI && l.DNI < last.DNI) {
			t.Errorf("turbidity %g: %+v after %+v", turbidity, l, last)
		}
		last = l
	}
}

func TestNoLightUnderTheHorizon(t *testing.T) {
	a, err := NewAtmosphere(berlin, 3)
	if err != nil {
		t.Fatal(err)
	}
	for _, zenith := range []qty.Degree{90.0001, 90.25, 120, 180} {
		if l := a.ClearSky(Toward(zenith, 10), 1366); l != (Light{}) {
			t.Errorf("zenith %g: %+v", zenith, l)
		}
	}
	if l := a.ClearSky(Toward(89.9, 10), 1366); !(l.GHI > 0 && l.DNI > 0) {
		t.Errorf("no light just above it: %+v", l)
	}
	if d := Toward(89.9, 10); AirMass(d) < 35 || !math.IsNaN(AirMass(Toward(91, 0))) {
		t.Errorf("air mass at the horizon is %g", AirMass(d))
	}
}

// A level plane gets what level ground gets; a plane that looks at the ground
// gets nothing but what the ground throws back.
func TestPlaneLevelAndUpsideDown(t *testing.T) {
	level, down := NewView(mustPlane(t, 0, 123), nil, HayDavies, ASHRAE), NewView(mustPlane(t, 180, 0), nil, HayDavies, ASHRAE)
	d := Toward(40, 200)
	l := Light{GHI: 700, DNI: 600, DHI: qty.Irradiance(700 - 600*d.Up)}
	if got := level.Light(l, d, 1366, 0.2, false); math.Abs(float64(got.Total()-700)) > 1e-9 || got.Ground != 0 {
		t.Errorf("level: %+v", got)
	}
	if got := down.Light(l, d, 1366, 0.2, false); math.Abs(float64(got.Total()-140)) > 1e-9 || got.Beam != 0 {
		t.Errorf("upside down: %+v", got)
	}
	// the ground fills the half-space: the closed mean of ASHRAE, 0.952381
	if got := down.Through(down.Light(l, d, 1366, 0.2, false), d); math.Abs(float64(got)-140*0.952381) > 140e-4 {
		t.Errorf("upside down, through glass: %g", got)
	}
	for _, got := range []qty.Irradiance{
		level.Through(PlaneLight{Beam: 100}, Toward(60, 0)),
		level.Through(PlaneLight{Around: 100}, Toward(60, 0)),
	} {
		if math.Abs(float64(got-95)) > 1e-12 {
			t.Errorf("at 60° the glass of b0 = 0.05 passes 1 - 0.05 (2 - 1) of what comes from the sun, not %g", got)
		}
	}
}

func TestPeakSunHours(t *testing.T) {
	midnight := time.Date(2026, 4, 15, 0, 0, 0, 0, time.FixedZone("", 2*3600))
	a, err := NewAtmosphere(berlin, 3)
	if err != nil {
		t.Fatal(err)
	}
	for _, hours := range []float64{0, 0.5, 3.4, 8} {
		index, err := IndexForPeakSunHours(berlin, a, midnight, hours)
		if err != nil {
			t.Fatal(err)
		}
		// the day again, in one-minute steps and through Clouded
		k := mustTrack(t, midnight, 24*time.Hour, berlin)
		n := DayOfYear(midnight)
		var sum float64
		for m := range 1440 {
			d := k.At(time.Duration(m)*time.Minute + 30*time.Second)
			sum += float64(Clouded(a.ClearSky(d, Extraterrestrial(n)), index, d, Extraterrestrial(n)).GHI) / 60000
		}
		if math.Abs(sum-hours) > 2e-4*hours { // 5-minute against 1-minute steps
			t.Errorf("%g h became %g kWh/m² at index %g", hours, sum, index)
		}
	}

	top := DailyExtraterrestrial(berlin.Latitude, 105) / 1000
	if _, err := IndexForPeakSunHours(berlin, a, midnight, top); err != nil {
		t.Errorf("at the bound: %v", err)
	}
	_, err = IndexForPeakSunHours(berlin, a, midnight, top+0.001)
	wantRange(t, err, "hours")
	_, err = IndexForPeakSunHours(berlin, a, midnight, -0.1)
	wantRange(t, err, "hours")
	_, err = IndexForPeakSunHours(berlin, a, midnight, nan)
	wantRange(t, err, "hours")
	_, err = IndexForPeakSunHours(Place{Latitude: 91}, a, midnight, 1)
	wantRange(t, err, "latitude")
}

func TestPeakSunHoursInPolarNight(t *testing.T) {
	p := Place{Latitude: 78, Longitude: 15}
	a, err := NewAtmosphere(p, 2)
	if err != nil {
		t.Fatal(err)
	}
	midnight := time.Date(2026, 12, 21, 0, 0, 0, 0, time.UTC)
	if index, err := IndexForPeakSunHours(p, a, midnight, 0); index != 0 || err != nil {
		t.Errorf("no hours: %g, %v", index, err)
	}
	_, err = IndexForPeakSunHours(p, a, midnight, 0.01)
	wantRange(t, err, "hours")
	var r *qty.RangeError
	if errors.As(err, &r) && r.Max != 0 {
		t.Errorf("a polar night can give %g kWh/m²", r.Max)
	}
	// each day of the year some hours are possible or none, never NaN
	for day := range 365 {
		m := midnight.AddDate(0, 0, day)
		index, err := IndexForPeakSunHours(p, a, m, 0.001)
		if math.IsNaN(index) || math.IsInf(index, 0) || (err == nil && !(index > 0)) {
			t.Errorf("day %d: %g, %v", day, index, err)
		}
	}
}

func TestNothingAllocatesInTheLoop(t *testing.T) {
	k := mustTrack(t, time.Date(2026, 6, 1, 0, 0, 0, 0, time.UTC), 7*24*time.Hour, berlin)
	a, err := NewAtmosphere(berlin, 3)
	if err != nil {
		t.Fatal(err)
	}
	h := mustHorizon(t, HorizonPoint{90, 10}, HorizonPoint{180, 30}, HorizonPoint{270, 5})
	v := NewView(mustPlane(t, 35, 180), h, Perez, Physical)
	var sum qty.Irradiance
	after := time.Duration(0)
	n := testing.AllocsPerRun(500, func() {
		after += 5 * time.Minute
		d := k.At(after)
		l := Clouded(a.ClearSky(d, 1330), 0.6, d, Extraterrestrial(152))
		sum += v.Through(v.Light(l, d, 1330, 0.2, false), d)
	})
	if n != 0 || sum == 0 {
		t.Errorf("%g allocations a step, sum %g", n, sum)
	}
}
