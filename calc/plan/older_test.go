package plan

import (
	"bytes"
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// Documents of older versions lie in testdata/plan/v1 to v3, with the schemas
// of their time, and never change.

var olderVersions = []struct{ version, least int }{{1, 37}, {2, 80}, {3, 116}}

func olderDocuments(t testing.TB, version, least int) map[string][]byte {
	dir := "v" + strconv.Itoa(version)
	all := documents(t, dir+"/good")
	for name, data := range documents(t, dir+"/demo") {
		all[name] = data
	}
	if len(all) < least {
		t.Fatalf("%d documents of version %d: one is missing", len(all), version)
	}
	return all
}

// TestOlderVersionsAreReadForEver: an older document is the Plan that its twin
// of the present version is, which says what its version took for granted.
func TestOlderVersionsAreReadForEver(t *testing.T) {
	latest := compileSchema(t, schemaFile)
	twins := documents(t, "good")
	for _, v := range olderVersions {
		schema := compileSchema(t, fmt.Sprintf("%sv%d/schema.json", folder, v.version))
		paired := 0
		for name, data := range olderDocuments(t, v.version, v.least) {
			if err := schemaTakes(schema, data); err != nil {
				t.Errorf("%s: the schema of its version says %v", name, err)
			}
			if schemaTakes(latest, data) == nil {
				t.Errorf("%s: the latest schema takes it", name)
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
			if strings.Contains(name, "demo") {
				continue
			}
			twin, ok := twins["good/"+filepath.Base(name)]
			if !ok {
				t.Errorf("%s has no twin", name)
				continue
			}
			if q, err := Read(twin); err != nil || !equal(p, q) {
				t.Errorf("%s: not what its twin is (%v)\n%+v\n%+v", name, err, p, q)
			}
			paired++
		}
		if paired < v.least-3 {
			t.Errorf("version %d: only %d twins", v.version, paired)
		}
	}
}

// TestWhatOlderVersionsTookForGranted: the contract's values, by hand.
func TestWhatOlderVersionsTookForGranted(t *testing.T) {
	for _, v := range []string{"v1", "v2", "v3"} {
		p, err := Read(documents(t, v+"/good")[v+"/good/base.json"])
		if err != nil {
			t.Fatal(err)
		}
		b, c, w, i, d, s, l, r := p.Case.Battery, p.Case.Controller, p.Case.WallCharger, p.Case.Inverter, p.Gear[0], p.Panels, p.Panels.List[0], p.Trip
		for what, ok := range map[string]bool{
			"battery": b.AfterFull == "hold" && b.AbsorptionH == 0 && b.FloatV == 13.5 && b.ResumeV == 13.2 && b.CompensationMVPerK == 0,
			"battery's life": b.RatedHours == 20 && b.Peukert == nil && b.AgeYears == 0 && b.Cycles == 0 && b.HealthPct == nil && b.KeptC == 20 &&
				b.KeptPct == 50 && b.UsesPerYear == 12,
			"battery's own figures": b.SelfDischargePctMonth == nil && b.NoChargeBelowC == nil && b.HeatKJPerK == nil && b.CoolingWPerK == nil &&
				b.Own == nil && b.Protection == nil,
			"place of the Case": p.Case.Stands == "shade",
			"controller":        c.StartV == 0 && c.EfficiencyLowPct == nil && c.NightA == nil,
			"wall charger":      w.InputMinV == 100 && w.InputMaxV == 240,
			"vehicle charger":   p.Case.Vehicle == nil,
			"inverter": i.LowCutoffV == 0 && i.LowReconnectV == 0 && i.SleepA == nil && i.WakeW == 0 && i.SurgeS == 0 &&
				i.EfficiencyHalfPct == nil && i.PulseDeg == 126,
			"gear":   d.Sensitivity == "unsaid" && d.PowerFactor == 1 && d.SurgeS == 0,
			"panels": s.Joined == "side_by_side" && s.BlockingV == 0 && s.CableM == 0 && s.CableGauge == "4_mm2",
			"panel":  l.Technology == "crystalline" && l.AgeYears == 0 && l.Back == "free" && l.String == 1 && l.SeriesFuseA == 0,
			"trip":   r.WallV == 0 && r.EngineHours != nil && len(r.EngineHours) == 0 && r.GeneratorHours != nil && len(r.GeneratorHours) == 0 && r.GeneratorW == 0,
		} {
			if !ok {
				t.Errorf("%s: %s is not as it was", v, what)
			}
		}
	}
}

// An older document may hold charging under the volts that stand for a float
// and a resumption which it does not know: these count only where they are
// used.
func TestOlderDocumentThatHoldsUnderTheFloatIsRead(t *testing.T) {
	for _, v := range []string{"v1", "v2"} {
		data := documents(t, v+"/good")[v+"/good/base.json"]
		low := bytes.Replace(data, []byte(`"charge_V": 14.4`), []byte(`"charge_V": 13.2`), 1)
		if _, err := Read(low); err != nil || bytes.Equal(low, data) {
			t.Errorf("%s: %v", v, err)
		}
	}
}

// TestVersionIsFoundWhereverItStands moves the number to the end of every
// document.
func TestVersionIsFoundWhereverItStands(t *testing.T) {
	moved := map[int]int{}
	check := func(version int, all map[string][]byte) {
		for name, data := range all {
			head := fmt.Sprintf(`"duskline": %d,`, version)
			if !strings.Contains(string(data), head) {
				continue // written in some other way
			}
			end := bytes.LastIndexByte(data, '}')
			text := strings.Replace(string(data[:end]), head, "", 1) + fmt.Sprintf(`, "duskline": %d}`, version)
			p, err := Read([]byte(text))
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			if q, err := Read(data); err != nil || !equal(p, q) {
				t.Errorf("%s: read other with the version at its end", name)
			}
			moved[version]++
		}
	}
	for _, v := range olderVersions {
		check(v.version, olderDocuments(t, v.version, v.least))
	}
	check(Version, documents(t, "good"))
	for v := firstVersion; v <= Version; v++ {
		if moved[v] < 30 {
			t.Errorf("version %d: only %d documents", v, moved[v])
		}
	}
}

// TestOlderVersionsKnowNoLaterField: what a version brought is unknown in those
// before it, each member and each word of it.
func TestOlderVersionsKnowNoLaterField(t *testing.T) {
	p := full()
	p.Sky.Light, p.Panels.Joined = BySkyStates, InStrings
	data, err := Write(p)
	if err != nil {
		t.Fatal(err)
	}
	words := map[string]int{"/sky/light": 2, "/panels/joined": 3, "/case/battery/chemistry": 4}
	for version, least := range map[int]int{1: 62, 2: 49, 3: 16} {
		_, err = Read(bytes.Replace(data, []byte(`"duskline": 4`), []byte(fmt.Sprintf(`"duskline": %d`, version)), 1))
		faults, _ := err.(Faults)
		var got []string
		for _, f := range faults {
			if f.Kind != Unknown && words[f.Pointer] <= version {
				t.Error(f)
			}
			got = append(got, f.Pointer)
		}
		var want []string
		var walk func(r *rule, at string, target any)
		walk = func(r *rule, at string, target any) {
			for i := range r.fields {
				f := &r.fields[i]
				member := f.at(target)
				switch here := at + "/" + f.name; {
				case member == nil:
				case f.since > version || words[here] > version:
					want = append(want, here)
				case f.shape == list:
					for i := range f.count(member) {
						walk(f.item, here+"/"+strconv.Itoa(i), f.entry(member, i))
					}
				default:
					walk(f, here, member)
				}
			}
		}
		walk(&document, "", &p)
		if len(want) < least || !slices.Equal(got, want) {
			t.Errorf("version %d: got %q\nwant %q", version, got, want)
		}
		for _, f := range faults {
			if f.Pointer == "/sky/light" && (f.Kind != BadWord || !slices.Equal(f.Allowed, []string{string(ByClearSky), string(ByPeakSun)})) ||
				f.Pointer == "/case/battery/chemistry" && (f.Kind != BadWord || !slices.Equal(f.Allowed, []string{string(LiFePO4), string(AGM)})) ||
				f.Pointer == "/panels/joined" && (f.Kind != BadWord || !slices.Equal(f.Allowed, []string{string(SideBySide), string(EndToEnd)})) {
				t.Error(f)
			}
		}
	}
}

// TestNewFieldsAreNeeded: the present version has no defaults. Only what Write
// may leave out may be missing.
func TestNewFieldsAreNeeded(t *testing.T) {
	p := full()
	data, err := Write(p)
	if err != nil {
		t.Fatal(err)
	}
	may := map[string]bool{"sky_states": true, "last_three_days": true, "weather_file": true,
		"efficiency_low_pct": true, "night_A": true, "vehicle_charger": true, "sleep_A": true, "efficiency_half_pct": true,
		"peukert": true, "health_pct": true, "self_discharge_pct_month": true, "no_charge_below_C": true, "heat_kJ_per_K": true, "cooling_W_per_K": true,
		"protection": true}
	lost := map[int]int{}
	var walk func(r *rule, at string, doc func() (root, owner map[string]any))
	walk = func(r *rule, at string, doc func() (root, owner map[string]any)) {
		for i := range r.fields {
			f := &r.fields[i]
			here := at + "/" + f.name
			if f.since > firstVersion {
				root, owner := doc()
				delete(owner, f.name)
				short, err := json.Marshal(root)
				if err != nil {
					t.Fatal(err)
				}
				_, err = Read(short)
				faults, _ := err.(Faults)
				missing := len(faults) == 1 && faults[0].Kind == Missing && faults[0].Pointer == here
				if f.name == "zone" { // the clock changes then have none to belong to
					missing = len(faults) > 0 && faults[0].Pointer == here
				}
				if may[f.name] != (err == nil) || err != nil && !missing {
					t.Errorf("without %s: %v", here, err)
				}
				lost[f.since]++
				continue
			}
			switch f.shape {
			case object:
				walk(f, here, func() (map[string]any, map[string]any) {
					root, owner := doc()
					return root, owner[f.name].(map[string]any)
				})
			case list:
				if f.item.shape != object {
					continue
				}
				walk(f.item, here+"/0", func() (map[string]any, map[string]any) {
					root, owner := doc()
					return root, owner[f.name].([]any)[0].(map[string]any)
				})
			}
		}
	}
	walk(&document, "", func() (map[string]any, map[string]any) {
		var root map[string]any
		if err := json.Unmarshal(data, &root); err != nil {
			t.Fatal(err)
		}
		return root, root
	})
	if lost[2] < 15 || lost[3] < 30 || lost[4] < 15 {
		t.Errorf("left out by version: %v", lost)
	}
}
