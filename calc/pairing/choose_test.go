package pairing

import (
	"testing"

	"duskline/calc/outlook"
)

// The rules of [Run], on ladders written by hand.
func TestChooseByHand(t *testing.T) {
	out, tight, holds := Verdict(outlook.RunsOut), Verdict(outlook.Tight), Verdict(outlook.Holds)
	type r struct {
		wh   float64
		v    Verdict
		back int
		fit  Fit
	}
	for name, c := range map[string]struct {
		rungs             []r
		least, most, pack int
	}{
		"grows to the end":               {[]r{{10, out, 0, Fits}, {20, holds, 4, Fits}, {40, holds, 4, Fits}}, 1, 2, 1},
		"gains under a twentieth":        {[]r{{10, out, 0, Fits}, {20, holds, 4, Fits}, {20.9, holds, 4, Fits}, {30, holds, 4, Fits}}, 1, 1, 1},
		"gains a twentieth":              {[]r{{10, out, 0, Fits}, {20, holds, 4, Fits}, {21, holds, 4, Fits}}, 1, 2, 1},
		"the next is a danger":           {[]r{{10, holds, 0, Fits}, {20, holds, 4, Fits}, {40, holds, 4, Danger}}, 0, 1, 1},
		"half of the days is not most":   {[]r{{10, holds, 2, Fits}, {20, holds, 3, Fits}}, 0, 1, 1},
		"none puts it back up to most":   {[]r{{10, holds, 0, Fits}, {20, holds, 1, Fits}, {20.5, holds, 4, Fits}}, 0, 1, 0},
		"most is not under least":        {[]r{{20, tight, 4, Fits}, {20.5, holds, 4, Fits}, {21, holds, 4, Fits}, {30, holds, 4, Fits}}, 1, 1, 1},
		"gains behind the least":         {[]r{{20, tight, 4, Fits}, {20.5, holds, 1, Fits}, {30, holds, 4, Fits}}, 1, 2, 2},
		"nothing holds":                  {[]r{{10, out, 4, Fits}, {20, tight, 4, Fits}}, -1, 1, -1},
		"what holds is a danger":         {[]r{{10, out, 4, Fits}, {20, holds, 4, Danger}}, -1, 0, -1},
		"brings nothing":                 {[]r{{0, holds, 4, Fits}, {0, holds, 4, Fits}}, 0, -1, 0},
		"a caution may be packed":        {[]r{{10, holds, 4, Caution}, {20, holds, 4, Fits}}, 0, 1, 0},
		"the smallest ones bring naught": {[]r{{0, out, 0, Fits}, {5, out, 0, Fits}, {50, holds, 4, Fits}}, 2, 2, 2},
	} {
		l := Ladder{Days: 4}
		for _, x := range c.rungs {
			l.Rungs = append(l.Rungs, Rung{HarvestWh: x.wh, Verdict: x.v, BackDays: x.back, Fit: x.fit})
		}
		l.choose()
		if l.Least != c.least || l.Most != c.most || l.Pack != c.pack || l.OwnedPack != -1 {
			t.Errorf("%s: least %d, most %d, pack %d; want %d, %d, %d", name, l.Least, l.Most, l.Pack, c.least, c.most, c.pack)
		}
	}
}

func TestChooseOfOnesOwnByHand(t *testing.T) {
	out, tight, holds := Verdict(outlook.RunsOut), Verdict(outlook.Tight), Verdict(outlook.Holds)
	good := Rung{W: 80, Verdict: holds, BackDays: 4, HarvestWh: 50, Charges: true, Fit: Fits}
	small, danger, dead := good, good, good
	small.W, danger.Fit, danger.W, dead.Charges, dead.W = 60, Danger, 40, false, 20
	weak := Rung{W: 30, Verdict: holds, BackDays: 1, HarvestWh: 20, Charges: true, Fit: Fits}
	strong := Rung{W: 90, Verdict: tight, BackDays: 1, HarvestWh: 90, Charges: true, Fit: Fits}
	short := Rung{W: 20, Verdict: out, HarvestWh: 10, Charges: true, Fit: Fits}
	plainer := short
	short.Reasons = []Reason{{Code: Mismatch}}
	for name, c := range map[string]struct {
		owned []Rung
		want  int
	}{
		"the fewest watts of what is right": {[]Rung{good, small, danger, dead, weak}, 1},
		"what holds before what brings":     {[]Rung{strong, weak, short}, 1},
		"what brings more of what runs out": {[]Rung{short, {W: 5, Verdict: out, HarvestWh: 12, Charges: true, Fit: Fits}}, 1},
		"the plainer of two equals":         {[]Rung{short, plainer}, 1},
		"the first of two alike":            {[]Rung{plainer, plainer}, 0},
		"none":                              {[]Rung{danger, dead}, -1},
	} {
		l := Ladder{Days: 4, Owned: c.owned}
		if l.choose(); l.OwnedPack != c.want {
			t.Errorf("%s: %d, want %d", name, l.OwnedPack, c.want)
		}
	}
}
