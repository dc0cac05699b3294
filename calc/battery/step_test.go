package battery

import (
	"math"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

const warm qty.Celsius = 25

// run steps with one bus until stop says so or the steps are used up. It
// returns the hours gone and the last step.
func run(b *Battery, s qty.Fraction, seconds float64, steps int, bus Bus, stop func(*Step) bool) (float64, Step) {
	var st Step
	for k := range steps {
		st = b.step(s, warm, seconds, bus)
		s = st.State.Charge
		if stop(&st) {
			return float64(k+1) * seconds / 3600, st
		}
	}
	return float64(steps) * seconds / 3600, st
}

func onAndOn(*Step) bool { return false }

// Handbook H21, 1e-4: constant power from 13.0 V behind 20 mΩ, and no
// solution above 2112.5 W. A step of no length gives the volts of the instant.
func TestStepVectorConstantPowerH21(t *testing.T) {
	b := must(t, spec(line(12, 13)))
	w := golden.Worst{What: "amps at constant power, A", Limit: 1e-4}
	checks(t, "H21", func(row int, key string, want float64) {
		switch key {
		case "I_100W":
			w.Add(row, -float64(b.step(1, warm, 0, &draw{0, 100}).Amps)-want)
		case "I_500W":
			w.Add(row, -float64(b.step(1, warm, 0, &draw{0, 500}).Amps)-want)
		case "P_max":
			if st := b.step(1, warm, 0, &draw{0, want * (1 - 1e-6)}); st.Short {
				t.Errorf("a millionth under %g W is called short", want)
			} else if math.Abs(float64(st.Volts)-6.5) > 0.01 {
				t.Errorf("just under the greatest power there are %.4f V, want half of 13", st.Volts)
			}
			if st := b.step(1, warm, 0, &draw{0, want * (1 + 1e-6)}); !st.Short {
				t.Errorf("a millionth above %g W is not called short: %+v", want, st)
			}
		}
	})
	w.Report(t)
	golden.Near(t, "terminals at 100 W", float64(b.step(1, warm, 0, &draw{0, 100}).Volts), 12.84429, 7)
	golden.Near(t, "terminals at 500 W", float64(b.step(1, warm, 0, &draw{0, 500}).Volts), 12.17891, 7)
}

// Handbook H22, 0.2 %: hours from full to a tenth at constant power, at steps
// of a minute to half an hour.
func TestStepVectorRuntimeH22(t *testing.T) {
	b := must(t, spec(plain(LiFePO4)))
	w := golden.Worst{What: "runtime, relative", Limit: 0.002}
	checks(t, "H22", func(row int, key string, want float64) {
		watts := number(t, key, -1)
		for _, h := range []float64{60, 300, 900, 1800} {
			bus, s, hours := &draw{0, watts}, qty.Fraction(1), 0.0
			for st := b.step(s, warm, h, bus); st.State.Charge > 0.1; st = b.step(s, warm, h, bus) {
				s, hours = st.State.Charge, hours+h/3600
			}
			lo, hi := 0.0, h // of the last step only the part down to a tenth
			for range 50 {
				if m := (lo + hi) / 2; b.step(s, warm, m, bus).State.Charge > 0.1 {
					lo = m
				} else {
					hi = m
				}
			}
			hours += hi / 3600
			w.Add(row, hours/want-1)
		}
	})
	w.Report(t)
}

// Handbook H08, 0.05 points: the charge at which a load trips a fixed-volt
// alarm, found by Until from a full battery in steps of five minutes.
func TestUntilVectorAlarmH08(t *testing.T) {
	w := golden.Worst{What: "charge at the alarm, points", Limit: 0.05}
	b := must(t, spec(plain(LiFePO4)))
	checks(t, "H08", func(row int, key string, want float64) {
		mark, amps := number(t, key, 1), number(t, key, -1)
		if amps == 0 {
			w.Add(row, float64(b.Charge(qty.Volt(mark)))*100-want)
			return
		}
		bus, s := &draw{-amps, 0}, qty.Fraction(1)
		for {
			seconds, crossed := b.until(s, warm, 300, bus, qty.Volt(mark))
			s = b.step(s, warm, seconds, bus).State.Charge
			if crossed {
				break
			}
		}
		w.Add(row, float64(s)*100-want)
	})
	w.Report(t)
}

// Handbook H09, 0.1 min: minutes left after the alarm at constant current.
func TestUntilVectorMinutesLeftH09(t *testing.T) {
	w := golden.Worst{What: "minutes left after the alarm", Limit: 0.1}
	b := must(t, spec(plain(LiFePO4)))
	checks(t, "H09", func(row int, key string, want float64) {
		mark, amps := number(t, key, 2), number(t, key, -1)
		s := b.Charge(qty.Volt(mark + 0.020*amps))
		seconds, crossed := b.until(s, warm, 1e5, &draw{-amps, 0}, 0)
		if !crossed {
			t.Fatalf("%s: not empty in a day", key)
		}
		w.Add(row, seconds/60-want)
	})
	w.Report(t)
}

// Handbook H10, 0.1 Wh: energy out of a full battery before the 12.0 V alarm
// at 50 A, and what stays inside.
func TestStepVectorEnergyBeforeAlarmH10(t *testing.T) {
	b := must(t, spec(plain(LiFePO4)))
	bus, s, out := &draw{-50, 0}, qty.Fraction(1), 0.0
	for crossed := false; !crossed; {
		var h float64
		h, crossed = b.until(s, warm, 300, bus, 12.0)
		st := b.step(s, warm, h, bus)
		out -= float64(st.Volts) * float64(st.Amps) * h / 3600
		s = st.State.Charge
	}
	w := golden.Worst{What: "energy out and left, Wh", Limit: 0.1}
	checks(t, "H10", func(row int, key string, want float64) {
		if key == "Wh_out_before_alarm" {
			w.Add(row, out-want)
		} else {
			w.Add(row, float64(b.Energy(s))-want)
		}
	})
	w.Report(t)
}

// C46, 0.01 %: a standby draw over a day.
func TestStepAgainstStandbyC46(t *testing.T) {
	b := must(t, spec(plain(LiFePO4)))
	for _, c := range []struct{ amps, ah, points, hours float64 }{{0.1, 2.4, 6, 400}, {0.5, 12, 30, 80}, {1, 24, 60, 40}} {
		_, st := run(b, 1, 300, 288, &draw{-c.amps, 0}, onAndOn)
		golden.Near(t, "points a day", (1-float64(st.State.Charge))*100, c.points, 5)
		golden.Near(t, "Ah a day", (1-float64(st.State.Charge))*40, c.ah, 5)
		seconds, crossed := b.until(1, warm, 1e7, &draw{-c.amps, 0}, 0)
		if !crossed {
			t.Fatal("never empty")
		}
		golden.Near(t, "hours to empty", seconds/3600, c.hours, 5)
	}
}

// C57, 0.01 %: 12.0 V at rest, 20 mΩ, cut-off at 10.5 V: 75 A or 787.5 W.
func TestStepAgainstSagC57(t *testing.T) {
	b := must(t, spec(line(12, 13)))
	golden.Near(t, "volts at 75 A", float64(b.step(0, warm, 0, &draw{-75, 0}).EndVolts), 10.5, 6)
	golden.Near(t, "volts at 787.5 W", float64(b.step(0, warm, 0, &draw{0, 787.5}).EndVolts), 10.5, 6)
	if s, crossed := b.until(0.5, warm, 300, &draw{-110, 0}, 10.5); s != 0 || !crossed {
		t.Errorf("a load that pulls a charged battery under the cut-off: %g s, %v", s, crossed)
	}
}
