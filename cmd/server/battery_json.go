package main

import (
	"encoding/json"
	"io"

	"duskline/calc/care"
	"duskline/calc/qty"
)

// The JSON form of what there is to say of a battery, described by
// web/battery.schema.json. A figure that there is not, because the alarm does
// not sound or the days do not end, is null.

type jsonCare struct {
	Tide    jsonTide    `json:"tide"`
	Alarms  jsonAlarms  `json:"alarms"`
	Storage jsonStorage `json:"storage"`
	Life    jsonLife    `json:"life"`
}

type jsonTide struct {
	SoC     []float64      `json:"soc_pct"`
	Reserve float64        `json:"reserve_pct"`
	Marks   jsonMarks      `json:"marks"`
	Lines   []jsonTideLine `json:"lines"`
}

type jsonMarks struct {
	Alarm     float64 `json:"alarm_V"`
	CutOff    float64 `json:"cutoff_V"`
	Reconnect float64 `json:"reconnect_V"`
	Charge    float64 `json:"charge_V"`
}

type jsonTideLine struct {
	Kind   care.LineKind `json:"kind"`
	W      float64       `json:"W"`
	A      float64       `json:"A"`
	Core   float64       `json:"core_C"`
	V      []*float64    `json:"V"`
	Alarm  *float64      `json:"alarm_soc_pct"`
	CutOff *float64      `json:"cutoff_soc_pct"`
}

type jsonAlarms struct {
	Set        jsonCandidate   `json:"set"`
	Fits       bool            `json:"fits"`
	Chosen     int             `json:"chosen"`
	Why        []jsonWhy       `json:"why"`
	Candidates []jsonCandidate `json:"candidates"`
	Usual      jsonDraw        `json:"usual"`
	Largest    jsonDraw        `json:"largest"`
	Standing   jsonDraw        `json:"standing"`
	Cold       float64         `json:"cold_C"`
	FromMin    *float64        `json:"to_cutoff_min"`
	Do         []jsonAction    `json:"do"`
}

type jsonDraw struct {
	W float64 `json:"W"`
	A float64 `json:"A"`
}

type jsonCandidate struct {
	V       float64     `json:"V"`
	Rest    jsonReading `json:"rest"`
	Usual   jsonReading `json:"usual"`
	Largest jsonReading `json:"largest"`
	Cold    jsonReading `json:"cold"`
	False   []jsonFalse `json:"false_alarms"`
	Early   bool        `json:"early"`
	Late    bool        `json:"late"`
}

type jsonReading struct {
	SoC    *float64 `json:"soc_pct"`
	Min    *float64 `json:"to_cutoff_min"`
	After  *float64 `json:"then_usual_min"`
	Always bool     `json:"always"`
}

type jsonFalse struct {
	Device int     `json:"device"`
	SoC    float64 `json:"soc_pct"`
	Start  bool    `json:"by_start"`
}

type jsonWhy struct {
	Code   care.ReasonCode `json:"code"`
	V      float64         `json:"V"`
	SoC    float64         `json:"soc_pct"`
	Min    float64         `json:"min"`
	Device *int            `json:"device,omitempty"`
	At     care.LineKind   `json:"at,omitempty"`
}

type jsonAction struct {
	Code   care.ActionCode `json:"code"`
	Device *int            `json:"device,omitempty"`
	W      float64         `json:"W"`
	Gain   *float64        `json:"gain_min"`
	Total  *float64        `json:"to_cutoff_min"`
	Dark   *float64        `json:"dark_min,omitempty"`
}

type jsonStorage struct {
	From    float64     `json:"from_pct"`
	Horizon float64     `json:"horizon_days"`
	Kept    float64     `json:"kept_C"`
	Clocks  []jsonClock `json:"clocks"`
}

type jsonClock struct {
	Mode   care.StoreMode `json:"mode"`
	At     float64        `json:"at_C"`
	Kept   bool           `json:"kept"`
	A      float64        `json:"A"`
	Alarm  *float64       `json:"alarm_days"`
	CutOff *float64       `json:"cutoff_days"`
	Harm   *float64       `json:"harm_days"`
	By     care.HarmKind  `json:"harm,omitempty"`
	TopUp  *float64       `json:"top_up_days"`
}

type jsonLife struct {
	Health   float64    `json:"health_pct"`
	Growth   float64    `json:"resistance_growth"`
	Cycles   float64    `json:"cycles"`
	Deepest  float64    `json:"deepest_pct"`
	Loss     jsonBand   `json:"loss_pct"`
	Share    *jsonBand  `json:"share_pct,omitempty"`
	Uses     float64    `json:"uses_per_year"`
	Years    *jsonYears `json:"years_to_80_pct,omitempty"`
	Keeping  []jsonKeep `json:"keeping"`
	Practice bool       `json:"practice"`
	Beyond   bool       `json:"beyond"`
}

type jsonBand struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

type jsonYears struct {
	Low  float64  `json:"low"`
	High *float64 `json:"high"`
}

type jsonKeep struct {
	SoC  float64  `json:"soc_pct"`
	At   float64  `json:"at_C"`
	Loss jsonBand `json:"loss_pct_year"`
}

func writeCareJSON(w io.Writer, c *cared) error {
	e := json.NewEncoder(w)
	e.SetIndent("", " ")
	return e.Encode(jsonCare{Tide: tideJSON(c.tide), Alarms: alarmsJSON(c.alarms), Storage: storageJSON(c.storage), Life: lifeJSON(c.life)})
}

// unless returns a rounded figure, or null.
func unless(none bool, v float64, decimals int) *float64 {
	if none {
		return nil
	}
	v = round(v, decimals)
	return &v
}

func percent(s qty.Fraction) float64 { return round(100*float64(s), 2) }

func deviceJSON(i int) *int {
	if i < 0 {
		return nil
	}
	return &i
}

func tideJSON(t *care.Tide) jsonTide {
	out := jsonTide{
		SoC: make([]float64, len(t.Charges)), Reserve: percent(t.Reserve), Lines: make([]jsonTideLine, len(t.Lines)),
		Marks: jsonMarks{round(float64(t.Marks.Alarm), 3), round(float64(t.Marks.CutOff), 3), round(float64(t.Marks.Reconnect), 3), round(float64(t.Marks.Charge), 3)},
	}
	for k, s := range t.Charges {
		out.SoC[k] = percent(s)
	}
	for k, l := range t.Lines {
		o := jsonTideLine{
			Kind: l.Kind, W: round(float64(l.Watts), 2), A: round(float64(l.Amps), 3), Core: round(float64(l.Core), 2), V: make([]*float64, len(l.Volts)),
			Alarm: unless(l.Alarm.Above, percent(l.Alarm.Charge), 2), CutOff: unless(l.CutOff.Above, percent(l.CutOff.Charge), 2),
		}
		for i, v := range l.Volts {
			o.V[i] = unless(v == 0, float64(v), 3)
		}
		out.Lines[k] = o
	}
	return out
}

func alarmsJSON(a *care.Alarms) jsonAlarms {
	draw := func(d care.Draw) jsonDraw { return jsonDraw{round(float64(d.Watts), 2), round(float64(d.Amps), 4)} }
	out := jsonAlarms{
		Set: candidateJSON(&a.Set), Fits: a.Fits, Chosen: a.Chosen, Why: []jsonWhy{}, Candidates: []jsonCandidate{},
		Usual: draw(a.Usual), Largest: draw(a.Largest), Standing: draw(a.Standing), Cold: round(float64(a.Cold), 2),
		FromMin: unless(a.FromEndless || a.Set.Usual.Never, a.FromMinutes, 1), Do: []jsonAction{},
	}
	for k := range a.Candidates {
		out.Candidates = append(out.Candidates, candidateJSON(&a.Candidates[k]))
	}
	for _, w := range a.Why {
		out.Why = append(out.Why, jsonWhy{w.Code, round(float64(w.Volts), 3), percent(w.Charge), round(w.Minutes, 1), deviceJSON(w.Device), w.At})
	}
	for _, d := range a.Do {
		out.Do = append(out.Do, jsonAction{
			Code: d.Code, Device: deviceJSON(d.Device), W: round(float64(d.Watts), 2),
			Gain: unless(d.Endless, d.Minutes, 1), Total: unless(d.Endless, d.Total, 1),
			Dark: unless(d.Code != care.DoAwaitSun, d.Dark, 1),
		})
	}
	return out
}

func candidateJSON(c *care.Candidate) jsonCandidate {
	reading := func(r care.Reading) jsonReading {
		return jsonReading{
			SoC: unless(r.Never, percent(r.Charge), 2), Min: unless(r.Never || r.Endless, r.Minutes, 1),
			After: unless(r.Never, r.After, 1), Always: r.Always,
		}
	}
	out := jsonCandidate{
		V: round(float64(c.Volts), 3), Rest: reading(c.Rest), Usual: reading(c.Usual), Largest: reading(c.Largest), Cold: reading(c.Cold),
		False: []jsonFalse{}, Early: c.Early, Late: c.Late,
	}
	for _, f := range c.False {
		out.False = append(out.False, jsonFalse{f.Device, percent(f.Charge), f.ByStart})
	}
	return out
}

func storageJSON(s *care.Storage) jsonStorage {
	out := jsonStorage{From: percent(s.From), Horizon: s.Horizon, Kept: round(float64(s.Kept), 2), Clocks: []jsonClock{}}
	days := func(d care.Days) *float64 { return unless(d.Never, d.Days, 2) }
	for _, k := range s.Clocks {
		out.Clocks = append(out.Clocks, jsonClock{
			Mode: k.Mode, At: round(float64(k.At), 2), Kept: k.Kept, A: round(float64(k.Amps), 4),
			Alarm: days(k.Alarm), CutOff: days(k.CutOff), Harm: days(k.Harm), By: k.By, TopUp: days(k.TopUp),
		})
	}
	return out
}

func lifeJSON(l *care.Life) jsonLife {
	band := func(low, high float64) jsonBand { return jsonBand{round(100*low, 5), round(100*high, 5)} }
	out := jsonLife{
		Health: percent(l.Health), Growth: round(l.Growth, 3), Cycles: round(l.Cycles, 3), Deepest: percent(l.Deepest),
		Loss: band(float64(l.Low), float64(l.High)), Uses: l.UsesAYear, Keeping: []jsonKeep{}, Practice: l.Practice, Beyond: l.Beyond,
	}
	if !l.Worn {
		share := band(l.Share.Low, l.Share.High)
		out.Share = &share
		out.Years = &jsonYears{Low: round(l.Years.Low, 2), High: unless(l.Years.Endless, l.Years.High, 2)}
	}
	for _, k := range l.Keeping {
		out.Keeping = append(out.Keeping, jsonKeep{percent(k.Charge), round(float64(k.At), 1), band(float64(k.Low), float64(k.High))})
	}
	return out
}
