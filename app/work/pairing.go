package work

import (
	"encoding/json"

	"duskline/calc/pairing"
	"duskline/calc/plan"
)

// RunPairing is the job that tries the ladder of panels in a plan: a plan's
// document in, the ladder out. Its result is for [Ladder].
const RunPairing = "pairing"

// runPairing tells its share after every rung. A plan on the desk is a checked
// one: what fails here is a fault of the program, for a log.
func runPairing(in []byte, done func(share float64)) ([]byte, error) {
	done(0.02) // the program runs
	p, err := plan.Read(in)
	if err != nil {
		return nil, err
	}
	l, err := pairing.Run(p, func(share float64) bool { done(share); return true })
	if err != nil {
		return nil, err
	}
	return json.Marshal(l)
}

// Ladder returns the ladder that the job has tried.
func Ladder(out []byte) (*pairing.Ladder, error) {
	l := new(pairing.Ladder)
	if err := json.Unmarshal(out, l); err != nil {
		return nil, err
	}
	return l, nil
}
