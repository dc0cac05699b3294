package daylight

import (
	"errors"
	"time"

	"duskline/calc/civil"
	"duskline/calc/power"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

// A Scene is what the surroundings do to the panels. It belongs to one
// simulation: At works on memory of its own.
type Scene struct{ clock *civil.Clock }

// A Step is what one step meets.
type Step struct {
	Light     float64 // W/m², mean on the panels weighted by their watts, before the glass; without panels Level
	Level     float64 // W/m², on level ground in the open
	Elevation qty.Degree
	Cloud     float64 // 0 clear, 1 overcast
	Air       qty.Celsius
	Offer     power.Offer // of the controller; holds until the next At
	Sunny     bool        // Offer holds something
}

// A Day is the light of one local day.
type Day struct {
	sun.Day
	Midnight      time.Time // the first instant of the day
	Index         float64   // what arrives on the level over what a clear sky would send
	Turbidity     float64   // Linke turbidity of the day
	OnPanels      float64   // kWh/m² of panel, mean weighted by watts, before the glass; without panels OnLevel
	Ceiling       float64   // the same under a clear sky
	OnLevel       float64   // kWh/m², level ground in the open
	LevelCeiling  float64   // the same under a clear sky
	BeamGivenAway float64   // kWh/m² on the level that a weather file calls beam, but no air lets through as such: counted as light of the sky
}

// A PathPoint is where the sun stands at an instant.
type PathPoint struct {
	At                 time.Time
	Azimuth, Elevation qty.Degree
	Hidden             bool // behind the horizon's line
}

// ChoiceKind is one way to lay a panel.
type ChoiceKind uint8

// The choices of an [Advice].
const (
	AsItLies ChoiceKind = iota
	Flat
	BestFixed
	Upright       // at 90°, facing where that is best
	LeanLess      // the best, 15° flatter
	LeanMore      // the best, 15° steeper
	FaceEarlier   // the best, turned 30° towards the morning sun
	FaceLater     // the best, turned 30° towards the evening sun
	TurnedTwice   // at the lean that is best for it
	TurnedThrice  // likewise
	TwoAxisThrice // turned and leaned three times a day
	TwoAxisHourly // turned and leaned once for each hour of daylight
)

// A Choice is a lie and what it brings.
type Choice struct {
	Kind     ChoiceKind
	Lie      Lie
	Light    float64 // kWh/m² a day through the glass, mean of the trip's days
	OverFlat float64 // share more than flat: 0.11 is 11 % more
}

// An Advice is how a panel would lie best.
type Advice struct {
	Best    Choice
	Choices []Choice
}

// ErrNoLight says that no light reaches the panel on any day of the trip.
var ErrNoLight = errors.New("daylight: no light on these days")

func New(s Spec) (*Scene, error)               { return &Scene{clock: civil.NewClock(s.Start, s.Span)}, nil }
func (c *Scene) At(after float64) Step         { return Step{} }
func (c *Scene) Clock() *civil.Clock           { return c.clock }
func (c *Scene) Days() []Day                   { return nil }
func (c *Scene) Path(day int) []PathPoint      { return nil }
func (c *Scene) BestLie(i int) (Advice, error) { return Advice{}, ErrNoLight }
