package work

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"sync"
	"testing"
	"testing/synctest"
	"time"
)

func Example() {
	crew := NewCrew(map[string]Job{
		"turn": func(in []byte, done func(float64)) ([]byte, error) {
			out := slices.Clone(in)
			slices.Reverse(out)
			return out, nil
		},
	})
	over := make(chan string)
	crew.Start("turn", []byte("dusk"), Hear{Done: func(out []byte, err error) { over <- fmt.Sprintln(string(out), err) }})
	fmt.Print(<-over)
	// Output: ksud <nil>
}

// fake is a worker that says what a test has it say.
type fake struct {
	refuses error
	mu      sync.Mutex
	say     func(word)
	name    string
	in      []byte
	ended   bool
}

func (f *fake) begin(name string, in []byte, say func(word)) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.name, f.in, f.say = name, in, say
	return f.refuses
}

func (f *fake) end() {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.ended = true
}

// heard is what the person who started a job hears.
type heard struct {
	onPage int
	shares []float64
	done   int
	out    []byte
	err    error
}

// start begins a job on a fake worker and lets it settle.
func start(f *fake, hireErr error) (*heard, *Task) {
	h := &heard{}
	crew := &Crew{jobs: map[string]Job{"double": double}, wait: time.Minute, hire: func() (hand, error) {
		if hireErr != nil {
			return nil, hireErr
		}
		return f, nil
	}}
	t := crew.Start("double", []byte("ab"), Hear{
		OnPage:   func() { h.onPage++ },
		Progress: func(s float64) { h.shares = append(h.shares, s) },
		Done:     func(out []byte, err error) { h.done++; h.out, h.err = out, err },
	})
	synctest.Wait()
	return h, t
}

func double(in []byte, done func(float64)) ([]byte, error) {
	done(0.5)
	if len(in) == 0 {
		return nil, errors.New("nothing to double")
	}
	done(1)
	return append(slices.Clone(in), in...), nil
}

func TestWorkerDoesTheJob(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		f := &fake{}
		h, _ := start(f, nil)
		if f.name != "double" || string(f.in) != "ab" {
			t.Fatalf("it was given %q %q", f.name, f.in)
		}
		f.say(word{kind: saysBegun})
		time.Sleep(time.Hour) // a long job is no dead one
		for _, s := range []float64{0.2, 0.1, 0.2, 2, 0.9} {
			f.say(word{kind: saysShare, share: s})
		}
		f.say(word{kind: saysDone, out: []byte("abab")})
		f.say(word{kind: saysDied, text: "ended"})
		f.say(word{kind: saysShare, share: 1})
		if h.done != 1 || h.err != nil || string(h.out) != "abab" || h.onPage != 0 {
			t.Errorf("heard %+v", h)
		}
		if !slices.Equal(h.shares, []float64{0.2, 0.9}) {
			t.Errorf("progress %v", h.shares)
		}
		if !f.ended {
			t.Error("the worker was not ended")
		}
	})
}

func TestFailedJobIsHeardInItsWords(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		f := &fake{}
		h, _ := start(f, nil)
		f.say(word{kind: saysBegun})
		f.say(word{kind: saysFailed, text: "nothing to double"})
		if h.done != 1 || h.err == nil || h.err.Error() != "nothing to double" || h.onPage != 0 {
			t.Errorf("heard %+v", h)
		}
	})
}

// What killed the worker would kill the page: the job is not done again there.
func TestWorkerThatDiesIsAnError(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		f := &fake{}
		h, _ := start(f, nil)
		f.say(word{kind: saysBegun})
		f.say(word{kind: saysDied, text: "out of memory"})
		synctest.Wait()
		if h.done != 1 || !errors.Is(h.err, ErrDied) || h.onPage != 0 || !f.ended {
			t.Errorf("heard %+v, ended %v", h, f.ended)
		}
	})
}

// A worker that cannot begin, in each way that can be: the page does the job.
func TestWithoutAWorkerThePageDoesTheJob(t *testing.T) {
	for name, c := range map[string]struct {
		hire  error
		f     *fake
		after func(*fake)
	}{
		"none to be had":       {hire: errors.New("no workers here")},
		"does not take it":     {f: &fake{refuses: errors.New("cannot be posted")}},
		"script does not load": {f: &fake{}, after: func(f *fake) { f.say(word{kind: saysDied, text: "404"}) }},
		"never says a word":    {f: &fake{}, after: func(f *fake) { time.Sleep(2 * time.Minute) }},
	} {
		t.Run(name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				h, _ := start(c.f, c.hire)
				if c.after != nil {
					c.after(c.f)
				}
				time.Sleep(time.Second)
				synctest.Wait()
				if h.onPage != 1 || h.done != 1 || h.err != nil || string(h.out) != "abab" {
					t.Errorf("heard %+v", h)
				}
				if c.f != nil && !c.f.ended {
					t.Error("the worker was not ended")
				}
			})
		})
	}
}

func TestCancelledIsHeardOfNoMore(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		f := &fake{}
		h, task := start(f, nil)
		f.say(word{kind: saysBegun})
		f.say(word{kind: saysShare, share: 0.4})
		task.Cancel()
		if !f.ended {
			t.Error("the worker goes on")
		}
		f.say(word{kind: saysDone, out: []byte("late")})
		f.say(word{kind: saysShare, share: 0.9})
		f.say(word{kind: saysDied})
		task.Cancel()
		synctest.Wait()
		if h.done != 0 || h.onPage != 0 || !slices.Equal(h.shares, []float64{0.4}) {
			t.Errorf("heard %+v", h)
		}
	})
}

// Cancelled before the worker has begun, while it is being had, and on the
// page.
func TestCancelledEarly(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		f := &fake{}
		h, task := start(f, nil)
		task.Cancel()
		time.Sleep(time.Hour)
		if !f.ended || h.done+h.onPage > 0 {
			t.Errorf("ended %v, heard %+v", f.ended, h)
		}

		g, gate := &fake{}, make(chan struct{})
		crew := &Crew{jobs: map[string]Job{"double": double}, wait: time.Minute, hire: func() (hand, error) { <-gate; return g, nil }}
		task = crew.Start("double", nil, Hear{Done: func([]byte, error) { t.Error("heard of it") }})
		task.Cancel()
		close(gate)
		synctest.Wait()
		if !g.ended || g.say != nil {
			t.Error("a cancelled job was begun")
		}

		gate = make(chan struct{})
		crew = &Crew{jobs: map[string]Job{"slow": func(in []byte, done func(float64)) ([]byte, error) { <-gate; return nil, nil }}, hire: hire}
		task = crew.Start("slow", nil, Hear{Done: func([]byte, error) { t.Error("heard of it") }})
		synctest.Wait()
		task.Cancel()
		close(gate)
		synctest.Wait()
	})
}

func TestUnknownJob(t *testing.T) {
	var got error
	NewCrew(nil).Start("fly", nil, Hear{Done: func(out []byte, err error) { got = err }})
	if !errors.Is(got, ErrNoJob) {
		t.Errorf("got %v", got)
	}
}

// A job that panics on the page's thread must not end the page.
func TestPanicIsAnError(t *testing.T) {
	over := make(chan error)
	crew := NewCrew(map[string]Job{"slip": func(in []byte, done func(float64)) ([]byte, error) { return in[5:6], nil }})
	crew.Start("slip", []byte("a"), Hear{Done: func(out []byte, err error) { over <- err }})
	if err := <-over; !errors.Is(err, ErrDied) {
		t.Errorf("got %v", err)
	}
}

// Elsewhere than in a browser the very job is done, in full.
func TestNativeCrewDoesTheJob(t *testing.T) {
	over := make(chan []byte)
	in := bytes.Repeat([]byte("x"), 1<<20)
	NewCrew(map[string]Job{"double": double}).Start("double", in, Hear{Done: func(out []byte, err error) { over <- out }})
	if out := <-over; len(out) != 2<<20 {
		t.Errorf("%d bytes", len(out))
	}
}
