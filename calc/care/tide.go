package care

import (
	"duskline/calc/battery"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// A Tide is volts against charge: the picture of why volts mislead. One charge
// has as many volts as there are ways to read them.
type Tide struct {
	Charges []qty.Fraction // 0 to 1, rising, finer at the ends
	Lines   []Line         // in the order of the kinds; one that the plan cannot have is left out
	Marks   Marks
	Reserve qty.Fraction // the plan's own
}

// Marks are the Case's marks, as its battery has them.
type Marks struct {
	Alarm, CutOff, Reconnect, Charge qty.Volt
}

// LineKind says at what moment the volts are read.
type LineKind string

// The lines. Discharges begin full and rested, in air of the battery's own
// temperature; each point is read on the way.
const (
	AtRest      LineKind = "rest"         // nothing flows, for hours; 25 °C, mean of both branches
	AfterCharge LineKind = "after_charge" // at rest after charging: the upper branch
	AtUsual     LineKind = "usual"        // the gear's mean draw while any of it runs
	AtLargest   LineKind = "largest"      // all gear that may run at once, and the greatest start of it
	InCold      LineKind = "cold"         // the usual draw, battery and air at the coldest of the trip
	OnCharge    LineKind = "charging"     // by the strongest charger of the plan, outlets off
)

// A Line is the volts for one way of reading them.
type Line struct {
	Kind   LineKind
	Watts  qty.Watt    // into (+) or out of (-) the battery at half charge; 0 at rest
	Amps   qty.Ampere  // likewise
	Core   qty.Celsius // of the battery at the start
	Volts  []qty.Volt  // one a charge of Tide.Charges; 0 where that draw cannot be had any more
	Alarm  Pass
	CutOff Pass
}

// A Pass is the charge at which a line passes a mark. With Above it never
// does: it stays above the mark down to empty, or as far as the draw can be
// had; with Below it is under the mark from full on.
type Pass struct {
	Charge qty.Fraction // 0 with Above, 1 with Below
	Above  bool
	Below  bool
}

// NewTide reads a plan's volts against charge, for a Plan that plan.Check finds
// no fault with. Draws are those of the day's hours at the mean of the trip's
// air, discharges without sun; see [LineKind].
//
// Errors: those of the models' constructors for a Plan that was not checked.
func NewTide(p plan.Plan) (*Tide, error) {
	h, err := newHouse(&p)
	if err != nil {
		return nil, err
	}
	s := &h.spec
	t := &Tide{
		Charges: make([]qty.Fraction, len(grid)),
		Marks:   Marks{Alarm: s.Alarm, CutOff: s.CutOff, Reconnect: s.Reconnect, Charge: s.Charge},
		Reserve: qty.Fraction(p.Trip.ReservePct / 100),
	}
	for k, x := range grid {
		t.Charges[k] = qty.Fraction(x)
	}
	const reference = 25
	t.Lines = append(t.Lines, h.restLine(AtRest, reference, 0))
	if s.Chemistry.Swing > 0 {
		t.Lines = append(t.Lines, h.restLine(AfterCharge, reference, 1))
	}
	usual := h.usual(nil, -1)
	t.Lines = append(t.Lines, h.drawn(AtUsual, usual, h.mean))
	most, at := h.largest()
	if len(p.Gear) > 0 && at.hours > 0 {
		t.Lines = append(t.Lines, h.largestLine(most, at))
	}
	t.Lines = append(t.Lines, h.drawn(InCold, usual, h.cold))
	if l, ok := h.chargingLine(); ok {
		t.Lines = append(t.Lines, l)
	}
	for k := range t.Lines {
		l := &t.Lines[k]
		l.Alarm, l.CutOff = passes(l.Volts, t.Marks.Alarm), passes(l.Volts, t.Marks.CutOff)
	}
	return t, nil
}

// restLine is a battery that was left alone, having come by discharging (-1)
// or by charging (1).
func (h *house) restLine(kind LineKind, core qty.Celsius, lean float64) Line {
	l := Line{Kind: kind, Core: core, Volts: make([]qty.Volt, len(grid))}
	for k, s := range grid {
		l.Volts[k] = h.battery.RestAt(qty.Fraction(s), core, lean)
	}
	return l
}

// drawn is a discharge from full.
func (h *house) drawn(kind LineKind, d pull, air qty.Celsius) Line {
	c := h.run(h.battery.Rested(1, air), air, d, longest)
	volts := make([]qty.Volt, len(c.at))
	for k := range c.at {
		volts[k] = c.at[k].volts
	}
	return c.line(kind, d, air, volts)
}

// largestLine is a discharge with all that may run at once, read while the
// heaviest start of it lasts.
func (h *house) largestLine(d pull, at piece) Line {
	start, seconds := d, 0.0
	for i := range h.devices {
		g := &h.devices[i]
		if !h.live(g, at) || !g.model.On(at.middle) {
			continue
		}
		if s := h.together(at, i); s.watts > start.watts {
			start, seconds = s, g.surgeS
		}
	}
	c := h.run(h.battery.Rested(1, h.mean), h.mean, d, longest)
	volts := make([]qty.Volt, len(c.at))
	for k := range c.at {
		m := &c.at[k]
		volts[k] = m.volts
		if start.watts > d.watts && !c.fell {
			st := h.battery.Step(m.st, c.around, seconds, &bus{watts: start.watts, amps: start.amps})
			if volts[k] = st.EndVolts; st.Short {
				volts[k] = 0
			}
		}
	}
	return c.line(AtLargest, start, h.mean, volts)
}

// line reads the grid off a course whose moments have those volts.
func (c *course) line(kind LineKind, d pull, air qty.Celsius, volts []qty.Volt) Line {
	l := Line{Kind: kind, Core: air, Volts: make([]qty.Volt, len(grid))}
	k := 0
	for g := len(grid) - 1; g >= 0; g-- {
		s := qty.Fraction(grid[g])
		for k+1 < len(c.at) && c.at[k+1].st.Charge > s {
			k++
		}
		switch {
		case c.at[k].st.Charge <= s:
			l.Volts[g] = volts[k]
		case k+1 < len(c.at):
			l.Volts[g] = between(s, c.at[k].st.Charge, c.at[k+1].st.Charge, volts[k], volts[k+1])
		case c.at[k].st.Charge-s < 1e-4:
			l.Volts[g] = volts[k] // it gives out within a hair of this
		}
	}
	half := c.h.battery.Step(c.h.battery.Rested(0.5, air), c.around, 0, &bus{watts: d.watts, amps: d.amps})
	l.Amps = -half.Amps
	l.Watts = qty.Power(half.Volts, l.Amps)
	return l
}

// between is the volts at s on the line from (a, va) to (b, vb).
func between(s, a, b qty.Fraction, va, vb qty.Volt) qty.Volt {
	if a == b {
		return va
	}
	return va + (vb-va)*qty.Volt((s-a)/(b-a))
}

// passes finds where a line comes down to a mark, from full on.
func passes(volts []qty.Volt, mark qty.Volt) Pass {
	top := len(grid) - 1
	if volts[top] <= mark {
		return Pass{Charge: 1, Below: true}
	}
	for g := top - 1; g >= 0; g-- {
		switch lo, hi := volts[g], volts[g+1]; {
		case lo == 0:
			return Pass{Above: true}
		case lo <= mark:
			share := (mark - lo) / (hi - lo)
			return Pass{Charge: qty.Fraction(grid[g] + (grid[g+1]-grid[g])*float64(share))}
		}
	}
	return Pass{Above: true}
}

// chargingLine is a charge from empty by the strongest charger of the plan,
// with nothing switched on.
func (h *house) chargingLine() (Line, bool) {
	amps := h.charger()
	if amps <= 0 {
		return Line{}, false
	}
	around := battery.Around{Air: h.mean}
	on := bus{given: amps}
	now := h.battery.Rested(0, h.mean)
	l := Line{Kind: OnCharge, Core: h.mean, Volts: make([]qty.Volt, len(grid))}
	st := h.battery.Step(now, around, 1, &on)
	if st.Refused {
		return Line{}, false
	}
	l.Volts[0] = st.EndVolts
	was, volts := qty.Fraction(0), st.EndVolts
	g := 1
	for n := 0; n < 3*len(grid) && g < len(grid); n++ {
		rate := float64(st.Amps) / 3600 / float64(h.battery.Holds())
		if rate < 1e-9 {
			break
		}
		// A taper slows on the way: aim a little beyond.
		st = h.battery.Step(now, around, max(1.3*(grid[g]-float64(now.Charge))/rate, 1), &on)
		for now = st.State; g < len(grid) && now.Charge >= qty.Fraction(grid[g])-1e-6; g++ {
			l.Volts[g] = between(qty.Fraction(grid[g]), was, now.Charge, volts, st.EndVolts)
		}
		was, volts = now.Charge, st.EndVolts
	}
	for ; g < len(grid); g++ {
		l.Volts[g] = volts // held there: the last of the charge trickles in
	}
	half := h.battery.Step(h.battery.Rested(0.5, h.mean), around, 0, &on)
	l.Amps = half.Amps
	l.Watts = qty.Power(half.Volts, half.Amps)
	return l, true
}

// charger returns the amps of the plan's strongest charger; of panels, what
// they give in full sun.
func (h *house) charger() float64 {
	c := &h.p.Case
	amps := c.WallCharger.CurrentA
	if c.Vehicle != nil {
		amps = max(amps, c.Vehicle.CurrentA)
	}
	return max(amps, h.sunAmps())
}

// sunAmps is what the panels' labels promise: through PWM the light current of
// what lies side by side, else the rated watts; no more than the controller
// lets through.
func (h *house) sunAmps() float64 {
	c, panels := &h.p.Case.Controller, &h.p.Panels
	watts, amps := 0.0, 0.0
	var inString [plan.MaxPanels + 1]float64
	for i, l := range panels.List {
		n := float64(l.Count)
		watts += l.RatedW * n
		m, err := l.Module()
		if err != nil {
			return 0
		}
		light := float64(m.Light)
		switch {
		case panels.Joined == plan.EndToEnd && (i == 0 || light < amps):
			amps = light
		case panels.Joined == plan.InStrings:
			if n := min(max(l.String, 0), plan.MaxPanels); inString[n] == 0 || light < inString[n] {
				inString[n] = light
			}
		case panels.Joined == plan.SideBySide:
			amps += light * n
		}
	}
	for _, a := range inString {
		amps += a
	}
	if c.Kind == plan.MPPT {
		amps = watts * c.EfficiencyPct / 100 / float64(h.battery.Rest(0.5))
	}
	return min(amps, c.LimitA)
}
