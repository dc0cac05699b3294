package room

import (
	"encoding/hex"
	"errors"
	"math"
	"slices"
	"strings"
	"time"
	"unicode"

	"duskline/app/room/desk"
	"duskline/app/store"
	"duskline/app/words"
	"duskline/app/work"
	"duskline/calc/plan"
	"duskline/calc/qty"
	"duskline/calc/weather"
)

// WeatherFiles are the weather files of this device. A plan holds the hours of
// its own dates; the whole year stays here, so that other dates can be cut
// from it at once, without a network and without the file.
//
// Which year a plan's hours are from is found by the hours themselves: they
// are the year's, or else it is another file. So a plan that was copied,
// renamed or sent finds its year wherever that is kept, and no plan is ever
// given the hours of another file under the same name.
type WeatherFiles struct {
	session *Session
	shelf   *store.Shelf // nil until it has been opened
	opening bool
	ready   func()                   // waits for the shelf
	years   map[string]*weather.Year // what was unpacked, by id; nil: it cannot be
	crew    *work.Crew
	open    func() (store.Drive, error)

	task   *work.Task
	taking Taking
	turn   int
	redraw func()
}

// Taking is how the taking of a file stands.
type Taking struct {
	State  TakingState
	File   string  // its name
	Share  float64 // of the reading that is done
	OnPage bool    // the page stands still meanwhile

	Faults  weather.Errors // TakingRefused
	Misfits plan.Faults    // TakingMisfit: why the plan does not go with it
	Year    *weather.Year  // TakingMisfit
	Moved   bool           // TakingDone: the plan had no place and got the file's
}

// TakingState says how far it is.
type TakingState string

// The states of a taking.
const (
	TakingNone       TakingState = ""
	TakingReading    TakingState = "reading"
	TakingDone       TakingState = "done"
	TakingRefused    TakingState = "refused"    // faults in the file
	TakingMisfit     TakingState = "misfit"     // the file is sound, the plan does not go with it
	TakingLost       TakingState = "lost"       // the worker ended before its job
	TakingUnreadable TakingState = "unreadable" // the browser did not hand it over
)

// mostYears is how many years are kept; each takes some 70 kB.
const mostYears = 12

func newWeatherFiles(s *Session) *WeatherFiles {
	return &WeatherFiles{session: s, years: map[string]*weather.Year{}, crew: work.NewCrew(work.Jobs), open: store.OpenFiles}
}

// Turn counts every change of what is shown of the files.
func (w *WeatherFiles) Turn() int { return w.turn }

// Taking tells how the taking of a file stands.
func (w *WeatherFiles) Taking() Taking { return w.taking }

// Ready says that the device's storage has been looked through.
func (w *WeatherFiles) Ready() bool { return w.shelf != nil }

// Trouble says why the last year is not kept, nil if it is.
func (w *WeatherFiles) Trouble() error {
	if w.shelf == nil {
		return nil
	}
	return w.shelf.Trouble()
}

// Watch sets who redraws the files.
func (w *WeatherFiles) Watch(redraw func()) { w.redraw = redraw }

func (w *WeatherFiles) changed() {
	w.turn++
	if w.redraw != nil {
		w.redraw()
	}
}

// Look opens the device's storage beside the page, once.
func (w *WeatherFiles) Look() {
	if w.shelf != nil || w.opening {
		return
	}
	w.opening = true
	find := func() {
		drive, err := w.open()
		shelf := store.NewShelf(drive, time.Now)
		if drive == nil {
			err = errors.Join(store.ErrAbsent, err)
		} else if err == nil {
			err = shelf.Load()
		}
		if err != nil {
			shelf.Fail(err)
		}
		w.session.OnPage(func() {
			w.shelf = shelf
			shelf.Watch(func(error) { w.session.OnPage(w.changed) }, nil)
			if do := w.ready; do != nil {
				w.ready = nil
				do()
			}
			w.changed()
		})
	}
	if w.session.dispatch == nil {
		find()
		return
	}
	go find()
}

// Year returns the year from which a plan's hours were cut, nil if it is not
// on this device.
func (w *WeatherFiles) Year(p *plan.Plan) *weather.Year {
	hours := p.Sky.WeatherFile
	if hours == nil || w.shelf == nil {
		return nil
	}
	for _, r := range w.shelf.List() {
		if y := w.unpacked(r); y != nil && isFrom(hours, y) {
			return y
		}
	}
	return nil
}

func (w *WeatherFiles) unpacked(r store.Record) *weather.Year {
	y, ok := w.years[r.ID]
	if !ok {
		y, _ = weather.Unpack(r.Text) // a damaged one is none
		w.years[r.ID] = y
	}
	return y
}

// isFrom says whether all hours of a plan are those of a year.
func isFrom(hours *plan.Weather, y *weather.Year) bool {
	c, err := y.Cut(hours.Start, max(1, len(hours.GHI)))
	return err == nil && c.Start.Equal(hours.Start) && slices.Equal(c.GHI, hours.GHI) && slices.Equal(c.DHI, hours.DHI)
}

// Cut returns the hours for a plan's dates from the year that its present
// ones are from; ok is false if that year is not on this device, or has no
// light for one of the hours.
func (w *WeatherFiles) Cut(p *plan.Plan) (hours *plan.Weather, ok bool) {
	y := w.Year(p)
	if y == nil {
		return nil, false
	}
	hours, err := cutFor(y, p.Sky.WeatherFile.Name, p.Trip)
	return hours, err == nil
}

// cutFor cuts whole local days: the sums of the first and of the last day are
// then those of the day, and a trip that is moved within a day needs no more.
func cutFor(y *weather.Year, name string, t plan.Trip) (*plan.Weather, error) {
	year, month, day := t.Start.Date()
	from := time.Date(year, month, day, 0, 0, 0, 0, t.Start.Location())
	if from.After(t.Start) { // a day that begins after its midnight
		from = t.Start
	}
	end := t.Start.Add(time.Duration(t.LengthH * float64(time.Hour)))
	year, month, day = end.Date()
	to := time.Date(year, month, day+1, 0, 0, 0, 0, t.Start.Location())
	c, err := y.Cut(from, int(math.Ceil(to.Sub(from).Hours())))
	if err != nil {
		return nil, err
	}
	return &plan.Weather{Name: name, Start: c.Start, GHI: c.GHI, DHI: c.DHI, AirC: orNone(c.Air), WindMs: orNone(c.Wind)}, nil
}

func orNone(list []float64) []float64 {
	if list == nil {
		return []float64{}
	}
	return list
}

// Leaps says whether a plan's hours hold a 29 February that its file lacks.
func Leaps(p *plan.Plan, y *weather.Year) bool {
	hours := p.Sky.WeatherFile
	if hours == nil || len(hours.GHI) == 0 {
		return false
	}
	c, err := y.Cut(hours.Start, len(hours.GHI))
	return err == nil && c.Leap > 0
}

// Begin says that a file is being handed over by the browser.
func (w *WeatherFiles) Begin(file string) {
	w.Cancel()
	w.taking = Taking{State: TakingReading, File: file}
	w.changed()
}

// Take reads a file for the plan on the desk. Nothing of the plan changes
// before all of it is read and found sound.
func (w *WeatherFiles) Take(file string, data []byte) {
	w.Begin(file)
	w.Look()
	on := w.session.Desk
	w.task = w.crew.Start(work.ReadWeather, data, work.Hear{
		OnPage:   func() { w.hear(on, func() { w.taking.OnPage = true; w.changed() }) },
		Progress: func(share float64) { w.hear(on, func() { w.taking.Share = share; w.changed() }) },
		Done:     func(out []byte, err error) { w.hear(on, func() { w.done(out, err) }) },
	})
}

// hear does something on the page, unless the reading was ended meanwhile.
func (w *WeatherFiles) hear(on *desk.Desk, do func()) {
	w.session.OnPage(func() {
		if w.taking.State == TakingReading && w.session.Desk == on {
			do()
		}
	})
}

// Refuse says that a file cannot be taken.
func (w *WeatherFiles) Refuse(file string, state TakingState, faults weather.Errors) {
	w.Cancel()
	w.taking = Taking{State: state, File: file, Faults: faults}
	w.changed()
}

// Cancel ends the reading, and takes back what is said of the last one.
func (w *WeatherFiles) Cancel() {
	if w.task != nil {
		w.task.Cancel()
	}
	w.task, w.ready = nil, nil
	if w.taking.State != TakingNone {
		w.taking = Taking{}
		w.changed()
	}
}

func (w *WeatherFiles) done(out []byte, err error) {
	file := w.taking.File
	w.task = nil
	if err != nil {
		w.Refuse(file, TakingLost, nil)
		return
	}
	year, packed, err := work.WeatherYear(out)
	if faults := (weather.Errors)(nil); errors.As(err, &faults) {
		w.Refuse(file, TakingRefused, faults)
		return
	} else if err != nil {
		w.Refuse(file, TakingLost, nil)
		return
	}
	w.whenReady(func() {
		w.keep(year, packed)
		w.use(year, file, w.session.Desk.Plan().Placeless())
	})
}

// whenReady does something for the file that is being taken, as soon as the
// storage has answered.
func (w *WeatherFiles) whenReady(do func()) {
	if w.shelf != nil {
		do()
		return
	}
	on := w.session.Desk
	w.ready = func() { w.hear(on, do) }
}

// keep puts a year on the device; the oldest goes if there are too many.
func (w *WeatherFiles) keep(year *weather.Year, packed []byte) {
	id := hex.EncodeToString(packed[len(packed)-4:]) // its own checksum
	w.years[id] = year
	w.shelf.Put(id, packed)
	list := w.shelf.List()
	for _, old := range list[min(mostYears, len(list)):] {
		w.shelf.Remove(old.ID)
	}
}

// use gives the plan on the desk the hours of a year, and with move the
// year's place.
func (w *WeatherFiles) use(year *weather.Year, file string, move bool) {
	s := w.session
	name := nameOf(year, file)
	hours, err := cutFor(year, name, s.Desk.Plan().Trip)
	if faults := (weather.Errors)(nil); errors.As(err, &faults) {
		w.Refuse(file, TakingRefused, faults)
		return
	} else if err != nil {
		w.Refuse(file, TakingLost, nil)
		return
	}
	misfits := s.Desk.Change(func(p *plan.Plan) {
		p.Sky.Light, p.Sky.WeatherFile = plan.ByWeatherFile, hours
		if move {
			moveTo(p, year)
		}
	})
	w.taking = Taking{State: TakingDone, File: file, Moved: move}
	if misfits != nil {
		w.taking = Taking{State: TakingMisfit, File: file, Misfits: misfits, Year: year}
	}
	w.changed()
	s.draw()
}

// Move puts the plan where the file's weather was.
func (w *WeatherFiles) Move() {
	if w.taking.State == TakingMisfit {
		w.use(w.taking.Year, w.taking.File, true)
		return
	}
	if y := w.Year(w.session.Desk.Plan()); y != nil {
		w.session.Desk.Change(func(p *plan.Plan) { moveTo(p, y) })
		w.changed()
		w.session.draw()
	}
}

func moveTo(p *plan.Plan, y *weather.Year) {
	p.Sky.LatitudeDeg, p.Sky.LongitudeDeg = float64(y.Place.Latitude), float64(y.Place.Longitude)
	p.Sky.AltitudeM, p.Sky.Place = float64(y.Place.Altitude), y.Name
}

// nameOf names the hours of a year as the plan shows them: place, country and
// the file they are from, since there are many files of one place.
func nameOf(y *weather.Year, file string) string {
	var parts []string
	for _, part := range []string{y.Name, y.Country, strings.TrimSuffix(file, ".epw")} {
		part = strings.TrimSpace(strings.Map(func(r rune) rune {
			if unicode.IsControl(r) || r == unicode.ReplacementChar {
				return -1
			}
			return r
		}, part))
		said := strings.ContainsFunc(part, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }) // not "-"
		if said && !slices.Contains(parts, part) {
			parts = append(parts, part)
		}
	}
	name := []rune(strings.Join(parts, ", "))
	if len(name) == 0 {
		return words.T("fold.sky")
	}
	return string(name[:min(len(name), longestName)])
}

const longestName = 120 // characters that a plan takes

// Apart returns how far a year's place is from the plan's, along the ground of
// a sphere of 6371 km: right to half a per cent, for a figure of which only the
// order counts.
func Apart(p *plan.Plan, y *weather.Year) qty.Metre {
	rad := func(d qty.Degree) float64 { return float64(d) * math.Pi / 180 }
	a, b := p.Sky.Sun(), y.Place
	return qty.Metre(6371e3 * angle(rad(a.Latitude), rad(b.Latitude), rad(b.Longitude-a.Longitude)))
}

// angle between two directions from the middle of the earth, in radians, by
// the half-angle form, which small angles do not spoil.
func angle(lat1, lat2, turn float64) float64 {
	u, v := math.Sin((lat2-lat1)/2), math.Sin(turn/2)
	return 2 * math.Asin(math.Min(1, math.Sqrt(u*u+math.Cos(lat1)*math.Cos(lat2)*v*v)))
}
