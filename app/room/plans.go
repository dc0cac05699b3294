package room

import (
	"slices"
	"strconv"
	"time"

	"duskline/app/room/desk"
	"duskline/app/words"
	"duskline/app/zone"
	"duskline/calc/plan"
)

// What can be done with whole plans: start, own, rename, copy, delete, import.

// New starts a plan of one's own.
func (s *Session) New() {
	p := plan.Blank(s.freeName(words.T("plans.new_name")), soon(time.Now()))
	if here := zone.Here(); here != "" {
		_ = SetZone(&p, here) // where that fails the device's offset stays
	}
	s.put(p)
	s.Example = ""
	s.keep(p)
}

// own makes the example on the desk a plan of one's own, which its first edit
// does. It gets a name of its own, unless the edit was that: two plans of the
// same name, of which one is the example, would be told apart by nobody.
func (s *Session) own(name string) {
	key, id := s.Example, s.ID
	for _, e := range Examples() {
		if e.Key == key && e.Name() == name {
			name = s.freeName(words.T("plans.own_name", name))
		}
	}
	s.Desk.Own(name)
	s.Notice = Notice{Key: "notice_app.own_copy", Args: []any{name}, Undo: func() {
		s.Delete(id)
		deleted := s.Notice // with the way back to what was changed since
		s.OpenExample(key)
		s.Notice = deleted
	}}
}

// Rename gives a plan of the shelf another name.
func (s *Session) Rename(id, name string) plan.Faults {
	if id == s.ID {
		return s.Desk.Change(func(p *plan.Plan) { p.Name = name })
	}
	p, err := s.Read(id)
	if err != nil {
		return nil
	}
	p = desk.Clone(p)
	p.Name = name
	if faults := plan.Check(p); len(faults) > 0 {
		return faults
	}
	if text, err := plan.Write(p); err == nil {
		s.Shelf.Put(id, text)
	}
	return nil
}

// Copy puts a copy of a plan on the shelf and returns its id.
func (s *Session) Copy(id string) (string, bool) {
	p, err := s.Read(id)
	if err != nil {
		return "", false
	}
	p = desk.Clone(p)
	p.Name = s.freeName(p.Name)
	text, err := plan.Write(p)
	if err != nil {
		return "", false
	}
	return s.Shelf.Add(text), true
}

// Delete takes a plan off the shelf, to be put back from the notice. If it
// was open, the next one is opened.
func (s *Session) Delete(id string) {
	s.Save()
	r, ok := s.Shelf.Remove(id)
	if !ok {
		return
	}
	name := words.T("plans.unreadable")
	if p, err := plan.Read(r.Text); err == nil {
		name = p.Name
	}
	wasOpen := id == s.ID
	if wasOpen {
		s.ID = ""
		s.openNext()
	}
	s.Notice = Notice{Key: "notice_app.deleted", Args: []any{name}, Undo: func() {
		s.Shelf.Restore(r)
		if wasOpen {
			s.Open(r.ID)
		}
		s.Notice = Notice{}
	}}
}

func (s *Session) openNext() {
	for _, r := range s.Shelf.List() {
		if s.Open(r.ID) {
			return
		}
	}
	for _, e := range Examples() {
		if s.OpenExample(e.Key) {
			return
		}
	}
	s.New()
}

// Import puts a document from outside on the shelf and opens it. A document
// that is no plan is refused with all its faults.
func (s *Session) Import(text []byte) error {
	p, err := plan.Read(text)
	if err != nil {
		return err
	}
	p.Example = false
	p.Name = s.freeName(p.Name)
	s.put(p)
	s.Example = ""
	s.keep(p)
	return nil
}

// freeName returns the name, with a number behind it if it is taken.
func (s *Session) freeName(name string) string {
	var taken []string
	for _, r := range s.Shelf.List() {
		if p, err := s.Read(r.ID); err == nil {
			taken = append(taken, p.Name)
		}
	}
	const longest = 80 - 5 // characters of a name, and room for the number
	base := []rune(name)
	if len(base) > longest {
		base = base[:longest]
	}
	for n := 2; slices.Contains(taken, name); n++ {
		name = string(base) + " " + strconv.Itoa(n)
	}
	return name
}

// soon is the next full hour of today, by the clock that t carries; in the
// last hour of the day that hour itself.
func soon(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), t.Day(), min(t.Hour()+1, 23), 0, 0, 0, t.Location())
}
