package daylight

import (
	"fmt"
	"math"
	"time"

	"duskline/calc/qty"
	"duskline/calc/sun"
)

// A Weather is hourly means: entry i is that of the hour which begins i hours
// after Start.
//
// Inside an hour the light has the shape of the clear sky, and its sum is kept
// exactly over steps that divide the hour. These rules hold, in this order:
//
//   - The clear sky's shape is scaled to twice its height at most, practice, no
//     source. What an hour has beyond that, all of it where the sun is down,
//     is spread evenly over the hour as light of the sky: of files whose clock
//     or place is a little off, nothing is lost and nothing becomes a flash.
//   - The hour's beam is GHI less DHI, none if DHI is the larger, and has the
//     same shape. GHI counts, so that a beam that is none goes to the sky.
//   - No beam, square to it, is stronger than one through air without water
//     and dust, a Linke turbidity of 1. What is above goes to the sky, too;
//     [Day] says how much of it there was.
//   - Outside of the file's hours, which cover the trip but perhaps not all of
//     its first and last date, the sky is that of the date's hours in the file.
//
// Air and wind go in straight lines from the middle of one hour to the next.
type Weather struct {
	Start    time.Time
	GHI, DHI []float64 // W/m², equally many, from 0 to what the sun sends
	Air      []float64 // °C, -90 to 70; nil: not known, Warmest and Coldest count
	Wind     []float64 // m/s, 0 to 60; nil: not known, Wind of the Spec counts
}

// check looks at every figure by itself.
func (w *Weather) check() error {
	n := len(w.GHI)
	if err := qty.InRange("hours of weather", float64(n), 1, longest*24, "h"); err != nil {
		return err
	}
	for _, l := range []struct {
		what      string
		list      []float64
		least     int
		low, high float64
		unit      string
	}{
		// At its nearest the sun sends 1414 W/m².
		{"GHI", w.GHI, n, 0, 1415, "W/m²"},
		{"DHI", w.DHI, n, 0, 1415, "W/m²"},
		{"air", w.Air, 0, -90, 70, "°C"},
		{"wind", w.Wind, 0, 0, 60, "m/s"},
	} {
		if len(l.list) != 0 || l.least > 0 {
			if err := qty.InRange("hours of weather's "+l.what, float64(len(l.list)), float64(n), float64(n), "h"); err != nil {
				return err
			}
		}
		for i, v := range l.list {
			if !(v >= l.low && v <= l.high) { // thousands of them: the name is put together when it is needed
				return &qty.RangeError{What: fmt.Sprintf("weather's %s of hour %d", l.what, i), Got: v, Min: l.low, Max: l.high, Unit: l.unit}
			}
		}
	}
	return nil
}

// hours is a weather file prepared for steps.
type hours struct {
	from      float64 // s after the trip's start
	hour      []hour
	air, wind []float64
	cleanest  sun.Atmosphere // for the strongest beam
}

// hour is one hour of the file, in terms of the clear sky's.
type hour struct {
	scale float64 // of the clear sky's GHI
	rest  float64 // W/m², spread evenly as light of the sky
	beam  float64 // share of the scaled GHI
	cloud float64
}

const mostScale = 2

func (c *Scene) setHours() error {
	w := c.spec.Light.Weather
	h := &hours{from: w.Start.Sub(c.spec.Start).Seconds(), air: w.Air, wind: w.Wind}
	if err := qty.InRange("start of the weather", h.from/3600, -math.MaxFloat64, 0, "h after the trip's start"); err != nil {
		return err
	}
	end := h.from/3600 + float64(len(w.GHI))
	if err := qty.InRange("end of the weather", end, c.spec.Span.Hours(), math.MaxFloat64, "h after the trip's start"); err != nil {
		return err
	}
	var err error
	if h.cleanest, err = sun.NewAtmosphere(c.spec.Place, 1); err != nil {
		return err
	}
	if err := c.checkDaysOf(w, h.from); err != nil {
		return err
	}
	step := c.spec.Step.Seconds()
	got, sent := make([]float64, len(c.days)), make([]float64, len(c.days))
	h.hour = make([]hour, len(w.GHI))
	for i := range h.hour {
		from := h.from + 3600*float64(i)
		if from+3600 <= c.days[0].from || from >= c.days[len(c.days)-1].to {
			continue // nobody asks
		}
		clear, n := 0.0, 0.0
		// The middles of the steps that will be asked for, whatever their phase.
		for at := (math.Ceil(from/step-0.5) + 0.5) * step; at < from+3600; at += step {
			if to := c.toward(at); to.Elevation > 0 {
				clear += float64(c.air.ClearSky(to, c.dayAt(at).extra).GHI)
			}
			n++
		}
		clear /= n
		ghi := w.GHI[i]
		x := &h.hour[i]
		if clear > 0 {
			x.scale = min(ghi/clear, mostScale)
			x.cloud = max(0, 1-ghi/clear)
		}
		if x.scale == 0 || x.scale == mostScale {
			x.rest = ghi - x.scale*clear
		}
		if main := x.scale * clear; main > 0 {
			x.beam = min(max(ghi-w.DHI[i], 0)/main, 1)
		}
		d := c.dayAt(from + 1800)
		got[d.number] += ghi
		sent[d.number] += clear
	}
	for k := range c.days {
		if sent[k] > 0 {
			c.days[k].index = min(got[k]/sent[k], mostScale)
		}
	}
	c.hours = h
	return nil
}

// faint is the irradiation outside the air, kWh/m² a day, under which the
// quick bound of a day is too rough to judge by.
const faint = 0.2

// checkDaysOf refuses a day that has more light than arrives above the air. An
// hour by itself is not judged so: a file's clock may be off by one.
func (c *Scene) checkDaysOf(w *Weather, from float64) error {
	sum := make([]float64, len(c.days))
	for i, ghi := range w.GHI {
		if at := from + 3600*float64(i) + 1800; at > c.days[0].from && at < c.days[len(c.days)-1].to {
			sum[c.dayAt(at).number] += ghi / 1000
		}
	}
	for k := range c.days {
		most := sun.DailyExtraterrestrial(c.spec.Place.Latitude, c.days[k].doy) / 1000
		if err := qty.InRange(fmt.Sprintf("weather's GHI of day %d", k), sum[k], 0, max(most, faint), "kWh/m²"); err != nil {
			return err
		}
	}
	return nil
}

// at returns the file's hour of an instant, nil outside of the file.
func (h *hours) at(after float64) *hour {
	i := math.Floor((after - h.from) / 3600)
	if i < 0 || i >= float64(len(h.hour)) {
		return nil
	}
	return &h.hour[int(i)]
}

// light returns the light of an instant, and how much of a beam on the level
// was given to the sky.
func (h *hours) light(c *Scene, after float64, to sun.Direction, d *day) (l sun.Light, softened float64) {
	x := h.at(after)
	if x == nil {
		if to.Elevation <= 0 {
			return sun.Light{}, 0
		}
		return sun.Clouded(c.air.ClearSky(to, d.extra), d.index, to, d.extra), 0
	}
	if to.Elevation <= 0 {
		return sun.Light{GHI: qty.Irradiance(x.rest), DHI: qty.Irradiance(x.rest)}, 0
	}
	clear := x.scale * float64(c.air.ClearSky(to, d.extra).GHI)
	beam := x.beam * clear
	if most := float64(h.cleanest.ClearSky(to, d.extra).DNI) * to.Up; beam > most {
		beam, softened = most, beam-most
	}
	ghi := clear + x.rest
	return sun.Light{GHI: qty.Irradiance(ghi), DNI: qty.Irradiance(beam / to.Up), DHI: qty.Irradiance(ghi - beam)}, softened
}

// cloud returns how far an instant is from a clear sky, or what is given for
// the day.
func (h *hours) cloud(after, day float64) float64 {
	if x := h.at(after); x != nil && x.scale > 0 {
		return x.cloud
	}
	return day
}

// between reads a list of hourly means at an instant.
func (h *hours) between(list []float64, after float64) float64 {
	x := (after-h.from)/3600 - 0.5
	i := math.Floor(x)
	switch last := len(list) - 1; {
	case i < 0:
		return list[0]
	case i >= float64(last):
		return list[last]
	}
	k := int(i)
	return list[k] + (x-i)*(list[k+1]-list[k])
}

func (h *hours) airAt(c *Scene, after, local float64) qty.Celsius {
	if len(h.air) == 0 {
		return c.airAt(local)
	}
	return qty.Celsius(h.between(h.air, after))
}

func (h *hours) windAt(c *Scene, after float64) qty.MetrePerSecond {
	if len(h.wind) == 0 {
		return c.spec.Wind
	}
	return qty.MetrePerSecond(h.between(h.wind, after))
}
