package room

import (
	"time"

	"duskline/app/zone"
	"duskline/calc/plan"
)

// How far around a trip the clock's changes are looked for: more than a plan
// keeps of them, whatever the offset.
const (
	zoneBefore = -4 * 24 * time.Hour
	zoneAfter  = 34 * 24 * time.Hour
)

// SetZone puts a plan's trip into the civil time of a zone, as this device
// knows it, and keeps what the clock of the start shows.
//
// Errors: zone.ErrUnknown.
func SetZone(p *plan.Plan, name string) error {
	first, changes, err := zone.Lookup(name, p.Trip.Start.Add(zoneBefore), p.Trip.Start.Add(zoneAfter))
	if err == nil {
		p.SetZone(name, first, changes)
	}
	return err
}
