package words

import (
	"math"
	"time"

	"duskline/calc/battery"
	"duskline/calc/notice"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// Advice is a Notice in words.
type Advice struct {
	Signal string // "CAUTION"
	Short  string // general advice in a few words, "" for what is particular to a plan
	What   string // what is the matter, with its numbers
	Do     string // what to do about it
}

// String is the whole of it on one line.
func (a Advice) String() string { return a.Signal + ": " + a.What + " " + a.Do }

// noticeNumbers lists the numbers of each code in the order in which its text
// takes them. It is the same order as in calc/notice/codes.go; a test compares
// the two and refuses a text that leaves a number out.
var noticeNumbers = map[notice.Code][]string{
	notice.AlarmInTrip:    {"at", "charge", "volts"},
	notice.CutOffInTrip:   {"at", "charge", "volts"},
	notice.SagCutOff:      {"charge", "amps"},
	notice.InverterTrips:  {"device", "asked", "limit", "at"},
	notice.NoPower:        {"device"},
	notice.InsideReserve:  {"charge", "reserve", "at"},
	notice.ColdCharge:     {"core", "at", "limit"},
	notice.ColdNear:       {"core", "at", "limit"},
	notice.PolarNight:     {"days"},
	notice.PolarDay:       {"days"},
	notice.NoPanels:       {},
	notice.NoGear:         {},
	notice.StartsEmpty:    {"charge"},
	notice.SunClipped:     {"lost", "limit"},
	notice.PanelOverPWM:   {"amps", "limit"},
	notice.PanelOverVolts: {"volts", "limit"},
	notice.PanelTooLow:    {"volts", "need"},
	notice.FullEarly:      {"spilled"},
	notice.IdleInverter:   {"a day", "share"},
	notice.DeepDischarge:  {"charge", "advised"},
	notice.LifeSupport:    {"device"},
	notice.MainsVolts:     {"volts"},
	notice.HighCurrent:    {"amps"},

	notice.EarlyAlarm:     {"at", "charge", "amps"},
	notice.StartAlarm:     {"device", "at", "charge"},
	notice.LateAlarm:      {"at", "charge", "left"},
	notice.RechargeWithin: {"charge", "within"},
	notice.StopAt:         {"charge", "advised"},
	notice.NightReserve:   {"night", "charge", "at"},
	notice.BatteryFreezes: {"core", "freezes", "charge", "at"},
	notice.BatteryHot:     {"core", "at"},
	notice.Gassing:        {"gas"},
	notice.Worn:           {"health", "holds"},

	notice.GuardTrips:        {"reason", "at", "charge"},
	notice.GuardBeforeCutOff: {"guard", "cut_off"},
	notice.GuardBeforeCharge: {"guard", "charge"},

	notice.SocketFuse:     {"amps", "fuse"},
	notice.WallTooHigh:    {"volts", "limit"},
	notice.WallTooLow:     {"volts", "need"},
	notice.GeneratorSmall: {"need", "gives"},
	notice.EngineExhaust:  {},

	notice.InverterLow:    {"at", "charge", "volts"},
	notice.InverterAsleep: {"device", "asked", "wake"},
	notice.InverterVA:     {"device", "asked", "limit", "at"},
	notice.SurgeTooLong:   {"device", "asked", "limit", "at"},

	notice.WaveMotor:   {"device", "extra"},
	notice.WaveHum:     {"device", "extra"},
	notice.WaveClock:   {"device"},
	notice.WaveCharger: {"device"},
	notice.WaveMedical: {"device"},
	notice.WaveAudio:   {"device"},
	notice.MedicalGear: {"device"},
}

// Notice words a Notice of the plan. start is the trip's first instant; its
// zone is the zone of every time in the words. A number that the Notice does
// not carry shows as a dash.
func Notice(n notice.Notice, p plan.Plan, start time.Time) Advice {
	var args []any
	for _, name := range noticeNumbers[n.Code] {
		args = append(args, noticeNumber(n, name, p, start))
	}
	a := Advice{
		Signal: T("signal." + n.Grade.String()),
		What:   T("notice."+string(n.Code), args...),
		Do:     T("notice_do." + string(n.Code)),
	}
	if General(n.Code) {
		a.Short = T("notice_short."+string(n.Code), args...)
	}
	return a
}

// General says that the advice of a code is the same on every plan: it has a
// short form.
func General(c notice.Code) bool { return Has("notice_short." + string(c)) }

// noticeNumber words one number by its unit.
func noticeNumber(n notice.Notice, name string, p plan.Plan, start time.Time) any {
	for _, v := range n.Values {
		if v.Name != name {
			continue
		}
		x := v.Number
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return "–"
		}
		switch v.Unit {
		case "s after start":
			return Moment(start.Add(time.Duration(x*float64(time.Second))), start)
		case "index":
			return Device(p, int(x))
		case "1":
			return int(x)
		case "days":
			return Long(x)
		case "min":
			return Duration(time.Duration(x * float64(time.Minute)))
		case "reason":
			return guardReason(x)
		case "%":
			return Amount(x, 0, "%")
		case "V":
			return Volts(qty.Volt(x))
		case "A":
			return Amps(qty.Ampere(x))
		case "W":
			return Watts(qty.Watt(x))
		case "l":
			return Amount(x, 1, "l")
		case "Ah":
			return Amount(x, 1, "Ah")
		case "VA":
			return Amount(x, 0, "VA")
		case "s":
			return Plain(x, "s")
		case "°C":
			return Temperature(qty.Celsius(x))
		case "Wh a day", "Wh":
			return Energy(qty.WattHour(x))
		}
		return Plain(x, v.Unit)
	}
	return "–"
}

// guardReason words the reason of a battery's protection by its number.
func guardReason(x float64) string {
	if !(x >= 0 && x < 256) {
		x = 0
	}
	return GuardReason(battery.Reason(x).String())
}
