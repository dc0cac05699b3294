package care

import "duskline/calc/qty"

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
	// [EarlyCharge] in the battery, which the usual draw does not; the highest
	// charge first.
	False []False

	Early bool // some load sounds it with at least EarlyCharge left
	Late  bool // the usual draw, warm or cold, or a quiet Case to which it comes back, has under LateMinutes from there
}

// A Reading is what a mark means at one load.
type Reading struct {
	Charge  qty.Fraction // left when the alarm sounds, its delay over
	Minutes float64      // from there to the cut-off, at that load
	After   float64      // minutes from there to the cut-off if the usual draw starts at that moment

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

// Bounds of a fair warning. Common practice, no source.
const (
	EarlyCharge qty.Fraction = 0.40 // an alarm with as much left is the load's sag
	LateMinutes              = 30.0 // an alarm with less time left comes too late to do anything
	FairMinutes              = 60.0 // what a mark is chosen for
)

// ReasonCode says why a mark was chosen.
type ReasonCode string

// The reasons and what they carry.
const (
	WhyFair     ReasonCode = "fair"      // neither early nor late: Minutes at the usual draw, Charge then
	WhyQuiet    ReasonCode = "quiet"     // a higher mark would be early: Volts of the next one, Charge, Device (-1: the largest draw or the cold)
	WhyTimely   ReasonCode = "timely"    // a lower mark would be late: Volts of the next one, Minutes
	WhyNoFair   ReasonCode = "no_fair"   // none is both; Minutes at the usual draw of the chosen, Charge at which it sounds falsely
	WhyCutFirst ReasonCode = "cut_first" // at some load the cut-off comes without a warning, whatever the mark: Device or -1
)

// A Reason is why the chosen mark was chosen.
type Reason struct {
	Code    ReasonCode
	Volts   qty.Volt
	Charge  qty.Fraction
	Minutes float64
	Device  int // place in the gear, or -1
}

// ActionCode is something to do once the alarm has sounded.
type ActionCode string

// What to do, in the order in which it is told. Nothing takes power from a
// device that somebody's life hangs on.
const (
	DoCharge      ActionCode = "charge"       // plug in what the plan has: wall, vehicle, or lay out the panels
	DoSwitchOff   ActionCode = "switch_off"   // Device, the largest that may go first
	DoInverterOff ActionCode = "inverter_off" // no gear on AC is left: its standby goes, too
	DoDCOnly      ActionCode = "dc_only"      // main switch to DC, with what is on AC off
	DoBackup      ActionCode = "backup"       // Device is life support: move it to its backup now
	DoStop        ActionCode = "stop"         // all off but life support: what is left is for tonight's standby
)

// An Action is one thing to do, on top of those before it.
type Action struct {
	Code    ActionCode
	Device  int      // place in the gear, or -1
	Watts   qty.Watt // at the battery, that it saves or brings
	Minutes float64  // gained by it, re-simulated with all before it; 0 with Endless
	Total   float64  // minutes from alarm to cut-off then; 0 with Endless
	Endless bool     // the cut-off does not come any more
}
