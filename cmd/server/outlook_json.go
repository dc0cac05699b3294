package main

import (
	"encoding/json"
	"io"
	"math"
	"time"

	"duskline/calc/notice"
	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/qty"
	"duskline/calc/ref"
)

// The JSON form of an Outlook, described by web/outlook.schema.json. Numbers
// are rounded to what they are worth, so that two machines print the same.

type jsonOutlook struct {
	Verdict string       `json:"verdict"`
	Series  jsonSeries   `json:"series"`
	Events  []jsonEvent  `json:"events"`
	Ledger  jsonLedger   `json:"ledger"`
	Notices []jsonNotice `json:"notices"`
	Figures jsonFigures  `json:"figures"`
	Days    []jsonDay    `json:"days"`

	Switch []jsonPosition `json:"switch_positions"`
}

type jsonPosition struct {
	Position plan.Switch `json:"position"`
	DC       bool        `json:"dc"`
	USB      bool        `json:"usb"`
	AC       bool        `json:"ac"`
	Asleep   bool        `json:"inverter_sleeps"`
	W        float64     `json:"W"`
	WhANight float64     `json:"Wh_per_night"`
	WhADay   float64     `json:"Wh_per_day"`
	SharePct float64     `json:"of_battery_pct_per_day"`
	Lasts    *float64    `json:"full_battery_lasts_h"`
}

type jsonSeries struct {
	Time   []string  `json:"time"`
	SoC    []float64 `json:"soc_pct"`
	V      []float64 `json:"V"`
	AmpsIn []float64 `json:"A_in"`
	Out    []float64 `json:"A_out"`
	Light  []float64 `json:"poa_Wm2"`
	Core   []float64 `json:"battery_C"`
}

type jsonEvent struct {
	At     string            `json:"at"`
	Kind   outlook.EventKind `json:"kind"`
	SoC    float64           `json:"soc_pct"`
	V      float64           `json:"V"`
	Device *int              `json:"device,omitempty"`
	Times  int               `json:"times"`
	Last   string            `json:"last"`

	Cause  outlook.AlarmCause `json:"cause,omitempty"`
	LeftH  *float64           `json:"left_h,omitempty"`
	Reason string             `json:"reason,omitempty"`
}

type jsonFlow struct {
	Name   outlook.FlowName `json:"name"`
	Device *int             `json:"device,omitempty"`
	Wh     float64          `json:"Wh"`
}

type jsonLedger struct {
	SourcesWh float64 `json:"sources_Wh"`
	UsesWh    float64 `json:"uses_Wh"`
	LossesWh  float64 `json:"losses_Wh"`
	ChangeWh  float64 `json:"change_Wh"`

	Sources []jsonFlow `json:"sources"`
	Uses    []jsonFlow `json:"uses"`
	Losses  []jsonFlow `json:"losses"`

	NotTakenWh float64 `json:"not_taken_Wh"`
	NotGivenWh float64 `json:"not_given_Wh"`
}

type jsonNotice struct {
	Code   notice.Code    `json:"code"`
	Grade  notice.Grade   `json:"grade"`
	Values []notice.Value `json:"values"`
}

type jsonFigures struct {
	NoSunH         float64 `json:"no_sun_h"`
	NoSunEndless   bool    `json:"no_sun_endless"`
	LowestPct      float64 `json:"lowest_soc_pct"`
	LowestAt       string  `json:"lowest_at"`
	GearWhADay     float64 `json:"gear_Wh_per_day"`
	DrawWhADay     float64 `json:"draw_Wh_per_day"`
	IdleWhADay     float64 `json:"inverter_idle_Wh_per_day"`
	SunWhADay      float64 `json:"sun_Wh_per_day"`
	FirstAlarm     *string `json:"first_alarm"`
	FirstCutOff    *string `json:"first_cut_off"`
	UnservedDevice []int   `json:"unserved_devices"`

	CoreLowest  float64  `json:"lowest_battery_C"`
	CoreHighest float64  `json:"highest_battery_C"`
	Safe        jsonSafe `json:"safe_discharge"`
}

type jsonSafe struct {
	DepthPct     float64 `json:"advised_depth_pct"`
	LeastPct     float64 `json:"advised_least_soc_pct"`
	NightPct     float64 `json:"night_pct"`
	StopAtPct    float64 `json:"stop_at_soc_pct"`
	RechargeDays float64 `json:"recharge_within_days"`
	Source       string  `json:"source"`
	Why          string  `json:"why"`
}

type jsonDay struct {
	Date          string  `json:"date"`
	State         string  `json:"state"`
	Rise          *string `json:"rise"`
	Noon          string  `json:"noon"`
	Set           *string `json:"set"`
	CivilDawn     *string `json:"civil_dawn"`
	CivilDusk     *string `json:"civil_dusk"`
	NauticalDawn  *string `json:"nautical_dawn"`
	NauticalDusk  *string `json:"nautical_dusk"`
	ClearSkyIndex float64 `json:"clear_sky_index"`
	Turbidity     float64 `json:"linke_turbidity"`
	OnPanels      float64 `json:"panels_kWh_m2"`
	Ceiling       float64 `json:"panels_clear_kWh_m2"`
	OnLevel       float64 `json:"level_kWh_m2"`
	LevelCeiling  float64 `json:"level_clear_kWh_m2"`
}

// verdictNames are the names that people use, in every language's output the
// same: a program reads this one.
var verdictNames = map[outlook.Verdict]string{outlook.Holds: "Holds", outlook.Tight: "Tight", outlook.RunsOut: "Runs out"}

var dayStates = map[outlook.DayState]string{
	outlook.SunRisesAndSets: "rises_and_sets",
	outlook.PolarDay:        "polar_day",
	outlook.PolarNight:      "polar_night",
}

// kindNames are the kinds of source.
var kindNames = [...]string{ref.Published: "published", ref.Cited: "cited", ref.Library: "library", ref.Definition: "definition",
	ref.Practice: "practice", ref.Memory: "memory"}

func writeJSON(w io.Writer, o *outlook.Outlook, idle []outlook.Position) error {
	e := json.NewEncoder(w)
	e.SetIndent("", " ")
	j := toJSON(o)
	for _, x := range idle {
		p := jsonPosition{x.Switch, x.DC, x.USB, x.AC, x.Asleep, round(float64(x.Watts), 4), wh(x.ANight), wh(x.ADay), round(100*float64(x.Share), 3), nil}
		if !x.Endless {
			hours := round(x.Hours, 2)
			p.Lasts = &hours
		}
		j.Switch = append(j.Switch, p)
	}
	return e.Encode(j)
}

func toJSON(o *outlook.Outlook) jsonOutlook {
	s := &o.Series
	j := jsonOutlook{Verdict: verdictNames[o.Verdict], Events: []jsonEvent{}, Notices: []jsonNotice{}}
	for i := range s.Charge {
		j.Series.Time = append(j.Series.Time, stamp(s.Time(i)))
		j.Series.SoC = append(j.Series.SoC, round(float64(s.Charge[i])*100, 4))
		j.Series.V = append(j.Series.V, round(float64(s.Volts[i]), 4))
		j.Series.AmpsIn = append(j.Series.AmpsIn, round(float64(s.AmpsIn[i]), 4))
		j.Series.Out = append(j.Series.Out, round(float64(s.AmpsOut[i]), 4))
		j.Series.Core = append(j.Series.Core, round(float64(s.Core[i]), 2))
		j.Series.Light = append(j.Series.Light, round(float64(s.Light[i]), 2))
	}
	for _, e := range o.Events {
		j.Events = append(j.Events, jsonEvent{stamp(e.At), e.Kind, round(float64(e.Charge)*100, 2), round(float64(e.Volts), 3), place(e.Index), e.Times, stamp(e.Last),
			e.Cause, left(e), e.Reason})
	}
	for _, n := range o.Notices {
		values := []notice.Value{}
		for _, v := range n.Values {
			v.Number = round(v.Number, 3)
			values = append(values, v)
		}
		j.Notices = append(j.Notices, jsonNotice{n.Code, n.Grade, values})
	}
	l := &j.Ledger
	l.Sources, l.SourcesWh = flows(o.Ledger.Sources)
	l.Uses, l.UsesWh = flows(o.Ledger.Uses)
	l.Losses, l.LossesWh = flows(o.Ledger.Losses)
	l.ChangeWh = wh(o.Ledger.Change)
	l.NotTakenWh, l.NotGivenWh = wh(o.Ledger.NotTaken), wh(o.Ledger.NotGiven)
	f := &o.Figures
	j.Figures = jsonFigures{
		NoSunH:         round(f.NoSun.Hours(), 3),
		NoSunEndless:   f.NoSunEndless,
		LowestPct:      round(float64(f.Lowest)*100, 2),
		LowestAt:       stamp(f.LowestAt),
		GearWhADay:     wh(f.GearADay),
		DrawWhADay:     wh(f.DrawADay),
		IdleWhADay:     wh(f.IdleADay),
		SunWhADay:      wh(f.SunADay),
		FirstAlarm:     maybe(f.FirstAlarm),
		FirstCutOff:    maybe(f.FirstCutOff),
		UnservedDevice: append([]int{}, f.Unserved...),
		CoreLowest:     round(float64(f.CoreLowest), 2),
		CoreHighest:    round(float64(f.CoreHighest), 2),
		Safe: jsonSafe{round(100*float64(f.Safe.Depth), 2), round(100*float64(f.Safe.Least), 2), round(100*float64(f.Safe.Night), 2),
			round(100*float64(f.Safe.StopAt), 2), round(f.Safe.RechargeDays, 2), kindNames[f.Safe.Kind], f.Safe.Why},
	}
	for _, d := range o.Days {
		j.Days = append(j.Days, jsonDay{
			d.Midnight.Format(time.DateOnly), dayStates[d.State], maybe(d.Rise), stamp(d.Noon), maybe(d.Set),
			maybe(d.CivilDawn), maybe(d.CivilDusk), maybe(d.NauticalDawn), maybe(d.NauticalDusk),
			round(d.ClearSkyIndex, 4), round(d.Turbidity, 4),
			round(d.OnPanels, 4), round(d.Ceiling, 4), round(d.OnLevel, 4), round(d.LevelCeiling, 4),
		})
	}
	return j
}

func flows(list []outlook.Flow) (out []jsonFlow, sum float64) {
	out = []jsonFlow{}
	for _, f := range list {
		out = append(out, jsonFlow{f.Name, place(f.Index), wh(f.Energy)})
		sum += float64(f.Energy)
	}
	return out, round(sum, 3)
}

// left is how long an alarm leaves, nil for all other events.
func left(e outlook.Event) *float64 {
	if e.Cause == "" {
		return nil
	}
	h := round(e.Left.Hours(), 3)
	return &h
}

func place(i int) *int {
	if i < 0 {
		return nil
	}
	return &i
}

// stamp writes an instant in the plan's own zone, to the second.
func stamp(t time.Time) string { return t.Round(time.Second).Format(time.RFC3339) }

func maybe(t time.Time) *string {
	if t.IsZero() {
		return nil
	}
	s := stamp(t)
	return &s
}

func wh(e qty.WattHour) float64 { return round(float64(e), 3) }

func round(v float64, decimals int) float64 {
	p := math.Pow10(decimals)
	r := math.Round(v*p) / p
	if r == 0 {
		return 0 // never "-0"
	}
	return r
}
