// Package work does long jobs off the page's thread: bytes in, bytes out, with
// progress, and an end at any moment.
//
// In the browser a job runs in a worker of its own, which is this same program
// on the compiled module that the page has already: nothing is fetched or
// compiled a second time, and both sides are of one version. A worker lives
// for one job. Starting one costs some 20 ms; ending it is the only sure way
// to stop a job, and gives its memory back.
//
// If no worker can be had, the job is done on the page's own thread: it is
// late, but nothing is lost. A worker that dies in the middle of a job is not
// replaced in that way, since what killed it would kill the page and with it
// what the person has typed.
//
// Elsewhere than in a browser a job runs beside its caller.
package work

import (
	"errors"
	"fmt"
	"sync"
	"time"
)

// A Job is one kind of work. It calls done, which is never nil, as it goes:
// with the share of the work that is behind it, 0 to 1. What it says in its
// error is for a log: faults that a person should read belong into the bytes.
type Job func(in []byte, done func(share float64)) ([]byte, error)

// How a job can end without its result.
var (
	ErrNoJob = errors.New("no job of this name")
	ErrDied  = errors.New("the worker ended before its job") // a fault of our own, or no memory left
)

// A Crew does the jobs of a list.
type Crew struct {
	jobs map[string]Job
	hire func() (hand, error)
	wait time.Duration // how long a worker may take to begin
}

// patience is how long a worker may take to begin. On a desk it takes 20 ms; a
// slow phone with a full memory takes some seconds.
const patience = 15 * time.Second

// NewCrew returns a Crew for jobs by name. A worker finds its job by the name
// alone, so [Serve] must be given the same ones.
func NewCrew(jobs map[string]Job) *Crew { return &Crew{jobs, hire, patience} }

// A Hear is told how a job goes on. Its functions may be called from any
// goroutine, one after the other; nil ones are left out.
type Hear struct {
	// OnPage is called when no worker could be had and the page is going to
	// stand still until the job is done.
	OnPage func()
	// Progress is called with the share that is done, 0 to 1, never falling.
	Progress func(share float64)
	// Done is called once, at the end, unless the job was cancelled.
	Done func(out []byte, err error)
}

// A Task is a job under way.
type Task struct {
	mu    sync.Mutex
	hear  Hear
	job   Job
	name  string
	in    []byte
	hand  hand // nil: none (yet, or any more)
	begun bool // the worker has it
	share float64
	over  bool
	timer *time.Timer
}

// A hand is a worker with one job. What it says comes through the function it
// was given, from any goroutine; nothing comes any more after end.
type hand interface {
	begin(name string, in []byte, say func(word)) error
	end()
}

// A word is one thing that a worker says.
type word struct {
	kind  string // the constants below
	share float64
	out   []byte
	text  string
}

// What a worker says. worker.js has the last one as well.
const (
	saysBegun  = "begun"  // the program runs and has the job
	saysShare  = "share"  // share of it is done
	saysDone   = "done"   // out is the result
	saysFailed = "failed" // the job says that it cannot be done: text
	saysDied   = "died"   // the program ended before the job: text
)

// Start begins a job. The bytes must not be changed until it is over.
func (c *Crew) Start(name string, in []byte, hear Hear) *Task {
	t := &Task{hear: hear, name: name, in: in, job: c.jobs[name]}
	if t.job == nil {
		t.finish(nil, fmt.Errorf("%w: %q", ErrNoJob, name))
		return t
	}
	go t.run(c)
	return t
}

func (t *Task) run(c *Crew) {
	h, err := c.hire()
	if err == nil {
		var in []byte
		t.mu.Lock()
		if t.over { // cancelled before it began
			t.mu.Unlock()
			h.end()
			return
		}
		t.hand, in = h, t.in
		t.timer = time.AfterFunc(c.wait, func() { t.lost(ErrDied) })
		t.mu.Unlock()
		if err = h.begin(t.name, in, t.said); err == nil {
			return
		}
		t.lost(err)
		return
	}
	t.onPage()
}

// said takes what the worker says.
func (t *Task) said(w word) {
	switch w.kind {
	case saysBegun:
		t.mu.Lock()
		t.begun = true
		t.stopTimer()
		t.mu.Unlock()
	case saysShare:
		t.progress(w.share)
	case saysDone:
		t.finish(w.out, nil)
	case saysFailed:
		t.finish(nil, errors.New(w.text))
	case saysDied:
		t.lost(fmt.Errorf("%w: %s", ErrDied, w.text))
	}
}

// lost is the end of a worker before that of its job.
func (t *Task) lost(err error) {
	t.mu.Lock()
	h, begun, over := t.hand, t.begun, t.over
	t.hand = nil
	t.stopTimer()
	t.mu.Unlock()
	if over || h == nil {
		return
	}
	h.end()
	if begun {
		t.finish(nil, err)
		return
	}
	go t.onPage() // not inside of what the worker says: that may be a callback of the page
}

// onPage does the job here.
func (t *Task) onPage() {
	t.mu.Lock()
	over, in := t.over, t.in // a cancelled task lets go of its bytes
	t.mu.Unlock()
	if over {
		return
	}
	if t.hear.OnPage != nil {
		t.hear.OnPage()
		time.Sleep(twoFrames) // so that what it says is seen before all stands still
	}
	out, err := try(t.job, in, t.progress)
	t.finish(out, err)
}

const twoFrames = 33 * time.Millisecond

// try does a job and turns its panic into an error.
func try(job Job, in []byte, done func(float64)) (out []byte, err error) {
	defer func() {
		if x := recover(); x != nil {
			out, err = nil, fmt.Errorf("%w: %v", ErrDied, x)
		}
	}()
	return job(in, done)
}

func (t *Task) progress(share float64) {
	t.mu.Lock()
	tell := !t.over && share > t.share && share <= 1
	if tell {
		t.share = share
	}
	t.mu.Unlock()
	if tell && t.hear.Progress != nil {
		t.hear.Progress(share)
	}
}

func (t *Task) finish(out []byte, err error) {
	if t.close() && t.hear.Done != nil {
		t.hear.Done(out, err)
	}
}

// Cancel ends the job at once. Nothing more is heard of it. A job that runs on
// the page's own thread goes on to its end, which nobody hears.
func (t *Task) Cancel() { t.close() }

// close ends the task; false if it was over already.
func (t *Task) close() bool {
	t.mu.Lock()
	h, over := t.hand, t.over
	t.hand, t.over, t.in = nil, true, nil
	t.stopTimer()
	t.mu.Unlock()
	if h != nil {
		h.end()
	}
	return !over
}

func (t *Task) stopTimer() {
	if t.timer != nil {
		t.timer.Stop()
	}
}
