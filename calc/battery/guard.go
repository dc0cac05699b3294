package battery

import (
	"math"
	"time"

	"duskline/calc/qty"
)

// A GuardSpec is the protection between the cells and the outlets, as the
// maker of the pack sets it: it is a layer of its own, under the Case's alarm
// and cut-off. The zero value is no protection.
type GuardSpec struct {
	On bool // false: there is none, whatever the other fields say

	OverV, OverBack   qty.Volt      // charging stops at OverV and is back at OverBack; 0: not watched
	UnderV, UnderBack qty.Volt      // nothing flows out at UnderV, and again at UnderBack; 0: not watched
	VoltsDelay        time.Duration // that the volts have to stay there, 0 to 60 s

	ChargeA, DischargeA qty.Ampere    // above these it stops; 0: not watched
	AmpsDelay           time.Duration // that the amps have to stay there, 0 to 60 s

	ChargeCold, ChargeHot       qty.Celsius // no charging below or above
	DischargeCold, DischargeHot qty.Celsius // nothing flows out below or above
	HotBack                     float64     // K inside of these at which it is back, 0 to 30

	Release time.Duration // that it has to be well again before it lets go, 0 to 3600 s
}

// check finds the first figure out of range or out of order.
func (s *GuardSpec) check() error {
	const high = 1000.0
	list := [...]struct {
		what          string
		got, min, max float64
		unit          string
	}{
		{"over volts", float64(s.OverV), 0, 100, "V"},
		{"over volts back", float64(s.OverBack), 0, belowIf(s.OverV > 0, float64(s.OverV), high), "V"},
		{"under volts", float64(s.UnderV), 0, belowIf(s.OverV > 0, float64(s.OverV), high), "V"},
		{"under volts back", float64(s.UnderBack), aboveIf(s.UnderV > 0, float64(s.UnderV)), high, "V"},
		{"volts delay", s.VoltsDelay.Seconds(), 0, 60, "s"},
		{"charge amps", float64(s.ChargeA), 0, 10_000, "A"},
		{"discharge amps", float64(s.DischargeA), 0, 10_000, "A"},
		{"amps delay", s.AmpsDelay.Seconds(), 0, 60, "s"},
		{"charge cold", float64(s.ChargeCold), -300, float64(s.ChargeHot) - 2*s.HotBack - 1e-9, "°C"},
		{"charge hot", float64(s.ChargeHot), -300, high, "°C"},
		{"discharge cold", float64(s.DischargeCold), -300, float64(s.DischargeHot) - 2*s.HotBack - 1e-9, "°C"},
		{"discharge hot", float64(s.DischargeHot), -300, high, "°C"},
		{"back by", s.HotBack, 0, 30, "K"},
		{"release", s.Release.Seconds(), 0, 3600, "s"},
	}
	for i := range list {
		c := &list[i]
		if err := qty.InRange(c.what, c.got, c.min, c.max, c.unit); err != nil {
			return err
		}
	}
	return nil
}

func belowIf(on bool, v, otherwise float64) float64 {
	if on {
		return v - 1e-9
	}
	return otherwise
}

func aboveIf(on bool, v float64) float64 {
	if on {
		return v + 1e-9
	}
	return 0
}

// A Reason is why a protection acts.
type Reason uint8

const (
	NoReason Reason = iota
	OverVolts
	UnderVolts
	ChargeAmps
	DischargeAmps
	ChargeCold
	ChargeHot
	DischargeCold
	DischargeHot

	reasons
)

// String returns the code of the reason: over_volts, under_volts,
// charge_amps, discharge_amps, cold or hot; "" for none.
func (r Reason) String() string {
	switch r {
	case OverVolts:
		return "over_volts"
	case UnderVolts:
		return "under_volts"
	case ChargeAmps:
		return "charge_amps"
	case DischargeAmps:
		return "discharge_amps"
	case ChargeCold, DischargeCold:
		return "cold"
	case ChargeHot, DischargeHot:
		return "hot"
	}
	return ""
}

// stopsCharge says which side a reason stops.
func (r Reason) stopsCharge() bool {
	return r == OverVolts || r == ChargeAmps || r == ChargeCold || r == ChargeHot
}

// A Guard is a protection at work: what it holds off and since when. It is a
// value: copy it to try something out. The zero value protects nothing.
//
// Each of its eight watches trips on its own after its delay and lets go on
// its own after Release; a side is open when none of its watches holds it off.
type Guard struct {
	marks *guardMarks // never written once it is made; nil: no protection
	off   [reasons]bool
	held  [reasons]float64 // s that the wish to change over has lasted
	busy  bool             // one of them is off, or wishes to change over
}

// guardMarks are a GuardSpec made ready: each watch reads one figure, with the
// sign by which more of it is worse, trips at one mark and is well at another.
type guardMarks struct {
	trip, well, delay [reasons]float64
	release           float64 // s
}

// NewGuard returns a guard that holds nothing off.
//
// Errors: *qty.RangeError for the first figure of s out of the range its
// field states, or out of order (OverBack < OverV, UnderV < UnderBack, UnderV
// < OverV, cold + 2 HotBack < hot); none if it is not On.
func NewGuard(s GuardSpec) (Guard, error) {
	if !s.On {
		return Guard{}, nil
	}
	if err := s.check(); err != nil {
		return Guard{}, err
	}
	m := &guardMarks{release: s.Release.Seconds()}
	set := func(r Reason, trip, well float64, delay time.Duration) {
		m.trip[r], m.well[r], m.delay[r] = trip, well, delay.Seconds()
	}
	none := math.Inf(1)
	for r := OverVolts; r < reasons; r++ {
		set(r, none, none, 0)
	}
	if s.OverV > 0 {
		set(OverVolts, float64(s.OverV), float64(s.OverBack), s.VoltsDelay)
	}
	if s.UnderV > 0 {
		set(UnderVolts, -float64(s.UnderV), -float64(s.UnderBack), s.VoltsDelay)
	}
	// Amps and temperatures may be at the mark; beyond it is too much.
	beyond := func(mark float64) float64 { return math.Nextafter(mark, none) }
	if s.ChargeA > 0 {
		set(ChargeAmps, beyond(float64(s.ChargeA)), float64(s.ChargeA), s.AmpsDelay)
	}
	if s.DischargeA > 0 {
		set(DischargeAmps, beyond(float64(s.DischargeA)), float64(s.DischargeA), s.AmpsDelay)
	}
	warmth := func(r Reason, mark float64) { set(r, beyond(mark), mark-s.HotBack, 0) }
	warmth(ChargeCold, -float64(s.ChargeCold))
	warmth(ChargeHot, float64(s.ChargeHot))
	warmth(DischargeCold, -float64(s.DischargeCold))
	warmth(DischargeHot, float64(s.DischargeHot))
	return Guard{marks: m}, nil
}

// On says whether there is a protection at all.
func (g *Guard) On() bool { return g.marks != nil }

// Allows says whether charge may flow in and whether it may flow out.
func (g *Guard) Allows() (charge, discharge bool) {
	in, out := g.Why()
	return in == NoReason, out == NoReason
}

// Why returns what holds each side off, the first of several; NoReason for a
// side that is open.
func (g *Guard) Why() (charge, discharge Reason) {
	if !g.busy {
		return NoReason, NoReason
	}
	for r := OverVolts; r < reasons; r++ {
		switch {
		case !g.off[r]:
		case r.stopsCharge() && charge == NoReason:
			charge = r
		case !r.stopsCharge() && discharge == NoReason:
			discharge = r
		}
	}
	return charge, discharge
}

// content says whether nothing is off and nothing wishes to change over: the
// usual case, in a few comparisons.
func (g *Guard) content(volts, amps, core float64) bool {
	t := &g.marks.trip
	return !g.busy && volts < t[OverVolts] && -volts < t[UnderVolts] && amps < t[ChargeAmps] && -amps < t[DischargeAmps] &&
		core < t[ChargeHot] && core < t[DischargeHot] && -core < t[ChargeCold] && -core < t[DischargeCold]
}

// readings returns what each watch reads.
func readings(volts, amps, core float64) [reasons]float64 {
	return [reasons]float64{
		OverVolts: volts, UnderVolts: -volts, ChargeAmps: amps, DischargeAmps: -amps,
		ChargeCold: -core, ChargeHot: core, DischargeCold: -core, DischargeHot: core,
	}
}

// wishes says whether a watch would change over at a reading, and for how many
// seconds it must wish so.
func (g *Guard) wishes(r Reason, reading float64) (wish bool, seconds float64) {
	if g.off[r] {
		return reading <= g.marks.well[r], g.marks.release
	}
	return reading >= g.marks.trip[r], g.marks.delay[r]
}

// Left returns the seconds until the guard changes over if these readings
// last: 0 if it would at once, +Inf if it is content. It is how long the next
// step may be, at most.
//
// The readings are as in Advance.
func (g *Guard) Left(volts qty.Volt, amps qty.Ampere, core qty.Celsius) float64 {
	left := math.Inf(1)
	if g.marks == nil || g.content(float64(volts), float64(amps), float64(core)) {
		return left
	}
	read := readings(float64(volts), float64(amps), float64(core))
	for r := OverVolts; r < reasons; r++ {
		if wish, seconds := g.wishes(r, read[r]); wish {
			left = min(left, max(seconds-g.held[r], 0))
		}
	}
	return left
}

// A Turn is what changed over in one Advance; NoReason where nothing did.
type Turn struct {
	ChargeOff, ChargeBack       Reason // charging stopped for it, is open again after it
	DischargeOff, DischargeBack Reason // the same for what flows out
}

// Advance lets seconds pass, 0 or above, under these readings, and returns
// what changed over: at most one change of each side, at the end of the time.
//
// volts are those of the cells, amps into the battery are above 0, out of it
// below. While a side is off, amps are what would flow if it were open: a
// guard that stopped for too many amps lets go once the load that caused it
// is gone, and does not chatter. That is how packs behave that wait until the
// load is taken off; others try again by themselves.
func (g *Guard) Advance(seconds float64, volts qty.Volt, amps qty.Ampere, core qty.Celsius) (t Turn) {
	if g.marks == nil || g.content(float64(volts), float64(amps), float64(core)) {
		return t
	}
	inBefore, outBefore := g.Why()
	read := readings(float64(volts), float64(amps), float64(core))
	g.busy = false
	for r := OverVolts; r < reasons; r++ {
		wish, wait := g.wishes(r, read[r])
		if !wish {
			g.held[r] = 0
		} else if g.held[r] += seconds; g.held[r] >= wait-1e-9 { // sums of steps may fall short by rounding
			g.off[r], g.held[r] = !g.off[r], 0
		}
		g.busy = g.busy || g.off[r] || g.held[r] > 0
	}
	in, out := g.Why()
	if inBefore == NoReason {
		t.ChargeOff = in
	} else if in == NoReason {
		t.ChargeBack = inBefore
	}
	if outBefore == NoReason {
		t.DischargeOff = out
	} else if out == NoReason {
		t.DischargeBack = outBefore
	}
	return t
}
