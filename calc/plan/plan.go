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
// Documents of version 1 are read for ever. What they lack has the value that
// the table names, which is how version 1 reckoned; such a Plan is of version
// 2 in memory and is written as that. One limit became narrower: a place over
// 5500 m is refused in both versions.
//
// Missing, in this version: the form of a Plan that fits into a link.
package plan

import "time"

// Version is the number under "duskline" in documents that this code writes.
const Version = 2

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
	MaxHours   = 31*24 + 48 // of the weather file

	threeDays = 3 // that are read off the meter
)

// A Plan is the whole document.
type Plan struct {
	Duskline int    `json:"duskline"` // document version, 2
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
	Name        string      `json:"name"` // 1 to 60 characters
	Battery     Battery     `json:"battery"`
	Controller  Controller  `json:"controller"`
	WallCharger WallCharger `json:"wall_charger"`
	Inverter    Inverter    `json:"inverter"`
	DC          Outlet      `json:"dc_outlet"`
	USB         Outlet      `json:"usb_outlet"`
	Meters      Meters      `json:"meters"`

	Switch        Switch   `json:"switch"`         // what the main switch energises
	InverterHours []Window `json:"inverter_hours"` // local hours of every day in which the inverter is on; the switch must allow it
}

// Chemistry is the kind of battery.
type Chemistry string

// The chemistries.
const (
	LiFePO4 Chemistry = "LiFePO4"
	AGM     Chemistry = "AGM"
)

// A Battery is a nominal 12 V battery with its alarm and cut-off.
//
// The order cutoff_V < alarm_V < charge_V and cutoff_V < reconnect_V <
// charge_V is checked, and that alarm_V and cutoff_V lie under the volts at
// which a full battery of the chemistry rests.
type Battery struct {
	Chemistry      Chemistry `json:"chemistry"`
	CapacityAh     float64   `json:"capacity_Ah"`       // 1 to 1000, rated
	ResistanceMohm float64   `json:"resistance_mohm"`   // 0.5 to 500, whole battery with its wires, 25 °C
	ChargeV        float64   `json:"charge_V"`          // 13.2 to 15; the volts at which charging is held
	AlarmV         float64   `json:"alarm_V"`           // 9 to 14
	AlarmDelayS    float64   `json:"alarm_delay_s"`     // 0 to 600
	CutoffV        float64   `json:"cutoff_V"`          // 8.5 to 13.5
	CutoffDelayS   float64   `json:"cutoff_delay_s"`    // 0 to 600
	ReconnectV     float64   `json:"reconnect_V"`       // 9 to 14.5
	ReconnectS     float64   `json:"reconnect_delay_s"` // 0 to 86400; how long the volts must stay there
}

// ControllerKind is PWM or MPPT.
type ControllerKind string

// The controller kinds.
const (
	PWM  ControllerKind = "PWM"
	MPPT ControllerKind = "MPPT"
)

// A Controller is the solar charge controller.
type Controller struct {
	Kind          ControllerKind `json:"kind"`
	LimitA        float64        `json:"limit_A"`        // 1 to 100; PWM: rating; MPPT: limit of battery current
	EfficiencyPct float64        `json:"efficiency_pct"` // 70 to 100; MPPT only, PWM counts its volts drop instead
	InputMaxV     float64        `json:"input_max_V"`    // 15 to 250
	StandbyA      float64        `json:"standby_A"`      // 0 to 1
}

// A WallCharger is fed by mains. current_A 0 means that the Case has none.
type WallCharger struct {
	CurrentA      float64 `json:"current_A"`      // 0 to 100
	EfficiencyPct float64 `json:"efficiency_pct"` // 50 to 100
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
	RatedW        float64 `json:"rated_W"` // 0, or 30 to 5000
	SurgeW        float64 `json:"surge_W"` // rated_W to 15000
	Wave          Wave    `json:"wave"`
	StandbyA      float64 `json:"standby_A"`      // 0 to 5, at 12.8 V
	EfficiencyPct float64 `json:"efficiency_pct"` // 60 to 99, at rated watts, standby included
	OutputV       float64 `json:"output_V"`       // 100 to 240
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

// A Device is one kind of gear. Exactly one of power_W, current_A and
// refill_Wh is given; the other two are absent.
type Device struct {
	Name  string `json:"name"`  // 1 to 60 characters
	Count int    `json:"count"` // 1 to 100; power, current, refill and surge are of one
	Route Route  `json:"route"`

	PowerW   *float64 `json:"power_W,omitempty"`   // 0 to 5000, while running
	CurrentA *float64 `json:"current_A,omitempty"` // 0 to 100, at 12 V (dc), 5 V (usb) or the inverter's volts (ac)
	RefillWh *float64 `json:"refill_Wh,omitempty"` // 0 to 5000, what its own battery takes in one refill

	RefillsPerDay       float64 `json:"refills_per_day"`       // 0 to 24; 0 unless refill_Wh is given
	RefillEfficiencyPct float64 `json:"refill_efficiency_pct"` // 50 to 100; of the device's own charger

	DutyPct     float64  `json:"duty_pct"`            // 0 to 100, share of the time it runs in its hours; 100 with refill_Wh
	DutyAtC     *float64 `json:"duty_at_C,omitempty"` // cooler: outside temperature at which duty_pct was seen, -30 to 60
	InsideC     *float64 `json:"inside_C,omitempty"`  // cooler: temperature it keeps, -30 to 30, below duty_at_C
	SurgeW      float64  `json:"surge_W"`             // 0 to 15000, for a moment at start; 0: none
	Hours       []Window `json:"hours"`               // local hours of every day, 1 to 8 windows
	LifeSupport bool     `json:"life_support"`        // someone's life hangs on it
}

// LightKind says which figures of the Sky count.
type LightKind string

// The kinds of light input. Each but [ByWeatherFile] is the name of the list
// that counts.
const (
	ByClearSky      LightKind = "clear_sky_index"
	ByPeakSun       LightKind = "peak_sun_hours"
	BySkyStates     LightKind = "sky_states"
	ByLastThreeDays LightKind = "last_three_days"
	ByWeatherFile   LightKind = "weather_file"
)

// A Sky is place, weather, haze and what stands around. The trip's start
// carries the zone.
type Sky struct {
	Place        string     `json:"place"`           // "" to 80 characters
	LatitudeDeg  float64    `json:"latitude_deg"`    // -90 to 90, north positive
	LongitudeDeg float64    `json:"longitude_deg"`   // -180 to 180, east positive
	AltitudeM    float64    `json:"altitude_m"`      // -430 to 5500
	WarmestC     float64    `json:"warmest_C"`       // -40 to 55, air in mid-afternoon
	ColdestC     float64    `json:"coldest_C"`       // -50 to warmest_C, air before dawn
	WindMs       float64    `json:"wind_m_per_s"`    // 0 to 30, at the panels
	Turbidity    float64    `json:"linke_turbidity"` // 1 to 10
	Surface      Surface    `json:"surface"`         // what lies on the ground around the panels
	Albedo       float64    `json:"albedo"`          // 0 to 1, of the ground; counts only with SurfaceOwn
	SkyModel     SkyModel   `json:"sky_model"`
	GlassModel   GlassModel `json:"glass_model"`

	Horizon []HorizonPoint `json:"horizon"` // 0 to 36, in any order; with a step, two heights at one azimuth, clockwise; none: open all round

	Light LightKind `json:"light"`
	// What Light names is there: a list by day has 1 to 31 entries, a figure a
	// day from the trip's first, of which the last one holds for the days after
	// it. What it does not name may be empty or absent.
	ClearSkyIndex []float64  `json:"clear_sky_index"` // 0 to 1.2
	PeakSunHours  []float64  `json:"peak_sun_hours"`  // kWh/m², 0 to 12
	PeakSunOn     PeakSunOn  `json:"peak_sun_on"`     // what PeakSunHours lies on
	SkyStates     []SkyState `json:"sky_states"`
	LastThreeDays []float64  `json:"last_three_days"` // none or 3, oldest first: 0 to 20000 in MeterUnit, what the panels brought on each day before the trip's first
	MeterUnit     MeterUnit  `json:"meter_unit"`
	WeatherFile   *Weather   `json:"weather_file,omitempty"`
}

// Surface is what the ground around the panels is covered with.
type Surface string

// The surfaces. Their albedo is [duskline/calc/sun.Surface]'s; SurfaceOwn has
// the Sky's own.
const (
	SurfaceOwn      Surface = "own"
	SurfaceGrass    Surface = "grass"
	SurfaceSand     Surface = "sand"
	SurfaceSnow     Surface = "snow"
	SurfaceOldSnow  Surface = "old_snow"
	SurfaceWater    Surface = "water"
	SurfaceEarth    Surface = "earth"
	SurfaceAsphalt  Surface = "asphalt"
	SurfaceConcrete Surface = "concrete"
)

// SkyModel is how the light of the sky is spread over it.
type SkyModel string

// The sky models.
const (
	HayDavies SkyModel = "hay_davies"
	Perez     SkyModel = "perez"
	Isotropic SkyModel = "isotropic"
)

// GlassModel is how light that comes in low is lost on the panels' glass.
type GlassModel string

// The glass models.
const (
	GlassASHRAE   GlassModel = "ashrae"
	GlassPhysical GlassModel = "physical"
)

// A HorizonPoint is a point of the line behind which the sun goes down. Lines
// between the points are straight in azimuth and height; one point alone is
// the same height all round.
type HorizonPoint struct {
	AzimuthDeg float64 `json:"azimuth_deg"` // 0 to 360, clockwise from north
	HeightDeg  float64 `json:"height_deg"`  // 0 to 90, above level; a fist at arm's length is about 10
}

// SkyState is the look of a day's sky.
type SkyState string

// The looks of the sky.
const (
	SkyClear     SkyState = "clear"
	SkyThinVeil  SkyState = "thin_veil"
	SkyHalfCloud SkyState = "half_cloud"
	SkyOvercast  SkyState = "overcast"
	SkyRain      SkyState = "rain"
	SkySmoke     SkyState = "smoke"
	SkyDust      SkyState = "dust"
)

// PeakSunOn says on what plane peak sun hours are counted.
type PeakSunOn string

// The two planes.
const (
	OnLevel  PeakSunOn = "level"  // level ground
	OnPanels PeakSunOn = "panels" // the panels as they lie, in the open
)

// MeterUnit is what the Case's meter counts.
type MeterUnit string

// The two units.
const (
	MeterWh MeterUnit = "Wh"
	MeterAh MeterUnit = "Ah"
)

// Weather is the trip's hours out of a weather file. Entry i of each list is
// the mean of the hour that begins i hours after Start.
type Weather struct {
	Name   string    `json:"name"`         // "" to 120 characters: place and source, as the file says
	Start  time.Time `json:"start"`        // RFC 3339 in the file's own offset, minutes 0; at or before the trip's start
	GHI    []float64 `json:"ghi_W_m2"`     // 0 to 2000, on level ground; 1 to 792 hours, up to the trip's end at least
	DHI    []float64 `json:"dhi_W_m2"`     // 0 to GHI, its diffuse part; as many
	AirC   []float64 `json:"air_C"`        // -90 to 70; as many or none
	WindMs []float64 `json:"wind_m_per_s"` // 0 to 60; as many or none
}

// Joined is how panels are wired together.
type Joined string

// The two ways.
const (
	SideBySide Joined = "side_by_side" // parallel
	EndToEnd   Joined = "end_to_end"   // series
)

// Panels is what lies in the sun.
type Panels struct {
	Joined Joined  `json:"joined"`
	List   []Panel `json:"list"` // 0 to 16
}

// A Panel is one kind of solar panel, lying one way. With a datasheet the
// five figures of it shape the curve, without one a 36-cell panel of rated_W
// is assumed.
type Panel struct {
	Name       string     `json:"name"`         // 1 to 60 characters
	Count      int        `json:"count"`        // 1 to 20
	RatedW     float64    `json:"rated_W"`      // 1 to 1000, of one; with a datasheet within 5 % of its Imp × Vmp
	Lie        Lie        `json:"lie"`          // what is done with it through the day
	TiltDeg    float64    `json:"tilt_deg"`     // 0 (flat) to 90; LieTwoAxis: not used
	AzimuthDeg float64    `json:"azimuth_deg"`  // 0 to 360, clockwise from north: where it looks; LieTurned and LieTwoAxis: not used
	AimsPerDay int        `json:"aims_per_day"` // 1 to 24, for LieTurned and LieTwoAxis
	LossPct    float64    `json:"loss_pct"`     // 0 to 90, light lost to dirt and haze on the glass
	ShadeHours []Window   `json:"shade_hours"`  // local hours of every day in which something near shades it; 0 to 8
	ShadedPct  float64    `json:"shaded_pct"`   // 0 to 100, share of its cells that this shade covers
	Datasheet  *Datasheet `json:"datasheet,omitempty"`
}

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
}

// A ClockChange is an instant at which the place's clocks are moved. It is
// part of the document so that this reads the same on every device, whatever
// its time zone database knows.
type ClockChange struct {
	At        time.Time `json:"at"`         // RFC 3339, whole minutes
	OffsetMin int       `json:"offset_min"` // -720 to 840: minutes ahead of UTC from then on
}
