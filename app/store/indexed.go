package store

import (
	"fmt"
	"time"
	"unicode/utf8"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
)

// Names in the browser. A change of the layout raises indexedVersion and
// moves what is there; nothing is ever dropped on the way.
const (
	indexedName     = "duskline"
	filesName       = "duskline-files" // of the same layout, for [OpenFiles]
	indexedVersion  = 1
	indexedPlans    = "plans"    // {id, text, changed}
	indexedSettings = "settings" // {key, value}
)

// patience is how long an answer may take. Opening takes some ten
// milliseconds; a browser that is tidying its disk took two seconds.
const patience = 8 * time.Second

// indexed keeps one record a plan in IndexedDB. Every write is a transaction
// of its own with strict durability, done when the browser says that it is on
// the disk: a browser killed the moment after has it.
type indexed struct {
	name string // of the database
	db   app.Value
}

func openIndexed(database string) (Drive, error) {
	db, err := connect(database)
	if err != nil {
		return nil, err
	}
	return &indexed{database, db}, nil
}

func connect(database string) (app.Value, error) {
	factory, err := property(app.Window(), "indexedDB")
	if err != nil {
		return nil, err
	}
	var request app.Value
	if err := guard(func() { request = factory.Call("open", database, indexedVersion) }); err != nil {
		return nil, err
	}
	upgrade := app.FuncOf(func(this app.Value, args []app.Value) any {
		db := request.Get("result")
		db.Call("createObjectStore", indexedPlans, map[string]any{"keyPath": "id"})
		db.Call("createObjectStore", indexedSettings, map[string]any{"keyPath": "key"})
		return nil
	})
	defer upgrade.Release()
	request.Set("onupgradeneeded", upgrade)
	if err := wait(request, "onsuccess", "onerror", "onblocked"); err != nil {
		return nil, err
	}
	db := request.Get("result")
	// Another tab with a later version of the app may need the layout changed.
	db.Set("onversionchange", app.FuncOf(func(app.Value, []app.Value) any {
		db.Call("close")
		return nil
	}))
	return db, nil
}

func (d *indexed) Name() string { return "indexeddb" }

func (d *indexed) Load() (Contents, error) {
	c := Contents{Settings: map[string]string{}}
	err := d.run("readonly", func(tx app.Value) func() {
		plans := tx.Call("objectStore", indexedPlans).Call("getAll")
		settings := tx.Call("objectStore", indexedSettings).Call("getAll")
		return func() {
			list := plans.Get("result")
			for i := range list.Length() {
				c.Records = append(c.Records, recordOf(list.Index(i)))
			}
			list = settings.Get("result")
			for i := range list.Length() {
				c.Settings[list.Index(i).Get("key").String()] = list.Index(i).Get("value").String()
			}
		}
	})
	return c, err
}

func (d *indexed) Put(r Record) error {
	return d.run("readwrite", func(tx app.Value) func() {
		tx.Call("objectStore", indexedPlans).Call("put", map[string]any{
			"id": r.ID, "text": textOf(r.Text), "changed": float64(r.Changed.UnixMilli()),
		})
		return nil
	})
}

func (d *indexed) Remove(id string) error {
	return d.run("readwrite", func(tx app.Value) func() {
		tx.Call("objectStore", indexedPlans).Call("delete", id)
		return nil
	})
}

func (d *indexed) Set(key, value string) error {
	return d.run("readwrite", func(tx app.Value) func() {
		tx.Call("objectStore", indexedSettings).Call("put", map[string]any{"key": key, "value": value})
		return nil
	})
}

// run does the work in one transaction and waits for its end; then it calls
// what the work returned. A connection that was closed under it, as when the
// person clears what pages have kept, is made again once.
func (d *indexed) run(mode string, work func(tx app.Value) (then func())) error {
	var tx app.Value
	var then func()
	begin := func() {
		tx = d.db.Call("transaction", []any{indexedPlans, indexedSettings}, mode, map[string]any{"durability": "strict"})
		then = work(tx)
	}
	if err := guard(begin); err != nil {
		db, again := connect(d.name)
		if again != nil {
			return err
		}
		d.db = db
		if err := guard(begin); err != nil {
			return err
		}
	}
	if err := wait(tx, "oncomplete", "onabort"); err != nil {
		return err
	}
	if then != nil {
		return guard(then)
	}
	return nil
}

// wait blocks until the first event of target, or one of the others, which
// are failures. It must not run inside a callback of the page.
func wait(target app.Value, good string, bad ...string) error {
	done := make(chan error, 1)
	tell := func(err error) {
		select {
		case done <- err:
		default:
		}
	}
	listen := func(event string, f func() error) (stop func()) {
		fn := app.FuncOf(func(app.Value, []app.Value) any { tell(f()); return nil })
		target.Set(event, fn)
		return func() { target.Set(event, nil); fn.Release() }
	}
	defer listen(good, func() error { return nil })()
	for _, event := range bad {
		defer listen(event, func() error {
			said := event
			if e := target.Get("error"); e.Truthy() {
				said = e.Get("name").String() + ": " + e.Get("message").String()
			}
			return name(said)
		})()
	}
	select {
	case err := <-done:
		return err
	case <-time.After(patience):
		return fmt.Errorf("%w: %s", ErrSilent, good)
	}
}

// textOf hands a text to the browser: a string, which a person can read in
// the browser's own tools, or bytes where a string would not keep them.
func textOf(text []byte) any {
	if utf8.Valid(text) {
		return string(text)
	}
	a := app.Window().Get("Uint8Array").New(len(text))
	app.CopyBytesToJS(a, text)
	return a
}

// recordOf reads what textOf wrote.
func recordOf(v app.Value) Record {
	r := Record{ID: v.Get("id").String()}
	if t := v.Get("text"); t.Type() == app.TypeString {
		r.Text = []byte(t.String())
	} else if t.InstanceOf(app.Window().Get("Uint8Array")) {
		r.Text = make([]byte, t.Length())
		app.CopyBytesToGo(r.Text, t)
	}
	if c := v.Get("changed"); c.Type() == app.TypeNumber {
		r.Changed = time.UnixMilli(int64(c.Float()))
	}
	return r
}
