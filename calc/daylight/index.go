package daylight

import (
	"fmt"
	"math"
	"slices"
	"time"

	"duskline/calc/civil"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

const (
	brightest = 1.2   // the most of a clear-sky index, see [sun.Clouded]
	exactly   = 1e-10 // share to which a day's sum is met
)

// indexFor finds the index, 0 to most, at which a day's sum is what is wanted.
// The sum is 0 at 0. It returns the largest sum that was seen, and whether the
// wanted one is within it.
//
// More light from the sky nearly always means more on a panel, but for one that
// looks away from the sun: there less cloud may mean less. One index that
// reaches the sum is returned, and a brightest sky is looked for elsewhere only
// if the highest index fails to.
//
// Where the model of the cloud has a small step (at 1, and those of [sun.Erbs]) the
// wanted sum may lie in it: then the index is just above, and the sum up to
// 0.1 % off.
func indexFor(sum func(index float64) float64, most, want float64) (index, largest float64, ok bool) {
	if want == 0 {
		return 0, 0, true
	}
	lo, hi := 0.0, most
	flo, fhi := -want, sum(most)-want
	if fhi < 0 {
		const parts = 24
		at := most
		for k := 1; k < parts; k++ {
			if f := sum(most*float64(k)/parts) - want; f > fhi {
				at, fhi = most*float64(k)/parts, f
			}
		}
		hi = at
	}
	largest = fhi + want
	if fhi < 0 {
		return 0, largest, false
	}
	// Clouded makes a small step at 1, which a clear day's own sum hits.
	if most > 1 {
		if f := sum(1) - want; math.Abs(f) <= exactly*want {
			return 1, largest, true
		}
	}
	side := 0
	for n := 0; n < 60 && fhi > exactly*want && hi-lo > 1e-7; n++ {
		index = lo + (hi-lo)*flo/(flo-fhi)
		if n%4 == 3 || !(index > lo && index < hi) {
			index = (lo + hi) / 2
		}
		f := sum(index) - want
		if math.Abs(f) <= exactly*want {
			return index, largest, true
		}
		if f < 0 {
			if lo, flo = index, f; side < 0 {
				fhi /= 2
			}
			side = -1
		} else {
			if hi, fhi = index, f; side > 0 {
				flo /= 2
			}
			side = 1
		}
	}
	return hi, largest, true
}

// setPeakSunOnPanels finds the index of each day from what the panels would
// get, as they lie, with nothing on the horizon and no shade: forecasts and
// tables know no trees. Before the glass, and as the panels are aimed.
//
// More than the panels would get of the brightest day is an error: one on which
// the level gets what arrives above the air.
func (c *Scene) setPeakSunOnPanels() error {
	s := c.spec
	s.Light = Light{Kind: ByIndex, Indexes: []float64{1}}
	s.Horizon = sun.Horizon{}
	s.Panels = slices.Clone(s.Panels)
	for i := range s.Panels {
		s.Panels[i].Shade = nil
	}
	o, err := build(s)
	if err != nil {
		return err
	}
	var list []sample
	for k := range c.days {
		d := &o.days[k]
		clear := 0.0
		list = o.sampled(list[:0], d, grid, func(_ float64, to sun.Direction) sun.Light {
			l := d.air.ClearSky(to, d.extra)
			clear += float64(l.GHI)
			return l
		})
		most := 0.0
		if clear > 0 {
			most = max(1, sun.DailyExtraterrestrial(s.Place.Latitude, d.doy)/(clear*grid.Hours()))
		}
		index, largest, ok := indexFor(func(index float64) (sum float64) {
			for i := range list {
				sum += o.onPanels(d, &list[i], sun.Clouded(list[i].light, index, list[i].d, d.extra))
			}
			return sum * grid.Hours() / 1000
		}, most, ofDay(c.spec.Light.PeakSun, k))
		if !ok {
			return &qty.RangeError{What: fmt.Sprintf("peak sun hours of day %d", k), Got: ofDay(c.spec.Light.PeakSun, k), Max: largest, Unit: "kWh/m²"}
		}
		c.days[k].index = index
	}
	return nil
}

// MeterVolts are those at which meters are read: of a battery that is being
// charged and takes all that comes. Practice, no source.
const MeterVolts qty.Volt = 13.6

// meterGrid is the time between the samples of a day's harvest.
const meterGrid = 10 * time.Minute

// setMeter finds the index of each of the three days before the trip at which
// the panels, as they lie and are shaded, and the controller would have brought
// what the meter read; the trip gets their mean. A day without light says
// nothing; if none of the three says anything, 1 is taken.
//
// A battery that was full turned light away, and the index comes out too low:
// nothing here can know that.
func (c *Scene) setMeter() error {
	b, err := before(c.spec)
	if err != nil {
		return err
	}
	sum, days := 0.0, 0.0
	for k, read := range c.spec.Light.Meter {
		if k == len(b.days) {
			break // a place that crossed the date line left a date out
		}
		index, largest, ok := indexFor(func(index float64) float64 { return b.harvest(k, index) }, brightest, read)
		if !ok {
			return &qty.RangeError{What: fmt.Sprintf("meter of day %d", k), Got: read, Max: largest, Unit: c.spec.Light.meterUnit()}
		}
		if largest > 0 || b.harvest(k, 1) > 0 {
			sum += index
			days++
		}
	}
	index := 1.0
	if days > 0 {
		index = sum / days
	}
	for k := range c.days {
		c.days[k].index = index
	}
	return nil
}

// before returns the days from the third one before a trip to its eve.
func before(s Spec) (*Scene, error) {
	y, m, d := s.Start.Date()
	// By way of a noon: not every date has a midnight.
	begin := civil.NewClock(time.Date(y, m, d-2, 12, 0, 0, 0, s.Start.Location()), 48*time.Hour).Midnight(-1)
	s.Span = civil.NewClock(s.Start, s.Span).Midnight(0).Sub(begin)
	s.Start = begin
	s.Light = Light{Kind: ByIndex, Indexes: []float64{1}, MeterAh: s.Light.MeterAh}
	return build(s)
}

// Readings returns what a meter would have shown on each of the three days
// before the trip under a sky of one clear-sky index, 0 to 1.2, at
// [MeterVolts], in Wh, or in Ah if Light.MeterAh says so: what [ByMeter] takes
// for that sky. Nothing else of Light is read.
//
// Errors: those of [New].
func Readings(s Spec, index float64) ([]float64, error) {
	s.Light = Light{Kind: ByIndex, Indexes: []float64{index}, MeterAh: s.Light.MeterAh}
	if err := s.check(); err != nil {
		return nil, err
	}
	b, err := before(s)
	if err != nil {
		return nil, err
	}
	list := make([]float64, 3)
	for k := range min(len(list), len(b.days)) {
		list[k] = b.harvest(k, index)
	}
	return list, nil
}

// harvest returns what the controller would bring to the battery on a day at an
// index, in the meter's unit.
func (c *Scene) harvest(k int, index float64) (sum float64) {
	d := &c.days[k]
	d.index = index
	w := meterGrid.Seconds()
	for at := d.from + w/2; at < d.to; at += w {
		if s := c.At(at); s.Sunny {
			sum += float64(s.Offer.Amps(MeterVolts))
		}
	}
	sum *= meterGrid.Hours()
	if !c.spec.Light.MeterAh {
		sum *= float64(MeterVolts)
	}
	return sum
}
