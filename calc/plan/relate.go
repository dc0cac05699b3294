package plan

import (
	"math"
	"strconv"
	"strings"
)

// relate notes what does not go together although each value is in its limits.
// The limit that comes from another field is in the fault, with a pointer to
// that field.
func relate(p *Plan, s *sheet) {
	relateBattery(&p.Case.Battery, s)
	relateCase(&p.Case, s)
	relateHours("/case/inverter_hours", p.Case.InverterHours, s)
	for i := range p.Gear {
		relateDevice("/gear/"+strconv.Itoa(i), &p.Gear[i], s)
	}
	relateSky(&p.Sky, s)
	relateHorizon(p, s)
	relateWeather(p, s)
	for i := range p.Panels.List {
		at := "/panels/list/" + strconv.Itoa(i)
		relatePanel(at, &p.Panels.List[i], s)
		relateHours(at+"/shade_hours", p.Panels.List[i].ShadeHours, s)
	}
	relateTrip(&p.Trip, s)
	relateClock(&p.Trip, s)
	relateHours("/trip/wall_hours", p.Trip.WallHours, s)
	relateHours("/trip/engine_hours", p.Trip.EngineHours, s)
	relateHours("/trip/generator_hours", p.Trip.GeneratorHours, s)
	relateModels(p, s)
}

// note adds a fault about a value that is there. Entries of a list of numbers
// need no place of their own: they stand behind the list's, one by one.
func (s *sheet) note(f Fault) {
	place, there := s.pos[f.Pointer]
	if !there {
		cut := strings.LastIndexByte(f.Pointer, '/')
		i, _ := strconv.Atoi(f.Pointer[cut+1:])
		place = s.pos[f.Pointer[:cut]] + 1 + i
	}
	s.add(place, f)
}

// above notes x unless it is above the value y at other.
func (s *sheet) above(pointer string, x float64, other string, y float64, unit string) {
	if s.sound(pointer, other) && !(x > y) {
		s.note(Fault{Pointer: pointer, Kind: NotAbove, Found: jsonNumber(x), Min: y, Unit: unit, Other: other})
	}
}

// below notes x unless it is below the value y at other.
func (s *sheet) below(pointer string, x float64, other string, y float64, unit string) {
	if s.sound(pointer, other) && !(x < y) {
		s.note(Fault{Pointer: pointer, Kind: NotBelow, Found: jsonNumber(x), Max: y, Unit: unit, Other: other})
	}
}

// between notes x unless it lies in a range of which the value at other sets
// one end or both.
func (s *sheet) between(pointer string, x, min, max float64, other, unit string) {
	if s.sound(pointer, other) && !(x >= min && x <= max) {
		s.note(Fault{Pointer: pointer, Kind: OutOfRange, Found: jsonNumber(x), Min: min, Max: max, Unit: unit, Other: other})
	}
}

func relateCase(c *Case, s *sheet) {
	const controller, wall = "/case/controller/", "/case/wall_charger/"
	s.below(controller+"start_V", c.Controller.StartV, controller+"input_max_V", c.Controller.InputMaxV, "V")
	s.below(wall+"input_min_V", c.WallCharger.InputMinV, wall+"input_max_V", c.WallCharger.InputMaxV, "V")
	relateInverter(&c.Inverter, s)
}

// leastWake is how many watts wake an inverter that sleeps, at least: one that
// nothing had to wake would not have gone to sleep.
const leastWake = 0.1

func relateInverter(i *Inverter, s *sheet) {
	const at = "/case/inverter/"
	l, _ := LimitOf(at + "surge_W")
	s.between(at+"surge_W", i.SurgeW, i.RatedW, l.Max, at+"rated_W", "W")
	if s.sound(at + "sleep_A") {
		s.between(at+"sleep_A", *i.SleepA, 0, i.StandbyA, at+"standby_A", "A")
		l, _ := LimitOf(at + "wake_W")
		switch {
		case i.WakeW < leastWake || i.RatedW == 0:
			s.between(at+"wake_W", i.WakeW, leastWake, l.Max, at+"sleep_A", "W")
		default:
			s.between(at+"wake_W", i.WakeW, leastWake, i.RatedW, at+"rated_W", "W")
		}
	}
	if cut, back := at+"low_cutoff_V", at+"low_reconnect_V"; i.LowCutoffV != 0 {
		s.above(back, i.LowReconnectV, cut, i.LowCutoffV, "V")
	} else {
		s.between(back, i.LowReconnectV, 0, 0, cut, "V")
	}
}

// shortestWindow is the least length of a window, h: a minute, rounded down so
// that a minute written with three decimals passes. A refill in a shorter one
// would ask for any watts.
const shortestWindow = 0.016

func relateHours(at string, hours []Window, s *sheet) {
	for i, w := range hours {
		at := at + "/" + strconv.Itoa(i)
		if !s.sound(at+"/from_h", at+"/to_h") {
			continue
		}
		// 24 to 0 is the same instant of the day, too.
		length := w.ToH - w.FromH
		if length < 0 {
			length += 24
		}
		if length < shortestWindow {
			s.note(Fault{Pointer: at, Kind: NoHours, Found: `{"from_h":` + jsonNumber(w.FromH) + `,"to_h":` + jsonNumber(w.ToH) + `}`})
		}
	}
}

func relateDevice(at string, d *Device, s *sheet) {
	if !s.has(at) || s.bad[at] {
		return
	}
	given := 0
	ways := []string{"power_W", "current_A", "refill_Wh"}
	for _, w := range ways {
		if s.has(at + "/" + w) {
			given++
		}
	}
	refill := s.has(at + "/refill_Wh")
	switch {
	case given != 1:
		s.note(Fault{Pointer: at, Kind: NotOne, Found: strconv.Itoa(given), Allowed: ways})
	case !refill && s.sound(at+"/refills_per_day") && d.RefillsPerDay != 0:
		s.note(Fault{Pointer: at + "/refills_per_day", Kind: OnlyWith, Found: jsonNumber(d.RefillsPerDay), Allowed: []string{"0"}, Other: at + "/refill_Wh"})
	case refill:
		s.between(at+"/duty_pct", d.DutyPct, 100, 100, at+"/refill_Wh", "%")
	}
	s.pair(at+"/duty_at_C", at+"/inside_C")
	s.pair(at+"/inside_C", at+"/duty_at_C")
	if s.sound(at+"/inside_C", at+"/duty_at_C") {
		s.below(at+"/inside_C", *d.InsideC, at+"/duty_at_C", *d.DutyAtC, "°C")
	}
	relateHours(at+"/hours", d.Hours, s)
}

// pair notes a value that is there without its partner.
func (s *sheet) pair(pointer, partner string) {
	if s.sound(pointer) && !s.has(partner) {
		s.note(Fault{Pointer: pointer, Kind: OnlyWith, Other: partner})
	}
}

func relateSky(k *Sky, s *sheet) {
	s.between("/sky/coldest_C", k.ColdestC, -50, k.WarmestC, "/sky/warmest_C", "°C")
	const meter = "/sky/last_three_days"
	if n := len(k.LastThreeDays); s.sound(meter) && n != 0 && n != threeDays {
		s.note(Fault{Pointer: meter, Kind: BadCount, Found: strconv.Itoa(n), Min: threeDays, Max: threeDays, Unit: entries, Allowed: []string{"0"}})
	}
	if !s.sound("/sky/light") {
		return
	}
	pointer, n, least, most := "/sky/"+string(k.Light), 1, 1.0, float64(MaxDays)
	switch k.Light {
	case ByClearSky:
		n = len(k.ClearSkyIndex)
	case ByPeakSun:
		n = len(k.PeakSunHours)
	case BySkyStates:
		n = len(k.SkyStates)
	case ByLastThreeDays:
		n, least, most = len(k.LastThreeDays), threeDays, threeDays
	}
	switch {
	case !s.has(pointer):
		s.add(s.pos["/sky"], Fault{Pointer: pointer, Kind: Missing, Other: "/sky/light"})
	case s.sound(pointer) && n == 0:
		s.note(Fault{Pointer: pointer, Kind: BadCount, Found: "0", Min: least, Max: most, Unit: entries, Other: "/sky/light"})
	}
}

// nearRated is how far a panel's rated watts may lie from Imp × Vmp of its
// datasheet: labels round both (common practice, no source).
const nearRated = 0.05

func relatePanel(at string, p *Panel, s *sheet) {
	sheet := at + "/datasheet"
	if p.Datasheet == nil || !s.sound(sheet) {
		return
	}
	d := p.Datasheet
	s.below(sheet+"/imp_A", d.ImpA, sheet+"/isc_A", d.IscA, "A")
	s.below(sheet+"/vmp_V", d.VmpV, sheet+"/voc_V", d.VocV, "V")
	if s.sound(sheet+"/imp_A", sheet+"/vmp_V") {
		watts := d.ImpA * d.VmpV
		s.between(at+"/rated_W", p.RatedW, watts*(1-nearRated), watts*(1+nearRated), sheet, "W")
	}
}

func relateTrip(t *Trip, s *sheet) {
	if s.sound("/trip/length_h", "/trip/step_min") {
		steps := t.LengthH * 60 / float64(t.StepMin)
		// A length such as 6.1 h is no whole number of minutes in binary; a
		// millionth of a step is.
		if math.Abs(steps-math.Round(steps)) > 1e-6 {
			s.note(Fault{Pointer: "/trip/length_h", Kind: NotDivided, Found: jsonNumber(t.LengthH), Max: float64(t.StepMin), Unit: "min", Other: "/trip/step_min"})
		}
	}
}

// relateClock holds the clock changes against each other and the trip.
func relateClock(t *Trip, s *sheet) {
	const at = "/trip/clock_changes"
	if len(t.ClockChanges) == 0 || !s.sound(at, "/trip/start") {
		return
	}
	if s.sound("/trip/zone") && t.Zone == "" {
		s.note(Fault{Pointer: at, Kind: OnlyWith, Found: strconv.Itoa(len(t.ClockChanges)), Other: "/trip/zone"})
		return
	}
	force := -1
	for i, c := range t.ClockChanges {
		this := at + "/" + strconv.Itoa(i) + "/at"
		if !s.sound(this) {
			return
		}
		found := jsonText(c.At.Format(startForm))
		switch last := at + "/" + strconv.Itoa(i-1) + "/at"; {
		case i > 0 && s.sound(last) && !c.At.After(t.ClockChanges[i-1].At):
			s.note(Fault{Pointer: this, Kind: NotLater, Found: found, Other: last})
		case c.At.Sub(t.Start).Abs() > nearStart:
			s.note(Fault{Pointer: this, Kind: NotNear, Found: found, Max: nearStart.Hours() / 24, Unit: "days", Other: "/trip/start"})
		case !c.At.After(t.Start):
			force = i
		}
	}
	if force < 0 {
		return
	}
	change := at + "/" + strconv.Itoa(force)
	_, offset := t.Start.Zone()
	if minutes := t.ClockChanges[force].OffsetMin; s.soundUnder(change) && minutes*60 != offset {
		s.note(Fault{Pointer: "/trip/start", Kind: WrongOffset, Found: jsonText(t.Start.Format(startForm)), Max: float64(minutes), Unit: "min", Other: change + "/offset_min"})
	}
}
