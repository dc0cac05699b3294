package care

import (
	"os"
	"path/filepath"
	"testing"

	"duskline/calc/outlook"
	"duskline/calc/plan"
)

// A reading against the Outlook of the same battery, emptied in the dark by a
// light that burns all the time: what is left when its alarm sounds, and how
// long it is to its cut-off.
func TestReadingsAgainstOutlook(t *testing.T) {
	for _, c := range kinds {
		for _, watts := range []float64{15, 120} {
			p := kind(camp(), c)
			p.Case.Switch, p.Panels.List = plan.DCOnly, []plan.Panel{}
			p.Case.Battery.AlarmDelayS, p.Case.Battery.CutoffDelayS = 30, 30
			p.Gear = []plan.Device{gear("light", plan.RouteDC, watts, plan.Window{FromH: 0, ToH: 24})}
			p.Sky.WarmestC, p.Sky.ColdestC = 18, 18
			p.Trip.LengthH, p.Trip.StepMin = 60, 5
			o, err := outlook.Run(sound(t, p))
			if err != nil {
				t.Fatal(err)
			}
			var alarm, off *outlook.Event
			for k := range o.Events {
				switch e := &o.Events[k]; {
				case e.Kind == outlook.AlarmOn && alarm == nil:
					alarm = e
				case e.Kind == outlook.CutOff && off == nil:
					off = e
				}
			}
			if alarm == nil || off == nil {
				t.Fatalf("%s, %g W: alarm %v, cut-off %v", c, watts, alarm, off)
			}
			r := alarmsOf(t, p).Set.Usual
			minutes := off.At.Sub(alarm.At).Minutes()
			near(t, string(c)+": charge at the alarm", float64(r.Charge), float64(alarm.Charge), 0.005)
			near(t, string(c)+": minutes to the cut-off", r.Minutes, minutes, 0.5+0.02*minutes)
		}
	}
}

// Every good document has an answer to every question.
func TestEveryGoodDocument(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "plan", "good", "*.json"))
	if err != nil || len(files) < 50 {
		t.Fatalf("%d documents, %v", len(files), err)
	}
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		p, err := plan.Read(data)
		if err != nil {
			t.Fatal(name, err)
		}
		if p.Trip.LengthH/float64(p.Trip.StepMin) > 100 {
			p.Trip.LengthH = 24 // long ones would take long, and say no more
		}
		bounds(t, filepath.Base(name), p)
	}
}
