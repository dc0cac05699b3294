package pairing

import (
	"duskline/calc/notice"
	"duskline/calc/outlook"
	"duskline/calc/plan"
)

// A Ladder says what each panel, or each joining of panels, would do in a
// Plan. It is plain data: encoding/json writes it and reads it back.
type Ladder struct {
	// Rungs are generic panels of rising watts, each alone and lying as the
	// plan's first panel does. Owned are the plan's own panels: each kind alone
	// and joined; first the plan as it stands. No panels: none.
	Rungs []Rung `json:"rungs"`
	Owned []Rung `json:"owned"`
	// OwnedWhole is false if there are more than four kinds: then only each
	// alone, every two of them and all together were tried.
	OwnedWhole bool `json:"owned_whole"`

	// Places in Rungs, or -1 if none will do; see [Run] for what they mean.
	Least int `json:"least"` // the least that holds
	Most  int `json:"most"`  // the most it can use
	Pack  int `json:"pack"`  // what we would pack
	// OwnedPack is the place in Owned of what we would pack of one's own.
	OwnedPack int `json:"owned_pack"`

	Refill []Refill `json:"refill"`
	Mixes  []Mix    `json:"mixes"`

	// Days is how many days the rungs were judged by, HorizonH how far the
	// runs to refill were followed, h.
	Days     int     `json:"days"`
	HorizonH float64 `json:"horizon_h"`

	// Sky is the sky of all runs if the plan's own hangs on its panels, as
	// meter readings do: to take over a rung's panels, take over this, too.
	Sky *plan.Sky `json:"sky,omitempty"`
}

// Generic is the watts of [Ladder.Rungs].
var generic = [...]float64{5, 10, 20, 30, 50, 80, 100, 120, 160, 200, 300, 400}

// A Rung is one panel or joining of panels, tried in the plan. Energies a day
// are means over the trip, per 24 h.
type Rung struct {
	W      float64     `json:"W"`      // rated, of all panels
	Panels plan.Panels `json:"panels"` // as they would stand in the plan
	Kinds  []int       `json:"kinds"`  // of Owned: places in the plan's list of panels
	AsIs   bool        `json:"as_is"`  // of Owned: the plan as it stands

	// What the trip makes of it.
	Verdict   Verdict `json:"verdict"`
	LowestPct float64 `json:"lowest_pct"`     // charge
	BackDays  int     `json:"back_days"`      // days, of Ladder.Days, on which the day's use is put back
	HarvestWh float64 `json:"harvest_Wh_day"` // at the panels' terminals
	DrawWh    float64 `json:"draw_Wh_day"`    // what left the battery bus
	ClippedWh float64 `json:"clipped_Wh_day"` // kept back by the controller's limit
	SpilledWh float64 `json:"spilled_Wh_day"` // turned away by a full or a cold battery
	PWMLossWh float64 `json:"pwm_loss_Wh_day"`
	FromEmpty Hours   `json:"from_empty"` // by this sun alone, gear off, from the trip's start
	FromNow   Hours   `json:"from_now"`   // as FromEmpty, from the trip's first charge
	FullSunH  float64 `json:"full_sun_h"` // kWh/m² on the panels until FromEmpty is over; 0 if it is not

	// What the labels say of it.
	ColdV     float64  `json:"cold_V"`     // open circuit, at the trip's coldest air in full light
	LimitV    float64  `json:"limit_V"`    // of the controller's input
	OpenV     float64  `json:"open_V"`     // open circuit, in full sun in the trip's warmest air
	LeastV    float64  `json:"least_V"`    // that it takes for anything to reach a battery that is half full
	WorkV     float64  `json:"work_V"`     // at maximum power, 25 °C, with no cable
	NeedV     float64  `json:"need_V"`     // that it takes to fill the battery
	RatingA   float64  `json:"rating_A"`   // short circuit × 1.25
	LimitA    float64  `json:"limit_A"`    // of the controller
	Strings   int      `json:"strings"`    // side by side
	BackA     float64  `json:"back_A"`     // that all other strings could drive through one that has failed
	Fuse      bool     `json:"fuse"`       // each string needs one
	FuseA     float64  `json:"fuse_A"`     // standard size of it; 0: none needed, or none that the labels allow
	SumW      float64  `json:"sum_W"`      // each panel by itself, in full sun at 25 °C
	MismatchW float64  `json:"mismatch_W"` // what joining costs of SumW
	Charges   bool     `json:"charges"`    // OpenV is enough for something to reach a battery that is half full
	Fit       Fit      `json:"fit"`        // the gravest of Reasons
	Reasons   []Reason `json:"reasons"`    // gravest first; none: nothing to say against it
}

// Hours is how long something takes, if it comes to an end within
// [Ladder.HorizonH].
type Hours struct {
	H  float64 `json:"h"`
	Ok bool    `json:"ok"`
}

// Verdict is an outlook's, written as its key.
type Verdict outlook.Verdict

// String returns the key: "holds", "tight", "runs_out".
func (v Verdict) String() string { return outlook.Verdict(v).String() }

// MarshalText writes the key.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// UnmarshalText reads the key.
//
// Errors: [ErrWord].
func (v *Verdict) UnmarshalText(text []byte) error {
	for _, o := range []outlook.Verdict{outlook.Holds, outlook.Tight, outlook.RunsOut} {
		if o.String() == string(text) {
			*v = Verdict(o)
			return nil
		}
	}
	return ErrWord
}

// Fit says whether panels and Case belong together electrically.
type Fit string

// The fits, from mild to grave.
const (
	Fits    Fit = "ok"
	Caution Fit = "caution" // works, with something to mind
	Warning Fit = "warning" // over a rating: not to be connected, the Case may be harmed
	Danger  Fit = "danger"  // do not connect: the Case is destroyed, and somebody may be hurt
)

// Bars reports whether panels are not to be connected. None of the results
// names what does.
func (f Fit) Bars() bool { return f == Danger || f == Warning }

func (f Fit) rank() int {
	switch f {
	case Danger:
		return 3
	case Warning:
		return 2
	case Caution:
		return 1
	}
	return 0
}

// Code names one reason.
type Code string

// The reasons, and the numbers they carry.
const (
	OverVolts  Code = "over_volts"  // danger: volts (V) in the cold, limit (V), air (°C)
	NearVolts  Code = "near_volts"  // caution: volts (V) in the cold within 5 % of limit (V), air (°C)
	OverAmps   Code = "over_amps"   // warning: amps (A) above the rating limit (A) of a PWM controller
	TooLow     Code = "too_low"     // caution: volts (V) open circuit in full sun in the trip's warmest air, under need (V): charges nothing
	Low        Code = "low"         // caution: volts (V) at maximum power under need (V): the last of the charge comes slowly
	NeedsFuse  Code = "needs_fuse"  // caution: strings (1), amps (A) back into one, size (A) of the fuse or 0
	Mismatch   Code = "mismatch"    // caution: lost (W) of sum (W)
	ThrownAway Code = "thrown_away" // ok: lost (Wh a day), share (%) of what the panels could give: PWM
	ClipsSun   Code = "clips"       // ok: lost (Wh a day), limit (A)
	SpillsSun  Code = "spills"      // ok: lost (Wh a day)
	RunsOut    Code = "runs_out"    // ok: lowest (%)
	TightFit   Code = "tight"       // ok: lowest (%)
	Unserved   Code = "unserved"    // ok: lowest (%): tight not by charge, but by gear that gets less than it asks for
	NotBack    Code = "not_back"    // ok: back (1), days (1): the day's use is not put back on most days
)

// Codes lists every code of a [Reason].
var Codes = []Code{
	OverVolts, NearVolts, OverAmps, TooLow, Low, NeedsFuse, Mismatch,
	ThrownAway, ClipsSun, SpillsSun, RunsOut, TightFit, Unserved, NotBack,
}

// A Reason is one thing to know of a rung.
type Reason struct {
	Code   Code           `json:"code"`
	Fit    Fit            `json:"fit"` // how grave it is; Fits: nobody is hurt
	Values []notice.Value `json:"values"`
}

// Number returns the value of that name.
func (r Reason) Number(name string) (float64, bool) {
	return notice.Notice{Values: r.Values}.Number(name)
}

// Source is what refills the battery.
type Source string

// The sources. Each but the sun is plugged in without a break.
const (
	Sun       Source = "sun"
	Wall      Source = "wall"
	Vehicle   Source = "vehicle"
	Generator Source = "generator"
	All       Source = "all"
)

// A Refill is a row of the table of refills, gear off, from the trip's start.
type Refill struct {
	Source    Source `json:"source"`
	There     bool   `json:"there"` // the plan has it
	FromEmpty Hours  `json:"from_empty"`
	FromNow   Hours  `json:"from_now"`
}

// A Mix is what becomes of unlike panels of one's own when they are joined:
// in full sun, in the trip's warmest air, at the battery, with this
// controller.
type Mix struct {
	Kinds      []int     `json:"kinds"`   // places in the plan's list of panels
	AloneW     []float64 `json:"alone_W"` // each kind by itself, into the battery
	SumW       float64   `json:"sum_W"`   // of AloneW
	BatteryV   float64   `json:"battery_V"`
	SideBySide Joint     `json:"side_by_side"`
	EndToEnd   Joint     `json:"end_to_end"`
	Advice     Advice    `json:"advice"`
}

// A Joint is one way to join the panels of a [Mix].
type Joint struct {
	W      float64 `json:"W"`       // into the battery
	PanelW float64 `json:"panel_W"` // the most the panels could give, joined so
	V      float64 `json:"V"`       // at which the panels work
	A      float64 `json:"A"`       // of the panels
	ColdV  float64 `json:"cold_V"`  // as in Rung
	Fit    Fit     `json:"fit"`
}

// Advice is what to do with unlike panels.
type Advice string

// The advice. Common practice, no source: like volts side by side, like amps
// end to end.
const (
	JoinSideBySide Advice = "side_by_side" // nearly all of both arrives so
	JoinEndToEnd   Advice = "end_to_end"
	JoinEither     Advice = "either"       // both ways bring the same
	UseBest        Advice = "best_alone"   // the best kind alone brings as much or more
	UnlikeVolts    Advice = "unlike_volts" // the panels' volts are too far apart to be joined by their plugs
	DoNotJoin      Advice = "do_not_join"  // both ways are a danger
	NothingCharges Advice = "nothing"      // nothing reaches the battery either way
)
