package store

import (
	"bytes"
	"errors"
	"fmt"
	"sync"
	"testing"
	"time"
)

// clock ticks a second each time it is read.
func clock() func() time.Time {
	t := time.Date(2026, 5, 14, 18, 0, 0, 0, time.UTC)
	return func() time.Time { t = t.Add(time.Second); return t }
}

func Example() {
	s := NewShelf(NewMemory(), clock())
	id := s.Add([]byte(`{"name":"Tern Lake"}`))
	s.Flush()
	r, _ := s.Get(id)
	fmt.Println(string(r.Text), s.Lasting())
	// Output: {"name":"Tern Lake"} true
}

func TestShelfKeepsOnItsDrive(t *testing.T) {
	d := NewMemory()
	s := NewShelf(d, clock())
	a := s.Add([]byte("a"))
	b := s.Add([]byte("b"))
	s.Put(a, []byte("a, edited"))
	s.Remove(b)
	s.Set("theme", "night")
	if err := s.Flush(); err != nil {
		t.Fatal(err)
	}
	again := NewShelf(d, clock())
	if err := again.Load(); err != nil {
		t.Fatal(err)
	}
	list := again.List()
	if len(list) != 1 || list[0].ID != a || string(list[0].Text) != "a, edited" {
		t.Errorf("found %v", list)
	}
	if got := again.Setting("theme"); got != "night" {
		t.Errorf("theme %q", got)
	}
}

func TestShelfKeepsWhatNobodyCanRead(t *testing.T) {
	odd := []byte("\xff\x00 no plan \xfe")
	d := NewMemory(Record{ID: "odd", Text: odd})
	s := NewShelf(d, clock())
	if err := s.Load(); err != nil {
		t.Fatal(err)
	}
	s.Add([]byte("other"))
	s.Flush()
	c, _ := d.Load()
	for _, r := range c.Records {
		if r.ID == "odd" {
			if !bytes.Equal(r.Text, odd) {
				t.Errorf("became %q", r.Text)
			}
			return
		}
	}
	t.Error("dropped")
}

func TestShelfGoesOnWithoutADrive(t *testing.T) {
	s := NewShelf(nil, clock())
	s.Fail(ErrBlocked)
	id := s.Add([]byte("a"))
	if r, ok := s.Get(id); !ok || string(r.Text) != "a" {
		t.Errorf("%v %v", r, ok)
	}
	if s.Lasting() || !errors.Is(s.Trouble(), ErrBlocked) {
		t.Errorf("lasting %v, trouble %v", s.Lasting(), s.Trouble())
	}
}

// What could not be read must not be written over.
func TestShelfLeavesADriveAloneThatFailedToLoad(t *testing.T) {
	d := NewMemory(Record{ID: "a", Text: []byte("precious")})
	d.Fail = ErrDamaged
	s := NewShelf(d, clock())
	if err := s.Load(); !errors.Is(err, ErrDamaged) {
		t.Fatalf("load: %v", err)
	}
	d.Fail = nil
	s.Put("a", []byte("new"))
	s.Flush()
	c, _ := d.Load()
	if string(c.Records[0].Text) != "precious" {
		t.Errorf("now %q", c.Records[0].Text)
	}
}

func TestShelfTriesAgainAfterAFullDisk(t *testing.T) {
	d := NewMemory()
	s := NewShelf(d, clock())
	var mu sync.Mutex
	var told []error
	s.Watch(func(err error) { mu.Lock(); told = append(told, err); mu.Unlock() }, nil)
	d.Fail = ErrFull
	a := s.Add([]byte("a"))
	if err := s.Flush(); !errors.Is(err, ErrFull) {
		t.Fatalf("no trouble: %v", err)
	}
	if r, ok := s.Get(a); !ok || string(r.Text) != "a" {
		t.Error("lost in memory")
	}
	d.mu.Lock()
	d.Fail = nil
	d.mu.Unlock()
	b := s.Add([]byte("b"))
	if err := s.Flush(); err != nil {
		t.Fatalf("still in trouble: %v", err)
	}
	c, _ := d.Load()
	have := map[string]bool{}
	for _, r := range c.Records {
		have[r.ID] = true
	}
	if !have[a] || !have[b] {
		t.Errorf("the drive has %v", have)
	}
	mu.Lock()
	defer mu.Unlock()
	if len(told) != 2 || !errors.Is(told[0], ErrFull) || told[1] != nil {
		t.Errorf("told %v", told)
	}
}

func TestShelfRestoresWhatWasRemoved(t *testing.T) {
	d := NewMemory()
	s := NewShelf(d, clock())
	id := s.Add([]byte("a"))
	before, _ := s.Get(id)
	r, _ := s.Remove(id)
	if len(s.List()) != 0 {
		t.Error("still listed")
	}
	s.Restore(r)
	s.Flush()
	if got, _ := s.Get(id); !got.Changed.Equal(before.Changed) {
		t.Error("the time of change moved")
	}
	if c, _ := d.Load(); len(c.Records) != 1 {
		t.Errorf("the drive has %d", len(c.Records))
	}
}

// slow is a Drive that takes its time, and counts.
type slow struct {
	*Memory
	gate chan struct{}
}

func (s slow) Put(r Record) error { <-s.gate; return s.Memory.Put(r) }

func TestShelfSkipsTextsThatWereOvertaken(t *testing.T) {
	d := slow{NewMemory(), make(chan struct{})}
	s := NewShelf(d, clock())
	id := s.Add([]byte("0"))
	for i := range 50 {
		s.Put(id, []byte(fmt.Sprint(i+1)))
	}
	close(d.gate)
	s.Flush()
	c, _ := d.Load()
	if string(c.Records[0].Text) != "50" {
		t.Errorf("the drive has %q", c.Records[0].Text)
	}
	if d.puts > 2 {
		t.Errorf("%d writes for one burst", d.puts)
	}
}

func TestShelfRefreshesFromAnotherTab(t *testing.T) {
	d := NewMemory()
	one, two := NewShelf(d, clock()), NewShelf(d, clock())
	id := one.Add([]byte("first"))
	one.Flush()
	two.Load()
	two.Put(id, []byte("second"))
	two.Flush()
	if r, gone, err := one.Refresh(id); err != nil || gone || string(r.Text) != "second" {
		t.Errorf("%q %v %v", r.Text, gone, err)
	}
	two.Remove(id)
	two.Flush()
	if r, gone, err := one.Refresh(id); err != nil || !gone || string(r.Text) != "second" {
		t.Errorf("%q %v %v", r.Text, gone, err)
	}
}

func TestShelfListsTheLatestChangeFirst(t *testing.T) {
	s := NewShelf(nil, clock())
	a, b := s.Add([]byte("a")), s.Add([]byte("b"))
	s.Put(a, []byte("a again"))
	if l := s.List(); l[0].ID != a || l[1].ID != b {
		t.Errorf("order %v", l)
	}
}

// Whatever lies in localStorage comes back byte for byte.
func FuzzUnpack(f *testing.F) {
	f.Add("1747245600000 text {}", []byte("x"))
	f.Add("12 base64 !", []byte("\xff"))
	f.Add("", []byte(""))
	f.Fuzz(func(t *testing.T, value string, text []byte) {
		unpack("id", value)
		r := Record{ID: "id", Text: text, Changed: time.UnixMilli(1747245600000)}
		back := unpack("id", pack(r))
		if !bytes.Equal(back.Text, text) || !back.Changed.Equal(r.Changed) {
			t.Fatalf("%q became %q", text, back.Text)
		}
	})
}
