package plan

import (
	"errors"
	"math"
	"strconv"

	"duskline/calc/battery"
)

// What of a battery must go together: its marks and stages, its own table, its
// protection; and what the model of it says against its figures.

func relateBattery(b *Battery, s *sheet) {
	const at = "/case/battery/"
	s.above(at+"alarm_V", b.AlarmV, at+"cutoff_V", b.CutoffV, "V")
	s.below(at+"alarm_V", b.AlarmV, at+"charge_V", b.ChargeV, "V")
	s.below(at+"cutoff_V", b.CutoffV, at+"charge_V", b.ChargeV, "V")
	s.above(at+"reconnect_V", b.ReconnectV, at+"cutoff_V", b.CutoffV, "V")
	s.below(at+"reconnect_V", b.ReconnectV, at+"charge_V", b.ChargeV, "V")
	relateOwn(b, s)
	if b.Protection != nil {
		relateProtection(b.Protection, s)
	}
	if s.sound(at+"chemistry") && b.Lithium() {
		s.between(at+"compensation_mV_per_K", b.CompensationMVPerK, 0, 0, at+"chemistry", "mV/K")
	}
	if !s.sound(at + "after_full") {
		return
	}
	// A figure of what the charger does not do is nobody's business: older
	// documents have any charge_V beside them.
	switch b.AfterFull {
	case AfterFloat:
		l, _ := LimitOf(at + "float_V")
		s.between(at+"float_V", b.FloatV, l.Min, b.ChargeV, at+"charge_V", "V")
		s.below(at+"resume_V", b.ResumeV, at+"float_V", b.FloatV, "V")
	case AfterRest:
		s.below(at+"resume_V", b.ResumeV, at+"charge_V", b.ChargeV, "V")
	}
}

// By how much the own table must rise from row to row: what [battery.OwnTable]
// asks for, and less than anyone can measure.
const (
	leastRisePct = 0.01
	leastRiseV   = 0.0001
)

// relateOwn holds the own table against the chemistry, and its rows against
// each other: every row that does not rise is named.
func relateOwn(b *Battery, s *sheet) {
	const chemistry, at = "/case/battery/chemistry", "/case/battery/own"
	if s.sound(chemistry) {
		switch {
		case b.Chemistry == Own && !s.has(at):
			s.add(s.pos["/case/battery"], Fault{Pointer: at, Kind: Missing, Other: chemistry})
		case b.Chemistry != Own && s.has(at):
			s.note(Fault{Pointer: at, Kind: OnlyWith, Allowed: []string{string(Own)}, Other: chemistry})
		}
	}
	const rest = at + "/rest"
	if b.Own == nil || !s.sound(rest) {
		return
	}
	rows := b.Own.Rest
	for i, r := range rows {
		this := rest + "/" + strconv.Itoa(i)
		if i > 0 {
			last := rest + "/" + strconv.Itoa(i-1)
			s.rises(i, this+"/charge_pct", r.ChargePct, last+"/charge_pct", rows[i-1].ChargePct, leastRisePct, "%")
			s.rises(i, this+"/volts", r.Volts, last+"/volts", rows[i-1].Volts, leastRiseV, "V")
		}
		switch i {
		case 0:
			s.between(this+"/charge_pct", r.ChargePct, 0, 0, rest, "%")
		case len(rows) - 1:
			s.between(this+"/charge_pct", r.ChargePct, 100, 100, rest, "%")
		}
	}
}

// rises notes x of row i unless it is above y of the row before it.
func (s *sheet) rises(i int, pointer string, x float64, other string, y, least float64, unit string) {
	if s.sound(pointer, other) && !(x >= y+least*(1-1e-6)) {
		s.note(Fault{Pointer: pointer, Kind: NotRising, Found: jsonNumber(x), Min: y, Max: float64(i + 1), Unit: unit, Other: other})
	}
}

// relateProtection holds the volts of the protection against each other. Its
// colds cannot lie above its heats: their limits do not meet.
func relateProtection(p *Protection, s *sheet) {
	const at = "/case/battery/protection/"
	s.below(at+"over_back_V", p.OverBackV, at+"over_V", p.OverV, "V")
	s.above(at+"under_back_V", p.UnderBackV, at+"under_V", p.UnderV, "V")
	s.below(at+"under_back_V", p.UnderBackV, at+"over_back_V", p.OverBackV, "V")
}

// nearFull is the charge at whose volts at rest an alarm or cut-off would be
// on for as long as nothing charges. Not 1: the volts of LiFePO4 shoot up over
// the last hundredth and fall back within minutes of rest.
const nearFull = 0.99

// modelBattery returns the battery, nil if there is none to step.
func modelBattery(b Battery, s *sheet) *battery.Battery {
	const at = "/case/battery"
	kind, err := b.Kind()
	if row := (*battery.RowError)(nil); errors.As(err, &row) {
		s.refused(at+"/own/rest/"+strconv.Itoa(row.Row), "", err)
		return nil
	} else if err != nil {
		s.refused(at+"/own", "", err)
		return nil
	}
	band := b.band(&kind)
	if v := b.ChargeV; v < band.least || v > band.most {
		s.note(Fault{Pointer: at + "/charge_V", Kind: OutOfBand, Found: jsonNumber(v), Min: band.least, Max: band.most, Unit: "V",
			Allowed: []string{jsonNumber(band.from), jsonNumber(band.to)}, Other: at + "/chemistry"})
	}
	if b.HealthPct == nil && !sane(&kind, b.Use()) {
		b.wornOut(&kind, s)
		return nil
	}
	m, err := b.Model()
	if err != nil {
		s.refused(at, "", err)
		return nil
	}
	full := float64(m.Rest(nearFull))
	s.rests(at+"/alarm_V", b.AlarmV, full)
	s.rests(at+"/cutoff_V", b.CutoffV, full)
	if p := b.Protection; p != nil {
		s.rests(at+"/protection/under_V", p.UnderV, full)
		if v := p.OverV; v <= full {
			s.note(Fault{Pointer: at + "/protection/over_V", Kind: NeverFull, Found: jsonNumber(v), Min: full, Unit: "V", Other: at + "/chemistry"})
		}
	}
	return m
}

// mostGrowth is how many times its resistance when new a battery's may be:
// what [battery.New] takes. NMC that lay hot for years gets there before its
// capacity is gone.
const mostGrowth = 10

// sane says whether a use leaves a battery that the model can step.
func sane(kind *battery.Chemistry, u battery.Use) bool {
	_, growth, err := kind.Health(u)
	return err == nil && growth <= mostGrowth
}

// wornOut blames what leaves the battery nothing: its cycles if they alone do,
// else its years. The most that is allowed is what [sane] still takes.
func (b Battery) wornOut(kind *battery.Chemistry, s *sheet) {
	const at = "/case/battery/"
	u := b.Use()
	fresh := u
	fresh.Years = 0
	if sane(kind, fresh) {
		years := most(u.Years, func(y float64) bool { u.Years = y; return sane(kind, u) })
		s.note(Fault{Pointer: at + "age_years", Kind: WornOut, Found: jsonNumber(b.AgeYears), Max: floor(years, 10), Unit: "years"})
		return
	}
	unused := u
	if unused.Cycles = 0; !sane(kind, unused) { // the years alone are too many, too: half of what is allowed is left for when they are next
		u.Years = most(u.Years, func(y float64) bool { unused.Years = y; return sane(kind, unused) }) / 2
	}
	cycles := most(u.Cycles, func(n float64) bool { u.Cycles = n; return sane(kind, u) })
	s.note(Fault{Pointer: at + "cycles", Kind: WornOut, Found: jsonNumber(b.Cycles), Max: floor(cycles, 1), Unit: "cycles"})
}

// most is the greatest value from 0 to one that is too great which is taken.
func most(tooGreat float64, takes func(float64) bool) float64 {
	lo, hi := 0.0, tooGreat
	for range 50 {
		if mid := (lo + hi) / 2; takes(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// floor rounds down to so many parts of one.
func floor(x, parts float64) float64 { return math.Floor(x*parts) / parts }

// rests notes a mark that a full battery at rest would not be above.
func (s *sheet) rests(pointer string, volts, full float64) {
	if volts >= full {
		s.note(Fault{Pointer: pointer, Kind: NeverRests, Found: jsonNumber(volts), Max: full, Unit: "V", Other: "/case/battery/chemistry"})
	}
}

// A chargeBand is volts of charging, V: from and to are usual, under least and
// over most is no setting but a slip, or another chemistry's.
type chargeBand struct{ from, to, least, most float64 }

// How far from the usual band charge_V may lie: V under it, and V a cell over
// it. Common practice, no source: under it a battery takes no charge worth
// having, over it lithium is broken and lead-acid boils.
const bandBelow, bandAbove = 1.2, 0.1

// Of an own table nothing is usual but this, as a share of its volts when full
// and at rest. Common practice, no source: lead-acid is charged so much over
// its rest, lithium hardly.
const (
	ownToLithium, ownToLead     = 1.08, 1.17 // usual, from 1
	ownMostLithium, ownMostLead = 1.1, 1.25  // taken, from ownLeast
	ownLeast                    = 0.95
)

// band returns the volts that charge the battery.
func (b Battery) band(kind *battery.Chemistry) chargeBand {
	if b.Chemistry == Own {
		full := float64(kind.Rest[len(kind.Rest)-1].Volts)
		to, most := ownToLead, ownMostLead
		if kind.Lithium {
			to, most = ownToLithium, ownMostLithium
		}
		return chargeBand{hundredth(full), hundredth(to * full), hundredth(ownLeast * full), hundredth(most * full)}
	}
	from, to, cells := float64(kind.ChargeFrom), float64(kind.ChargeTo), float64(kind.Cells)
	return chargeBand{from, to, hundredth(from - bandBelow), hundredth(to + bandAbove*cells)}
}

// hundredth rounds volts to 0.01 V.
func hundredth(v float64) float64 { return decimals(v, 2) }
