package care

import (
	"math"

	"duskline/calc/plan"
	"duskline/calc/qty"
)

// A Storage is the clock of a Case put away.
type Storage struct {
	From    qty.Fraction // charge at which it is put away
	Horizon float64      // days, how far the clocks go
	Kept    qty.Celsius  // the plan's own temperature of the store
	Clocks  []Clock      // by mode, then the plan's own temperature and 0, 10, 20, 30, 40 °C
}

// StoreMode is what of the Case goes on drawing.
type StoreMode string

// The modes.
const (
	AllOff     StoreMode = "all_off"     // the battery disconnected: self-discharge alone; its volts are read by hand
	MetersOn   StoreMode = "meters"      // meters and controller
	AsSwitched StoreMode = "as_switched" // as the main switch stands: outlets' and inverter's standby, too, until the cut-off; then meters
)

// A Clock is what becomes of the battery in one mode at one temperature.
type Clock struct {
	Mode StoreMode
	At   qty.Celsius
	Kept bool // At is the plan's own

	Amps   qty.Ampere // drawn by the Case at the start
	Alarm  Days
	CutOff Days
	Harm   Days
	By     HarmKind // what the harm is; "" if it never comes

	// TopUp is how often it must be charged again to keep clear of harm and
	// alarm, counted from a charge of [Storage] From: 0.9 of the time to the
	// first of them; lead-acid that was put away fuller not under three
	// quarters, as an army manual has it, which asks for it every 30 days. It
	// is never longer than half a year, of lead-acid a quarter: what no figure
	// here knows of, a cell that lags behind or a meter that was forgotten, is
	// found then. Common practice, no source.
	TopUp Days // never Never
}

// Days is a time to something.
type Days struct {
	Days  float64
	Never bool // not within the horizon; Days is the horizon
}

// HarmKind is what ruins a battery that is left lying.
type HarmKind string

// The harms.
const (
	Sulfation     HarmKind = "sulfation"      // lead-acid that went under its advised charge and was not charged within the days that go with it
	OverDischarge HarmKind = "over_discharge" // lithium with a hundredth left
	Freezing      HarmKind = "freezing"       // lead-acid whose acid freezes at that charge and temperature
)

// emptied is the charge at which a lithium battery counts as harmed: the cell
// that lags behind its neighbours is empty by then. Common practice, no source.
const emptied = 0.01

// topUpAt is the charge at which lead-acid is charged again: what the manual's
// 30 days leave of a full battery that loses 0.83 % a day.
const topUpAt qty.Fraction = 0.75

// topUpShare is how much of the time to harm or alarm a top-up waits.
const topUpShare = 0.9

// longestLeft are the days after which a battery is charged again although
// nothing has come near it, lithium and lead-acid. Common practice, no source.
const longestLeft, longestLeftLead = 183.0, 92.0

// stores are the temperatures of a clock besides the plan's own.
var stores = [...]qty.Celsius{0, 10, 20, 30, 40}

// NewStorage tells how long a plan's Case may lie, put away in the dark at
// charge from, 0 to 1, for a Plan that plan.Check finds no fault with.
//
// The battery loses charge by itself, by its own temperature, and to what the
// mode leaves on; a protection that acts by volts ends that draw. Clocks go ten
// years.
//
// Errors: *qty.RangeError for from; those of the models' constructors for a
// Plan that was not checked.
//
// Source: CommonPractice.
// Source: ArmyTm5_1185, Table II, 30 days from full to three quarters.
func NewStorage(p plan.Plan, from qty.Fraction) (*Storage, error) {
	if err := qty.InRange("charge", float64(from), 0, 1, ""); err != nil {
		return nil, err
	}
	h, err := newHouse(&p)
	if err != nil {
		return nil, err
	}
	s := &Storage{From: from, Horizon: longest / 86400, Kept: qty.Celsius(p.Case.Battery.KeptC)}
	for _, mode := range []StoreMode{AllOff, MetersOn, AsSwitched} {
		own := h.clock(mode, s.Kept, from)
		own.Kept = true
		s.Clocks = append(s.Clocks, own)
		for _, at := range stores {
			k := own
			if k.Kept = false; at != s.Kept {
				k = h.clock(mode, at, from)
			}
			s.Clocks = append(s.Clocks, k)
		}
	}
	return s, nil
}

// A phase is a draw that lasts until the volts are under a mark; 0: to the end.
type phase struct {
	pull  pull
	until qty.Volt
}

// phases are the draws of a mode, one after the other.
func (h *house) phases(mode StoreMode) (list []phase) {
	cells := qty.Volt(0) // where the protection ends every draw
	if g := h.p.Case.Battery.Protection; g != nil {
		cells = qty.Volt(g.UnderV)
	}
	if mode == AsSwitched {
		list = append(list, phase{h.standing, max(h.spec.CutOff, cells)})
	}
	if mode != AllOff && (mode == MetersOn || cells < h.spec.CutOff) {
		list = append(list, phase{pull{amps: h.own}, cells})
	}
	return append(list, phase{})
}

// clock follows the battery through one mode at one temperature.
func (h *house) clock(mode StoreMode, at qty.Celsius, from qty.Fraction) Clock {
	never := Days{Days: longest / 86400, Never: true}
	k := Clock{Mode: mode, At: at, Alarm: never, CutOff: never, Harm: never, TopUp: Days{Days: longestLeftLead}}
	if h.spec.Chemistry.Lithium {
		k.TopUp.Days = longestLeft
	}
	st, past, quarter := h.battery.Rested(from, at), 0.0, math.Inf(1)
	for i, ph := range h.phases(mode) {
		c := h.run(st, at, ph.pull, longest-past)
		if i == 0 {
			k.Amps = qty.Ampere(ph.pull.amps + ph.pull.watts/float64(max(c.at[0].volts, 1)))
		}
		over, next := c.last().t, false
		if ph.until > 0 {
			if m, ok := c.falls(ph.until, 0); ok {
				st, over, next = m.st, m.t, true
			}
		}
		k.Alarm.volts(&c, h.spec.Alarm, past, over)
		k.CutOff.volts(&c, h.spec.CutOff, past, over)
		if c.dead && !next {
			k.Alarm.first(past + over)
			k.CutOff.first(past + over)
		}
		h.harm(&k, &c, at, past, over)
		if t, ok := c.downTo(topUpAt); ok && t <= over && from > topUpAt && !h.spec.Chemistry.Lithium {
			quarter = min(quarter, (past+t)/86400)
		}
		c.done()
		if !next {
			break
		}
		past += over
	}
	k.TopUp.Days = min(k.TopUp.Days, topUpShare*k.Alarm.Days, topUpShare*k.Harm.Days, quarter)
	return k
}

// first notes a time, s, unless there was one.
func (d *Days) first(t float64) {
	if d.Never && t < longest {
		*d = Days{Days: t / 86400}
	}
}

// volts notes when the volts of a course come under a mark, as far as it counts.
func (d *Days) volts(c *course, mark qty.Volt, past, over float64) {
	if m, ok := c.falls(mark, 0); ok && d.Never && m.t <= over {
		d.first(past + m.t)
	}
}

// harm notes what comes first of all that ruins the battery.
func (h *house) harm(k *Clock, c *course, at qty.Celsius, past, over float64) {
	note := func(kind HarmKind, charge qty.Fraction, wait float64) {
		if t, ok := c.downTo(charge); ok && t <= over {
			if days := (past + t + wait) / 86400; days < k.Harm.Days {
				k.Harm, k.By = Days{Days: days}, kind
			}
		}
	}
	chemistry := &h.spec.Chemistry
	if chemistry.Lithium {
		note(OverDischarge, emptied, 0)
		return
	}
	safe := chemistry.Safe(25) // of warm acid: whether it freezes is asked for itself
	note(Sulfation, safe.Least, safe.RechargeDays*86400)
	if s, freezes := h.freezing(at); freezes {
		note(Freezing, s, 0)
	}
}

// freezing is the charge under which the battery freezes at a temperature.
func (h *house) freezing(at qty.Celsius) (qty.Fraction, bool) {
	if empty, ok := h.battery.FreezesAt(0); !ok || empty < at {
		return 0, false
	}
	lo, hi := qty.Fraction(0), qty.Fraction(1)
	for range 40 {
		mid := (lo + hi) / 2
		if t, _ := h.battery.FreezesAt(mid); t < at {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi, true
}

// downTo is when the charge of a course has come down to one, s.
func (c *course) downTo(charge qty.Fraction) (float64, bool) {
	for k := range c.at {
		b := &c.at[k]
		if b.st.Charge > charge {
			continue
		}
		if k == 0 {
			return 0, true
		}
		a := &c.at[k-1]
		return a.t + (b.t-a.t)*float64((a.st.Charge-charge)/(a.st.Charge-b.st.Charge)), true
	}
	return 0, false
}
