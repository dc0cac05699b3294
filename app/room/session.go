package room

import (
	"errors"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"golang.org/x/text/language"

	"duskline/app/room/desk"
	"duskline/app/store"
	"duskline/app/words"
	"duskline/app/zone"
	"duskline/calc/plan"
)

// Settings on the shelf.
const (
	settingCurrent  = "current" // id of the open plan, or "example/" and its key
	settingTheme    = "theme"
	settingLanguage = "language"
	examplePrefix   = "example/"
)

// A Session is what the app has open. There is one; it outlives the rooms,
// which come and go with the address.
type Session struct {
	Shelf *store.Shelf
	Desk  *desk.Desk // nil until Ready

	Weather *WeatherFiles
	Pairing *Pairing

	ID      string // the open plan's place on the shelf; "" while an example is open as it came
	Example string // key of the example that is open, or that the open plan started from
	Notice  Notice // what the app has to say at the moment

	Ready bool

	Folds map[string]bool // folds that are open, by id
	Rows  map[string]int  // the entry that is open in each list, by pointer; absent: none

	unsaved bool         // the plan on the desk has not reached the shelf
	later   func(func()) // does something after the page is painted; nil: at once
	pause   func(func()) // does something when typing rests and redraws; nil: at once

	dispatch func(func()) // does something on the page's goroutine and redraws; nil: here

	started bool
	arrived bool // a room has been shown
	loaded  chan struct{}
	redraw  func() // redraws the room that is shown
	tabs    app.Value
	read    map[string]reading
}

// A Notice is one line that the app itself says, about plans and storage.
type Notice struct {
	Key  string // catalogue key, "" for none
	Args []any
	Undo func() // what the button takes back, or nil
}

// reading is a record read once.
type reading struct {
	changed time.Time
	plan    plan.Plan
	err     error
}

var here = NewSession(store.NewShelf(nil, time.Now))

// Here returns the session of this page.
func Here() *Session { return here }

// NewSession returns a session on a shelf. Tests make their own; the app has
// one.
func NewSession(shelf *store.Shelf) *Session {
	s := &Session{Shelf: shelf, loaded: make(chan struct{}), read: map[string]reading{}, Folds: map[string]bool{}, Rows: map[string]int{}}
	s.Weather = newWeatherFiles(s)
	s.Pairing = newPairing(s)
	return s
}

const (
	afterPaint = 33 * time.Millisecond  // two frames of most screens
	rest       = 300 * time.Millisecond // longer than between two keys
)

// Start is called by a room when it is mounted: the first one opens the
// device's storage, and every one is redrawn when something happens that no
// tap of its own caused.
func (s *Session) Start(ctx app.Context) {
	s.redraw = func() { ctx.Dispatch(func(app.Context) {}) }
	if s.later == nil {
		root := ctx.Dispatcher().Context().Src()
		s.later = func(do func()) {
			time.AfterFunc(afterPaint, func() {
				ctx.Dispatcher().Dispatch(app.Dispatch{Mode: app.Next, Source: root, Function: func(app.Context) { do() }})
			})
		}
		s.dispatch = func(do func()) {
			ctx.Dispatcher().Dispatch(app.Dispatch{Mode: app.Next, Source: root, Function: func(app.Context) { do(); s.draw() }})
		}
		var timer *time.Timer
		s.pause = func(do func()) {
			if timer != nil {
				timer.Stop()
			}
			timer = time.AfterFunc(rest, func() {
				ctx.Dispatcher().Dispatch(app.Dispatch{Mode: app.Next, Source: root, Function: func(app.Context) { do(); s.draw() }})
			})
		}
		app.Window().Call("addEventListener", "pagehide", app.FuncOf(func(app.Value, []app.Value) any {
			s.Save()
			return nil
		}))
	}
	if s.Ready {
		return
	}
	if !s.started {
		s.started = true
		go s.load()
	}
	ctx.Async(func() {
		<-s.loaded
		ctx.Dispatch(func(ctx app.Context) {
			if !s.Ready {
				s.begin()
			}
		})
	})
}

// load opens the storage. It runs beside the page.
func (s *Session) load() {
	drive, err := store.Open()
	shelf := store.NewShelf(drive, time.Now)
	if drive == nil {
		err = errors.Join(store.ErrAbsent, err)
	} else {
		err = shelf.Load()
	}
	if err != nil {
		shelf.Fail(err)
	}
	s.Shelf = shelf
	close(s.loaded)
}

// Begin makes a session on a filled shelf ready; it is what Start does once
// the storage has answered.
func (s *Session) Begin() { s.begin() }

func (s *Session) begin() {
	s.Ready = true
	s.showTheme()
	if tag, err := language.Parse(s.Shelf.Setting(settingLanguage)); err == nil {
		words.SetLanguage(tag)
	}
	s.Shelf.Watch(func(error) { s.draw() }, s.tellTabs)
	s.listenToTabs()
	current := s.Shelf.Setting(settingCurrent)
	if key, ok := strings.CutPrefix(current, examplePrefix); ok && s.OpenExample(key) {
		return
	}
	if s.Open(current) {
		return
	}
	s.openNext()
	if _, ok := s.Shelf.Get(current); ok {
		s.Notice = Notice{Key: "notice_app.unreadable"}
	}
}

// OnPage does something on the page's goroutine and redraws all of the page:
// what a worker, the storage or the device says may come from any, and a
// component's own Dispatch redraws no more than that component.
func (s *Session) OnPage(do func()) {
	if s.dispatch == nil {
		do()
		return
	}
	s.dispatch(do)
}

func (s *Session) draw() {
	if s.redraw != nil {
		s.redraw()
	}
}

// Open puts a plan of the shelf on the desk; false if it is not there or
// cannot be read.
func (s *Session) Open(id string) bool {
	p, err := s.Read(id)
	if err != nil {
		return false
	}
	s.put(p)
	s.ID, s.Example = id, ""
	s.Shelf.Set(settingCurrent, id)
	return true
}

// OpenExample puts an example on the desk as it came. It goes to the shelf
// with the first edit, as a plan of one's own; the example stays what it is.
func (s *Session) OpenExample(key string) bool {
	for _, e := range Examples() {
		if e.Key != key {
			continue
		}
		p, err := plan.Read(e.Text)
		if err != nil {
			return false // our own slip; a test reads them all
		}
		s.put(p)
		s.ID, s.Example = "", key
		s.Shelf.Set(settingCurrent, examplePrefix+key)
		return true
	}
	return false
}

// put lays a plan on the desk and keeps every good edit of it.
func (s *Session) put(p plan.Plan) {
	s.Save()
	s.Weather.Cancel() // what is being read was for the plan before
	s.Notice, s.Rows = Notice{}, map[string]int{}
	d := desk.New(p)
	d.Taken, d.Pause = s.keep, s.pause
	d.Zone, d.Weather = zone.Lookup, s.Weather.Cut
	s.Desk, s.ID = d, ""
	if p.Sky.WeatherFile != nil {
		s.Weather.Look()
	}
}

// keep sees to it that the open plan gets to the shelf: some milliseconds
// from now, when the new answer has been painted, and together with what else
// was typed until then.
func (s *Session) keep(p plan.Plan) {
	if s.ID == "" {
		s.ID = store.NewID()
		s.Shelf.Set(settingCurrent, s.ID)
	}
	if p.Example {
		s.own(p.Name)
	}
	if s.later == nil {
		s.unsaved = true
		s.Save()
		return
	}
	if !s.unsaved {
		s.unsaved = true
		s.later(s.Save)
	}
}

// Save puts the open plan on the shelf now, if it is not there as it is.
func (s *Session) Save() {
	if !s.unsaved {
		return
	}
	s.unsaved = false
	text, err := plan.Write(*s.Desk.Plan())
	if err != nil {
		s.Notice = Notice{Key: "notice_app.not_written", Args: []any{err.Error()}}
		return
	}
	s.Shelf.Put(s.ID, text)
}

// Read reads a plan of the shelf. The error is plan.Faults for a text that
// is no plan.
func (s *Session) Read(id string) (plan.Plan, error) {
	if id == s.ID {
		s.Save()
	}
	r, ok := s.Shelf.Get(id)
	if !ok {
		return plan.Plan{}, errGone
	}
	if have, ok := s.read[id]; ok && have.changed.Equal(r.Changed) {
		return have.plan, have.err
	}
	p, err := plan.Read(r.Text)
	s.read[id] = reading{r.Changed, p, err}
	return p, err
}

var errGone = errors.New("no such plan")
