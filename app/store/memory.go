package store

import (
	"maps"
	"slices"
	"sync"
)

// Memory is a Drive that forgets with the program. Tests use it; Fail makes
// it a bad one.
type Memory struct {
	Fail error // returned by every call while it is set

	mu       sync.Mutex
	records  map[string]Record
	settings map[string]string
	puts     int
}

// NewMemory returns a Drive that holds these records.
func NewMemory(records ...Record) *Memory {
	m := &Memory{records: map[string]Record{}, settings: map[string]string{}}
	for _, r := range records {
		m.records[r.ID] = r
	}
	return m
}

// Name returns "memory".
func (m *Memory) Name() string { return "memory" }

// Load returns all that was put here.
func (m *Memory) Load() (Contents, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.Fail != nil {
		return Contents{}, m.Fail
	}
	c := Contents{Settings: maps.Clone(m.settings)}
	for _, r := range m.records {
		r.Text = slices.Clone(r.Text)
		c.Records = append(c.Records, r)
	}
	return c, nil
}

// Put keeps a record.
func (m *Memory) Put(r Record) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.Fail != nil {
		return m.Fail
	}
	r.Text = slices.Clone(r.Text)
	m.records[r.ID] = r
	m.puts++
	return nil
}

// Remove drops a record.
func (m *Memory) Remove(id string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.Fail != nil {
		return m.Fail
	}
	delete(m.records, id)
	return nil
}

// Set keeps a setting.
func (m *Memory) Set(key, value string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.Fail != nil {
		return m.Fail
	}
	m.settings[key] = value
	return nil
}
