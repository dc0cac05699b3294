// Package outlook runs a Plan through sun, panels, power, battery and gear,
// and says what became of it.
package outlook

import (
	"time"

	"duskline/calc/notice"
	"duskline/calc/qty"
	"duskline/calc/ref"
)

// A Verdict is the answer in one word.
type Verdict uint8

// The verdicts.
const (
	Holds   Verdict = iota // all gear runs, the charge stays above the reserve
	Tight                  // no alarm, but the lowest charge is inside the reserve or some gear got no power
	RunsOut                // alarm, cut-off or a battery that its own protection cuts off inside the trip; an alarm that a device's start makes sound for a moment is none
)

var verdictNames = [...]string{"holds", "tight", "runs_out"}

// String returns the verdict as a key: "holds", "tight", "runs_out".
func (v Verdict) String() string { return verdictNames[v] }

// An Outlook is what the simulation says of a Plan.
type Outlook struct {
	Verdict Verdict
	Series  Series
	Events  []Event
	Ledger  Ledger
	Notices []notice.Notice // gravest first
	Figures Figures
	Days    []Day // the local days that the trip touches, in order
}

// A Series holds one row a step and one for the start. All slices are of one
// length. Row 0 is the Case at rest at the trip's start: no amps yet, volts
// at rest. Row i is the end of step i: the charge at that instant, and the
// mean volts, amps and light of the step that ended there.
type Series struct {
	Start     time.Time
	Step      time.Duration
	Charge    []qty.Fraction   // state of charge, of the amp-hours that the battery holds
	Volts     []qty.Volt       // at the battery's terminals
	AmpsIn    []qty.Ampere     // from panels and chargers, as the Case's meter shows
	AmpsOut   []qty.Ampere     // to outlets, inverter and the Case's own draw
	Light     []qty.Irradiance // on the panels as they lie, mean weighted by watts; on level ground without panels
	Air       []qty.Celsius    // air temperature
	Core      []qty.Celsius    // the battery's own temperature, at the instant like the charge
	Elevation []qty.Degree     // sun above the horizon, refraction included
	Cloud     []qty.Fraction   // 0 clear to 1 overcast: one less the clear-sky index of the day, or of the hour in a weather file, not under 0
}

// Time returns the instant of row i.
func (s *Series) Time(i int) time.Time { return s.Start.Add(time.Duration(i) * s.Step) }

// EventKind is what happened.
type EventKind string

// The events. "device" in Index is a place in the Plan's gear.
const (
	AlarmOn      EventKind = "alarm_on"      // volts fell to the alarm; Cause and Left say what that means
	AlarmOff     EventKind = "alarm_off"     // volts came back
	CutOff       EventKind = "cut_off"       // outlets and inverter lost power
	Reconnect    EventKind = "reconnect"     // power came back
	Full         EventKind = "full"          // battery full
	Clipped      EventKind = "clipped"       // controller limit held back sun for the first time that day
	ColdRefused  EventKind = "cold_refused"  // battery too cold to take charge
	ColdOver     EventKind = "cold_over"     // takes charge again
	Overload     EventKind = "overload"      // inverter tripped; Index is the device that did it
	OverloadOver EventKind = "overload_over" // inverter on again, the draw is back under its limit; Index as for the overload

	Float        EventKind = "float"         // absorption is over: charging is held at the float volts
	Resting      EventKind = "resting"       // absorption is over: charging stops
	ChargesAgain EventKind = "charges_again" // the volts fell to where charging begins anew
	InverterLow  EventKind = "inverter_low"  // inverter shut itself off, the volts fell to its own cut-off
	InverterBack EventKind = "inverter_back" // it came back

	// The battery's own protection, between its cells and everything else.
	GuardChargeOff  EventKind = "guard_charge_off"  // it lets nothing in
	GuardChargeBack EventKind = "guard_charge_back" // it lets charge in again
	GuardOff        EventKind = "guard_off"         // it lets nothing out: all of the Case is dark
	GuardBack       EventKind = "guard_back"        // it lets out again
)

// AlarmCause says what an alarm means.
type AlarmCause string

// The causes of an alarm.
const (
	InTime AlarmCause = "in_time" // there is time to act, and need
	Early  AlarmCause = "early"   // the load pulls the volts down; the battery is far from empty
	Late   AlarmCause = "late"    // the cut-off is near
)

// What tells the causes apart. Common practice, no source.
const (
	EarlyCharge qty.Fraction = 0.40             // an alarm at this charge or more is early
	LateLeft                 = 30 * time.Minute // one with less time to the cut-off is late, unless it is early
)

// An Event is one thing that happened at one instant.
type Event struct {
	At     time.Time
	Kind   EventKind
	Charge qty.Fraction
	Volts  qty.Volt
	Index  int // device, or -1; of an alarm: whose start made it sound, or -1

	// Of an alarm alone.
	Cause AlarmCause    // "" for all other events
	Left  time.Duration // to the cut-off, at the draw of that moment with nothing coming in; at most NoSunLimit; 0 if the outlets are off already, which is Late, too

	Reason string // of what the battery's protection does: "over_volts", "under_volts", "charge_amps", "discharge_amps", "cold", "hot"; else ""

	// A row of the same, turning back within minutes, is one event.
	Times int       // how often it happened, 1 or more
	Last  time.Time // the last of them; At if there was one
}

// Flow is one named share of the Ledger.
type Flow struct {
	Name   FlowName
	Index  int // for Gear: place in the Plan's gear; for Sun: -1; else -1
	Energy qty.WattHour
}

// FlowName names a source, a use or a loss.
type FlowName string

// Sources, uses and losses.
const (
	SunFlow       FlowName = "sun"       // what the panels gave, at the Case's end of their cable
	WallFlow      FlowName = "wall"      // what the wall charger drew from the mains
	VehicleFlow   FlowName = "vehicle"   // what the vehicle charger drew from the vehicle; only in a Plan with one
	GeneratorFlow FlowName = "generator" // what the wall charger drew from a generator; only in a Plan with hours of one

	GearFlow FlowName = "gear" // what reached a device

	ControllerLoss  FlowName = "controller"      // conversion and its own draw
	ChargerLoss     FlowName = "wall_charger"    // conversion in the wall charger
	VehicleLoss     FlowName = "vehicle_charger" // conversion in the vehicle charger; only in a Plan with one
	InverterLoss    FlowName = "inverter"        // conversion while AC gear runs
	InverterIdle    FlowName = "inverter_idle"   // inverter on, no AC gear drawing
	DCLoss          FlowName = "dc_outlet"
	USBLoss         FlowName = "usb_outlet"
	MetersLoss      FlowName = "meters"
	BatteryHeat     FlowName = "battery_heat"     // resistance, hysteresis, wells that lag behind, charging overvoltage; a hair under 0 for a battery that does little but stand in the cold
	BatteryCharging FlowName = "battery_charge"   // charge that did not stay: coulombic loss
	BatteryStanding FlowName = "battery_standing" // self-discharge
)

// A Ledger says where every watt-hour came from and went. Sources equal Uses
// plus Losses plus Change within 0.1 % of the turnover, or Run returns an
// error.
type Ledger struct {
	Sources []Flow
	Uses    []Flow // one a device, in the Plan's order
	Losses  []Flow
	Change  qty.WattHour // energy stored at the end less at the start; negative: drawn down

	NotTaken qty.WattHour // sun that the controller's limit, a full or a cold battery or a charge at rest left in the panels, measured like SunFlow; outside the balance
	NotGiven qty.WattHour // what the gear asked for and did not get; outside the balance
	Turnover qty.WattHour // sum of sources, and of the drawdown if there is one
	Gap      qty.WattHour // sources less uses, losses and change: what does not close
}

// Figures are the few numbers that stand under the picture.
type Figures struct {
	NoSun        time.Duration // from the trip's start to the alarm or cut-off, the battery's own, too, with no sun and no other charging; at most NoSunLimit
	NoSunEndless bool          // still running at NoSunLimit
	Lowest       qty.Fraction
	LowestAt     time.Time
	GearADay     qty.WattHour   // what reached the gear, a day of 24 h
	DrawADay     qty.WattHour   // what left the battery bus for gear and all losses behind it, a day
	IdleADay     qty.WattHour   // what the idle inverter took of it, a day
	DeviceADay   []qty.WattHour // what each device asks for, a day, in the Plan's order
	SunADay      qty.WattHour   // from the panels, a day
	FirstAlarm   time.Time      // zero: none; a device's start is none, it falls silent by itself
	FirstCutOff  time.Time      // zero: none

	FirstGuardOff time.Time // when the battery's own protection first lets nothing out; zero: never

	Unserved []int // places in the gear of devices that got less than they asked for

	// The marks are volts; these are the charges at which a battery that
	// gives the plan's mean draw shows them, for a picture drawn in charge.
	AlarmCharge  qty.Fraction
	CutOffCharge qty.Fraction

	CoreLowest, CoreHighest qty.Celsius // the battery's own temperature, at the ends of steps
	Safe                    Safe
}

// Safe is how far the battery may be drawn down without harm to it.
type Safe struct {
	Depth        qty.Fraction // advised, of what it holds, at the coldest of the trip
	Least        qty.Fraction // charge that it leaves
	Night        qty.Fraction // charge that the trip's hungriest night takes, sundown to sunup and 24 h at most; 0 without a night
	StopAt       qty.Fraction // charge at which to stop in the evening: Least and Night together, 1 at most
	RechargeDays float64      // within which it is to be charged after a deep discharge
	Kind         ref.Kind     // how far to trust the advice
	Why          string       // what harms it below: a key
}

// NoSunLimit is how far the run without sun goes.
const NoSunLimit = 30 * 24 * time.Hour

// DayState says whether the sun rises and sets.
type DayState uint8

// The day states.
const (
	SunRisesAndSets DayState = iota
	PolarDay
	PolarNight
)

// A Day is one local calendar day.
type Day struct {
	Midnight        time.Time
	State           DayState
	Rise, Noon, Set time.Time // Rise and Set are zero on polar days and nights

	// When the sun passes 6° and 12° below the level; zero where it does not.
	CivilDawn, CivilDusk, NauticalDawn, NauticalDusk time.Time

	ClearSkyIndex float64 // the figure used that day; of a weather file, its day's share of a clear one's
	Turbidity     float64 // Linke turbidity used that day

	// Light of the whole day, kWh/m², be it all inside the trip or not.
	// Ceilings are those of the same day under a clear sky.
	OnPanels, Ceiling     float64 // on the panels as they lie, mean weighted by watts; on level ground without panels
	OnLevel, LevelCeiling float64 // on level ground in the open
}
