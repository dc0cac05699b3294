package words

import (
	"math"
	"strings"
	"testing"

	"duskline/calc/plan"
)

// Every size of wire that a plan may name reads as it is printed on the wire.
func TestGaugesReadAsPrinted(t *testing.T) {
	list, ok := plan.Choices("/panels/cable_gauge")
	if !ok || len(list) < 15 {
		t.Fatalf("%d gauges", len(list))
	}
	for _, name := range list {
		got := Gauge(name)
		if strings.Contains(got, "_") || !strings.HasSuffix(got, Space+"mm²") && !strings.HasSuffix(got, Space+"AWG") {
			t.Errorf("%s reads %q", name, got)
		}
	}
	for name, want := range map[string]string{"0.75_mm2": "0.75 mm²", "12_AWG": "12 AWG", "bell wire": "bell wire"} {
		if got := strings.ReplaceAll(Gauge(name), Space, " "); got != want {
			t.Errorf("%s reads %q", name, got)
		}
	}
}

// What is folded away says itself in a few words; the neutral figures of an
// older document say nothing but the charging volts and the mains.
func TestFinerFiguresInAFewWords(t *testing.T) {
	b := plan.Battery{ChargeV: 14.4, AbsorptionH: 2, FloatV: 13.5, ResumeV: 13.2, AfterFull: plan.AfterHold}
	c := plan.Controller{EfficiencyPct: 96}
	low, night, sleep := 80.0, 0.003, 0.05
	float, rest, full := b, b, c
	float.AfterFull, rest.AfterFull = plan.AfterFloat, plan.AfterRest
	atOnce, off := float, rest
	atOnce.AbsorptionH, off.AbsorptionH = 0, 0
	full.StartV, full.EfficiencyLowPct, full.NightA = 20, &low, &night
	for _, x := range []struct{ got, want string }{
		{Stages(b), "held at 14.4 V"},
		{Stages(float), "2 h at 14.4 V, then 13.5 V"},
		{Stages(rest), "2 h at 14.4 V, then off until 13.2 V"},
		{Stages(atOnce), "to 14.4 V, then 13.5 V"},
		{Stages(off), "to 14.4 V, then off until 13.2 V"},
		{ControllerFiner(c), ""},
		{ControllerFiner(full), "starts at 20 V, 80 % in low light, 0.003 A at night"},
		{Mains(plan.WallCharger{InputMinV: 100, InputMaxV: 240}), "100 V to 240 V"},
		{InverterFiner(plan.Inverter{RatedW: 300}), ""},
		{InverterFiner(plan.Inverter{SurgeS: 5, SleepA: &sleep, WakeW: 10, LowCutoffV: 10.5}), "surge 5 s, sleeps under 10 W, off at 10.5 V"},
		{DeviceFiner(plan.Device{PowerFactor: 1, Route: plan.RouteAC}), ""},
		{DeviceFiner(plan.Device{PowerFactor: 0.6, Route: plan.RouteAC, SurgeS: 2}), "power factor 0.6, surge 2 s"},
		{DeviceFiner(plan.Device{PowerFactor: 0.6, Route: plan.RouteDC}), ""},
		{PanelFiner(plan.NewPanel("x", 0, 0)), ""},
		{PanelFiner(plan.Panel{Technology: plan.ThinFilm, AgeYears: 4, Back: plan.BackCovered}), "thin film, 4 years old, no air behind"},
		{Cable(plan.Panels{CableGauge: "4_mm2"}), ""},
		{Cable(plan.Panels{CableM: 5, CableGauge: "4_mm2", BlockingV: 0.5}), "5 m of 4 mm², diode 0.5 V"},
	} {
		if got := strings.ReplaceAll(x.got, Space, " "); got != x.want {
			t.Errorf("%q, want %q", got, x.want)
		}
	}
}

// A pulse of 126° of 230 V by hand: peak 230·√(180/126), the meter of the mean
// 230·√(126/180)·π/(2√2), the harmonics |sin(n·63°)|/(n·sin 63°).
func TestStepWaveAgainstItsFormulas(t *testing.T) {
	const d = 126 * math.Pi / 180
	peak := 230 * math.Sqrt(180.0/126)
	meter := 230 * math.Sqrt(126.0/180) * math.Pi / (2 * math.Sqrt2)
	fifth := math.Abs(math.Sin(5*d/2)) / (5 * math.Sin(d/2))
	first := 4 * peak / (math.Pi * math.Sqrt2) * math.Sin(d/2)
	thd := math.Sqrt(230*230/(first*first) - 1)
	got := strings.ReplaceAll(StepWave(plan.Inverter{OutputV: 230, PulseDeg: 126}), Space, " ")
	for _, want := range []string{
		"126°", "230 V in effect", Amount(peak, 0, "") + " V at the peak", "peaks at " + Amount(230*math.Sqrt2, 0, "") + " V",
		"together " + Amount(100*thd, 0, "") + " %", "5 times as fast, is " + Amount(100*fifth, 0, "") + " %", "134°", "shows " + Amount(meter, 0, "") + " V",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in %q", want, got)
		}
	}
}
