// Package plan is the document that holds one trip: Case, Gear, Sky, Panels
// and Trip.
//
// Everything that enters Duskline from outside comes through [Read], which
// returns a Plan that is whole and in range, or every fault at once. A Plan
// that was edited in memory is checked by [Check]. Nothing behind this package
// checks a document again.
//
// Numbers carry their unit in the JSON name: capacity_Ah, standby_A.
//
// All limits stand in one table (fields.go), which Read, Check, Write and
// [LimitOf] walk; a test compares it with web/plan.schema.json.
//
// Documents of versions 1 to 3 are read for ever. What they lack has the
// value that the table names, which is how their version reckoned; such a Plan
// is of version 4 in memory and is written as that. One limit became narrower:
// a place over 5500 m is refused in every version; the volts of the battery
// became wider in every version.
//
// Missing, in this version: the form of a Plan that fits into a link.
package plan

import "time"

// Version is the number under "duskline" in documents that this code writes.
const Version = 4

// firstVersion is the oldest that it reads.
const firstVersion = 1

// Limits of a document, of any version.
const (
	MaxBytes   = 256 << 10 // size of a document, bytes
	MaxDevices = 64
	MaxPanels  = 16
	MaxDays    = 31         // entries of a list that goes by day
	MaxWindows = 8          // windows of one list of hours
	MaxHorizon = 36         // points of the horizon
	MaxChanges = 4          // of the clock
	MaxRest    = 41         // rows of the battery's own table
	MaxHours   = 31*24 + 48 // of the weather file

	threeDays = 3 // that are read off the meter
)

// A Plan is the whole document.
type Plan struct {
	Duskline int    `json:"duskline"` // document version, 4
	Name     string `json:"name"`     // 1 to 80 characters
	Note     string `json:"note"`     // "" to 500 characters
	Example  bool   `json:"example"`  // true: invented data that comes with Duskline

	Case   Case     `json:"case"`
	Gear   []Device `json:"gear"` // 0 to 64
	Sky    Sky      `json:"sky"`
	Panels Panels   `json:"panels"`
	Trip   Trip     `json:"trip"`
}

// A Case is the portable unit.
type Case struct {
	Name        string          `json:"name"` // 1 to 60 characters
	Battery     Battery         `json:"battery"`
	Controller  Controller      `json:"controller"`
	WallCharger WallCharger     `json:"wall_charger"`
	Vehicle     *VehicleCharger `json:"vehicle_charger,omitempty"` // nil: the Case has none
	Inverter    Inverter        `json:"inverter"`
	DC          Outlet          `json:"dc_outlet"`
	USB         Outlet          `json:"usb_outlet"`
	Meters      Meters          `json:"meters"`

	Stands        Stands   `json:"stands"`         // what the sun does to it
	Switch        Switch   `json:"switch"`         // what the main switch energises
	InverterHours []Window `json:"inverter_hours"` // local hours of every day in which the inverter is on; the switch must allow it
}

// Stands is where the Case stands.
type Stands string

// The places.
const (
	Shade Stands = "shade"
	InSun Stands = "sun" // the light of the level heats it
)

// Chemistry is the kind of battery.
type Chemistry string

// The chemistries.
const (
	LiFePO4 Chemistry = "LiFePO4" // four cells
	AGM     Chemistry = "AGM"     // sealed lead-acid with glass mat, six cells
	NMC     Chemistry = "NMC"     // lithium nickel manganese cobalt, three cells
	Gel     Chemistry = "gel"     // sealed lead-acid with gel, six cells
	Flooded Chemistry = "flooded" // lead-acid with caps, six cells
	Own     Chemistry = "own"     // from the table in Battery.Own
)

// AfterFull is what a charger does once the battery is full.
type AfterFull string

// What it may do.
const (
	AfterHold  AfterFull = "hold"  // goes on holding charge_V
	AfterFloat AfterFull = "float" // holds float_V
	AfterRest  AfterFull = "rest"  // rests until the volts are under resume_V
)

// ControllerKind is PWM or MPPT.
type ControllerKind string

// The controller kinds.
const (
	PWM  ControllerKind = "PWM"
	MPPT ControllerKind = "MPPT"
)

// A Controller is the solar charge controller.
type Controller struct {
	Kind             ControllerKind `json:"kind"`
	LimitA           float64        `json:"limit_A"`                      // 1 to 100; PWM: rating; MPPT: limit of battery current
	EfficiencyPct    float64        `json:"efficiency_pct"`               // 70 to 100; MPPT only, PWM counts its volts drop instead
	EfficiencyLowPct *float64       `json:"efficiency_low_pct,omitempty"` // 50 to 100; MPPT, at a tenth of its rated watts; nil: as EfficiencyPct
	StartV           float64        `json:"start_V"`                      // 0, or 5 to 200, below InputMaxV: open-circuit volts of the panels from which it works; 0: any
	InputMaxV        float64        `json:"input_max_V"`                  // 15 to 250
	StandbyA         float64        `json:"standby_A"`                    // 0 to 1
	NightA           *float64       `json:"night_A,omitempty"`            // 0 to 1, its own draw while the panels give nothing; nil: StandbyA
}

// A WallCharger is fed by mains. current_A 0 means that the Case has none.
type WallCharger struct {
	CurrentA      float64 `json:"current_A"`      // 0 to 100
	EfficiencyPct float64 `json:"efficiency_pct"` // 50 to 100
	InputMinV     float64 `json:"input_min_V"`    // 90 to 264, below InputMaxV: least mains volts that it works on
	InputMaxV     float64 `json:"input_max_V"`    // 90 to 264
}

// A VehicleCharger is fed from a vehicle's socket while its engine runs.
type VehicleCharger struct {
	CurrentA      float64 `json:"current_A"`      // 0.5 to 100, into the battery
	EfficiencyPct float64 `json:"efficiency_pct"` // 50 to 100
	SocketA       float64 `json:"socket_A"`       // 0 to 60, fuse of the vehicle's socket; 0: not known
}

// Wave is the shape of the inverter's volts.
type Wave string

// The wave shapes.
const (
	PureSine     Wave = "pure_sine"
	ModifiedSine Wave = "modified_sine"
)

// An Inverter makes mains volts. rated_W 0 means that the Case has none.
type Inverter struct {
	RatedW            float64  `json:"rated_W"` // 0, or 30 to 5000
	SurgeW            float64  `json:"surge_W"` // rated_W to 15000
	SurgeS            float64  `json:"surge_s"` // 0 to 60, how long it gives SurgeW; 0: for a moment
	Wave              Wave     `json:"wave"`
	PulseDeg          float64  `json:"pulse_deg"`                     // 60 to 180, width of the pulse in each half cycle; counts with ModifiedSine
	StandbyA          float64  `json:"standby_A"`                     // 0 to 5, at 12.8 V
	SleepA            *float64 `json:"sleep_A,omitempty"`             // 0 to StandbyA, at 12.8 V, while it sleeps; nil: it never sleeps
	WakeW             float64  `json:"wake_W"`                        // 0 to 500, AC watts that wake it; above 0 with SleepA
	EfficiencyPct     float64  `json:"efficiency_pct"`                // 60 to 99, at rated watts, standby included
	EfficiencyHalfPct *float64 `json:"efficiency_half_pct,omitempty"` // 50 to 99, at half the rated watts, standby included; nil: by StandbyA and EfficiencyPct alone
	LowCutoffV        float64  `json:"low_cutoff_V"`                  // 0, or 9 to 13: battery volts at which it shuts itself off; 0: it does not
	LowReconnectV     float64  `json:"low_reconnect_V"`               // 0, or 9 to 14.5, above LowCutoffV: where it comes back; 0 if LowCutoffV is
	OutputV           float64  `json:"output_V"`                      // 100 to 240
}

// An Outlet is a group of sockets behind a converter or a plain wire.
type Outlet struct {
	StandbyA      float64 `json:"standby_A"`      // 0 to 1
	EfficiencyPct float64 `json:"efficiency_pct"` // 50 to 100
}

// Meters is what the Case itself draws for as long as it is connected: volt
// and amp meters, monitor, alarm.
type Meters struct {
	StandbyA float64 `json:"standby_A"` // 0 to 1
}

// Switch is the position of the main switch.
type Switch string

// The three switch positions.
const (
	DCOnly  Switch = "dc_only"
	DCAndAC Switch = "dc_and_ac"
	ACOnly  Switch = "ac_only"
)

// A Window is a span of local hours of the day. From after To runs over
// midnight: 22 to 6 is eight hours. From equal to To is refused, and so is
// less than a minute; the whole day is 0 to 24.
type Window struct {
	FromH float64 `json:"from_h"` // 0 to 24
	ToH   float64 `json:"to_h"`   // 0 to 24
}

// Route is the outlet that a device is plugged into.
type Route string

// The routes.
const (
	RouteDC  Route = "dc"
	RouteUSB Route = "usb"
	RouteAC  Route = "ac"
)

// Sensitivity is how a device takes volts that are no sine.
type Sensitivity string

// The kinds of device, by that.
const (
	SensitivityUnsaid         Sensitivity = "unsaid"
	SensitivityResistive      Sensitivity = "resistive"       // heaters, filament lamps
	SensitivityUniversalMotor Sensitivity = "universal_motor" // hand drills, blenders
	SensitivityInductionMotor Sensitivity = "induction_motor" // fans, pumps, compressors
	SensitivityClock          Sensitivity = "clock"           // clocks and timers that count the mains
	SensitivityCharger        Sensitivity = "charger"         // power supplies and chargers
	SensitivityMedical        Sensitivity = "medical"
	SensitivityAudio          Sensitivity = "audio"
)

// A Device is one kind of gear. Exactly one of power_W, current_A and
// refill_Wh is given; the other two are absent.
type Device struct {
	Name  string `json:"name"`  // 1 to 60 characters
	Count int    `json:"count"` // 1 to 100; power, current, refill and surge are of one
	Route Route  `json:"route"`

	PowerW   *float64 `json:"power_W,omitempty"`   // 0 to 5000, while running
	CurrentA *float64 `json:"current_A,omitempty"` // 0 to 100, at 12 V (dc), 5 V (usb) or the inverter's volts (ac)
	RefillWh *float64 `json:"refill_Wh,omitempty"` // 0 to 5000, what its own battery takes in one refill

	PowerFactor float64     `json:"power_factor"` // 0.1 to 1; watts to volt-amps, on the ac route
	Sensitivity Sensitivity `json:"sensitivity"`  // counts on the ac route with ModifiedSine

	RefillsPerDay       float64 `json:"refills_per_day"`       // 0 to 24; 0 unless refill_Wh is given
	RefillEfficiencyPct float64 `json:"refill_efficiency_pct"` // 50 to 100; of the device's own charger

	DutyPct     float64  `json:"duty_pct"`            // 0 to 100, share of the time it runs in its hours; 100 with refill_Wh
	DutyAtC     *float64 `json:"duty_at_C,omitempty"` // cooler: outside temperature at which duty_pct was seen, -30 to 60
	InsideC     *float64 `json:"inside_C,omitempty"`  // cooler: temperature it keeps, -30 to 30, below duty_at_C
	SurgeW      float64  `json:"surge_W"`             // 0 to 15000, at start; 0: none
	SurgeS      float64  `json:"surge_s"`             // 0 to 60, how long it lasts; 0: a moment
	Hours       []Window `json:"hours"`               // local hours of every day, 1 to 8 windows
	LifeSupport bool     `json:"life_support"`        // someone's life hangs on it
}

// Joined is how panels are wired together.
type Joined string

// The ways.
const (
	SideBySide Joined = "side_by_side" // parallel
	EndToEnd   Joined = "end_to_end"   // series
	InStrings  Joined = "strings"      // those of one string number end to end, the strings side by side
)

// Panels is what lies in the sun.
type Panels struct {
	Joined     Joined  `json:"joined"`
	BlockingV  float64 `json:"blocking_V"`  // 0 to 1, drop of the blocking diode of each string; 0: none
	CableM     float64 `json:"cable_m"`     // 0 to 100, one way, from the joined panels to the Case
	CableGauge string  `json:"cable_gauge"` // copper: "4_mm2", "12_AWG"; [Choices] has them all
	List       []Panel `json:"list"`        // 0 to 16
}

// A Panel is one kind of solar panel, lying one way. With a datasheet the
// five figures of it shape the curve, without one a panel of its watts and
// technology is assumed.
type Panel struct {
	Name        string     `json:"name"`    // 1 to 60 characters
	Count       int        `json:"count"`   // 1 to 20
	RatedW      float64    `json:"rated_W"` // 1 to 1000, of one; with a datasheet within 5 % of its Imp × Vmp
	Technology  Technology `json:"technology"`
	AgeYears    float64    `json:"age_years"`    // 0 to 40; it has weakened by the yearly wear of its technology
	Lie         Lie        `json:"lie"`          // what is done with it through the day
	TiltDeg     float64    `json:"tilt_deg"`     // 0 (flat) to 90; LieTwoAxis: not used
	AzimuthDeg  float64    `json:"azimuth_deg"`  // 0 to 360, clockwise from north: where it looks; LieTurned and LieTwoAxis: not used
	AimsPerDay  int        `json:"aims_per_day"` // 1 to 24, for LieTurned and LieTwoAxis
	Back        Back       `json:"back"`
	String      int        `json:"string"`        // 1 to 16, counts with InStrings
	SeriesFuseA float64    `json:"series_fuse_A"` // 0 to 60, the most that its label allows; 0: not known
	LossPct     float64    `json:"loss_pct"`      // 0 to 90, light lost to dirt and haze on the glass
	ShadeHours  []Window   `json:"shade_hours"`   // local hours of every day in which something near shades it; 0 to 8
	ShadedPct   float64    `json:"shaded_pct"`    // 0 to 100, share of its cells that this shade covers
	Datasheet   *Datasheet `json:"datasheet,omitempty"`
}

// Technology is what a panel is made of.
type Technology string

// The technologies.
const (
	Crystalline Technology = "crystalline"
	ThinFilm    Technology = "thin_film"
)

// Back says whether air moves behind a panel.
type Back string

// The two cases.
const (
	BackFree    Back = "free"
	BackCovered Back = "covered" // it lies on ground, roof or lid
)

// Lie is what is done with a panel through the day.
type Lie string

// The lies.
const (
	LieFixed   Lie = "fixed"    // left as it lies
	LieTurned  Lie = "turned"   // turned after the sun about the upright, AimsPerDay times; the tilt stays
	LieTwoAxis Lie = "two_axis" // turned and leaned after the sun, AimsPerDay times
	LieOnLid   Lie = "on_lid"   // on the lid of the Case
)

// A Datasheet is the label on the back of a panel, at 1000 W/m² and 25 °C.
type Datasheet struct {
	IscA            float64 `json:"isc_A"`               // 0.05 to 30
	VocV            float64 `json:"voc_V"`               // 2 to 100
	ImpA            float64 `json:"imp_A"`               // 0.01 to 30, below isc_A
	VmpV            float64 `json:"vmp_V"`               // 1 to 100, below voc_V
	AlphaIscPctPerK float64 `json:"alpha_isc_pct_per_K"` // -0.1 to 0.3
	BetaVocPctPerK  float64 `json:"beta_voc_pct_per_K"`  // -0.6 to -0.1
	Cells           int     `json:"cells"`               // 4 to 200, in series
}

// A Trip is when, how long, and from which charge.
type Trip struct {
	Start          time.Time     `json:"start"`            // RFC 3339 with offset, 1950 to 2100, whole minutes; in memory its Location is that of Zone and ClockChanges
	Zone           string        `json:"zone"`             // name in the IANA time zone database, "" for the start's offset throughout
	ClockChanges   []ClockChange `json:"clock_changes"`    // 0 to 4, in order, about the trip's dates; none without a Zone
	LengthH        float64       `json:"length_h"`         // 6 to 720, a multiple of step_min
	StepMin        int           `json:"step_min"`         // 1, 2, 3, 5, 10 or 15
	StartChargePct float64       `json:"start_charge_pct"` // 0 to 100
	ReservePct     float64       `json:"reserve_pct"`      // 0 to 90; a lowest charge under it makes the plan Tight
	WallHours      []Window      `json:"wall_hours"`       // local hours of every day in which the wall charger is plugged in; 0 to 8
	WallV          float64       `json:"wall_V"`           // 0, or 90 to 264, mains volts at the place; 0: not known
	EngineHours    []Window      `json:"engine_hours"`     // likewise, in which the vehicle's engine runs with the vehicle charger plugged in; 0 to 8
	GeneratorHours []Window      `json:"generator_hours"`  // likewise, in which a generator feeds the wall charger; 0 to 8
	GeneratorW     float64       `json:"generator_W"`      // 0, or 100 to 20000, what it gives; 0: not known
}

// A ClockChange is an instant at which the place's clocks are moved. It is
// part of the document so that this reads the same on every device, whatever
// its time zone database knows.
type ClockChange struct {
	At        time.Time `json:"at"`         // RFC 3339, whole minutes
	OffsetMin int       `json:"offset_min"` // -720 to 840: minutes ahead of UTC from then on
}
