// Package store keeps Plans on the device, byte for byte, and sends them
// nowhere.
//
// A [Shelf] holds everything in memory and answers at once; a [Drive] under it
// makes the same lasting, later and in order. When no Drive works (private
// mode, a full disk, storage switched off) the app goes on in memory and
// [Shelf.Trouble] says why.
//
// A text that cannot be read as a Plan is kept as it is: the store never
// parses what it keeps.
package store

import (
	"errors"
	"time"
)

// A Record is one plan as it lies on the device.
type Record struct {
	ID      string
	Text    []byte    // the document, or whatever else was found there
	Changed time.Time // by this device's clock
}

// Contents is all that a Drive holds.
type Contents struct {
	Records  []Record
	Settings map[string]string
}

// A Drive is a place that outlives the page. Its methods block until the
// thing is done; a Shelf calls them one at a time.
type Drive interface {
	Name() string // "indexeddb", "localstorage", "memory": which one it is
	Load() (Contents, error)
	Put(Record) error
	Remove(id string) error
	Set(key, value string) error
}

// What can go wrong with a Drive.
var (
	ErrAbsent  = errors.New("no storage here")         // the browser has none
	ErrBlocked = errors.New("storage is blocked")      // it is there and refuses
	ErrFull    = errors.New("storage is full")         // quota
	ErrSilent  = errors.New("storage does not answer") // not within the time given
	ErrDamaged = errors.New("storage has failed")      // it answers with an error
)
