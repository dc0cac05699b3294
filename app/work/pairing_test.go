package work

import (
	"encoding/json"
	"reflect"
	"testing"

	"duskline/calc/pairing"
	"duskline/calc/plan"
	"duskline/web/demo"
)

// The ladder that comes over is the one that was tried, and every rung is
// heard of.
func TestLadderComesOverWhole(t *testing.T) {
	text, ok := demo.Document("bird-count")
	if !ok {
		t.Fatal("no example")
	}
	p, err := plan.Read(text)
	if err != nil {
		t.Fatal(err)
	}
	want, err := pairing.Run(p, nil)
	if err != nil {
		t.Fatal(err)
	}
	var shares []float64
	over := make(chan []byte, 1)
	NewCrew(Jobs).Start(RunPairing, text, Hear{
		Progress: func(share float64) { shares = append(shares, share) },
		Done: func(out []byte, err error) {
			if err != nil {
				t.Error(err)
			}
			over <- out
		},
	})
	got, err := Ladder(<-over)
	if err != nil {
		t.Fatal(err)
	}
	// By way of JSON, as it travels: that keeps no empty list from an absent one.
	a, _ := json.Marshal(want)
	b, _ := json.Marshal(got)
	if !reflect.DeepEqual(a, b) {
		t.Errorf("got %s\nwant %s", b, a)
	}
	if len(shares) < len(want.Rungs) || shares[len(shares)-1] != 1 {
		t.Errorf("heard %v", shares)
	}
}

func TestNoPlanIsNoLadder(t *testing.T) {
	over := make(chan error, 1)
	NewCrew(Jobs).Start(RunPairing, []byte("{}"), Hear{Done: func(_ []byte, err error) { over <- err }})
	if err := <-over; err == nil {
		t.Error("a ladder without a plan")
	}
	if _, err := Ladder([]byte("no")); err == nil {
		t.Error("a ladder out of nothing")
	}
}
