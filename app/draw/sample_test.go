package draw

import (
	"math"
	"time"

	"duskline/calc/notice"
	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// synthetic makes an Outlook whose figures are drawn freehand: only its shape
// counts here. latitude sets how high the sun runs; declination is May's.
// draw is how many times a draw that the sun just carries.
func synthetic(days float64, step time.Duration, latitude, draw float64) (*outlook.Outlook, plan.Plan) {
	zone := time.FixedZone("", 2*3600)
	start := time.Date(2026, 5, 14, 15, 0, 0, 0, zone)
	n := int(days*24*float64(time.Hour)/float64(step)) + 1
	o := &outlook.Outlook{Series: outlook.Series{Start: start, Step: step}}
	clouds := []float64{0.1, 0.75, 0.05, 0.3, 1, 0.5, 0.1}
	charge := 0.72
	s := &o.Series
	lat, dec := latitude*math.Pi/180, 18.7*math.Pi/180
	for i := range n {
		t := s.Time(i)
		h := float64(t.Hour()) + float64(t.Minute())/60
		e := math.Asin(math.Sin(lat)*math.Sin(dec)+math.Cos(lat)*math.Cos(dec)*math.Cos((h-13.4)*math.Pi/12)) * 180 / math.Pi
		day := int(t.Sub(time.Date(2026, 5, 14, 0, 0, 0, 0, zone)).Hours() / 24)
		cloud := clouds[day%len(clouds)]
		in := math.Max(math.Sin(e*math.Pi/180), 0) * 6.5 * (1 - 0.8*cloud)
		out := 0.8
		if t.Minute()/10%3 == 0 {
			out += 0.8
		}
		if h > 20 || h < 5 {
			out += 0.5
		}
		if i > 0 {
			charge += (0.97*in - draw*out) * step.Hours() / 50
		}
		if charge > 1 {
			charge, in = 1, out
		}
		charge = math.Max(charge, 0)
		s.Charge = append(s.Charge, qty.Fraction(charge))
		s.Volts = append(s.Volts, qty.Volt(12.6+0.8*charge+0.02*(in-out)))
		s.AmpsIn = append(s.AmpsIn, qty.Ampere(in))
		s.AmpsOut = append(s.AmpsOut, qty.Ampere(out))
		s.Light = append(s.Light, qty.Irradiance(150*in))
		s.Air = append(s.Air, 12)
		s.Elevation = append(s.Elevation, qty.Degree(e))
		s.Cloud = append(s.Cloud, qty.Fraction(cloud))
	}
	f := &o.Figures
	f.Lowest = 2
	for i, c := range s.Charge {
		if c < f.Lowest {
			f.Lowest, f.LowestAt = c, s.Time(i)
		}
	}
	f.AlarmCharge, f.CutOffCharge = 0.14, 0.06
	was := false
	for i, c := range s.Charge {
		under := c < f.AlarmCharge
		if under != was {
			kind := outlook.AlarmOff
			if under {
				kind = outlook.AlarmOn
				if f.FirstAlarm.IsZero() {
					f.FirstAlarm = s.Time(i)
				}
			}
			o.Events = append(o.Events, outlook.Event{At: s.Time(i), Kind: kind, Charge: c, Volts: s.Volts[i], Index: -1})
		}
		was = under
		if c == 1 && i > 0 && s.Charge[i-1] < 1 {
			o.Events = append(o.Events, outlook.Event{At: s.Time(i), Kind: outlook.Full, Charge: 1, Volts: 14.2, Index: -1})
		}
	}
	for d := time.Date(2026, 5, 14, 0, 0, 0, 0, zone); d.Before(s.Time(n - 1)); d = d.AddDate(0, 0, 1) {
		o.Days = append(o.Days, outlook.Day{Midnight: d})
	}
	o.Ledger = outlook.Ledger{
		Sources: []outlook.Flow{{Name: outlook.SunFlow, Index: -1, Energy: 1410}, {Name: outlook.WallFlow, Index: -1, Energy: 0}},
		Uses: []outlook.Flow{
			{Name: outlook.GearFlow, Index: 0, Energy: 126}, {Name: outlook.GearFlow, Index: 1, Energy: 62},
			{Name: outlook.GearFlow, Index: 2, Energy: 14}, {Name: outlook.GearFlow, Index: 3, Energy: 1150}, {Name: outlook.GearFlow, Index: 4, Energy: 48}},
		Losses: []outlook.Flow{
			{Name: outlook.ControllerLoss, Energy: 70}, {Name: outlook.InverterIdle, Energy: 144}, {Name: outlook.USBLoss, Energy: 31},
			{Name: outlook.MetersLoss, Energy: 44}, {Name: outlook.BatteryHeat, Energy: 20}, {Name: outlook.BatteryCharging, Energy: 13}},
		Change: -312, Turnover: 1722, NotTaken: 80,
	}
	o.Notices = []notice.Notice{}
	p := plan.Plan{Name: "Heron count", Trip: plan.Trip{Start: start, LengthH: days * 24, ReservePct: 20},
		Gear: []plan.Device{{Name: "Audio recorders", Count: 2}, {Name: "Tablet", Count: 1}, {Name: "Lantern", Count: 1},
			{Name: "Cooler, compressor", Count: 1}, {Name: "Spotting-scope camera", Count: 1}}}
	return o, p
}
