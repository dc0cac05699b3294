package pairing

import (
	"math"

	"duskline/calc/daylight"
	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// A View draws the current-voltage curve of a plan's panels, hour by hour. It
// works on memory of its own and belongs to one picture.
type View struct {
	trial
	o     *outlook.Outlook
	scene *daylight.Scene
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
	Joined   Trace     `json:"joined"`  // at the Case's end of the cable
	Kinds    []Trace   `json:"kinds"`   // one panel of each kind by itself; none in a plan of one panel
	Work     Point     `json:"work"`    // where the controller has the panels while the battery takes all
	Best     Point     `json:"best"`    // maximum power
	WorkW    float64   `json:"work_W"`  // at Work
	BestW    float64   `json:"best_W"`  // at Best
	IntoW    float64   `json:"into_W"`  // into the battery, after the controller's limit
	IntoA    float64   `json:"into_A"`
	BatteryV float64   `json:"battery_V"` // of that instant in the plan's run
	Charging bool      `json:"charging"`  // something reaches the battery
	Clipped  bool      `json:"clipped"`   // the controller's limit holds it back
	Light    float64   `json:"light_W_m2"`
	CellC    []float64 `json:"cell_C"` // of each kind
	AirC     float64   `json:"air_C"`
}

// NewView prepares the picture of a checked plan.
//
// Errors: those of [outlook.Run] and [daylight.New].
func NewView(p plan.Plan) (*View, error) {
	o, err := outlook.Run(p)
	if err != nil {
		return nil, err
	}
	spec, err := p.Daylight()
	if err != nil {
		return nil, err
	}
	scene, err := daylight.New(spec)
	if err != nil {
		return nil, err
	}
	return &View{trial{p: p, control: p.Case.Controller.Model()}, o, scene}, nil
}

// Length returns the trip's length, s: [View.At] takes 0 to that.
func (w *View) Length() float64 { return w.p.Trip.LengthH * 3600 }

// fineness is how many points a curve has.
const fineness = 48

// At returns the picture so many seconds after the trip's start. Battery volts
// and air are those of the step in which that lies.
//
// What counts as Work leaves out that a full battery turns sun away: the panels
// then work between Best and open circuit.
func (w *View) At(after float64) IV {
	s := &w.o.Series
	row := min(1+int(after/s.Step.Seconds()), len(s.Charge)-1)
	iv := IV{
		After: after, BatteryV: float64(s.Volts[row]), AirC: float64(s.Air[row]),
		Joined: Trace{Kind: -1, Points: []Point{}}, Kinds: []Trace{}, CellC: []float64{},
	}
	if len(w.p.Panels.List) == 0 {
		return iv
	}
	curve := w.scene.Curve(after)
	watts, several := 0.0, len(curve.Kinds) > 1
	for i, k := range curve.Kinds {
		l := w.p.Panels.List[i]
		iv.CellC = append(iv.CellC, float64(k.Cell))
		iv.Light += float64(k.Light) * l.RatedW * float64(l.Count)
		watts += l.RatedW * float64(l.Count)
		several = several || k.Count > 1
	}
	iv.Light /= watts
	open := curve.OpenCircuit()
	if iv.Lit = open > 0; !iv.Lit {
		return iv
	}
	iv.Joined.Points = trace(curve, open)
	for i, k := range curve.Kinds {
		if several {
			alone := k.Alone
			iv.Kinds = append(iv.Kinds, Trace{i, trace(&alone, alone.OpenCircuit())})
		}
	}
	bv, bi := curve.MaxPower()
	iv.Best, iv.BestW = Point{float64(bv), float64(bi)}, float64(qty.Power(bv, bi))
	v := s.Volts[row]
	offer := w.control.Offer(curve)
	into := offer.Amps(v)
	iv.IntoA, iv.IntoW, iv.Charging = float64(into), float64(qty.Power(v, into)), into > 0
	iv.Clipped = offer.Unlimited(v) > into
	if iv.Charging {
		iv.Work.V, iv.Work.A = w.works(curve, v, bv, bi)
		if iv.Clipped {
			iv.Work = held(curve, iv.Best, open, float64(offer.PanelPower(v, into)))
		}
		iv.WorkW = iv.Work.V * iv.Work.A
	}
	return iv
}

// held returns the point above the best volts at which panels give so many
// watts: where a converter at its limit goes.
func held(c power.Curve, best Point, open qty.Volt, watts float64) Point {
	lo, hi := best.V, float64(open)
	for range 50 {
		v := (lo + hi) / 2
		if v*float64(c.Current(qty.Volt(v))) > watts {
			lo = v
		} else {
			hi = v
		}
	}
	return Point{lo, float64(c.Current(qty.Volt(lo)))}
}

// trace returns a curve from short to open circuit, its points closer together
// where it bends.
func trace(c interface{ Current(qty.Volt) qty.Ampere }, open qty.Volt) []Point {
	out := make([]Point, 0, fineness+1)
	for k := range fineness + 1 {
		x := float64(k) / fineness
		v := float64(open) * (1 - math.Pow(1-x, 2))
		out = append(out, Point{v, math.Max(0, float64(c.Current(qty.Volt(v))))}) // at open circuit a hair under 0
	}
	return out
}
