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

	"duskline/calc/pairing"
	"duskline/calc/plan"
	"duskline/web/demo"
)

// pair runs the subcommand on a document that comes in on standard input.
func pair(t *testing.T, document string, args ...string) (status int, out, err string) {
	t.Helper()
	var o, e bytes.Buffer
	status = run(append(append([]string{"pairing"}, args...), "-"), streams{strings.NewReader(document), &o, &e})
	return status, o.String(), e.String()
}

// documents are the examples, and one of them with several unlike panels.
func pairingDocuments(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, name := range demo.Names() {
		out[name] = string(example(t, name))
	}
	out["mixed"] = edited(t, demo.Names()[0], func(p map[string]any) {
		panels := p["panels"].(map[string]any)
		first := panels["list"].([]any)[0].(map[string]any)
		second := map[string]any{}
		for k, v := range first {
			second[k] = v
		}
		second["name"], second["rated_W"], second["count"] = "Small "+strings.Repeat("folding ", 5)+"panel", 20, 2
		delete(second, "datasheet")
		panels["list"] = append(panels["list"].([]any), second)
	})
	return out
}

func TestPairingJSONIsWhatTheSchemaSays(t *testing.T) {
	schema, err := jsonschema.NewCompiler().Compile(filepath.Join("..", "..", "web", "pairing.schema.json"))
	require.NoError(t, err)
	for name, document := range pairingDocuments(t) {
		_, out, complaint := pair(t, document, "-json")
		require.Empty(t, complaint)
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
		require.NoError(t, err)
		require.NoError(t, schema.Validate(v), name)

		var l pairing.Ladder
		require.NoError(t, json.Unmarshal([]byte(out), &l), "it is read back as it was written")
		p, err := plan.Read([]byte(document))
		require.NoError(t, err)
		if l.Sky != nil {
			p.Sky = *l.Sky
		}
		for _, r := range append(l.Rungs, l.Owned...) {
			p.Panels = r.Panels
			assert.Empty(t, plan.Check(p), "the panels of a rung fit into the plan as they are")
		}
	}
}

// Rounding is for the printed copy alone.
func TestPairingJSONRoundsACopy(t *testing.T) {
	l := &pairing.Ladder{Rungs: []pairing.Rung{{W: 1.23456, Panels: plan.Panels{CableM: 1.23456}, Reasons: []pairing.Reason{}}}}
	var b bytes.Buffer
	require.NoError(t, writeLadderJSON(&b, l))
	assert.Contains(t, b.String(), `"W": 1.235`)
	assert.Contains(t, b.String(), `"cable_m": 1.23456`)
	assert.Equal(t, 1.23456, l.Rungs[0].W)
}

func TestPairingReportFitsATerminal(t *testing.T) {
	for name, document := range pairingDocuments(t) {
		_, out, complaint := pair(t, document)
		require.Empty(t, complaint)
		for _, line := range strings.Split(out, "\n") {
			assert.LessOrEqual(t, utf8.RuneCountInString(line), 80, "%s: %s", name, line)
			assert.Equal(t, strings.TrimRight(line, " "), line, "no space at the end of a line")
		}
		assert.NotContains(t, out, "%!", "every text has its numbers")
		assert.NotContains(t, out, "pairing.", "every key has its text")
		assert.Contains(t, out, "400\u00a0W")
	}
}

// A Plan that no panel can save: nothing charges at night.
func TestPairingExitStatus(t *testing.T) {
	status, _, _ := pair(t, string(example(t, "bird-count")))
	assert.Equal(t, 0, status)
	status, out, _ := pair(t, edited(t, "bird-count", func(p map[string]any) {
		p["trip"].(map[string]any)["start_charge_pct"] = 0
	}))
	assert.Equal(t, 2, status, "it starts with the alarm on")
	assert.Contains(t, out, "none of these")
}

func TestPairingRefusesABadDocumentAndWrongUse(t *testing.T) {
	bad := strings.Replace(string(example(t, "bird-count")), `"limit_A": 15`, `"limit_A": 1500`, 1)
	status, out, complaint := pair(t, bad)
	assert.Equal(t, 64, status)
	assert.Empty(t, out)
	assert.Contains(t, complaint, "/case/controller/limit_A")
	for _, args := range [][]string{{}, {"a.json", "b.json"}, {"-nonsense", "a.json"}, {filepath.Join(t.TempDir(), "missing.json")}} {
		var o, e bytes.Buffer
		assert.Equal(t, 64, run(append([]string{"pairing"}, args...), streams{strings.NewReader(""), &o, &e}), "%v", args)
		assert.NotEmpty(t, e.String(), "%v says what is wrong", args)
		assert.Empty(t, o.String())
	}
	status, _, _ = pair(t, string(example(t, "bird-count")), "-zone", "Nowhere/Atall")
	assert.Equal(t, 64, status)
}
