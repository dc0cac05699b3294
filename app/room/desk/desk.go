// Package desk is one Plan while it is being edited.
//
// What is typed is never lost and never let through unchecked: a value that
// plan.Check refuses waits in its field with the fault beside it, the Plan
// and its Outlook stay the last good ones, and edits elsewhere go on. As soon
// as another edit makes a waiting value possible (alarm and cut-off can only
// be moved past each other in two steps) it is taken too.
//
// The package knows no page: it is told what was typed where and answers with
// what each field shows.
package desk

import (
	"slices"
	"strings"
	"time"

	"duskline/app/words"
	"duskline/calc/civil"
	"duskline/calc/outlook"
	"duskline/calc/plan"
)

// A Desk holds a Plan, its Outlook and what has been typed but not taken.
type Desk struct {
	good    plan.Plan
	out     *outlook.Outlook
	err     error
	waiting []entry           // typed and not taken, oldest first
	typed   map[string]string // the person's own spelling of values that were taken
	runs    map[string]run
	undo    *removed
	refused entry        // the last change of a list that was not possible
	battery *exchange    // the kind of battery was changed, and its marks with it
	own     plan.Battery // the last one with a table of one's own, once its kind was changed

	compute func(plan.Plan) (*outlook.Outlook, error)

	serial  int // counts every change of what the page shows
	version int // counts the Plans

	// Taken hears of every new good Plan.
	Taken func(plan.Plan)
	// Zone, if set, says what the clock of a zone does from one instant to
	// another: it is asked when a trip with a zone is moved.
	Zone func(name string, from, to time.Time) (first time.Duration, changes []civil.Change, err error)
	// Weather, if set, cuts the hours of a plan's dates from the file that its
	// present ones are from: it is asked when a trip with a weather file is moved.
	Weather func(*plan.Plan) (*plan.Weather, bool)
	// Pause, if set, calls back when nothing has been typed for a moment. A
	// long trip in fine steps then waits for it with its Outlook, so that the
	// keys are not held up.
	Pause func(func())

	took   time.Duration // by the last Outlook
	slow   bool          // the last two took long: one may be the machine's
	behind bool          // the Outlook waits for a pause
}

// long is how long an Outlook may take for it to come with every key.
const long = 60 * time.Millisecond

// entry is one thing typed.
type entry struct {
	pointer string
	text    string
	hours   []plan.Window // if the pointer is a list of hours
	list    bool
	bad     string     // catalogue key: the text is no value at all
	fault   plan.Fault // otherwise why the value was refused
}

// New puts a Plan on a Desk and computes its Outlook. The Plan is a checked
// one.
func New(p plan.Plan) *Desk {
	d := &Desk{good: Clone(p), typed: map[string]string{}, runs: map[string]run{}, compute: outlook.Run}
	d.run()
	return d
}

// Plan returns the last good Plan. It must not be changed.
func (d *Desk) Plan() *plan.Plan { return &d.good }

// Outlook returns the last Outlook that could be computed. It is nil only if
// none ever could.
func (d *Desk) Outlook() *outlook.Outlook { return d.out }

// Err returns why the Plan has no Outlook of its own, or nil.
func (d *Desk) Err() error { return d.err }

// Serial counts every change of what the page shows.
func (d *Desk) Serial() int { return d.serial }

// Version counts the good Plans.
func (d *Desk) Version() int { return d.version }

// Waiting returns the pointers of what was typed and not taken.
func (d *Desk) Waiting() []string {
	list := make([]string, len(d.waiting))
	for i, e := range d.waiting {
		list[i] = e.pointer
	}
	return list
}

// Text returns what the field at a pointer shows.
func (d *Desk) Text(pointer string) string {
	for _, e := range d.waiting {
		if e.pointer == pointer {
			return e.text
		}
	}
	if t, ok := d.typed[pointer]; ok {
		return t
	}
	if list, ok := listOf(pointer); ok && d.waits(list) {
		var shown plan.Plan
		shown.Case.InverterHours = d.Hours(list)
		return text(&shown, "/case/inverter_hours"+strings.TrimPrefix(pointer, list))
	}
	return text(&d.good, pointer)
}

// Fault words what is wrong at a pointer, "" if nothing is.
func (d *Desk) Fault(pointer string) string {
	for _, e := range d.waiting {
		if e.pointer == pointer {
			if e.bad != "" {
				return words.T(e.bad)
			}
			if e.fault.Pointer != pointer && !strings.HasPrefix(pointer, e.fault.Pointer+"/") {
				// Another field does not go with it: name that one.
				return words.T("fault.at", words.FieldPlace(e.fault.Pointer), words.Fault(e.fault))
			}
			return words.Fault(e.fault)
		}
	}
	if d.refused.pointer == pointer {
		return words.FaultLine(d.refused.fault)
	}
	return ""
}

// Hours returns the windows that the list at a pointer shows.
func (d *Desk) Hours(pointer string) []plan.Window {
	for _, e := range d.waiting {
		if e.pointer == pointer && e.list {
			return e.hours
		}
	}
	v, ok := find(&d.good, pointer)
	if !ok {
		return nil
	}
	list, _ := v.Interface().([]plan.Window)
	return list
}

// Enter takes what was typed into the field at a pointer.
func (d *Desk) Enter(pointer, text string) {
	d.serial++
	d.forget(func(p string) bool { return p == pointer })
	e := entry{pointer: pointer, text: text}
	if list, ok := listOf(pointer); ok && d.waits(list) {
		// The list itself waits: the hour goes into the list that is shown.
		d.enterInto(list, e)
		return
	}
	if d.exchanged(pointer, text) {
		return
	}
	trial := Clone(d.good)
	var gone bool
	if e.bad, gone = set(&trial, pointer, text); gone {
		return
	}
	d.begin(pointer, text)
	d.typed[pointer] = text
	d.waiting = append(d.waiting, e)
	d.settle()
	d.takeBack(pointer)
}

// EnterHours takes a whole list of hours.
func (d *Desk) EnterHours(pointer string, hours []plan.Window) {
	d.serial++
	d.forget(func(p string) bool { return p == pointer || strings.HasPrefix(p, pointer+"/") })
	d.waiting = append(d.waiting, entry{pointer: pointer, list: true, hours: slices.Clone(hours)})
	d.settle()
}

// enterInto sets one hour of a list that waits.
func (d *Desk) enterInto(list string, e entry) {
	var trial plan.Plan
	trial.Case.InverterHours = slices.Clone(d.Hours(list))
	end := strings.TrimPrefix(e.pointer, list)
	bad, gone := set(&trial, "/case/inverter_hours"+end, e.text)
	switch {
	case gone:
	case bad != "":
		e.bad = bad
		d.waiting = append(d.waiting, e)
	default:
		d.EnterHours(list, trial.Case.InverterHours)
	}
}

// listOf returns the list that an hour belongs to.
func listOf(pointer string) (string, bool) {
	if !isHour(pointer) {
		return "", false
	}
	at := strings.LastIndexByte(pointer, '/')
	at = strings.LastIndexByte(pointer[:at], '/')
	return pointer[:at], true
}

func (d *Desk) waits(pointer string) bool {
	return slices.ContainsFunc(d.waiting, func(e entry) bool { return e.pointer == pointer })
}

// Leave is the end of typing in a field: a value that was taken is shown in
// its plain spelling from now on.
func (d *Desk) Leave(pointer string) {
	delete(d.runs, pointer)
	if _, ok := d.typed[pointer]; ok {
		delete(d.typed, pointer)
		d.serial++
	}
}

// Drop throws away what waits at a pointer; the field shows the Plan's value
// again.
func (d *Desk) Drop(pointer string) {
	d.serial++
	d.forget(func(p string) bool { return p == pointer })
}

// DropAll throws away all that waits.
func (d *Desk) DropAll() {
	d.serial++
	d.forget(func(string) bool { return true })
}

func (d *Desk) forget(which func(pointer string) bool) {
	d.waiting = slices.DeleteFunc(d.waiting, func(e entry) bool { return which(e.pointer) })
	for p := range d.typed {
		if which(p) {
			delete(d.typed, p)
		}
	}
}

// Change edits the Plan as a whole: entries come and go, a choice brings
// other fields with it. It is refused as a whole too; the faults say why.
func (d *Desk) Change(edit func(*plan.Plan)) plan.Faults {
	trial := Clone(d.good)
	edit(&trial)
	d.follow(&trial, d.good.Trip)
	if faults := check(&trial); len(faults) > 0 {
		return faults
	}
	d.take(trial)
	d.settle()
	return nil
}

// Replace puts another version of the same Plan on the Desk, as another tab
// has written it. What waits is tried again on it.
func (d *Desk) Replace(p plan.Plan) {
	d.good = Clone(p)
	d.serial++
	d.version++
	d.typed, d.runs = map[string]string{}, map[string]run{}
	d.run()
	d.settle()
}

// take makes a checked Plan the good one.
func (d *Desk) take(p plan.Plan) {
	d.good = p
	d.serial++
	d.version++
	d.refused = entry{}
	d.run()
	if d.Taken != nil {
		d.Taken(d.good)
	}
}

func (d *Desk) run() {
	if d.slow && d.Pause != nil {
		d.behind = true
		d.Pause(d.catchUp)
		return
	}
	start := time.Now()
	out, err := d.compute(d.good)
	took := time.Since(start)
	d.slow, d.took, d.behind = took > long && d.took > long, took, false
	if d.err = err; err == nil {
		d.out = out
	}
}

// catchUp computes the Outlook that waited.
func (d *Desk) catchUp() {
	if !d.behind {
		return
	}
	d.slow = false
	d.run()
	d.serial++
	d.version++
}

// Behind says that the Outlook is not that of the Plan yet.
func (d *Desk) Behind() bool { return d.behind }

// Own makes an example one's own plan of that name.
func (d *Desk) Own(name string) { d.good.Example, d.good.Name = false, name }
