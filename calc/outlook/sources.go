package outlook

import (
	"math"

	"duskline/calc/load"
	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// What charges the battery beside the sun. The decision: a wall charger and a
// vehicle charger give their whole current in their hours until the battery
// holds them back. What cannot work gives nothing at all: a wall charger on
// mains that it does not take, or on a generator that is too small for it. In
// hours of both the wall feeds the charger, not the generator. A vehicle's
// fuse that is too small is told and nothing more: when it blows is not known.

// others are the sources beside the sun, with their local hours.
type others struct {
	charger   power.WallCharger
	wall      []load.Window
	generator []load.Window
	vehicle   power.VehicleCharger // Current 0: none
	engine    []load.Window

	fits bool // the mains of the place feed the wall charger
	runs bool // the generator carries it
	need qty.Watt
}

func othersOf(p plan.Plan) others {
	o := others{
		charger: p.Case.WallCharger.Model(), vehicle: p.Case.Vehicle.Model(),
		wall: windowsOf(p.Trip.WallHours), generator: windowsOf(p.Trip.GeneratorHours),
	}
	o.fits = p.Trip.WallV == 0 || o.charger.Fits(qty.Volt(p.Trip.WallV))
	o.need = o.charger.Mains(qty.Volt(p.Case.Battery.ChargeV), o.charger.Current)
	o.runs = power.Generator{Rated: qty.Watt(p.Trip.GeneratorW)}.Runs(o.need)
	if o.vehicle.Current > 0 {
		o.engine = windowsOf(p.Trip.EngineHours)
	}
	return o
}

// set puts on the bus what is on offer in a local hour.
func (o *others) set(b *bus, hour float64) {
	b.wall, b.generator = 0, false
	switch {
	case o.fits && load.In(o.wall, hour):
		b.wall = float64(o.charger.Current)
	case o.runs && load.In(o.generator, hour):
		b.wall, b.generator = float64(o.charger.Current), true
	}
	b.fixed = b.wall
	if load.In(o.engine, hour) {
		b.fixed += float64(o.vehicle.Current)
	}
}

// postFixed books so many amps of wall and vehicle charger together, the
// wall's first.
func (b *books) postFixed(r *runner, amps, v, h float64) {
	if wall := math.Min(amps, r.bus.wall); wall > 0 {
		mains := float64(r.others.charger.Mains(qty.Volt(v), qty.Ampere(wall)))
		if r.bus.generator {
			b.generator += mains * h
		} else {
			b.wall += mains * h
		}
		b.charger += (mains - wall*v) * h
		amps -= wall
	}
	if amps > 0 {
		given := float64(r.others.vehicle.Watts(qty.Volt(v), qty.Ampere(amps)))
		b.vehicle += given * h
		b.vehicleLoss += (given - amps*v) * h
	}
}

// otherSources are the flows that only some Plans have.
func (r *runner) otherSources() (list []Flow) {
	if r.others.vehicle.Current > 0 {
		list = append(list, Flow{VehicleFlow, -1, qty.WattHour(r.books.vehicle)})
	}
	if len(r.others.generator) > 0 {
		list = append(list, Flow{GeneratorFlow, -1, qty.WattHour(r.books.generator)})
	}
	return list
}
