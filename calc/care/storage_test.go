package care

import (
	"errors"
	"math"
	"testing"

	"duskline/calc/battery"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// Handbook H44: 12 mA from 40 Ah, from 80 to 20 %. The drain is assumed.
func TestStandingVectorAgainstHandbookH44(t *testing.T) {
	h := handbookPack(t)
	checks(t, "H44", func(_ int, key string, want, slack float64) {
		c := h.run(h.battery.Rested(0.8, 20), 20, pull{amps: 0.012}, longest)
		at, ok := c.downTo(0.2)
		if !ok {
			t.Fatal("never")
		}
		near(t, key, at/86400, want, slack)
	})
}

// Handbook H43: compound self-discharge, months of 30 days; its rates are
// common practice.
func TestSelfDischargeVectorAgainstHandbookH43(t *testing.T) {
	leaky := func(month qty.Fraction) *house {
		h := handbookPack(t)
		s := h.spec
		s.Chemistry.SelfDischarge, s.Chemistry.DoublesEvery = month, 0
		b, err := battery.New(s)
		if err != nil {
			t.Fatal(err)
		}
		h.battery = b
		return h
	}
	const month = 30 * 86400
	checks(t, "H43", func(_ int, key string, want, slack float64) {
		h, from, to := leaky(0.03), qty.Fraction(1), qty.Fraction(0.8)
		if key == "months_50_to_20" {
			h, from, to = leaky(0.025), 0.5, 0.2
		}
		c := h.run(h.battery.Rested(from, 20), 20, pull{}, longest)
		if key == "after_6_months" {
			near(t, key, float64(c.when(6*month).st.Charge), want, slack)
			return
		}
		at, _ := c.downTo(to)
		// The charge between two moments of a course goes by a straight line.
		near(t, key, at/month, want, max(slack, 0.002))
	})
}

// Harm against the closed form of the chemistry's own law, ds/dt = -λ s - d,
// at every temperature, disconnected and with the meters on.
func TestStorageAgainstClosedForm(t *testing.T) {
	for _, c := range kinds {
		p := kind(camp(), c)
		h := houseOf(t, p)
		own := h.spec.Chemistry.Standing()
		for _, k := range storageOf(t, p, 0.9).Clocks {
			if k.Mode == AsSwitched {
				continue
			}
			to, wait := qty.Fraction(emptied), 0.0
			if !h.spec.Chemistry.Lithium {
				s := h.spec.Chemistry.Safe(25)
				to, wait = s.Least, s.RechargeDays
			}
			want := own.Days(0.9, to, float64(k.Amps)*24/float64(h.battery.Holds()), k.At) + wait
			switch {
			case want > longest/86400:
				if !k.Harm.Never {
					t.Errorf("%s, %s, %g °C: harm after %g days, closed form %g", c, k.Mode, k.At, k.Harm.Days, want)
				}
			default:
				// What it loses warms it by up to 0.2 K, and it loses a hundredth more.
				near(t, string(c)+", "+string(k.Mode)+", days to harm", k.Harm.Days, want, 0.015*want)
			}
		}
	}
}

// As switched, against steps of a minute by battery.Step alone: the outlets'
// and the inverter's standby down to the cut-off, then the meters.
func TestStorageAsSwitchedAgainstSteppingByMinutes(t *testing.T) {
	for _, c := range []plan.Chemistry{plan.LiFePO4, plan.AGM} {
		p := kind(camp(), c)
		h := houseOf(t, p)
		var k Clock
		for _, o := range storageOf(t, p, 0.7).Clocks {
			if o.Mode == AsSwitched && o.At == 10 {
				k = o
			}
		}
		st, days := h.battery.Rested(0.7, 10), 0.0
		on := bus{watts: h.standing.watts, amps: h.standing.amps}
		var alarm, off, harm float64
		for day := 0.0; day < 200 && (harm == 0 || c == plan.LiFePO4 && off == 0); day += 1.0 / 1440 {
			s := h.battery.Step(st, battery.Around{Air: 10}, 60, &on)
			st, days = s.State, day+1.0/1440
			if alarm == 0 && s.EndVolts <= h.spec.Alarm {
				alarm = days
			}
			if off == 0 && s.EndVolts <= h.spec.CutOff {
				off = days
				on = bus{amps: h.own}
			}
			least := qty.Fraction(emptied)
			if c == plan.AGM {
				least = 0.5
			}
			if harm == 0 && st.Charge <= least {
				harm = days
			}
		}
		if c == plan.AGM {
			harm++ // within a day of it
		} else {
			near(t, "LiFePO4: days to the alarm", k.Alarm.Days, alarm, 0.005*alarm)
			near(t, "LiFePO4: days to the cut-off", k.CutOff.Days, off, 0.005*off)
		}
		near(t, string(c)+": days to harm", k.Harm.Days, harm, 0.005*harm)
		near(t, string(c)+": top up", k.TopUp.Days, 0.9*min(k.Alarm.Days, k.Harm.Days), 1e-9)
	}
}

// Lead-acid that was put away full is charged again at three quarters, by the
// manual of H42 after 30 days of 0.83 %; one that is emptier, and lithium, in
// time for what comes first, and after half a year or a quarter at the latest.
func TestTopUp(t *testing.T) {
	p := kind(camp(), plan.Flooded)
	p.Case.Battery.SelfDischargePctMonth = ptr(25.0)
	near(t, "flooded, 25 % a month, from full, days", storageOf(t, p, 1).Clocks[0].TopUp.Days, 30, 0.3)
	for _, c := range []struct {
		kind plan.Chemistry
		from qty.Fraction
		most float64
	}{{plan.Flooded, 0.7, 92}, {plan.LiFePO4, 1, 183}, {plan.LiFePO4, 0.05, 183}} {
		for _, k := range storageOf(t, kind(camp(), c.kind), c.from).Clocks {
			if want := min(c.most, 0.9*k.Harm.Days, 0.9*k.Alarm.Days); k.TopUp.Never || k.TopUp.Days != want {
				t.Errorf("%s from %g: %+v", c.kind, c.from, k)
			}
		}
	}
}

// More left on is never longer to harm; a fuller battery is never shorter; a
// battery that nothing draws from lasts the shorter the hotter it is.
func TestStorageInOrder(t *testing.T) {
	for _, c := range kinds {
		p := kind(camp(), c)
		full, half := storageOf(t, p, 1).Clocks, storageOf(t, p, 0.5).Clocks
		n := 1 + len(stores)
		for k := range full {
			if half[k].Harm.Days > full[k].Harm.Days || half[k].Alarm.Days > full[k].Alarm.Days {
				t.Errorf("%s: from half %+v, from full %+v", c, half[k], full[k])
			}
			if k >= n && full[k].Harm.Days > full[k-n].Harm.Days {
				t.Errorf("%s: %+v outlasts %+v", c, full[k], full[k-n])
			}
			if k > 1 && k < n && full[k].Harm.Days > full[k-1].Harm.Days {
				t.Errorf("%s: %+v outlasts %+v", c, full[k], full[k-1])
			}
			if (full[k].By == "") != full[k].Harm.Never {
				t.Errorf("%s: %+v", c, full[k])
			}
		}
		if !full[0].Kept || full[0].At != 20 || full[1].Kept {
			t.Errorf("%s: the plan's own temperature comes first: %+v", c, full[0])
		}
	}
}

// Freezing against the army manual's table, flooded: at -26.1 °C with half a
// charge (H38). Colder than that it freezes before it sulfates; a near miss
// does not.
func TestStorageFreezing(t *testing.T) {
	by := func(c plan.Chemistry, kept float64, from qty.Fraction) Clock {
		p := kind(camp(), c)
		p.Case.Battery.KeptC = kept
		return storageOf(t, p, from).Clocks[1+len(stores)] // meters on, at that temperature
	}
	// No document keeps a battery under -20 °C: there it freezes at 36 %.
	if k := by(plan.Flooded, -20, 1); k.By != Sulfation {
		t.Errorf("-20 °C from full: %+v", k)
	}
	if k := by(plan.Flooded, -20, 0.36); k.By != Freezing || k.Harm.Days != 0 {
		t.Errorf("-20 °C from 36 %%: %+v", k)
	}
	if k := by(plan.Flooded, -15, 0.36); k.By != Sulfation || k.Harm.Days != 1 {
		t.Errorf("-15 °C from 36 %%: %+v", k)
	}
	if k := by(plan.LiFePO4, -20, 0.36); k.By == Freezing || k.By == Sulfation {
		t.Errorf("LiFePO4 at -20 °C: %+v", k)
	}
}

// A protection that cuts at its own volts ends the meters' draw, and harm
// waits for what the battery loses by itself.
func TestProtectionStopsTheMeters(t *testing.T) {
	p := camp()
	bare := storageOf(t, p, 0.8)
	p.Case.Battery.Protection = &plan.Protection{OverV: 15, OverBackV: 14.2, UnderV: 11.8, UnderBackV: 12.6, ChargeColdC: 0, ChargeHotC: 60, DischargeColdC: -20, DischargeHotC: 60}
	with := storageOf(t, p, 0.8)
	for k := range bare.Clocks {
		b, w := bare.Clocks[k], with.Clocks[k]
		if b.Mode != AllOff && w.Harm.Days < b.Harm.Days+30 || b.Mode == AllOff && w != b {
			t.Errorf("without %+v, with %+v", b, w)
		}
	}
}

func TestStorageRefusesACharge(t *testing.T) {
	for _, s := range []float64{-0.01, 1.01, math.NaN()} {
		_, err := NewStorage(camp(), qty.Fraction(s))
		var r *qty.RangeError
		if !errors.As(err, &r) || r.What != "charge" {
			t.Errorf("%g: %v", s, err)
		}
	}
	for _, s := range []qty.Fraction{0, 1} {
		if x := storageOf(t, camp(), s); len(x.Clocks) != 18 {
			t.Errorf("%g: %d clocks", s, len(x.Clocks))
		}
	}
	if k := storageOf(t, camp(), 0).Clocks[0]; k.Harm.Days != 0 || k.By != OverDischarge {
		t.Errorf("put away empty: %+v", k)
	}
}
