package desk

import (
	"testing"
	"time"

	"duskline/calc/outlook"
	"duskline/calc/plan"
)

// A plan that takes long waits for a pause; one that took long once, on a
// machine that had other work, does not.
func TestOnlyAPlanThatStaysSlowWaits(t *testing.T) {
	d := New(heron(t))
	wait := long + 10*time.Millisecond
	d.compute = func(p plan.Plan) (*outlook.Outlook, error) { time.Sleep(wait); return outlook.Run(p) }
	var rest func()
	d.Pause = func(do func()) { rest = do }
	for i, v := range []string{"31", "32"} {
		if d.Enter("/trip/reserve_pct", v); d.Behind() || rest != nil {
			t.Fatalf("edit %d waits", i+1)
		}
	}
	before := d.Outlook()
	d.Enter("/trip/reserve_pct", "33")
	if !d.Behind() || rest == nil || d.Outlook() != before || d.Plan().Trip.ReservePct != 33 {
		t.Fatalf("behind %v, reserve %g %%", d.Behind(), d.Plan().Trip.ReservePct)
	}
	wait = 0
	rest()
	if d.Behind() || d.Outlook() == before {
		t.Error("the pause brought no Outlook")
	}
	if d.Enter("/trip/reserve_pct", "34"); d.Behind() {
		t.Error("quick again, and still waits")
	}
}
