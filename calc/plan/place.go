package plan

import "time"

// nowhereDeg is the latitude of a place that nobody has set, degrees north.
const nowhereDeg = 45

// meridian is the longitude at which the sun fits the start's offset from
// UTC, degrees east: 15 for each hour.
func meridian(start time.Time) float64 {
	_, offset := start.Zone()
	return max(-180, min(180, float64(offset)/240))
}

// Placeless says that the plan still lies where [Blank] puts it: nobody has
// set its place. A name and an altitude set none.
func (p Plan) Placeless() bool {
	return p.Sky.LatitudeDeg == nowhereDeg && p.Sky.LongitudeDeg == meridian(p.Trip.Start)
}
