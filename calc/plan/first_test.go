package plan

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// Documents of version 1 lie in testdata/plan/v1, with the schema of their
// time, and never change.

func firstDocuments(t testing.TB) map[string][]byte {
	all := documents(t, "v1/good")
	for name, data := range documents(t, "v1/demo") {
		all[name] = data
	}
	if len(all) < 37 {
		t.Fatalf("%d documents of version 1: one is missing", len(all))
	}
	return all
}

// TestFirstVersionIsReadForEver: a document of version 1 is the Plan that its
// twin of version 2 is, which says what version 1 took for granted.
func TestFirstVersionIsReadForEver(t *testing.T) {
	data, err := os.ReadFile(folder + "v1/schema.json")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource("urn:duskline:plan:v1", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("urn:duskline:plan:v1")
	if err != nil {
		t.Fatal(err)
	}
	latest := compileSchema(t)
	twins := documents(t, "good")
	for name, data := range firstDocuments(t) {
		if err := schemaTakes(schema, data); err != nil {
			t.Errorf("%s: the schema of version 1 says %v", name, err)
		}
		p, err := Read(data)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if p.Duskline != Version {
			t.Errorf("%s: is of version %d in memory", name, p.Duskline)
		}
		written, err := Write(p)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if err := schemaTakes(latest, written); err != nil {
			t.Errorf("%s: written again, the schema says %v", name, err)
		}
		if q, err := Read(written); err != nil || !equal(p, q) {
			t.Errorf("%s: read back other: %v", name, err)
		}
		if twin, ok := twins["good/"+filepath.Base(name)]; ok && !strings.Contains(name, "demo") {
			q, err := Read(twin)
			if err != nil || !equal(p, q) {
				t.Errorf("%s: not what its twin is (%v)\n%+v\n%+v", name, err, p, q)
			}
		}
	}
}

// TestVersionIsFoundWhereverItStands moves the number to the end of every
// document.
func TestVersionIsFoundWhereverItStands(t *testing.T) {
	for _, version := range []string{"1", "2"} {
		all := firstDocuments(t)
		if version == "2" {
			all = documents(t, "good")
		}
		for name, data := range all {
			head := `"duskline": ` + version + `,`
			if !strings.Contains(string(data), head) {
				continue // written in some other way
			}
			end := bytes.LastIndexByte(data, '}')
			moved := strings.Replace(string(data[:end]), head, "", 1) + `, "duskline": ` + version + "}"
			p, err := Read([]byte(moved))
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			if q, err := Read(data); err != nil || !equal(p, q) {
				t.Errorf("%s: read other with the version at its end", name)
			}
		}
	}
}

// TestFirstVersionKnowsNoLaterField: what version 2 brought is unknown in
// version 1, each member and each word of it.
func TestFirstVersionKnowsNoLaterField(t *testing.T) {
	p := full()
	p.Sky.Light = BySkyStates
	data, err := Write(p)
	if err != nil {
		t.Fatal(err)
	}
	_, err = Read(bytes.Replace(data, []byte(`"duskline": 2`), []byte(`"duskline": 1`), 1))
	faults, _ := err.(Faults)
	var got []string
	for _, f := range faults {
		if f.Kind != Unknown && f.Pointer != "/sky/light" {
			t.Error(f)
		}
		got = append(got, f.Pointer)
	}
	var want []string
	var walk func(r *rule, at string)
	walk = func(r *rule, at string) {
		for i := range r.fields {
			f := &r.fields[i]
			switch here := at + "/" + f.name; {
			case f.since == 2 || here == "/sky/light":
				want = append(want, here)
			case f.shape == list:
				walk(f.item, here+"/0")
			default:
				walk(f, here)
			}
		}
	}
	walk(&document, "")
	if len(want) < 16 || !slices.Equal(got, want) {
		t.Errorf("got %q\nwant %q", got, want)
	}
	for _, f := range faults {
		if f.Pointer == "/sky/light" && (f.Kind != BadWord || !slices.Equal(f.Allowed, []string{string(ByClearSky), string(ByPeakSun)})) {
			t.Error(f)
		}
	}
}

// TestNewFieldsAreNeeded: version 2 has no defaults. Only what Write may leave
// out may be missing.
func TestNewFieldsAreNeeded(t *testing.T) {
	data, err := Write(full())
	if err != nil {
		t.Fatal(err)
	}
	may := map[string]bool{"sky_states": true, "last_three_days": true, "weather_file": true}
	lost := 0
	for _, at := range []string{"sky", "panels/list/0", "trip"} {
		r := ruleAt("/" + at)
		for i := range r.fields {
			f := &r.fields[i]
			if f.since != 2 {
				continue
			}
			var doc map[string]any
			if err := json.Unmarshal(data, &doc); err != nil {
				t.Fatal(err)
			}
			var owner map[string]any
			switch at {
			case "panels/list/0":
				owner = doc["panels"].(map[string]any)["list"].([]any)[0].(map[string]any)
			default:
				owner = doc[at].(map[string]any)
			}
			delete(owner, f.name)
			short, err := json.Marshal(doc)
			if err != nil {
				t.Fatal(err)
			}
			_, err = Read(short)
			faults, _ := err.(Faults)
			missing := len(faults) == 1 && faults[0].Kind == Missing && faults[0].Pointer == "/"+at+"/"+f.name
			if f.name == "zone" { // the clock changes then have none to belong to
				missing = len(faults) > 0 && faults[0].Pointer == "/trip/zone"
			}
			if may[f.name] != (err == nil) || err != nil && !missing {
				t.Errorf("without %s: %v", f.name, err)
			}
			lost++
		}
	}
	if lost < 15 {
		t.Errorf("only %d fields were left out", lost)
	}
}
