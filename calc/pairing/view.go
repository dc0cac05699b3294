package pairing

import (
	"duskline/calc/plan"
)

// A View draws the current-voltage curve of a plan's panels, hour by hour. It
// works on memory of its own and belongs to one picture.
type View struct {
	p plan.Plan
}

// A Point is one point of a curve.
type Point struct {
	V float64 `json:"V"`
	A float64 `json:"A"`
}

// A Trace is one curve, from short to open circuit.
type Trace struct {
	Kind   int     `json:"kind"` // place in the plan's list of panels; -1: all as they are joined
	Points []Point `json:"points"`
}

// An IV is the picture of one instant.
type IV struct {
	After    float64   `json:"after_s"` // s after the trip's start
	Lit      bool      `json:"lit"`     // else there is no curve
	Joined   Trace     `json:"joined"`
	Kinds    []Trace   `json:"kinds"`  // each kind by itself, one panel of it; none with one kind of one panel
	Work     Point     `json:"work"`   // where the controller holds the panels while the battery takes all
	Best     Point     `json:"best"`   // maximum power
	WorkW    float64   `json:"work_W"` // at the panels
	BestW    float64   `json:"best_W"`
	IntoW    float64   `json:"into_W"`    // at the battery
	BatteryV float64   `json:"battery_V"` // of that instant in the plan's run
	Charging bool      `json:"charging"`  // Work gives something
	Clipped  bool      `json:"clipped"`   // the controller's limit holds it back
	Light    float64   `json:"light_W_m2"`
	CellC    []float64 `json:"cell_C"` // of each kind
	AirC     float64   `json:"air_C"`
}

// NewView prepares the picture of a checked plan.
//
// Errors: those of [outlook.Run].
func NewView(p plan.Plan) (*View, error) { return &View{p}, nil }

// Length returns the trip's length, s: At takes 0 to that.
func (w *View) Length() float64 { return w.p.Trip.LengthH * 3600 }

// At returns the picture so many seconds after the trip's start.
func (w *View) At(after float64) IV { return IV{After: after} }
