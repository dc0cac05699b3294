package store

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"slices"
	"sort"
	"sync"
	"time"
)

// A Shelf is the plans and settings of this device, in memory, with a Drive
// that follows. Reading never waits; writing returns at once and the Drive
// gets it in order, the latest text of a plan standing in for the ones that
// it overtook.
//
// All methods may be called from any goroutine.
type Shelf struct {
	now   func() time.Time
	drive Drive

	mu       sync.Mutex
	records  map[string]Record
	settings map[string]string
	queue    []job
	failed   []job // tried again with the next write
	working  bool
	idle     *sync.Cond
	trouble  error
	told     func(error)  // hears of each change of trouble
	written  func(string) // hears of each plan that the Drive has taken or dropped
}

// job is one write that the Drive still owes. The text is looked up when its
// turn comes, so that a later edit needs no second turn.
type job struct{ record, setting string }

// NewShelf returns an empty Shelf on a Drive; nil keeps all in memory. now is
// the clock that stamps changes.
func NewShelf(d Drive, now func() time.Time) *Shelf {
	s := &Shelf{now: now, drive: d, records: map[string]Record{}, settings: map[string]string{}}
	s.idle = sync.NewCond(&s.mu)
	return s
}

// Load fills the Shelf from its Drive. What was put on the Shelf before stays
// and wins. On an error the Shelf goes on in memory alone, so that nothing on
// a Drive that could not be read is overwritten.
func (s *Shelf) Load() error {
	if s.drive == nil {
		return nil
	}
	c, err := s.drive.Load()
	s.mu.Lock()
	defer s.mu.Unlock()
	if err != nil {
		s.drive, s.trouble = nil, err
		return err
	}
	for _, r := range c.Records {
		if _, ok := s.records[r.ID]; !ok {
			s.records[r.ID] = r
		}
	}
	for k, v := range c.Settings {
		if _, ok := s.settings[k]; !ok {
			s.settings[k] = v
		}
	}
	return nil
}

// Watch sets who hears of trouble (nil: it is over) and of plans written.
func (s *Shelf) Watch(trouble func(error), written func(id string)) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.told, s.written = trouble, written
}

// Lasting says whether what is put here outlives the page.
func (s *Shelf) Lasting() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.drive != nil && s.trouble == nil
}

// Trouble returns what the Drive last complained of, or nil.
func (s *Shelf) Trouble() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.trouble
}

// List returns all records, the latest change first.
func (s *Shelf) List() []Record {
	s.mu.Lock()
	defer s.mu.Unlock()
	list := make([]Record, 0, len(s.records))
	for _, r := range s.records {
		list = append(list, r)
	}
	sort.Slice(list, func(i, k int) bool {
		if c := list[i].Changed.Compare(list[k].Changed); c != 0 {
			return c > 0
		}
		return list[i].ID < list[k].ID
	})
	return list
}

// Get returns one record.
func (s *Shelf) Get(id string) (Record, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	r, ok := s.records[id]
	return r, ok
}

// Add puts a new text on the Shelf and returns its id.
func (s *Shelf) Add(text []byte) string {
	id := NewID()
	s.Put(id, text)
	return id
}

// Put keeps a text under an id.
func (s *Shelf) Put(id string, text []byte) {
	s.mu.Lock()
	s.records[id] = Record{id, slices.Clone(text), s.now()}
	s.mu.Unlock()
	s.owe(job{record: id})
}

// Remove takes a record off and returns it, so that it can be put back with
// [Shelf.Restore].
func (s *Shelf) Remove(id string) (Record, bool) {
	s.mu.Lock()
	r, ok := s.records[id]
	delete(s.records, id)
	s.mu.Unlock()
	if ok {
		s.owe(job{record: id})
	}
	return r, ok
}

// Restore puts a removed record back as it was.
func (s *Shelf) Restore(r Record) {
	s.mu.Lock()
	s.records[r.ID] = r
	s.mu.Unlock()
	s.owe(job{record: r.ID})
}

// Setting returns a setting, "" if it was never set.
func (s *Shelf) Setting(key string) string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.settings[key]
}

// Set keeps a setting.
func (s *Shelf) Set(key, value string) {
	s.mu.Lock()
	same := s.settings[key] == value
	s.settings[key] = value
	s.mu.Unlock()
	if !same {
		s.owe(job{setting: key})
	}
}

// Refresh reads one plan again from the Drive, after another tab wrote it.
// gone says that the Drive no longer has it. A write of our own that is still
// owed wins: then nothing is read.
func (s *Shelf) Refresh(id string) (r Record, gone bool, err error) {
	s.mu.Lock()
	d := s.drive
	owed := slices.Contains(s.queue, job{record: id})
	r = s.records[id]
	s.mu.Unlock()
	if d == nil || owed {
		return r, false, nil
	}
	c, err := d.Load()
	if err != nil {
		return r, false, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if slices.Contains(s.queue, job{record: id}) {
		return s.records[id], false, nil
	}
	for _, found := range c.Records {
		if found.ID == id {
			s.records[id] = found
			return found, false, nil
		}
	}
	delete(s.records, id)
	return r, true, nil
}

// Flush waits until the Drive has all that was put so far, or has failed.
func (s *Shelf) Flush() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	for s.working {
		s.idle.Wait()
	}
	return s.trouble
}

// owe queues a write and sees to it that someone does it.
func (s *Shelf) owe(j job) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.drive == nil {
		return
	}
	for _, j := range append(s.failed, j) {
		if !slices.Contains(s.queue, j) {
			s.queue = append(s.queue, j)
		}
	}
	s.failed = nil
	if !s.working {
		s.working = true
		go s.work()
	}
}

// work pays what is owed, one write at a time. A write that fails is tried
// again with the next one; until then there is trouble.
func (s *Shelf) work() {
	for {
		s.mu.Lock()
		if len(s.queue) == 0 {
			s.working = false
			s.idle.Broadcast()
			s.mu.Unlock()
			return
		}
		j := s.queue[0]
		s.queue = s.queue[1:]
		d := s.drive
		r, keep := s.records[j.record]
		value := s.settings[j.setting]
		s.mu.Unlock()

		var err error
		switch {
		case j.setting != "":
			err = d.Set(j.setting, value)
		case keep:
			err = d.Put(r)
		default:
			err = d.Remove(j.record)
		}

		s.mu.Lock()
		before := s.trouble
		if err != nil {
			s.failed, s.trouble = append(s.failed, j), err
		} else if len(s.failed) == 0 {
			s.trouble = nil
		}
		now, told, written := s.trouble, s.told, s.written
		s.mu.Unlock()
		if told != nil && !errors.Is(now, before) {
			told(now)
		}
		if err == nil && j.record != "" && written != nil {
			written(j.record)
		}
	}
}

// NewID returns a name for a record that no other tab picks.
func NewID() string {
	var b [8]byte
	rand.Read(b[:]) // never fails, see crypto/rand
	return hex.EncodeToString(b[:])
}

// Fail tells a Shelf why it has nothing under it.
func (s *Shelf) Fail(err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.drive, s.trouble = nil, err
}
