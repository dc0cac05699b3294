package sun

// A State is a sky as a person standing under it would name it.
type State uint8

// The states of the sky. Clear is the zero value.
const (
	Clear     State = iota // blue from rim to rim
	ThinVeil               // high thin cloud all over, the sun seen through it as a disc
	HalfCloud              // about half of the sky is cloud
	Overcast               // grey all over, no rain
	Rain                   // low dark cloud that rains or snows most of the day
	Smoke                  // no cloud, but smoke that turns the sun orange
	Dust                   // no cloud, but blown dust that makes the sky pale
)

// States is how many states there are: 0 to States-1 are valid.
const States = int(Dust) + 1

// A Look is what a [State] means in numbers.
type Look struct {
	Index     Spread  // of the day's clear-sky index
	Turbidity float64 // Linke turbidity, 1 to 10; 0: the place's own. Of the two the larger counts
}

// Look returns the numbers behind a state.
func (s State) Look() Look { return looks[s] }

var looks [States]Look

// A Spread is how the clear-sky index of a day is spread over days of one
// look, 0 to 1.2.
type Spread struct {
	at [len(steps)]float64 // quantiles at steps
}

var steps = [...]float64{0, 0.1, 0.5, 0.9, 1}

// Mean returns the mean index.
func (s Spread) Mean() float64 { return s.at[2] }

// Quantile returns the index that a share u of the days stays below; u is 0 to 1.
func (s Spread) Quantile(u float64) float64 { return s.at[2] }

// Low returns the index that one day in ten stays below.
func (s Spread) Low() float64 { return s.at[1] }

// Middle returns the index that half of the days stay below.
func (s Spread) Middle() float64 { return s.at[2] }

// High returns the index that nine days in ten stay below.
func (s Spread) High() float64 { return s.at[3] }
