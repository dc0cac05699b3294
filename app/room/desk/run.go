package desk

import (
	"reflect"
	"strings"

	"duskline/calc/plan"
)

// A run is one stretch of typing in one field. On the way to 6000 a person
// passes 600, which is taken as it is typed. If 6000 is then refused, it is
// not 600 that the Outlook should speak of, but the value before the run.
type run struct {
	last    string // as typed
	restore func(*plan.Plan)
}

// begin notes where a run starts. Text that neither goes on from what was
// typed nor shortens it is a new one.
func (d *Desk) begin(pointer, text string) {
	r, ok := d.runs[pointer]
	if !ok || !strings.HasPrefix(text, r.last) && !strings.HasPrefix(r.last, text) {
		r = run{restore: d.keeper(pointer)}
	}
	r.last = text
	d.runs[pointer] = r
}

// keeper returns what puts the value that a field has now back.
func (d *Desk) keeper(pointer string) func(*plan.Plan) {
	switch pointer {
	case StartDate, StartClock, StartOffset:
		start := d.good.Trip.Start
		return func(p *plan.Plan) { p.SetStart(start) }
	}
	v, ok := find(&d.good, pointer)
	if !ok {
		return func(*plan.Plan) {}
	}
	was := reflect.New(v.Type()).Elem()
	copyInto(was, v)
	return func(p *plan.Plan) {
		if v, ok := find(p, pointer); ok {
			copyInto(v, was)
		}
	}
}

// takeBack puts back the value from before the run, if what was typed last is
// refused.
func (d *Desk) takeBack(pointer string) {
	if !d.waits(pointer) {
		return
	}
	trial := Clone(d.good)
	d.runs[pointer].restore(&trial)
	d.follow(&trial, d.good.Trip)
	if !reflect.DeepEqual(trial, d.good) && check(&trial) == nil {
		d.take(trial)
	}
}
