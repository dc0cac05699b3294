package outlook

import (
	"errors"
	"math"
	"time"

	"duskline/calc/battery"
	"duskline/calc/load"
	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// ErrOpenLedger says that a Ledger does not close within 0.1 % of its
// turnover. It is a slip of ours, never of the Plan.
var ErrOpenLedger = errors.New("outlook: the ledger does not close")

// Run simulates a Plan that plan.Check finds no fault with.
//
// The trip is cut into steps of trip.step_min, of which its length is a whole
// number. Sun, air and draw are those of the middle of each step. Inside a step the battery's volts and every current
// are solved together, and the instants of alarm and cut-off are found inside
// the step, not at its end.
//
// The cut-off disconnects outlets and inverter; meters and controller stay on
// the battery until it is empty. After an overload the inverter comes back
// when the draw is under its limit again: somebody switches it on.
//
// Errors: those of the models' constructors for a Plan that was not checked;
// [ErrOpenLedger].
func Run(p plan.Plan) (*Outlook, error) {
	r, err := newRunner(p)
	if err != nil {
		return nil, err
	}
	o := r.out
	r.begin()
	for i := 0; i < r.steps; i++ {
		r.advance(i)
		r.row()
	}
	o.Ledger = r.ledger()
	if math.Abs(float64(o.Ledger.Gap)) > 0.001*float64(o.Ledger.Turnover)+1e-9 {
		return nil, ErrOpenLedger
	}
	if o.Days, err = r.days(); err != nil {
		return nil, err
	}
	if err := r.figures(); err != nil {
		return nil, err
	}
	o.Verdict = verdict(o, p.Trip.ReservePct/100)
	r.notices()
	return o, nil
}

func verdict(o *Outlook, reserve float64) Verdict {
	switch {
	case !o.Figures.FirstAlarm.IsZero() || !o.Figures.FirstCutOff.IsZero():
		return RunsOut
	case float64(o.Figures.Lowest) < reserve || len(o.Figures.Unserved) > 0:
		return Tight
	}
	return Holds
}

// A runner is one simulation under way.
type runner struct {
	p       plan.Plan
	battery *battery.Battery
	spec    battery.Spec
	scene   *scene
	wants   *wants
	charger power.WallCharger
	plugged []load.Window

	step  float64 // s
	steps int
	dark  bool // no sun and no other charging

	// What the Case is in.
	charge    qty.Fraction
	volts     qty.Volt // at the end of the last part
	connected bool
	empty     bool
	under     float64 // s under the cut-off while connected; -1: above it
	ready     float64 // s at or above the reconnect volts while cut off
	alarmFor  float64 // s under the alarm; -1: above it
	alarm     bool
	full      bool
	refused   bool
	tripped   bool
	tripper   int // device of the last trip
	clipDay   int // last local day on which clipping was told, or -1

	// The step under way.
	bus     bus
	on, off demand
	air     qty.Celsius
	weather weather
	now     float64                          // s after start
	sum     struct{ volts, in, out float64 } // times s

	books books
	peak  float64 // A, greatest draw
	out   *Outlook
}

func newRunner(p plan.Plan) (*runner, error) {
	r := &runner{
		p:       p,
		step:    float64(p.Trip.StepMin) * 60,
		charge:  qty.Fraction(p.Trip.StartChargePct / 100),
		plugged: windowsOf(p.Trip.WallHours),
		charger: power.WallCharger{
			Current:    qty.Ampere(p.Case.WallCharger.CurrentA),
			Efficiency: qty.Fraction(p.Case.WallCharger.EfficiencyPct / 100),
		},
		connected: true, under: -1, alarmFor: -1, clipDay: -1,
	}
	r.steps = int(math.Round(p.Trip.LengthH * 3600 / r.step))
	var err error
	if r.battery, err = p.Case.Battery.Model(); err != nil {
		return nil, err
	}
	r.spec = r.battery.Spec()
	if r.wants, err = newWants(p); err != nil {
		return nil, err
	}
	if r.scene, err = newScene(p, time.Duration(float64(r.steps)*r.step)*time.Second); err != nil {
		return nil, err
	}
	r.full = r.charge >= fullAt
	r.bus.clips = p.Case.Controller.Kind == plan.MPPT
	r.books.open(len(p.Gear), r.battery.Energy(r.charge))
	n := r.steps + 1
	r.out = &Outlook{Series: Series{
		Start:     p.Trip.Start,
		Step:      time.Duration(r.step) * time.Second,
		Charge:    make([]qty.Fraction, 0, n),
		Volts:     make([]qty.Volt, 0, n),
		AmpsIn:    make([]qty.Ampere, 0, n),
		AmpsOut:   make([]qty.Ampere, 0, n),
		Light:     make([]qty.Irradiance, 0, n),
		Air:       make([]qty.Celsius, 0, n),
		Elevation: make([]qty.Degree, 0, n),
		Cloud:     make([]qty.Fraction, 0, n),
	}}
	return r, nil
}

// begin writes row 0: the Case at rest, in the air and sun of the start.
func (r *runner) begin() {
	air := r.scene.airAt(r.scene.offset)
	w := r.scene.at(0, air)
	s := &r.out.Series
	s.Charge = append(s.Charge, r.charge)
	s.Volts = append(s.Volts, r.battery.Rest(r.charge))
	s.AmpsIn = append(s.AmpsIn, 0)
	s.AmpsOut = append(s.AmpsOut, 0)
	s.Light = append(s.Light, qty.Irradiance(w.light))
	s.Air = append(s.Air, air)
	s.Elevation = append(s.Elevation, w.elevation)
	s.Cloud = append(s.Cloud, qty.Fraction(w.cloud))
}

// row writes what the step that just ended showed.
func (r *runner) row() {
	s := &r.out.Series
	s.Charge = append(s.Charge, r.charge)
	s.Volts = append(s.Volts, qty.Volt(r.sum.volts/r.step))
	s.AmpsIn = append(s.AmpsIn, qty.Ampere(r.sum.in/r.step))
	s.AmpsOut = append(s.AmpsOut, qty.Ampere(r.sum.out/r.step))
	s.Light = append(s.Light, qty.Irradiance(r.weather.light))
	s.Air = append(s.Air, r.air)
	s.Elevation = append(s.Elevation, r.weather.elevation)
	s.Cloud = append(s.Cloud, qty.Fraction(r.weather.cloud))
}

// advance runs step i.
func (r *runner) advance(i int) {
	after := (float64(i) + 0.5) * r.step / 3600
	hour := math.Mod(r.scene.offset+after, 24)
	r.now = float64(i) * r.step
	r.air = r.scene.airAt(hour)
	r.on = r.wants.step(hour, r.air)
	if r.dark {
		r.bus.sunny, r.bus.wall = false, 0
	} else {
		r.weather = r.scene.at(after, r.air)
		r.bus.offer, r.bus.sunny, r.bus.wall = r.weather.offer, r.weather.sunny, 0
		if load.In(r.plugged, hour) {
			r.bus.wall = float64(r.charger.Current)
		}
	}
	if !r.connected && r.ready >= r.spec.ReconnectDelay.Seconds() {
		r.tell(Reconnect, r.now, r.charge, r.volts, -1)
		r.connected, r.under = true, -1
	}
	r.telltrip()
	r.sum.volts, r.sum.in, r.sum.out = 0, 0, 0
	r.books.ask(r)
	for left := r.step; left > 1e-6; {
		left -= r.part(left)
	}
}

// part runs the rest of a step, or as much of it as the Case stays in one
// state, and returns its length in seconds.
func (r *runner) part(left float64) float64 {
	if !r.connected {
		return r.partCut(left)
	}
	r.bus.watts, r.bus.amps = r.on.watts, r.on.amps
	st := r.stepOf(left)
	if !r.dead(st) && st.EndVolts >= r.spec.CutOff {
		r.under = -1
		r.commit(st, left)
		return left
	}
	// The step ends under the cut-off: go up to the mark, through the delay,
	// and disconnect. A battery that gives out altogether takes the electronics
	// with it, delay or not.
	if r.under < 0 {
		r.under = 0
		if t := r.until(left, r.spec.CutOff); t > 1e-3 {
			r.commit(r.stepOf(t), t)
			return t
		}
	}
	if wait := math.Min(r.spec.CutOffDelay.Seconds()-r.under, left); wait > 1e-3 {
		if st := r.stepOf(wait); !r.dead(st) {
			r.commit(st, wait)
			r.under += wait
			return wait
		}
	}
	r.connected, r.ready, r.under = false, 0, -1
	r.tell(CutOff, r.now, r.charge, r.stepOf(1e-3).EndVolts, -1)
	return 0
}

// partCut is part while the outlets are disconnected.
func (r *runner) partCut(left float64) float64 {
	d := r.wants.cut(r.empty)
	r.bus.watts, r.bus.amps = 0, d.amps
	st := r.stepOf(left)
	if st.Empty && !r.empty {
		t := r.until(left, 0)
		if t > 1e-3 {
			r.commit(r.stepOf(t), t)
		}
		r.empty = true
		return t
	}
	r.commit(st, left)
	if r.charge > 0.001 {
		r.empty = false
	}
	if st.EndVolts >= r.spec.Reconnect {
		r.ready += left
	} else {
		r.ready = 0
	}
	return left
}

func (r *runner) dead(st battery.Step) bool { return st.Short || st.Empty }

func (r *runner) stepOf(h float64) battery.Step {
	return r.battery.Step(r.charge, r.air, h, &r.bus)
}

func (r *runner) until(h float64, mark qty.Volt) float64 {
	t, crossed := r.battery.Until(r.charge, r.air, h, &r.bus, mark)
	if !crossed {
		return h
	}
	return t
}

// commit makes a solved part of a step come true.
func (r *runner) commit(st battery.Step, h float64) {
	v := float64(st.Volts)
	out := r.bus.out(v)
	need := float64(st.Amps) + out
	got := r.bus.taken(v, need, !st.Held && !st.Refused)
	r.watchAlarm(st, h)
	r.now += h
	r.charge, r.volts = st.Charge, st.EndVolts
	r.sum.volts += v * h
	r.sum.in += (got.sun + got.wall) * h
	r.sum.out += out * h
	r.peak = math.Max(r.peak, out)
	r.books.post(r, st, got, v, h)
	r.watchCharge(st, got)
}
