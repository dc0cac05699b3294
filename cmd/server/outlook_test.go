package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"duskline/calc/plan"
	"duskline/web/demo"
)

// ask runs the subcommand on a document that comes in on standard input.
func ask(t *testing.T, document string, args ...string) (status int, out, err string) {
	t.Helper()
	var o, e bytes.Buffer
	status = run(append(append([]string{"outlook"}, args...), "-"), streams{strings.NewReader(document), &o, &e})
	return status, o.String(), e.String()
}

func example(t *testing.T, name string) []byte {
	t.Helper()
	data, ok := demo.Document(name)
	require.True(t, ok, name)
	return data
}

func TestOutlookExitStatusIsTheVerdict(t *testing.T) {
	seen := map[int]bool{}
	for _, name := range demo.Names() {
		data := example(t, name)
		status, out, complaint := ask(t, string(data))
		assert.Empty(t, complaint)
		first, _, _ := strings.Cut(out, "\n")
		want := map[string]int{"Holds.": 0, "Tight.": 1, "Runs out.": 2}
		require.Contains(t, want, first)
		assert.Equal(t, want[first], status, "%s: %s", name, first)
		seen[status] = true
	}
	assert.Len(t, seen, 3, "the examples show one of each verdict")
}

func TestOutlookJSONIsWhatTheSchemaSays(t *testing.T) {
	schema, err := jsonschema.NewCompiler().Compile(filepath.Join("..", "..", "web", "outlook.schema.json"))
	require.NoError(t, err)
	for _, name := range demo.Names() {
		data := example(t, name)
		_, out, _ := ask(t, string(data), "-json")
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
		require.NoError(t, err)
		require.NoError(t, schema.Validate(v), name)

		var raw struct {
			Verdict string
			Series  map[string][]any
			Ledger  struct {
				Sources float64 `json:"sources_Wh"`
				Uses    float64 `json:"uses_Wh"`
				Losses  float64 `json:"losses_Wh"`
				Change  float64 `json:"change_Wh"`
			}
		}
		require.NoError(t, json.Unmarshal([]byte(out), &raw))
		n := len(raw.Series["time"])
		for key, list := range raw.Series {
			assert.Len(t, list, n, "%s of %s", key, name)
		}
		l := raw.Ledger
		assert.InEpsilon(t, l.Sources, l.Uses+l.Losses+l.Change, 0.001, "the ledger of %s closes", name)
	}
}

func TestOutlookCSV(t *testing.T) {
	data := example(t, demo.Names()[0])
	_, out, _ := ask(t, string(data), "-csv")
	rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, []string{"time", "soc_pct", "V", "A_in", "A_out", "poa_Wm2", "battery_C"}, rows[0])
	assert.Greater(t, len(rows), 300)
	assert.True(t, strings.HasSuffix(out, "\r\n"), "RFC 4180 ends lines with CRLF")
}

func TestOutlookRefusesABadDocumentWithEveryFault(t *testing.T) {
	data := example(t, demo.Names()[0])
	bad := strings.NewReplacer(`"limit_A": 15`, `"limit_A": 1500`, `"step_min": 5`, `"step_min": 7`).Replace(string(data))
	require.NotEqual(t, string(data), bad)
	status, out, complaint := ask(t, bad)
	assert.Equal(t, 64, status)
	assert.Empty(t, out)
	lines := strings.Split(strings.TrimSpace(complaint), "\n")
	assert.Len(t, lines, 2)
	assert.Contains(t, complaint, "/case/controller/limit_A")
	assert.Contains(t, complaint, "1500")
	assert.Contains(t, complaint, "/trip/step_min")
}

func TestOutlookWrongUse(t *testing.T) {
	for _, args := range [][]string{{}, {"a.json", "b.json"}, {"-json", "-csv", "a.json"}, {"-every", "0s", "a.json"},
		{"-nonsense", "a.json"}, {filepath.Join(t.TempDir(), "missing.json")}} {
		var o, e bytes.Buffer
		status := run(append([]string{"outlook"}, args...), streams{strings.NewReader(""), &o, &e})
		assert.Equal(t, 64, status, "%v", args)
		assert.NotEmpty(t, e.String(), "%v says what is wrong", args)
	}
	status, _, complaint := ask(t, strings.Repeat(" ", 300<<10))
	assert.Equal(t, 64, status)
	assert.Contains(t, complaint, "256")
}

func TestOutlookReadsAFile(t *testing.T) {
	data := example(t, demo.Names()[0])
	name := filepath.Join(t.TempDir(), "plan.json")
	require.NoError(t, os.WriteFile(name, data, 0o600))
	var o, e bytes.Buffer
	run([]string{"outlook", "-every", "6h", name}, streams{nil, &o, &e})
	_, out, _ := ask(t, string(data), "-every", "6h")
	assert.Equal(t, out, o.String())
	assert.Empty(t, e.String())
}

// edited returns an example with changes made to its JSON.
func edited(t *testing.T, name string, edit func(map[string]any)) string {
	t.Helper()
	var p map[string]any
	require.NoError(t, json.Unmarshal(example(t, name), &p))
	edit(p)
	data, err := json.Marshal(p)
	require.NoError(t, err)
	return string(data)
}

// The report fits a terminal of 80 columns, whatever the devices are called,
// and ends where the trip ends.
func TestOutlookReportFitsATerminal(t *testing.T) {
	long := edited(t, "river-festival", func(p map[string]any) {
		trip := p["trip"].(map[string]any)
		trip["start"], trip["length_h"] = "2026-09-30T12:00:00+02:00", 50
		for _, d := range p["gear"].([]any) {
			d := d.(map[string]any)
			d["name"] = "Loud " + strings.Repeat("loudspeaker ", 4) + "end"
			if d["route"] == "ac" {
				d["power_W"] = 4000
			}
		}
	})
	documents := []string{long}
	for _, name := range demo.Names() {
		documents = append(documents, string(example(t, name)))
	}
	for _, document := range documents {
		_, out, complaint := ask(t, document)
		require.Empty(t, complaint)
		for _, line := range strings.Split(out, "\n") {
			assert.LessOrEqual(t, utf8.RuneCountInString(line), 80, line)
			assert.Equal(t, strings.TrimRight(line, " "), line, "no space at the end of a line")
		}
	}
	_, out, _ := ask(t, long)
	assert.Contains(t, out, "Fri 2\u00a0October 14:00", "the last row is the trip's end")
	assert.Contains(t, out, "trips the inverter")
}

// Rows come as far apart as they are asked for.
func TestOutlookEvery(t *testing.T) {
	rows := func(every string) int {
		_, out, _ := ask(t, string(example(t, "bird-count")), "-every", every)
		return strings.Count(out, "\u00a0May ")
	}
	assert.Greater(t, rows("1h"), 2*rows("3h"))
}

// A fault of a number says the range even where its kind does not.
func TestOutlookFaultsSayWhatIsAllowed(t *testing.T) {
	bad := strings.NewReplacer(`"limit_A": 15`, `"limit_A": NaN`, `"length_h": `, `"length_h": "long", "length_x": `).Replace(string(example(t, "bird-count")))
	status, _, complaint := ask(t, bad)
	assert.Equal(t, 64, status)
	lines := strings.Split(strings.TrimSpace(complaint), "\n")
	require.Len(t, lines, 3)
	for i, want := range [][]string{
		{"standard input: /case/controller/limit_A: ", "NaN", "between 1", "100"},
		{"/trip/length_h", "long", "between 6", "720"},
		{"/trip/length_x", "no such field"},
	} {
		for _, part := range want {
			assert.Contains(t, lines[i], part)
		}
	}
}

// Wrong use is told before the help, in one line.
func TestOutlookSaysWhatIsWrongFirst(t *testing.T) {
	for want, args := range map[string][]string{
		"file is missing":       {},
		`"b.json"`:              {"a.json", "b.json"},
		"exclude each other":    {"-json", "-csv", "a.json"},
		"-every must be above":  {"-every", "-1h", "a.json"},
		"provided but not defi": {"-nonsense", "a.json"},
	} {
		var o, e bytes.Buffer
		assert.Equal(t, 64, run(append([]string{"outlook"}, args...), streams{strings.NewReader(""), &o, &e}))
		first, _, _ := strings.Cut(e.String(), "\n")
		assert.Contains(t, first, want)
		assert.Empty(t, o.String())
	}
}

// Numbers of notices are rounded like all others, and a notice without any
// has an empty list.
func TestOutlookJSONNotices(t *testing.T) {
	document := edited(t, "river-festival", func(p map[string]any) {
		p["panels"].(map[string]any)["list"] = []any{}
	})
	_, out, _ := ask(t, document, "-json")
	var raw struct {
		Notices []struct {
			Code   string
			Values []struct{ Number json.Number }
		}
	}
	require.NoError(t, json.Unmarshal([]byte(out), &raw))
	codes := map[string]int{}
	for _, n := range raw.Notices {
		require.NotNil(t, n.Values, n.Code)
		codes[n.Code] = len(n.Values)
		for _, v := range n.Values {
			_, decimals, _ := strings.Cut(v.Number.String(), ".")
			assert.LessOrEqual(t, len(decimals), 3, "%s: %s", n.Code, v.Number)
		}
	}
	assert.Equal(t, 0, codes["no_panels"])
	assert.Equal(t, 3, codes["cut_off_in_trip"])
}

// Options may stand behind the file, as people type them; after "--" every
// word is a file.
func TestOutlookTakesOptionsOnEitherSide(t *testing.T) {
	data := string(example(t, demo.Names()[0]))
	_, before, _ := ask(t, data, "-json")
	var o, e bytes.Buffer
	run([]string{"outlook", "-", "-json"}, streams{strings.NewReader(data), &o, &e})
	assert.Equal(t, before, o.String())
	o.Reset()
	assert.Equal(t, 64, run([]string{"outlook", "--", "-json"}, streams{strings.NewReader(data), &o, &e}))
	assert.Contains(t, e.String(), "-json", "it was taken for the name of a file")
}

// What each position of the switch costs stands in both forms: the inverter
// costs more than the sockets alone, and a battery lasts the shorter for it.
func TestOutlookTellsSwitchPositions(t *testing.T) {
	data := string(example(t, demo.Names()[0]))
	_, out, _ := ask(t, data, "-json")
	var raw struct {
		Switch []struct {
			Position string
			DC, AC   bool
			W        float64
			Day      float64 `json:"Wh_per_day"`
			Lasts    float64 `json:"full_battery_lasts_h"`
		} `json:"switch_positions"`
	}
	require.NoError(t, json.Unmarshal([]byte(out), &raw))
	require.Len(t, raw.Switch, 3)
	dc, both := raw.Switch[0], raw.Switch[1]
	assert.Equal(t, "dc_only", dc.Position)
	assert.True(t, dc.DC && !dc.AC && both.DC && both.AC)
	assert.Greater(t, both.W, dc.W)
	assert.InEpsilon(t, 24*dc.W, dc.Day, 0.2)
	assert.InEpsilon(t, dc.W/both.W, both.Lasts/dc.Lasts, 1e-3)
	_, text, _ := ask(t, data)
	assert.Contains(t, text, "Main switch  An hour")
	assert.Contains(t, text, "\nDC and AC  ")
}

// A document with everything that version 3 brought for charging and the
// inverter: its answer is what the schema says, and tells of every source.
func TestOutlookJSONOfEverySource(t *testing.T) {
	p, err := plan.Read(example(t, demo.Names()[0]))
	require.NoError(t, err)
	number := func(v float64) *float64 { return &v }
	p.Case.WallCharger = plan.WallCharger{CurrentA: 10, EfficiencyPct: 88, InputMinV: 100, InputMaxV: 240}
	p.Case.Vehicle = &plan.VehicleCharger{CurrentA: 8, EfficiencyPct: 85, SocketA: 5}
	p.Trip.EngineHours, p.Trip.GeneratorHours = []plan.Window{{FromH: 9, ToH: 10}}, []plan.Window{{FromH: 17, ToH: 18}}
	p.Case.Battery.AfterFull, p.Case.Battery.AbsorptionH, p.Case.Battery.ResumeV = plan.AfterRest, 0.2, 13
	p.Case.Controller.NightA = number(0.001)
	p.Case.Inverter = plan.Inverter{RatedW: 300, SurgeW: 600, Wave: plan.ModifiedSine, PulseDeg: 120, StandbyA: 0.5, SleepA: number(0.05), WakeW: 10,
		EfficiencyPct: 88, LowCutoffV: 11.5, LowReconnectV: 12.6, OutputV: 230}
	p.Case.Switch, p.Case.InverterHours = plan.DCAndAC, []plan.Window{{FromH: 0, ToH: 24}}
	p.Gear[0].Route, p.Gear[0].Sensitivity, p.Gear[0].PowerFactor = plan.RouteAC, plan.SensitivityCharger, 0.6
	data, err := plan.Write(p)
	require.NoError(t, err)

	_, out, complaint := ask(t, string(data), "-json")
	require.Empty(t, complaint)
	schema, err := jsonschema.NewCompiler().Compile(filepath.Join("..", "..", "web", "outlook.schema.json"))
	require.NoError(t, err)
	v, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
	require.NoError(t, err)
	require.NoError(t, schema.Validate(v))
	for _, word := range []string{`"vehicle"`, `"generator"`, `"vehicle_charger"`, `"socket_fuse"`, `"engine_exhaust"`, `"wave_charger"`, `"inverter_sleeps": true`} {
		assert.Contains(t, out, word)
	}
	_, text, _ := ask(t, string(data))
	for _, line := range strings.Split(text, "\n") {
		assert.LessOrEqual(t, utf8.RuneCountInString(line), 79, line)
	}
	for _, words := range []string{"Vehicle", "Generator", "Lost in the vehicle charger", "WARNING: The vehicle charger draws"} {
		assert.Contains(t, text, words)
	}
	assert.NotContains(t, text, "%!")
}

// An alarm with its cause and the time left, a protection that acts, what the
// battery may be drawn down to: all as the schema says.
func TestOutlookJSONOfTheBattery(t *testing.T) {
	document := edited(t, "river-festival", func(p map[string]any) {
		p["panels"].(map[string]any)["list"] = []any{}
		b := p["case"].(map[string]any)["battery"].(map[string]any)
		b["chemistry"], b["charge_V"], b["alarm_V"], b["cutoff_V"], b["reconnect_V"] = "LiFePO4", 14.4, 12.9, 10.5, 12.8
		b["compensation_mV_per_K"], b["after_full"] = 0, "hold"
		b["protection"] = map[string]any{"over_V": 14.8, "over_back_V": 14, "under_V": 11.5, "under_back_V": 12.4, "volts_delay_s": 2,
			"charge_A": 50, "discharge_A": 100, "amps_delay_s": 5, "charge_cold_C": 0, "charge_hot_C": 55,
			"discharge_cold_C": -20, "discharge_hot_C": 65, "release_s": 30}
	})
	_, out, complaint := ask(t, document, "-json")
	require.Empty(t, complaint)
	schema, err := jsonschema.NewCompiler().Compile(filepath.Join("..", "..", "web", "outlook.schema.json"))
	require.NoError(t, err)
	v, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
	require.NoError(t, err)
	require.NoError(t, schema.Validate(v))
	var raw struct {
		Events []struct {
			Kind, Cause, Reason string
			Left                *float64 `json:"left_h"`
		}
		Series  map[string][]any
		Figures struct {
			Safe struct {
				Least  float64 `json:"advised_least_soc_pct"`
				Stop   float64 `json:"stop_at_soc_pct"`
				Night  float64 `json:"night_pct"`
				Source string
			} `json:"safe_discharge"`
		}
	}
	require.NoError(t, json.Unmarshal([]byte(out), &raw))
	seen := map[string]bool{}
	for _, e := range raw.Events {
		seen[e.Kind] = true
		if e.Kind == "alarm_on" {
			assert.NotEmpty(t, e.Cause)
			require.NotNil(t, e.Left)
		} else {
			assert.Empty(t, e.Cause)
			assert.Nil(t, e.Left)
		}
		if e.Kind == "guard_off" {
			assert.Equal(t, "under_volts", e.Reason)
		}
	}
	assert.True(t, seen["alarm_on"] && seen["guard_off"], "%v", seen)
	assert.Len(t, raw.Series["battery_C"], len(raw.Series["time"]))
	s := raw.Figures.Safe
	assert.Equal(t, "practice", s.Source)
	assert.InDelta(t, min(s.Least+s.Night, 100), s.Stop, 0.02)
	_, text, _ := ask(t, document)
	for _, words := range []string{"to the shut-off", "The battery's protection cuts it off", "as the trade does", "The battery's own protection acts at"} {
		assert.Contains(t, strings.Join(strings.Fields(text), " "), words)
	}
}
