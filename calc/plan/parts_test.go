package plan

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"duskline/calc/battery"
	"duskline/calc/daylight"
	"duskline/calc/golden"
	"duskline/calc/panel"
	"duskline/calc/power"
	"duskline/calc/wire"
)

func blank() Plan { return Blank("Parts", time.Date(2026, 6, 12, 18, 0, 0, 0, time.UTC)) }

// A blank plan is as version 2 reckoned: no figure of version 3 does anything.
func TestBlankIsNeutral(t *testing.T) {
	p := blank()
	c := p.Case.Controller.Model()
	if c.Start != 0 || c.Low != 0 || c.Night != c.Standby {
		t.Errorf("%+v", c)
	}
	if s := p.Case.Battery.Stages(); s.After != power.Hold || s.Compensation != 0 || s.Hours != 0 || s.Absorb != 14.4 {
		t.Errorf("%+v", s)
	}
	if v := p.Case.Vehicle.Model(); v != (power.VehicleCharger{}) {
		t.Errorf("%+v", v)
	}
	inverter, err := p.Case.Inverter.Model()
	if err != nil {
		t.Fatal(err)
	}
	plain, err := power.NewInverter(300, 600, 6.4, 0.88)
	if err != nil || inverter != plain {
		t.Errorf("%+v, want %+v (%v)", inverter, plain, err)
	}
	spec, err := p.Daylight()
	if err != nil {
		t.Fatal(err)
	}
	module, err := panel.FromWatts(100, panel.Crystalline)
	if err != nil {
		t.Fatal(err)
	}
	if l := spec.Panels[0]; l.Mount != panel.OpenRack || l.Module != module || spec.Drop != 0 || spec.Series != 0 || spec.Joined != panel.SideBySide {
		t.Errorf("%+v", spec)
	}
}

// Every figure of version 3 arrives at its model, in the model's unit.
func TestNewFiguresReachTheirModels(t *testing.T) {
	p := full()
	p.Panels.Joined = InStrings
	same := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
			t.Errorf("%s: %g, want %g", what, got, want)
		}
	}
	c := p.Case.Controller.Model()
	same("start, V", float64(c.Start), 9.5)
	same("low", float64(c.Low), 0.9)
	same("night, A", float64(c.Night), 0.004)

	b := p.Case.Battery
	b.CompensationMVPerK = -24
	s := b.Stages()
	same("absorption, h", s.Hours, 1.5)
	same("float, V", float64(s.Float), 13.6)
	same("resume, V", float64(s.Resume), 13.1)
	same("compensation, V/K", s.Compensation, -0.024)
	for after, want := range map[AfterFull]power.After{AfterHold: power.Hold, AfterFloat: power.Float, AfterRest: power.Rest} {
		if b.AfterFull = after; b.Stages().After != want {
			t.Errorf("%s is %v", after, b.Stages().After)
		}
	}

	if w := p.Case.WallCharger.Model(); w.InputMin != 200 || w.InputMax != 250 || w.Current != 10 || w.Efficiency != 0.85 {
		t.Errorf("%+v", w)
	}
	if v := p.Case.Vehicle.Model(); v.Current != 8 || v.Efficiency != 0.8 || v.Socket != 10 {
		t.Errorf("%+v", v)
	}

	i, err := p.Case.Inverter.Model()
	if err != nil {
		t.Fatal(err)
	}
	same("sleep, W", float64(i.Sleep), 0.05*12.8)
	same("wake, W", float64(i.Wake), 8)
	same("cut-off, V", float64(i.LowCutOff), 10.5)
	same("reconnect, V", float64(i.LowReconnect), 12.4)
	same("surge, s", i.SurgeSeconds, 3)
	same("at rated", float64(i.Efficiency(300)), 0.88)
	same("at half", float64(i.Efficiency(150)), 0.895)
	if w := p.Case.Inverter.Shape(); w.Pulse != 120 || math.Abs(float64(w.RMS())-230) > 1e-9 {
		t.Errorf("%+v", w)
	}
	p.Case.Inverter.Wave = PureSine
	if w := p.Case.Inverter.Shape(); !w.IsSine() || math.Abs(float64(w.RMS())-230) > 1e-9 {
		t.Errorf("%+v", w)
	}

	spec, err := p.Daylight()
	if err != nil {
		t.Fatal(err)
	}
	l := spec.Panels[0]
	if spec.Joined != panel.Strings || spec.Drop != 0.5 || l.String != 2 || l.Mount != panel.Covered {
		t.Errorf("%+v", spec)
	}
	standing, err := p.Case.Standing()
	if err != nil {
		t.Fatal(err)
	}
	if standing.Meters != 0.03 || standing.Controller != 0.01 || standing.Night != 0.004 || standing.USB.Standby != 0.02 || !standing.Fitted || standing.Inverter != i {
		t.Errorf("%+v", standing)
	}
	p.Case.Inverter.RatedW = 0
	if standing, err = p.Case.Standing(); err != nil || standing.Fitted {
		t.Errorf("%+v %v", standing, err)
	}
}

// The cable by hand: 12 AWG is 5.21 Ω/km at 20 °C (ASTM B258), two conductors
// of 6 m at 40 °C with 0.393 % a kelvin.
func TestCableByHand(t *testing.T) {
	p := full()
	spec, err := p.Daylight()
	if err != nil {
		t.Fatal(err)
	}
	golden.Near(t, "cable, Ω", float64(spec.Series), 2*6*5.211e-3*(1+0.00393*20), 3)
	p.Panels.CableM = 0
	if spec, err = p.Daylight(); err != nil || spec.Series != 0 {
		t.Errorf("no cable: %v Ω (%v)", spec.Series, err)
	}
}

// An old panel has lost so many years of the wear of its technology, its volts
// stay. Figures: 0.55 % and 1 % a year, Jordan2016 as calc/panel has them.
func TestOldPanelHasLessPower(t *testing.T) {
	for technology, yearly := range map[Technology]float64{Crystalline: 0.0055, ThinFilm: 0.01} {
		p := NewPanel("Old", 30, 180)
		p.Technology = technology
		fresh, err := p.Module()
		if err != nil {
			t.Fatal(err)
		}
		p.AgeYears = 12.5
		old, err := p.Module()
		if err != nil {
			t.Fatal(err)
		}
		v0, i0 := fresh.At(1000, 25).MaxPower()
		v1, i1 := old.At(1000, 25).MaxPower()
		golden.Near(t, string(technology)+", W", float64(v1)*float64(i1), float64(v0)*float64(i0)*(1-12.5*yearly), 5)
		golden.Near(t, string(technology)+", V", float64(v1), float64(v0), 5)
	}
}

// The gauges of the document are those of calc/wire, every one by its name.
func TestGaugesAreThoseOfWire(t *testing.T) {
	all, _ := Choices("/panels/cable_gauge")
	if len(all) != len(wire.All()) {
		t.Errorf("%d gauges, wire has %d", len(all), len(wire.All()))
	}
	for _, name := range all {
		g, ok := wire.Named(name)
		if !ok || g.String() != name {
			t.Errorf("%s is no gauge", name)
		}
		if got := (Panels{CableGauge: name}).Cable().Gauge; got != g {
			t.Errorf("%s is handed on as %v", name, got)
		}
	}
}

// The sensitivities are as many as the model has, each another.
func TestSensitivitiesAreThoseOfPower(t *testing.T) {
	words, _ := Choices("/gear/0/sensitivity")
	seen := map[power.Sensitivity]bool{}
	for _, w := range words {
		seen[Device{Sensitivity: Sensitivity(w)}.Class()] = true
	}
	if len(words) != int(power.Audio)+1 || len(seen) != len(words) {
		t.Errorf("%q are %v", words, seen)
	}
}

// TestNoModelRefusesACaseThatCheckTakes changes the Case and the panels at
// random: of the plans that Check takes, no model refuses a part.
func TestNoModelRefusesACaseThatCheckTakes(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	taken := 0
	for range 14000 {
		p := full()
		p.Sky.Light, p.Sky.WeatherFile = ByClearSky, nil // hours that nothing here is about
		for range 1 + r.IntN(4) {
			spoil(r, ruleAt("/case"), &p.Case)
		}
		if r.IntN(3) == 0 {
			spoil(r, ruleAt("/panels"), &p.Panels)
		}
		if Check(p) != nil {
			continue
		}
		taken++
		errs := []error{p.Case.Controller.Model().Check(), p.Case.Battery.Stages().Check(), p.Case.WallCharger.Model().Check(),
			p.Case.Vehicle.Model().Check(), p.Panels.Cable().Check(), p.Case.Inverter.Shape().Check()}
		_, err := p.Case.Standing()
		errs = append(errs, err)
		_, err = p.Case.Battery.Model()
		errs = append(errs, err)
		_, err = battery.NewGuard(p.Case.Battery.Guard())
		errs = append(errs, err)
		spec, err := p.Daylight()
		if errs = append(errs, err); err == nil {
			spec.Span = 6 * time.Hour
			_, err = daylight.New(spec)
			errs = append(errs, err)
		}
		for i, err := range errs {
			if err != nil {
				data, _ := Write(p)
				t.Fatalf("model %d: %v\n%s", i, err, data)
			}
		}
	}
	if taken < 1500 {
		t.Errorf("only %d plans were taken", taken)
	}
}

// What the model says of the two extra efficiencies stands at the field, with
// the range that would do.
func TestExtraEfficienciesNameTheirRange(t *testing.T) {
	p := full()
	p.Case.Controller.Kind, p.Case.Controller.EfficiencyLowPct = MPPT, ptr(100)
	p.Case.Inverter.EfficiencyHalfPct = ptr(60)
	faults := Check(p)
	if len(faults) != 2 {
		t.Fatal(faults)
	}
	for _, f := range faults {
		if f.Kind != OutOfRange || f.Min < 50 || f.Max > 100 || f.Min >= f.Max || f.Unit != "%" {
			t.Errorf("%+v", f)
		}
		// The ends of the range do.
		for _, x := range []float64{f.Min + 1e-6, f.Max - 1e-6} {
			q := full()
			q.Case.Controller.Kind = MPPT
			if f.Other == "/case/controller/efficiency_pct" {
				q.Case.Controller.EfficiencyLowPct = &x
			} else {
				q.Case.Inverter.EfficiencyHalfPct = &x
			}
			if more := Check(q); more != nil {
				t.Errorf("%g: %v", x, more)
			}
		}
	}
}
