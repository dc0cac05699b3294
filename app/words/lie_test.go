package words

import (
	"strings"
	"testing"

	"duskline/calc/plan"
	"duskline/calc/qty"
)

// plainSpaces puts a plain space where a no-break space keeps a unit to its number.
func plainSpaces(s string) string {
	return strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace(s)
}

func TestFacing(t *testing.T) {
	for _, c := range []struct {
		azimuth qty.Degree
		want    string
	}{
		{0, "north"}, {360, "north"}, {359.6, "north"}, {-20, "20° west of north"}, {20, "20° east of north"},
		{90, "east"}, {70, "20° north of east"}, {120, "30° south of east"},
		{200, "20° west of south"}, {160.2, "20° east of south"}, {270, "west"}, {260, "10° south of west"}, {280, "10° north of west"},
	} {
		if got := plainSpaces(Facing(c.azimuth)); got != c.want {
			t.Errorf("%v: %q, want %q", c.azimuth, got, c.want)
		}
	}
}

func TestLies(t *testing.T) {
	for want, p := range map[string]plan.Panel{
		"leans 35°, faces south": {Lie: plan.LieFixed, TiltDeg: 35, AzimuthDeg: 180},
		"lies flat":              {Lie: plan.LieFixed, AzimuthDeg: 180},
		"turned to the sun 3 times a day, leans 40°":           {Lie: plan.LieTurned, TiltDeg: 40, AimsPerDay: 3},
		"aimed at the sun 1 time a day":                        {Lie: plan.LieTwoAxis, AimsPerDay: 1},
		"flat on the Case's lid":                               {Lie: plan.LieOnLid},
		"on the Case's lid, leans 60°, faces 5° west of north": {Lie: plan.LieOnLid, TiltDeg: 60, AzimuthDeg: 355},
	} {
		if got := plainSpaces(Lies(p)); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestOverFlat(t *testing.T) {
	for share, want := range map[float64]string{0.11: "+11 %", -0.04: "−4 %", 0.004: "the same", -0.004: "the same"} {
		if got := plainSpaces(OverFlat(share)); got != want {
			t.Errorf("%v: %q, want %q", share, got, want)
		}
	}
}
