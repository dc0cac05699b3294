package plan_test

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"duskline/calc/outlook"
	"duskline/calc/plan"
)

// TestWhatIsReadRuns: Read is the only door, so that a document it lets
// through must not fail behind it.
func TestWhatIsReadRuns(t *testing.T) {
	names, err := filepath.Glob("../../testdata/plan/good/*.json")
	if err != nil || len(names) == 0 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		p, err := plan.Read(data)
		if err != nil {
			t.Fatal(err)
		}
		o, err := outlook.Run(p)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for i := range o.Series.Charge {
			row := float64(o.Series.Charge[i]) + float64(o.Series.Volts[i]) + float64(o.Series.AmpsIn[i]) + float64(o.Series.AmpsOut[i])
			if math.IsNaN(row) || math.IsInf(row, 0) {
				t.Errorf("%s: row %d is no number", name, i)
				break
			}
		}
	}
}
