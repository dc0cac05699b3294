package plan

import (
	"errors"
	"strconv"
	"strings"
	"time"

	"duskline/calc/battery"
	"duskline/calc/load"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

// relateModels asks the models whether they can work with the figures, so
// that what Read lets through does not fail when it is run. A model is asked
// only about values that are sound by themselves and together.
func relateModels(p *Plan, s *sheet) {
	var cells *battery.Battery
	if s.soundUnder("/case/battery") {
		cells = modelBattery(p.Case.Battery, s)
	}
	if s.soundUnder("/case/controller") {
		modelController(p.Case.Controller, s)
	}
	if s.soundUnder("/case/inverter") && p.Case.Inverter.RatedW > 0 {
		modelInverter(p.Case.Inverter, s)
		if cells != nil {
			s.rests("/case/inverter/low_cutoff_V", p.Case.Inverter.LowCutoffV, float64(cells.Rest(nearFull)))
		}
	}
	for i := range p.Gear {
		at := "/gear/" + strconv.Itoa(i)
		if s.soundUnder(at) && s.sound("/case/inverter/output_V") {
			if _, err := p.Gear[i].Model(p.Case.Inverter.OutputV); err != nil {
				s.refused(at, "", err)
			}
		}
	}
	for i := range p.Panels.List {
		at := "/panels/list/" + strconv.Itoa(i)
		if s.soundUnder(at) {
			modelPanel(at, p.Panels.List[i], s)
		}
	}
	onPanels := p.Sky.PeakSunOn == OnPanels
	switch {
	case !s.soundUnder("/sky") || !s.soundUnder("/trip"):
	case p.Sky.Light == ByPeakSun && !onPanels:
		modelPeakSun(p, s)
	case p.Sky.Light == ByPeakSun || p.Sky.Light == ByLastThreeDays || p.Sky.Light == ByWeatherFile:
		if s.soundUnder("/panels") && s.soundUnder("/case/controller") {
			modelDaylight(p, s)
		}
	}
}

// soundUnder reports whether the object is there and neither it nor anything
// in it has a fault.
func (s *sheet) soundUnder(pointer string) bool {
	for bad := range s.bad {
		if bad == pointer || strings.HasPrefix(bad, pointer+"/") {
			return false
		}
	}
	return s.has(pointer)
}

// refused notes what a model says against the value at pointer.
func (s *sheet) refused(pointer, found string, err error) {
	f := Fault{Pointer: pointer, Kind: ModelRefuses, Found: found}
	if e := (*qty.RangeError)(nil); errors.As(err, &e) {
		f.Min, f.Max, f.Unit = e.Min, e.Max, e.Unit
	}
	s.note(f)
}

// Model returns the device as the simulation asks it; mains is output_V of
// the Case's inverter.
//
// Errors: those of [load.New], none for a checked Plan.
func (d Device) Model(mains float64) (load.Device, error) {
	spec := load.Spec{
		Count: d.Count,
		Route: load.DC,
		Duty:  qty.Fraction(d.DutyPct / 100),
		Surge: qty.Watt(d.SurgeW),
		Mains: qty.Volt(mains),
	}
	switch d.Route {
	case RouteUSB:
		spec.Route = load.USB
	case RouteAC:
		spec.Route = load.AC
	}
	switch {
	case d.PowerW != nil:
		spec.Draw = load.Watts(qty.Watt(*d.PowerW))
	case d.CurrentA != nil:
		spec.Draw = load.Amps(qty.Ampere(*d.CurrentA))
	case d.RefillWh != nil:
		spec.Draw = load.Refill(qty.WattHour(*d.RefillWh), d.RefillsPerDay, qty.Fraction(d.RefillEfficiencyPct/100))
	}
	if d.DutyAtC != nil && d.InsideC != nil {
		spec.Cooler = &load.Cooler{At: qty.Celsius(*d.DutyAtC), Inside: qty.Celsius(*d.InsideC)}
	}
	for _, w := range d.Hours {
		spec.Hours = append(spec.Hours, load.Window{From: w.FromH, To: w.ToH})
	}
	return load.New(spec)
}

// Sun returns where the Sky is.
func (k Sky) Sun() sun.Place {
	return sun.Place{Latitude: qty.Degree(k.LatitudeDeg), Longitude: qty.Degree(k.LongitudeDeg), Altitude: qty.Metre(k.AltitudeM)}
}

// dimDay is the irradiation outside the air, kWh/m², under which a day is
// near enough to the polar night for the quick bound to be wrong about
// whether the sun rises: its declination is good to half a degree, and the
// sun of such a day stands under three.
const dimDay = 0.2

// modelPeakSun compares every figure with what its days can give. The last
// figure holds for all later days of the trip, so that the darkest of them
// decides.
func modelPeakSun(p *Plan, s *sheet) {
	place := p.Sky.Sun()
	air, err := sun.NewAtmosphere(place, p.Sky.Turbidity)
	if err != nil {
		s.refused("/sky", "", err)
		return
	}
	y, m, d := p.Trip.Start.Date()
	end := p.Trip.Start.Add(time.Duration(p.Trip.LengthH * float64(time.Hour)))
	list := p.Sky.PeakSunHours
	for k := 0; ; k++ {
		midnight := time.Date(y, m, d+k, 0, 0, 0, 0, p.Trip.Start.Location())
		if k >= len(list) && !midnight.Before(end) {
			return
		}
		i := min(k, len(list)-1)
		at := "/sky/peak_sun_hours/" + strconv.Itoa(i)
		space := sun.DailyExtraterrestrial(place.Latitude, sun.DayOfYear(midnight)) / 1000
		if list[i] <= space && space >= dimDay || list[i] == 0 || s.bad[at] {
			continue
		}
		// The exact bound costs a day of sun positions.
		_, err := sun.IndexForPeakSunHours(place, air, midnight, list[i])
		if err == nil {
			continue
		}
		f := Fault{Pointer: at, Kind: ModelRefuses, Found: jsonNumber(list[i])}
		if e := (*qty.RangeError)(nil); errors.As(err, &e) && e.What == "hours" {
			f.Kind, f.Min, f.Max, f.Unit = NotPhysical, e.Min, e.Max, e.Unit
		}
		s.note(f)
	}
}
