package store

import (
	"fmt"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
)

// Open returns the best Drive of this browser: IndexedDB, or localStorage if
// there is none. localStorage is second because it reaches the disk seconds
// after the write, and a killed browser loses those seconds.
//
// The error says why the better one was passed over; with a nil Drive there
// is nothing that lasts.
func Open() (Drive, error) {
	d, err := openIndexed(indexedName)
	if err == nil {
		return d, nil
	}
	if l, lerr := openLocal(); lerr == nil {
		return l, err
	}
	return nil, err
}

// OpenFiles returns a Drive for the few big things beside the plans that can
// be had again: the weather of a year, some 70 kB, that a person took from a
// file. They lie in a database of their own, so that nothing that happens to
// them touches a plan, and so that plans are there without waiting for them.
// localStorage has no room for such.
func OpenFiles() (Drive, error) { return openIndexed(filesName) }

// property reads a property of the page that may be a getter that throws, as
// localStorage is where storage is blocked. A plain Get would end the program:
// only calls are guarded against exceptions.
func property(of app.Value, name string) (v app.Value, err error) {
	err = guard(func() { v = app.Window().Get("Reflect").Call("get", of, name) })
	if err == nil && !v.Truthy() {
		err = ErrAbsent
	}
	return v, err
}

// guard turns a JavaScript exception into an error.
func guard(f func()) (err error) {
	defer func() {
		if x := recover(); x != nil {
			err = name(fmt.Sprint(x))
		}
	}()
	f()
	return nil
}

// name finds our error for what the browser said; the exception's own name
// comes first in its text.
func name(said string) error {
	for _, known := range []struct {
		part string
		err  error
	}{
		{"QuotaExceeded", ErrFull},
		{"quota", ErrFull},
		{"SecurityError", ErrBlocked},
		{"NotAllowed", ErrBlocked},
		{"InvalidStateError", ErrBlocked}, // private mode of some browsers
	} {
		if strings.Contains(said, known.part) {
			return fmt.Errorf("%w: %s", known.err, said)
		}
	}
	return fmt.Errorf("%w: %s", ErrDamaged, said)
}
