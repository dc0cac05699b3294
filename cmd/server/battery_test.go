package main

import (
	"bytes"
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"duskline/web/demo"
)

// keep runs the subcommand on a document that comes in on standard input.
func keep(t *testing.T, document string, args ...string) (status int, out, err string) {
	t.Helper()
	var o, e bytes.Buffer
	status = run(append(append([]string{"battery"}, args...), "-"), streams{strings.NewReader(document), &o, &e})
	return status, o.String(), e.String()
}

// batteryDocuments are the examples, and some whose battery is out of the way.
func batteryDocuments(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, name := range demo.Names() {
		out[name] = string(example(t, name))
	}
	part := func(p map[string]any, keys ...string) map[string]any {
		for _, k := range keys {
			p = p[k].(map[string]any)
		}
		return p
	}
	first := demo.Names()[0]
	out["worn"] = edited(t, first, func(p map[string]any) { part(p, "case", "battery")["health_pct"] = 60 })
	out["no gear"] = edited(t, first, func(p map[string]any) { p["gear"] = []any{} })
	out["life support"] = edited(t, first, func(p map[string]any) { p["gear"].([]any)[0].(map[string]any)["life_support"] = true })
	out["late"] = edited(t, first, func(p map[string]any) {
		b := part(p, "case", "battery")
		b["alarm_V"], b["cutoff_V"] = 10.1, 10
	})
	return out
}

func TestBatteryJSONIsWhatTheSchemaSays(t *testing.T) {
	schema, err := jsonschema.NewCompiler().Compile(filepath.Join("..", "..", "web", "battery.schema.json"))
	require.NoError(t, err)
	for name, document := range batteryDocuments(t) {
		_, out, complaint := keep(t, document, "-json")
		require.Empty(t, complaint, name)
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
		require.NoError(t, err)
		require.NoError(t, schema.Validate(v), name)

		var c jsonCare
		require.NoError(t, json.Unmarshal([]byte(out), &c), "it is read back as it was written")
		var again bytes.Buffer
		e := json.NewEncoder(&again)
		e.SetIndent("", " ")
		require.NoError(t, e.Encode(c))
		assert.Equal(t, out, again.String())
		assert.Less(t, c.Alarms.Chosen, len(c.Alarms.Candidates))
		for _, l := range c.Tide.Lines {
			assert.Len(t, l.V, len(c.Tide.SoC), "%s, %s", name, l.Kind)
		}
		worn := name == "worn"
		assert.Equal(t, worn, c.Life.Years == nil, name)
		assert.Equal(t, worn, c.Life.Share == nil, name)
	}
}

func TestBatteryReportFitsATerminal(t *testing.T) {
	for name, document := range batteryDocuments(t) {
		_, out, complaint := keep(t, document)
		require.Empty(t, complaint)
		for _, line := range strings.Split(out, "\n") {
			assert.LessOrEqual(t, utf8.RuneCountInString(line), 80, "%s: %s", name, line)
			assert.Equal(t, strings.TrimRight(line, " "), line, "no space at the end of a line")
		}
		assert.NotContains(t, out, "%!", "every text has its numbers")
		for _, key := range []string{"alarm_", "alarmset.", "action.", "standing.", "standing_", "life.", "life_", "tide.", "tide_", "harm.", "column.", "table."} {
			assert.NotContains(t, out, key, "every key has its text")
		}
	}
}

// What stands in the report is in it: the settings, the devices, the numbers.
func TestBatteryReportSaysIt(t *testing.T) {
	docs := batteryDocuments(t)
	_, out, _ := keep(t, docs["life support"])
	assert.Contains(t, out, "1. Move Cooler to its backup now")
	_, out, _ = keep(t, docs["worn"])
	assert.NotContains(t, out, "To 80")
	_, full, _ := keep(t, docs["worn"], "-from", "100")
	assert.NotEqual(t, out, full, "it is put away fuller")
	assert.Contains(t, full, "100\u00a0%")
}

func TestBatteryExitStatus(t *testing.T) {
	docs := batteryDocuments(t)
	status, _, _ := keep(t, docs["bird-count"])
	assert.Equal(t, 0, status)
	status, out, _ := keep(t, docs["late"])
	assert.Equal(t, 2, status, "it leaves no time")
	assert.Contains(t, out, "Late alarm")
}

func TestBatteryRefusesABadDocumentAndWrongUse(t *testing.T) {
	bad := strings.Replace(string(example(t, "bird-count")), `"limit_A": 15`, `"limit_A": 1500`, 1)
	status, out, complaint := keep(t, bad)
	assert.Equal(t, 64, status)
	assert.Empty(t, out)
	assert.Contains(t, complaint, "/case/controller/limit_A")
	good := filepath.Join("..", "..", "web", "demo", "bird-count.json")
	for _, args := range [][]string{{}, {"a.json", "b.json"}, {"-nonsense", "a.json"}, {filepath.Join(t.TempDir(), "missing.json")},
		{"-from", "101", good}, {"-from", "-3", good}, {"-from", "NaN", good}, {"-from", "x", good}} {
		var o, e bytes.Buffer
		assert.Equal(t, 64, run(append([]string{"battery"}, args...), streams{strings.NewReader(""), &o, &e}), "%v", args)
		assert.NotEmpty(t, e.String(), "%v says what is wrong", args)
		assert.Empty(t, o.String())
	}
	status, _, _ = keep(t, string(example(t, "bird-count")), "-zone", "Nowhere/Atall")
	assert.Equal(t, 64, status)
}
