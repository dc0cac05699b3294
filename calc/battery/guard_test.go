package battery

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"duskline/calc/qty"
)

// pack is the protection of an invented LiFePO4 pack of four cells.
var pack = GuardSpec{
	On: true, OverV: 14.8, OverBack: 14.2, UnderV: 10, UnderBack: 11.2, VoltsDelay: 2 * time.Second,
	ChargeA: 20, DischargeA: 60, AmpsDelay: 5 * time.Second,
	ChargeCold: 0, ChargeHot: 50, DischargeCold: -20, DischargeHot: 65, HotBack: 5,
	Release: 30 * time.Second,
}

func guard(t testing.TB, s GuardSpec) Guard {
	t.Helper()
	g, err := NewGuard(s)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// reading is what a guard sees.
type reading struct {
	volts qty.Volt
	amps  qty.Ampere
	core  qty.Celsius
}

var calm = reading{13.2, -3, 20}

// Each watch: what trips it, what is still not enough to let it go, what is.
var watches = []struct {
	reason          Reason
	code            string
	stopsCharge     bool
	delay           float64
	near, trip      reading // the nearest reading that is still fine, and one that trips
	notBack, isBack reading
}{
	{OverVolts, "over_volts", true, 2, reading{14.79, 5, 20}, reading{14.8, 5, 20}, reading{14.3, 5, 20}, reading{14.2, 0, 20}},
	{UnderVolts, "under_volts", false, 2, reading{10.01, -5, 20}, reading{10, -5, 20}, reading{11.1, 0, 20}, reading{11.2, 0, 20}},
	{ChargeAmps, "charge_amps", true, 5, reading{13.5, 20, 20}, reading{13.5, 20.1, 20}, reading{13.5, 20.1, 20}, reading{13.5, 19, 20}},
	{DischargeAmps, "discharge_amps", false, 5, reading{12.5, -60, 20}, reading{12.5, -60.1, 20}, reading{12.5, -61, 20}, reading{12.5, -10, 20}},
	{ChargeCold, "cold", true, 0, reading{13.2, 5, 0}, reading{13.2, 5, -0.1}, reading{13.2, 5, 4.9}, reading{13.2, 5, 5}},
	{ChargeHot, "hot", true, 0, reading{13.2, 5, 50}, reading{13.2, 5, 50.1}, reading{13.2, 5, 45.1}, reading{13.2, 5, 45}},
	{DischargeCold, "cold", false, 0, reading{13.2, -5, -20}, reading{13.2, -5, -20.1}, reading{13.2, -5, -15.1}, reading{13.2, -5, -15}},
	{DischargeHot, "hot", false, 0, reading{13.2, -5, 65}, reading{13.2, -5, 65.1}, reading{13.2, -5, 60.1}, reading{13.2, -5, 60}},
}

func TestGuardWatchesTripAndLetGo(t *testing.T) {
	for _, w := range watches {
		t.Run(w.code, func(t *testing.T) {
			// In the cold and heat of discharge charging is off as well: watch one side.
			spec := pack
			if w.reason == DischargeCold || w.reason == DischargeHot {
				spec.ChargeCold, spec.ChargeHot = -100, 100
			}
			g := guard(t, spec)
			allowed := func() bool {
				in, out := g.Allows()
				if w.stopsCharge {
					return in
				}
				return out
			}
			advance := func(s float64, r reading) (off, back Reason) {
				turn := g.Advance(s, r.volts, r.amps, r.core)
				if w.stopsCharge {
					return turn.ChargeOff, turn.ChargeBack
				}
				return turn.DischargeOff, turn.DischargeBack
			}
			if advance(3600, w.near); !allowed() || !math.IsInf(g.Left(w.near.volts, w.near.amps, w.near.core), 1) {
				t.Fatal("it trips where all is fine")
			}
			if w.delay > 0 {
				if left := g.Left(w.trip.volts, w.trip.amps, w.trip.core); left != w.delay {
					t.Errorf("%v s left of %v", left, w.delay)
				}
				advance(w.delay-0.5, w.trip)
				if left := g.Left(w.trip.volts, w.trip.amps, w.trip.core); !allowed() || left != 0.5 {
					t.Errorf("allowed %v, %v s left of half a second", allowed(), left)
				}
				advance(0.1, w.near) // a moment of calm begins the delay anew
				advance(w.delay-0.5, w.trip)
				if !allowed() {
					t.Error("a moment of calm does not count")
				}
				advance(0.4, w.trip)
			}
			if off, back := advance(0.1, w.trip); off != w.reason || back != NoReason || allowed() {
				t.Fatalf("tripped by %v, back %v, allowed %v", off, back, allowed())
			}
			if w.reason.String() != w.code {
				t.Errorf("its code is %s", w.reason)
			}
			if off, back := advance(3600, w.notBack); off != NoReason || back != NoReason || allowed() {
				t.Errorf("it lets go too early: %v, %v", off, back)
			}
			advance(29.5, w.isBack)
			if left := g.Left(w.isBack.volts, w.isBack.amps, w.isBack.core); allowed() || math.Abs(left-0.5) > 1e-9 {
				t.Errorf("%v s left of the release's last half second", left)
			}
			if off, back := advance(0.5, w.isBack); off != NoReason || back != w.reason || !allowed() {
				t.Errorf("after the release: off %v, back %v, allowed %v", off, back, allowed())
			}
			if advance(1, calm); g.busy {
				t.Error("it keeps watching closely when all is well again")
			}
		})
	}
}

// Two reasons at once: the side is back when the last of them lets go.
func TestGuardWaitsForTheLastReason(t *testing.T) {
	g := guard(t, pack)
	if turn := g.Advance(10, 15, 5, -3); turn.ChargeOff != OverVolts || turn.DischargeOff != NoReason {
		t.Fatalf("%+v", turn)
	}
	if turn := g.Advance(60, 13, 5, -3); turn != (Turn{}) {
		t.Errorf("the volts are well, the cold is not: %+v", turn)
	}
	if in, _ := g.Why(); in != ChargeCold {
		t.Errorf("off for %v", in)
	}
	if turn := g.Advance(60, 13, 5, 10); turn.ChargeBack != ChargeCold {
		t.Errorf("%+v", turn)
	}
}

// A guard asked Left and advanced by just that, or in any pieces, changes
// over at the same moment: nothing depends on the step.
func TestGuardDoesNotDependOnTheStep(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 18))
	for range 200 {
		// A history of readings, each some seconds long.
		type stretch struct {
			reading
			seconds float64
		}
		var past []stretch
		for range 40 {
			past = append(past, stretch{reading{
				qty.Volt(9.5 + 6*r.Float64()), qty.Ampere(80*r.Float64() - 60), qty.Celsius(90*r.Float64() - 25),
			}, math.Round(400*r.Float64()) / 8})
		}
		run := func(piece func(left float64) float64) (log []any) {
			g, now := guard(t, pack), 0.0
			for _, s := range past {
				for todo := s.seconds; ; {
					h := math.Min(todo, math.Min(piece(todo), g.Left(s.volts, s.amps, s.core)))
					turn := g.Advance(h, s.volts, s.amps, s.core)
					todo, now = todo-h, now+h
					if turn != (Turn{}) {
						log = append(log, turn, math.Round(now*1000))
					}
					if todo <= 1e-9 && g.Left(s.volts, s.amps, s.core) > 0 {
						break
					}
				}
			}
			return log
		}
		whole := run(func(left float64) float64 { return left })
		eighths := run(func(float64) float64 { return 0.125 })
		if len(whole) != len(eighths) {
			t.Fatalf("%d changes in whole stretches, %d in eighths of a second", len(whole), len(eighths))
		}
		for k := range whole {
			if whole[k] != eighths[k] {
				t.Fatalf("change %d: %v in whole stretches, %v in eighths of a second", k/2, whole[k], eighths[k])
			}
		}
	}
}

func TestGuardThatIsNotThere(t *testing.T) {
	off := pack
	off.On = false
	for _, g := range []Guard{{}, guard(t, GuardSpec{}), guard(t, off)} {
		if turn := g.Advance(1e6, 30, -1e6, 1e3); turn != (Turn{}) || g.On() {
			t.Errorf("%+v", turn)
		}
		if in, out := g.Allows(); !in || !out || !math.IsInf(g.Left(30, -1e6, 1e3), 1) {
			t.Error("it holds something off")
		}
	}
	// On, but with nothing to watch but the temperature.
	g := guard(t, GuardSpec{On: true, ChargeCold: -100, ChargeHot: 100, DischargeCold: -100, DischargeHot: 100})
	if g.Advance(1e6, 0, -1e6, 20); g.off != [reasons]bool{} || !g.On() {
		t.Errorf("%+v", g.off)
	}
	// NaN trips nothing and lets nothing go.
	g = guard(t, pack)
	nan := math.NaN()
	g.Advance(100, qty.Volt(nan), qty.Ampere(nan), qty.Celsius(nan))
	if in, out := g.Allows(); !in || !out {
		t.Error("NaN trips it")
	}
}

func TestNewGuardRefuses(t *testing.T) {
	for what, wrong := range map[string]func(s *GuardSpec){
		"over volts":       func(s *GuardSpec) { s.OverV = -1 },
		"over volts back":  func(s *GuardSpec) { s.OverBack = s.OverV },
		"under volts":      func(s *GuardSpec) { s.UnderV = 14.8 },
		"under volts back": func(s *GuardSpec) { s.UnderBack = s.UnderV },
		"volts delay":      func(s *GuardSpec) { s.VoltsDelay = 61 * time.Second },
		"charge amps":      func(s *GuardSpec) { s.ChargeA = qty.Ampere(math.NaN()) },
		"discharge amps":   func(s *GuardSpec) { s.DischargeA = -5 },
		"amps delay":       func(s *GuardSpec) { s.AmpsDelay = -1 },
		"charge cold":      func(s *GuardSpec) { s.ChargeCold = 40 }, // 5 K inside of both it never comes back
		"charge hot":       func(s *GuardSpec) { s.ChargeHot = 2000 },
		"discharge cold":   func(s *GuardSpec) { s.DischargeCold = 80 },
		"back by":          func(s *GuardSpec) { s.HotBack = -1 },
		"release":          func(s *GuardSpec) { s.Release = 2 * time.Hour },
	} {
		s := pack
		wrong(&s)
		_, err := NewGuard(s)
		if r := (*qty.RangeError)(nil); !errors.As(err, &r) || r.What != what {
			t.Errorf("wrong %s: %v", what, err)
		}
	}
}

func TestGuardDoesNotAllocate(t *testing.T) {
	g := guard(t, pack)
	if n := testing.AllocsPerRun(100, func() {
		h := g
		h.Left(10, -70, -30)
		h.Advance(10, 10, -70, -30)
		h.Allows()
	}); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

func BenchmarkGuard(b *testing.B) {
	for _, c := range []struct {
		name string
		core qty.Celsius
	}{{"content", 20}, {"cold", -5}} {
		b.Run(c.name, func(b *testing.B) {
			g := guard(b, pack)
			b.ReportAllocs()
			for b.Loop() {
				g.Left(13, -10, c.core)
				g.Advance(300, 13, -10, c.core)
			}
		})
	}
}
