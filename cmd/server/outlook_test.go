package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
	assert.Equal(t, []string{"time", "soc_pct", "V", "A_in", "A_out", "poa_Wm2"}, rows[0])
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
