package care

import "duskline/calc/qty"

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
	AllOff     StoreMode = "all_off"     // the battery disconnected: self-discharge alone
	MetersOn   StoreMode = "meters"      // meters and controller
	AsSwitched StoreMode = "as_switched" // as the main switch stands: outlets' and inverter's standby, too, until the cut-off
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
	// alarm, 0.9 of the time to the first of them, counted from a charge of
	// [Storage] From. Common practice, no source.
	TopUp Days
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
	Sulfation     HarmKind = "sulfation"      // lead-acid that stands at under half charge
	OverDischarge HarmKind = "over_discharge" // empty
	Freezing      HarmKind = "freezing"       // its acid freezes at that charge and temperature
)
