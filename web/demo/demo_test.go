package demo_test

import (
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"

	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/web/demo"
)

func TestEveryExampleIsSoundAndSaysThatItIsInvented(t *testing.T) {
	for _, name := range demo.Names() {
		data, ok := demo.Document(name)
		if !ok {
			t.Fatalf("%s has no document", name)
		}
		p, err := plan.Read(data)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if !p.Example || !strings.Contains(p.Note, "Invented") {
			t.Errorf("%s does not say that it is an invented example", name)
		}
		again, err := plan.Write(p)
		if err != nil || string(again) != string(data) {
			t.Errorf("%s is not as plan.Write would write it: %v", name, err)
		}
	}
}

func TestNamesAreTheFiles(t *testing.T) {
	files, err := fs.Glob(os.DirFS("."), "*.json")
	if err != nil || len(files) != len(demo.Names()) {
		t.Errorf("%v %v", files, err)
	}
	if _, ok := demo.Document("nothing"); ok {
		t.Error("a document of no name")
	}
	names := demo.Names()
	names[0] = "changed"
	if demo.Names()[0] != "bird-count" {
		t.Error("the order can be changed from outside")
	}
}

// TestOneOfEachVerdict: the examples show what the three answers look like.
func TestOneOfEachVerdict(t *testing.T) {
	want := []outlook.Verdict{outlook.Holds, outlook.Tight, outlook.RunsOut}
	for i, name := range demo.Names() {
		data, _ := demo.Document(name)
		p, err := plan.Read(data)
		if err != nil {
			t.Fatal(err)
		}
		o, err := outlook.Run(p)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if o.Verdict != want[i] {
			t.Errorf("%s: %v, want %v", name, o.Verdict, want[i])
		}
	}
}

func ExampleNames() {
	fmt.Println(demo.Names())
	// Output: [bird-count eye-clinic river-festival]
}

// TestEachExampleGivesTheSkyInAnotherWay: together they show what can be
// entered.
func TestEachExampleGivesTheSkyInAnotherWay(t *testing.T) {
	light := map[plan.LightKind]bool{}
	var horizon, shade, turned bool
	for _, name := range demo.Names() {
		data, _ := demo.Document(name)
		p, err := plan.Read(data)
		if err != nil {
			t.Fatal(err)
		}
		light[p.Sky.Light] = true
		horizon = horizon || len(p.Sky.Horizon) > 0
		for _, l := range p.Panels.List {
			shade = shade || len(l.ShadeHours) > 0
			turned = turned || l.Lie != plan.LieFixed
		}
		if p.Trip.Zone == "" {
			t.Errorf("%s has no zone", name)
		}
	}
	if len(light) != len(demo.Names()) || !horizon || !shade || !turned {
		t.Errorf("light %v, horizon %v, shade %v, turned %v", light, horizon, shade, turned)
	}
}

// TestExamplesShowTheWiringAndTheCharge: together they use what a maker may
// know of stages, cables, age and load.
func TestExamplesShowTheWiringAndTheCharge(t *testing.T) {
	var float, cable, old, covered, mains, kinds bool
	for _, name := range demo.Names() {
		data, _ := demo.Document(name)
		p, err := plan.Read(data)
		if err != nil {
			t.Fatal(err)
		}
		float = float || p.Case.Battery.AfterFull == plan.AfterFloat && p.Case.Battery.CompensationMVPerK < 0
		cable = cable || p.Panels.CableM > 0
		mains = mains || p.Trip.WallV > 0
		for _, l := range p.Panels.List {
			old, covered = old || l.AgeYears > 0, covered || l.Back == plan.BackCovered
		}
		for _, d := range p.Gear {
			kinds = kinds || d.Sensitivity != plan.SensitivityUnsaid
		}
	}
	if !float || !cable || !old || !covered || !mains || !kinds {
		t.Errorf("float %v, cable %v, age %v, covered %v, mains %v, kinds of load %v", float, cable, old, covered, mains, kinds)
	}
}

// TestExamplesShowTheLifeOfABattery: together they use what may be known of a
// battery beside its label: age, protection, a Case in the sun.
func TestExamplesShowTheLifeOfABattery(t *testing.T) {
	var aged, protected, sunny bool
	for _, name := range demo.Names() {
		data, _ := demo.Document(name)
		p, err := plan.Read(data)
		if err != nil {
			t.Fatal(err)
		}
		b := p.Case.Battery
		left, growth, err := b.Health()
		if err != nil {
			t.Fatal(err)
		}
		if left < 0.8 || growth < 1 {
			t.Errorf("%s: %g of the capacity left, %g times the resistance: an example is no wreck", name, left, growth)
		}
		aged = aged || left < 0.95 && b.Cycles > 0
		protected = protected || b.Guard().On
		sunny = sunny || p.Case.Stands == plan.InSun
	}
	if !aged || !protected || !sunny {
		t.Errorf("age %v, protection %v, sun %v", aged, protected, sunny)
	}
}
