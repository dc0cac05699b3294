package plan

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

const (
	folder     = "../../testdata/plan/"
	schemaFile = "../../web/plan.schema.json"
)

func documents(t testing.TB, kind string) map[string][]byte {
	t.Helper()
	names, err := filepath.Glob(folder + kind + "/*.json")
	if err != nil || len(names) == 0 {
		t.Fatalf("no documents in %s: %v", kind, err)
	}
	all := map[string][]byte{}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		all[kind+"/"+filepath.Base(name)] = data
	}
	return all
}

func compileSchema(t testing.TB, name string) *jsonschema.Schema {
	t.Helper()
	// Read here, because the compiler cannot find files under WebAssembly.
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource("urn:duskline:plan", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("urn:duskline:plan")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// schemaTakes reports whether a validator that shares no code with the reader
// takes the document.
func schemaTakes(s *jsonschema.Schema, data []byte) error {
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		return err
	}
	return s.Validate(v)
}

// Source of the schema's meaning: JSON Schema 2020-12, as
// santhosh-tekuri/jsonschema v6.0.3 implements it.
func TestSchemaAndReaderAgree(t *testing.T) {
	schema := compileSchema(t, schemaFile)
	for _, c := range []struct {
		kind           string
		least          int
		schema, reader bool
	}{
		{"good", 125, true, true},
		{"bad", 240, false, false},
		{"beyond", 65, true, false},
	} {
		docs := documents(t, c.kind)
		if len(docs) < c.least {
			t.Errorf("%d documents in %s, want %d", len(docs), c.kind, c.least)
		}
		for name, data := range docs {
			if err := schemaTakes(schema, data); (err == nil) != c.schema {
				t.Errorf("%s: the schema says %v", name, err)
			}
			if _, err := Read(data); (err == nil) != c.reader {
				t.Errorf("%s: the reader says %v", name, err)
			}
		}
	}
}

// TestFaultsOfEveryDocument compares kind and pointer of every fault with
// faults.tsv, which was written by hand, in document order.
func TestFaultsOfEveryDocument(t *testing.T) {
	table, err := os.ReadFile(folder + "faults.tsv")
	if err != nil {
		t.Fatal(err)
	}
	want := map[string][]string{}
	for _, line := range strings.Split(strings.TrimSpace(string(table)), "\n")[1:] {
		name, fault, _ := strings.Cut(strings.TrimSuffix(line, "\r"), "\t")
		want[name] = append(want[name], fault)
	}
	for _, kind := range []string{"bad", "beyond"} {
		for name, data := range documents(t, kind) {
			_, err := Read(data)
			faults, _ := err.(Faults)
			var got []string
			for _, f := range faults {
				got = append(got, string(f.Kind)+"\t"+f.Pointer)
				if n := len([]rune(f.Found)); n > 60 || strings.Contains(f.Found, "\n") {
					t.Errorf("%s: Found has %d characters: %s", name, n, f.Found)
				}
				if f.Line < 1 || f.Line > 1+bytes.Count(data, []byte("\n")) {
					t.Errorf("%s: line %d", name, f.Line)
				}
			}
			if len(want[name]) == 0 {
				t.Errorf("%s: no rows in faults.tsv", name)
			}
			if !slices.Equal(got, want[name]) {
				t.Errorf("%s:\n got %q\nwant %q\n%v", name, got, want[name], err)
			}
			delete(want, name)
		}
	}
	for name := range want {
		t.Errorf("faults.tsv: %s is no document", name)
	}
}

// TestLineOfAFault: the line is where an editor shows the value.
func TestLineOfAFault(t *testing.T) {
	for name, data := range documents(t, "bad") {
		lines := strings.Split(string(data), "\n")
		_, err := Read(data)
		faults, _ := err.(Faults)
		for _, f := range faults {
			last := f.Pointer[strings.LastIndexByte(f.Pointer, '/')+1:]
			switch f.Kind {
			case OutOfRange, BadWord, NotWhole, BadDate, NotFinite:
				if _, err := strconv.Atoi(last); err == nil {
					continue // an entry of a list has no name in its line
				}
				if !strings.Contains(lines[f.Line-1], `"`+last+`"`) {
					t.Errorf("%s: %v, but the line is %s", name, f, lines[f.Line-1])
				}
			}
		}
	}
}

// TestSchemaAndTableAgree compares every limit of the reader with the schema.
func TestSchemaAndTableAgree(t *testing.T) {
	data, err := os.ReadFile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	var root map[string]any
	if err := json.Unmarshal(data, &root); err != nil {
		t.Fatal(err)
	}
	if compared := compareRule(t, root, root, &document, ""); compared < 80 {
		t.Errorf("only %d values compared", compared)
	}
}

func compareRule(t *testing.T, root, s map[string]any, r *rule, at string) int {
	t.Helper()
	if ref, ok := s["$ref"].(string); ok {
		s = root["$defs"].(map[string]any)[strings.TrimPrefix(ref, "#/$defs/")].(map[string]any)
	}
	same := func(key string, want any) {
		t.Helper()
		if got := s[key]; fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("%s: schema says %s %v, the table %v", at, key, got, want)
		}
	}
	// JSON Schema leaves a lower bound of 0 out.
	atLeast := func(key string, want float64) {
		t.Helper()
		if got, _ := s[key].(float64); got != want {
			t.Errorf("%s: schema says %s %v, the table %v", at, key, s[key], want)
		}
	}
	same("type", jsonType[r.shape])
	switch r.shape {
	case number, integer:
		if r.limit.OrZero {
			ways := s["anyOf"].([]any)
			if zero := ways[0].(map[string]any); len(ways) != 2 || zero["const"] != 0. {
				t.Errorf("%s: the table lets it be 0, schema says %v", at, ways)
			}
			s = ways[1].(map[string]any)
		}
		if len(r.choices) > 0 {
			same("enum", r.choices)
			break
		}
		same("minimum", r.limit.Min)
		same("maximum", r.limit.Max)
	case text:
		atLeast("minLength", r.limit.Min)
		same("maxLength", r.limit.Max)
	case word:
		same("enum", r.choices)
	case list:
		atLeast("minItems", r.limit.Min)
		same("maxItems", r.limit.Max)
		return 1 + compareRule(t, root, s["items"].(map[string]any), r.item, at+"/0")
	case object:
		same("additionalProperties", false)
		props := s["properties"].(map[string]any)
		var required []string
		for _, x := range s["required"].([]any) {
			required = append(required, x.(string))
		}
		n := 0
		for i := range r.fields {
			f := &r.fields[i]
			p, ok := props[f.name].(map[string]any)
			if !ok {
				t.Errorf("%s/%s is not in the schema", at, f.name)
				continue
			}
			if slices.Contains(required, f.name) == f.optional {
				t.Errorf("%s/%s: optional is %v in the table", at, f.name, f.optional)
			}
			n += compareRule(t, root, p, f, at+"/"+f.name)
		}
		if len(props) != len(r.fields) {
			t.Errorf("%s: %d members in the schema, %d in the table", at, len(props), len(r.fields))
		}
		return n
	}
	if s["description"] == nil && r.name != "" && !r.limit.OrZero {
		t.Errorf("%s: the schema says nothing about it", at)
	}
	return 1
}

// TestSchemaAndReaderAgreeOnSpoiledPlans: what the schema refuses, the reader
// refuses; and each fault of a kind that a schema can express, it does.
func TestSchemaAndReaderAgreeOnSpoiledPlans(t *testing.T) {
	schema := compileSchema(t, schemaFile)
	r := rand.New(rand.NewPCG(3, 4))
	refused, beyond := 0, 0
	for range 1500 {
		p := day()
		for range 1 + r.IntN(3) {
			spoil(r, &document, &p)
		}
		var b bytes.Buffer
		write(&b, &document, &p, "\n")
		_, err := Read(b.Bytes())
		faults, _ := err.(Faults)
		sayable := false
		for _, f := range faults {
			switch f.Kind {
			case WrongType, NotWhole, BadWord, BadLength, BadText, BadDate, NotOne, OnlyWith, Missing, Newer, BadZone, NotFullHour:
				sayable = true
			case BadCount:
				sayable = sayable || f.Other == "" || f.Other == "/sky/light"
			case OutOfRange:
				sayable = sayable || f.Other == "" || strings.HasSuffix(f.Other, "/refill_Wh")
			}
		}
		says := schemaTakes(schema, b.Bytes())
		switch {
		case says != nil && !sayable, says == nil && sayable:
			t.Fatalf("the schema says %v, the reader %v:\n%s", says, err, b.Bytes())
		case says != nil:
			refused++
		case len(faults) > 0:
			beyond++
		}
	}
	if refused < 300 || beyond < 30 {
		t.Errorf("%d refused by both, %d by the reader only: too few to mean much", refused, beyond)
	}
}
