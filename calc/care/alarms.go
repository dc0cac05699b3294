package care

import (
	"math"
	"time"

	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// Alarms is what every mark for the alarm would mean, and which to set.
type Alarms struct {
	Candidates []Candidate // rising volts
	Chosen     int         // place in Candidates
	Why        []Reason    // for Chosen; the weightiest first
	Set        Candidate   // the plan's own mark, read the same way
	Fits       bool        // Set is neither early nor late, or as good as Chosen

	Usual, Largest, Standing Draw // what the readings are read at
	Cold                     qty.Celsius

	// Do is what to do from the plan's own alarm to its cut-off at the usual
	// draw, in order; FromMinutes is the time if nothing is done.
	Do          []Action
	FromMinutes float64
	FromEndless bool
}

// A Draw is what the Case takes out of its battery.
type Draw struct {
	Watts qty.Watt   // constant watts, at the battery's terminals
	Amps  qty.Ampere // constant amps besides
}

// A Candidate is one mark.
type Candidate struct {
	Volts qty.Volt

	Rest    Reading // the Case's own draw, all gear off
	Usual   Reading
	Largest Reading
	Cold    Reading // the usual draw at the coldest of the trip

	// False are devices whose start or run sounds this mark with at least
	// [EarlyCharge] in the battery, although the usual draw does not; the
	// highest charge first.
	False []False

	Early bool // some load sounds it with at least EarlyCharge left
	Late  bool // from where some load sounds it, the usual draw has under LateMinutes; or it does not sound at all
}

// A Reading is what a mark means at one load.
type Reading struct {
	Charge  qty.Fraction // left when the alarm sounds, its delay over
	Minutes float64      // from there to the cut-off, if that load goes on
	After   float64      // minutes from there to the cut-off if that load ends at that moment and the usual draw goes on, at most ten years: what makes a mark late; Usual: Minutes

	Never   bool // the cut-off, or the end of the battery, comes without the alarm; Charge and minutes are 0
	Always  bool // sounds although the battery is full
	Endless bool // that load draws nothing: minutes have no end
}

// A False is a device that sounds a mark too soon.
type False struct {
	Device  int          // place in the gear
	Charge  qty.Fraction // the highest at which it does
	ByStart bool         // its start alone; else its run
}

// Bounds of a fair warning; the first two are those by which an Outlook tells
// its alarms apart. Common practice, no source.
const (
	EarlyCharge = outlook.EarlyCharge                     // an alarm with as much left is the load's sag
	LateMinutes = float64(outlook.LateLeft / time.Minute) // an alarm with less time left comes too late to do anything
	FairMinutes = 60.0                                    // what a mark is chosen for
)

// ReasonCode says why a mark was chosen.
type ReasonCode string

// The reasons and what they carry.
const (
	WhyFair     ReasonCode = "fair"      // neither early nor late: Usual's Minutes and Charge
	WhyQuiet    ReasonCode = "quiet"     // a higher mark would be early: Volts of the next one, the highest Charge at which it sounds, Device that does or -1
	WhyTimely   ReasonCode = "timely"    // a lower mark would be late, or leave less than FairMinutes: Volts of the next one, the least of its After as Minutes, Charge then
	WhyNoFair   ReasonCode = "no_fair"   // every mark is early or late: the chosen's Usual.Minutes, the highest Charge at which it sounds, Device that does or -1
	WhyCutFirst ReasonCode = "cut_first" // at the load At the power goes without a warning, whatever the mark
)

// A Reason is why the chosen mark was chosen.
type Reason struct {
	Code    ReasonCode
	Volts   qty.Volt
	Charge  qty.Fraction
	Minutes float64
	Device  int      // place in the gear, or -1
	At      LineKind // load at which the mark sounds with that Charge, AtRest, AtUsual, AtLargest or InCold; "" where Device is what sounds it
}

// NewAlarms tries marks for the alarm of a plan, for a Plan that plan.Check
// finds no fault with. Each is let sound in a discharge from full, its delay
// honoured, and followed to the cut-off.
//
// Marks are tried at up to 15 even volts between the cut-off and the volts at
// which the full battery rests, and closer about the one to choose. Fair is a mark that is neither early nor late;
// of the fair ones the lowest is chosen that gives FairMinutes at the usual
// draw, else the highest. Where none is fair, a mark that is only early is
// better than one that is late: the lowest of those; else the highest. Common
// practice, no source.
//
// Errors: those of the models' constructors for a Plan that was not checked.
//
// Source: CommonPractice.
func NewAlarms(p plan.Plan) (*Alarms, error) {
	h, err := newHouse(&p)
	if err != nil {
		return nil, err
	}
	t := newTrials(h)
	a := &Alarms{
		Usual: t.usualPull.draw(), Largest: t.largestPull.draw(), Standing: h.standing.draw(), Cold: h.cold,
		Set: t.try(h.spec.Alarm),
	}
	list, step := h.candidates()
	for _, v := range list {
		a.Candidates = append(a.Candidates, t.try(v))
	}
	a.choose()
	if step > 0.15 { // once more, closer, about the one that it would be
		a.between(t, a.Chosen+1)
		a.between(t, a.Chosen)
		a.choose()
	}
	a.reasons()
	best := &a.Candidates[a.Chosen]
	a.Fits = a.Set.Early == best.Early && a.Set.Late == best.Late || !a.Set.Early && !a.Set.Late
	t.actions(a)
	return a, nil
}

// between tries the mark in the middle of those at k-1 and k.
func (a *Alarms) between(t *trials, k int) {
	list := a.Candidates
	if k < 1 || k >= len(list) {
		return
	}
	c := t.try(qty.Volt(math.Round(50*float64(list[k-1].Volts+list[k].Volts)) / 100))
	list = append(list, c)
	copy(list[k+1:], list[k:])
	list[k] = c
	a.Candidates = list
}

// candidates are the volts worth trying, and how far they are apart.
func (h *house) candidates() (list []qty.Volt, step float64) {
	low := max(h.spec.CutOff, h.battery.Rest(0.003))
	high := min(h.battery.Rest(0.99), h.spec.Charge)
	tenths := 1.0
	for _, n := range []float64{1, 2, 2.5, 5, 10} {
		if tenths = n; float64(high-low)*10/n <= 15 {
			break
		}
	}
	for k := math.Floor(float64(low)*10/tenths) + 1; k*tenths/10 < float64(high)-1e-9; k++ {
		list = append(list, qty.Volt(k*tenths/10))
	}
	if len(list) == 0 { // the cut-off is set as high as a full battery
		list = append(list, h.spec.Alarm)
	}
	return list, tenths / 10
}

// trials are the discharges off which every mark is read.
type trials struct {
	h                      *house
	usualPull, largestPull pull
	rest, usual, most, ice course
	falses                 []sounding
	endless                bool // nothing draws at rest
}

func newTrials(h *house) *trials {
	t := &trials{h: h, usualPull: h.usual(nil, -1)}
	t.largestPull, _ = h.largest()
	full := h.battery.Rested(1, h.mean)
	t.endless = h.standing.watts+h.standing.amps == 0
	t.rest = h.toCutOff(full, h.mean, h.standing)
	t.usual = h.toCutOff(full, h.mean, t.usualPull)
	t.most = h.toCutOff(full, h.mean, t.largestPull)
	t.ice = h.toCutOff(h.battery.Rested(1, h.cold), h.cold, t.usualPull)
	t.falses = t.sound()
	return t
}

// try reads one mark.
func (t *trials) try(mark qty.Volt) Candidate {
	c := Candidate{
		Volts: mark,
		Rest:  t.read(&t.rest, mark, true), Usual: t.read(&t.usual, mark, false),
		Largest: t.read(&t.most, mark, true), Cold: t.read(&t.ice, mark, false),
	}
	if t.endless {
		c.Rest.Endless, c.Rest.Minutes = true, 0
	}
	for k := range t.falses {
		if f, ok := t.falses[k].at(mark); ok && c.Usual.Charge < EarlyCharge {
			c.False = append(c.False, f)
		}
	}
	for k := 1; k < len(c.False); k++ { // a short list, nearly in order
		for i := k; i > 0 && c.False[i].Charge > c.False[i-1].Charge; i-- {
			c.False[i], c.False[i-1] = c.False[i-1], c.False[i]
		}
	}
	c.Early = len(c.False) > 0
	for _, r := range []*Reading{&c.Rest, &c.Usual, &c.Largest, &c.Cold} {
		c.Early = c.Early || r.Charge >= EarlyCharge
		c.Late = c.Late || r.Never && !r.Endless || !r.Never && r.After < LateMinutes
	}
	return c
}

// read reads a mark off a course. back: after it sounded, the usual draw goes
// on from there; else it is the usual draw.
func (t *trials) read(c *course, mark qty.Volt, back bool) Reading {
	m, sounds := c.falls(mark, t.h.spec.AlarmDelay.Seconds())
	end, ends := c.over()
	if !sounds || ends && m.t >= end.t {
		return Reading{Never: true, Endless: !ends}
	}
	r := Reading{Charge: m.st.Charge, Always: c.at[0].volts <= mark}
	r.After = longest / 60
	if ends {
		r.Minutes = (end.t - m.t) / 60
		r.After = r.Minutes
	} else {
		r.Endless = true
	}
	if back {
		r.After = t.left(m, c.around.Air)
	}
	return r
}

// left returns the minutes for which the usual draw lasts from a moment.
func (t *trials) left(m moment, air qty.Celsius) float64 {
	c := t.h.toCutOff(m.st, air, t.usualPull)
	end, ends := c.over()
	c.done()
	if !ends {
		return longest / 60
	}
	return end.t / 60
}

// choose finds the mark to set.
func (a *Alarms) choose() {
	list := a.Candidates
	fair, early, best := -1, -1, -1
	for k := range list {
		switch c := &list[k]; {
		case !c.Early && !c.Late:
			if fair < 0 || list[fair].Usual.Minutes < FairMinutes && list[fair].Usual.Minutes < c.Usual.Minutes {
				fair = k
			}
		case !c.Late:
			if early < 0 {
				early = k
			}
		case !c.Early:
			best = k
		}
	}
	switch {
	case fair >= 0:
		a.Chosen = fair
	case early >= 0:
		a.Chosen = early
	case best >= 0:
		a.Chosen = best
	default:
		a.Chosen = 0
	}
}

// reasons says why the chosen mark was chosen.
func (a *Alarms) reasons() {
	list := a.Candidates
	c := &list[a.Chosen]
	why := Reason{Code: WhyFair, Volts: c.Volts, Charge: c.Usual.Charge, Minutes: c.Usual.Minutes, Device: -1, At: AtUsual}
	if c.Early || c.Late {
		why.Code = WhyNoFair
		why.Charge, why.Device, why.At = c.highest()
	}
	a.Why = append(a.Why, why)
	if k := a.Chosen + 1; k < len(list) && list[k].Early {
		n := &list[k]
		why = Reason{Code: WhyQuiet, Volts: n.Volts}
		why.Charge, why.Device, why.At = n.highest()
		a.Why = append(a.Why, why)
	}
	if k := a.Chosen - 1; k >= 0 && (list[k].Late || list[k].Usual.Minutes < FairMinutes) {
		n := &list[k]
		minutes, at := n.Soonest()
		a.Why = append(a.Why, Reason{Code: WhyTimely, Volts: n.Volts, Charge: n.reading(at).Charge, Minutes: minutes, Device: -1, At: at})
	}
	if at, ok := unwarned(list); ok {
		a.Why = append(a.Why, Reason{Code: WhyCutFirst, Volts: c.Volts, Device: -1, At: at})
	}
}

// loads are the four at which a mark is read.
var loads = [...]LineKind{AtUsual, AtRest, AtLargest, InCold}

// reading is that at one of the four loads.
func (c *Candidate) reading(at LineKind) *Reading {
	switch at {
	case AtRest:
		return &c.Rest
	case AtLargest:
		return &c.Largest
	case InCold:
		return &c.Cold
	}
	return &c.Usual
}

// unwarned says whether at some load the power goes without a warning, at
// every mark, and at which.
func unwarned(list []Candidate) (at LineKind, ok bool) {
	for _, at = range loads {
		never := 0
		for k := range list {
			if list[k].reading(at).Never {
				never++
			}
		}
		if never == len(list) {
			return at, true
		}
	}
	return "", false
}

// highest is the greatest charge at which anything sounds a mark, and the
// device that does, or -1 and the load.
func (c *Candidate) highest() (charge qty.Fraction, device int, at LineKind) {
	charge, device, at = c.Usual.Charge, -1, AtUsual
	for _, l := range loads[1:] {
		if r := c.reading(l); r.Charge > charge {
			charge, at = r.Charge, l
		}
	}
	if len(c.False) > 0 && c.False[0].Charge > charge {
		return c.False[0].Charge, c.False[0].Device, ""
	}
	return charge, device, at
}

// Soonest is the least time that the usual draw has after the alarm, minutes,
// and at which of the four loads it then sounded: the least After. A mark that
// does not sound at some load leaves 0 there.
func (c *Candidate) Soonest() (minutes float64, at LineKind) {
	minutes, at = c.Usual.After, AtUsual
	for _, l := range loads[1:] {
		if r := c.reading(l); r.After < minutes {
			minutes, at = r.After, l
		}
	}
	return minutes, at
}
