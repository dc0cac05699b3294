package outlook

import (
	"errors"
	"math"
	"sort"
	"time"

	"duskline/calc/battery"
	"duskline/calc/civil"
	"duskline/calc/daylight"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// tick is the shortest time that counts, s.
const tick = 1e-3

// ErrOpenLedger says that a Ledger does not close within 0.1 % of its
// turnover. It is a slip of ours, never of the Plan.
var ErrOpenLedger = errors.New("outlook: the ledger does not close")

// Run simulates a Plan that plan.Check finds no fault with.
//
// The trip is cut into steps of trip.step_min, of which its length is a whole
// number. Sun and air are those of the middle of each step; gear, inverter and
// wall charger switch at their very hours. Inside a step the battery's volts
// and every current are solved together, and the instants of alarm, cut-off
// and reconnection are found inside the step, not at its end.
//
// Hours are those of the clock at the place. Where it is moved, an hour that it
// leaves out switches nothing and one that it shows twice switches twice; but
// a refill comes once on every day.
//
// The cut-off disconnects outlets and inverter; meters and controller stay on
// the battery until it is empty. Power stays off for a minute at least: a Case
// without a reconnect delay would otherwise chatter without end. After an
// overload the inverter comes back when the draw is under its limit again:
// somebody switches it on. A device whose start trips it trips it for as long
// as the device wants to run. The inverter's own low-voltage cut-off leaves the
// DC sockets on; it acts without a delay and for a minute at least.
//
// Whatever charges goes by one course of stages, from bulk to float or rest,
// with the volts moved by the battery's temperature.
//
// The battery starts at rest and as warm as the air; from there on it has a
// temperature of its own, warmed by what it loses and, in a Case that stands in
// the sun, by the light on level ground. Its own protection, if it has one, is
// a layer between its cells and everything else.
//
// An alarm says whether it is in time, early or late. Gear draws its mean, but a
// device whose start, or whose draw while it runs, makes the alarm sound for a
// moment is told as an early alarm of that device, once a day.
//
// Missing: a start that pulls the volts under the cut-off itself, or under the
// inverter's.
//
// Errors: those of the models' constructors for a Plan that was not checked;
// [ErrOpenLedger].
func Run(p plan.Plan) (*Outlook, error) {
	o, err := run(p)
	if err != nil {
		return nil, err
	}
	o.Events = fold(o.Events) // last: figures and notices see every one
	return o, nil
}

// run is Run with every event told by itself.
func run(p plan.Plan) (*Outlook, error) {
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
	sort.SliceStable(o.Events, func(i, k int) bool { return o.Events[i].At.Before(o.Events[k].At) }) // a start runs on into the next steps
	o.Ledger = r.ledger()
	if o.Ledger.open() {
		return nil, ErrOpenLedger
	}
	o.Days = r.days()
	if err := r.figures(); err != nil {
		return nil, err
	}
	o.Verdict = verdict(o, p.Trip.ReservePct/100)
	r.notices()
	return o, nil
}

func verdict(o *Outlook, reserve float64) Verdict {
	switch {
	case !o.Figures.FirstAlarm.IsZero() || !o.Figures.FirstCutOff.IsZero() || !o.Figures.FirstGuardOff.IsZero():
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
	clock   *civil.Clock
	light   daylight.Spec
	scene   *daylight.Scene
	wants   *wants
	others  others
	hours   []float64 // local hours of the day at which something switches

	step  float64 // s
	steps int
	dark  *dark // with no sun and no other charging; else nil

	// What the Case is in.
	state     battery.State
	connected bool
	empty     bool
	faint     bool    // cut off, and its own draw is more than the battery gives
	under     float64 // s under the cut-off while connected; -1: above it
	ready     float64 // s at or above the reconnect volts while cut off
	cutAt     float64 // s after start, the last cut-off
	alarmFor  float64 // s under the alarm; -1: above it
	alarm     bool
	full      bool
	refused   bool
	held      bool        // the battery held its sources back in the last part
	frost     qty.Celsius // colder, it takes no charge
	coldCore  qty.Celsius // at the first refusal
	tripped   bool
	tripper   int // device of the last trip
	clipDay   int // last local day on which clipping was told, or -1

	nightMore float64 // A, what the controller draws more while the panels give nothing
	more      float64 // A, that in the step under way, or 0
	stages    stages
	marked    bool    // there are stages, or an inverter with a cut-off of its own
	lowAt     float64 // s after start, the inverter's last low-voltage cut-off

	// The step under way.
	bus     bus
	on      demand
	middle  float64 // local hour in the middle of the stretch
	air     qty.Celsius
	inSun   float64        // W that the sun puts into the Case for each W/m² on level ground
	outside battery.Around // the battery
	weather daylight.Step
	now     float64                                 // s after start
	moved   int                                     // how often the clock was moved so far
	edge    float64                                 // s after start of the next instant at which something switches
	asked   bool                                    // the gear was asked since that hour; only coolers ask for more in between
	sum     struct{ volts, in, out, asked float64 } // times s

	epoch  int // counts what came true: nothing that was solved before holds after
	solved solved

	guard     battery.Guard
	guardSpec battery.GuardSpec
	stopped   bool // the battery's protection lets nothing in
	shut      bool // nor out
	lit       bool // the outlets were connected when it shut
	trips     guardNote
	starts    []starter // nil without sun
	early     earlyNote
	asks      []float64 // A by row, as AmpsOut with the power never off

	books books
	peak  float64 // A, greatest draw
	sag   sagNote
	low   lowNote
	out   *Outlook
}

func newRunner(p plan.Plan) (*runner, error) {
	r := &runner{
		p:         p,
		step:      float64(p.Trip.StepMin) * 60,
		others:    othersOf(p),
		hours:     edgesOf(p),
		connected: true, under: -1, alarmFor: -1, clipDay: -1,
	}
	r.steps = int(math.Round(p.Trip.LengthH * 3600 / r.step))
	var err error
	if r.battery, err = p.Case.Battery.Model(); err != nil {
		return nil, err
	}
	r.spec = r.battery.Spec()
	r.state = r.battery.Rested(qty.Fraction(p.Trip.StartChargePct/100), 20) // begin sets its temperature
	if r.wants, err = newWants(p); err != nil {
		return nil, err
	}
	span := time.Duration(float64(r.steps)*r.step) * time.Second
	r.clock = civil.NewClock(p.Trip.Start, max(span, NoSunLimit))
	if r.light, err = p.Daylight(); err != nil {
		return nil, err
	}
	if r.scene, err = daylight.New(r.light); err != nil {
		return nil, err
	}
	control := r.light.Controller
	r.nightMore = float64(control.Draw(false) - control.Draw(true))
	r.stages = stagesOf(p.Case.Battery)
	r.guardSpec = p.Case.Battery.Guard()
	if r.guard, err = battery.NewGuard(r.guardSpec); err != nil {
		return nil, err
	}
	r.marked = r.stages.on || r.wants.inverter.LowCutOff > 0 || r.guard.On()
	if p.Case.Stands == plan.InSun {
		r.inSun = sunOn(p.Case.Battery)
	}
	r.starts, r.frost = r.starters(), frostOf(r.spec)
	r.full = r.state.Charge >= fullAt
	r.bus.clips = p.Case.Controller.Kind == plan.MPPT
	r.books.open(len(p.Gear), r.battery.Energy(r.state.Charge))
	n := r.steps + 1
	r.asks = make([]float64, 0, n)
	r.out = &Outlook{Series: Series{
		Start:     p.Trip.Start,
		Step:      time.Duration(r.step) * time.Second,
		Charge:    make([]qty.Fraction, 0, n),
		Volts:     make([]qty.Volt, 0, n),
		AmpsIn:    make([]qty.Ampere, 0, n),
		AmpsOut:   make([]qty.Ampere, 0, n),
		Light:     make([]qty.Irradiance, 0, n),
		Air:       make([]qty.Celsius, 0, n),
		Core:      make([]qty.Celsius, 0, n),
		Elevation: make([]qty.Degree, 0, n),
		Cloud:     make([]qty.Fraction, 0, n),
	}}
	return r, nil
}

// begin writes row 0: the Case at rest, in the air and sun of the start.
func (r *runner) begin() {
	r.weather = r.scene.At(0)
	r.air = r.weather.Air
	r.state.Core = r.air
	r.warm()
	r.sum.volts = float64(r.rests()) * r.step
	r.row()
}

// row writes what the step that just ended showed.
func (r *runner) row() {
	s := &r.out.Series
	s.Charge = append(s.Charge, r.state.Charge)
	s.Volts = append(s.Volts, qty.Volt(r.sum.volts/r.step))
	s.AmpsIn = append(s.AmpsIn, qty.Ampere(r.sum.in/r.step))
	s.AmpsOut = append(s.AmpsOut, qty.Ampere(r.sum.out/r.step))
	r.asks = append(r.asks, r.sum.asked/r.step)
	s.Light = append(s.Light, qty.Irradiance(r.weather.Light))
	s.Air = append(s.Air, r.air)
	s.Core = append(s.Core, r.state.Core)
	s.Elevation = append(s.Elevation, r.weather.Elevation)
	s.Cloud = append(s.Cloud, qty.Fraction(r.weather.Cloud))
}

// advance runs step i, in stretches between the hours at which something
// switches.
func (r *runner) advance(i int) {
	r.now = float64(i) * r.step
	if r.dark == nil {
		r.weather = r.scene.At(r.now + r.step/2)
		r.air, r.bus.offer, r.bus.sunny = r.weather.Air, r.weather.Offer, r.weather.Sunny
	} else {
		r.air = r.dark.airOf(i, r)
	}
	r.epoch++
	r.warm()
	r.more = 0
	if r.nightMore != 0 && !(r.bus.sunny && r.bus.offer.Live()) {
		r.more = r.nightMore
	}
	r.sum.volts, r.sum.in, r.sum.out, r.sum.asked = 0, 0, 0, 0
	for end := r.now + r.step; end-r.now > tick; {
		if r.edge <= r.now+tick {
			r.edge, r.asked = r.nextEdge(), false
		}
		till := end
		if r.edge < end-tick {
			till = r.edge
		}
		r.stretch(till)
	}
}

// stretch runs a part of a step in which nothing is switched by the clock.
func (r *runner) stretch(till float64) {
	r.middle = r.clock.Hour((r.now + till) / 2)
	if !r.asked || r.wants.coolers {
		r.asked = true
		r.on = r.wants.step(r.middle, r.air)
		if r.dark == nil {
			r.others.set(&r.bus, r.middle)
		}
	}
	r.tellTrip()
	r.books.ask(r)
	if r.starts != nil {
		r.loadBus()
		r.watchStarts()
		clear(r.wants.fresh)
	}
	for left := till - r.now; left > tick; left = till - r.now {
		if r.marked {
			left = r.prepare(left)
		}
		r.part(left)
	}
	r.now = till
}
