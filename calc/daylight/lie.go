package daylight

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
	TurnedTwice   // turned to the sun twice a day, at the lean that is best for it
	TurnedThrice  // likewise three times
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
