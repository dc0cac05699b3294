package room

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"duskline/app/room/desk"
	"duskline/app/store"
	"duskline/app/work"
	"duskline/calc/plan"
	"duskline/calc/sun"
	"duskline/calc/weather"
)

// page is a session that does what comes from elsewhere when the test lets it,
// as the page does.
func page(t *testing.T, drive store.Drive) (*Session, chan func()) {
	t.Helper()
	s := NewSession(store.NewShelf(store.NewMemory(), time.Now))
	s.Begin()
	s.New()
	queue := make(chan func(), 100)
	s.dispatch = func(do func()) { queue <- do }
	s.Weather.open = func() (store.Drive, error) {
		if drive == nil {
			return nil, store.ErrAbsent
		}
		return drive, nil
	}
	return s, queue
}

// settle does what comes until it holds.
func settle(t *testing.T, queue chan func(), ok func() bool) {
	t.Helper()
	late := time.After(20 * time.Second)
	for !ok() {
		select {
		case do := <-queue:
			do()
		case <-late:
			t.Fatal("not in time")
		}
	}
}

// taken takes a file and waits for the end of it.
func taken(t *testing.T, s *Session, queue chan func(), file string, data []byte) Taking {
	t.Helper()
	s.Weather.Take(file, data)
	settle(t, queue, func() bool { return s.Weather.Taking().State != TakingReading })
	return s.Weather.Taking()
}

// The invented place of the files here.
var high = sun.Place{Latitude: 47.5, Longitude: 12.25, Altitude: 620}

func epw(t *testing.T, sample weather.Sample) []byte {
	t.Helper()
	if sample.Place == (sun.Place{}) {
		sample.Place, sample.Standard = high, time.Hour
	}
	text, err := weather.Synthetic(sample)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// starts moves the plan on the desk in time.
func starts(t *testing.T, s *Session, start time.Time, hours float64) {
	t.Helper()
	if f := s.Desk.Change(func(p *plan.Plan) {
		p.SetZone("", 0, nil)
		p.SetStart(start)
		p.Trip.LengthH = hours
	}); f != nil {
		t.Fatal(f)
	}
}

func TestWeatherFileGoesIntoThePlanAndOntoTheDevice(t *testing.T) {
	drive := store.NewMemory()
	s, queue := page(t, drive)
	starts(t, s, time.Date(2026, 6, 3, 9, 30, 0, 0, time.FixedZone("", 7200)), 50)
	got := taken(t, s, queue, "invented.epw", epw(t, weather.Sample{Name: "High Meadow"}))
	if got.State != TakingDone || !got.Moved {
		t.Fatalf("%+v", got)
	}
	p := s.Desk.Plan()
	hours := p.Sky.WeatherFile
	if p.Sky.Light != plan.ByWeatherFile || hours == nil {
		t.Fatal("the plan has no weather file")
	}
	// All of the local days 3, 4 and 5 June.
	if want := time.Date(2026, 6, 2, 22, 0, 0, 0, time.UTC); !hours.Start.Equal(want) || len(hours.GHI) != 72 {
		t.Errorf("%d hours from %v", len(hours.GHI), hours.Start)
	}
	if !strings.Contains(hours.Name, "High Meadow") || !strings.HasSuffix(hours.Name, "invented") {
		t.Errorf("named %q", hours.Name)
	}
	// Nobody had set the place: it is the file's.
	if p.Sky.LatitudeDeg != 47.5 || p.Sky.LongitudeDeg != 12.25 || p.Sky.AltitudeM != 620 || p.Sky.Place != "High Meadow" {
		t.Errorf("lies at %+v", p.Sky.Sun())
	}
	if s.Weather.Year(p) == nil {
		t.Error("its year is not found")
	}
	// The next visit finds it by the plan's hours.
	s.Weather.shelf.Flush()
	text, err := plan.Write(*p)
	if err != nil {
		t.Fatal(err)
	}
	again, queue := page(t, drive)
	if err := again.Import(text); err != nil {
		t.Fatal(err)
	}
	settle(t, queue, again.Weather.Ready)
	if y := again.Weather.Year(again.Desk.Plan()); y == nil || y.Name != "High Meadow" {
		t.Errorf("after the reload: %v", y)
	}
	if again.Weather.Trouble() != nil {
		t.Error(again.Weather.Trouble())
	}
}

// Other dates are cut from the year; those of another file of the same name
// are not.
func TestOtherDatesAreCutFromTheSameYear(t *testing.T) {
	s, queue := page(t, store.NewMemory())
	starts(t, s, time.Date(2026, 6, 3, 9, 0, 0, 0, time.FixedZone("", 3600)), 48)
	dull := func(int) float64 { return 0.4 }
	taken(t, s, queue, "a.epw", epw(t, weather.Sample{Name: "High Meadow", Index: dull}))
	own := s.Desk.Plan().Sky.WeatherFile
	taken(t, s, queue, "b.epw", epw(t, weather.Sample{Name: "High Meadow"}))
	if len(s.Weather.shelf.List()) != 2 {
		t.Fatalf("%d years kept", len(s.Weather.shelf.List()))
	}
	p := *s.Desk.Plan()
	p.Sky.WeatherFile = own
	p.SetStart(time.Date(2026, 9, 10, 9, 0, 0, 0, time.FixedZone("", 3600)))
	cut, ok := s.Weather.Cut(&p)
	if !ok || cut.Name != own.Name {
		t.Fatalf("%v %v", cut, ok)
	}
	year, err := weather.Read(epw(t, weather.Sample{Name: "High Meadow", Index: dull}))
	if err != nil {
		t.Fatal(err)
	}
	want, err := year.Cut(cut.Start, len(cut.GHI))
	if err != nil {
		t.Fatal(err)
	}
	for i := range want.GHI {
		if cut.GHI[i] != want.GHI[i] {
			t.Fatalf("hour %d: %g W/m², the file has %g", i, cut.GHI[i], want.GHI[i])
		}
	}
	// A plan that came from elsewhere.
	strange := *own
	strange.GHI = append([]float64{}, own.GHI...)
	strange.GHI[12] += 0.1
	p.Sky.WeatherFile = &strange
	if _, ok := s.Weather.Cut(&p); ok {
		t.Error("hours of another file were cut from this one")
	}
}

func TestFaultyFileLeavesThePlanAlone(t *testing.T) {
	s, queue := page(t, store.NewMemory())
	before := *s.Desk.Plan()
	bad := epw(t, weather.Sample{Row: func(row int, fields []string) []string {
		if row < 30 {
			fields[6] = "warm"
		}
		return fields
	}})
	got := taken(t, s, queue, "bad.epw", bad)
	if got.State != TakingRefused || len(got.Faults) < 2 || got.Faults[0].Line != 9 || got.Faults[0].Column != 7 {
		t.Errorf("%+v", got)
	}
	if p := s.Desk.Plan(); p.Sky.Light != before.Sky.Light || p.Sky.WeatherFile != nil || len(s.Weather.shelf.List()) != 0 {
		t.Error("the plan was changed, or the file kept")
	}
}

// A file of a place where the sun stands otherwise does not fit, and does
// once the plan is moved there.
func TestFileOfAnotherPlaceIsOfferedWithAMove(t *testing.T) {
	s, queue := page(t, store.NewMemory())
	starts(t, s, time.Date(2026, 6, 3, 9, 0, 0, 0, time.FixedZone("", 3600)), 48)
	s.Desk.Change(func(p *plan.Plan) { p.Sky.LatitudeDeg, p.Sky.LongitudeDeg = -40, 170 })
	got := taken(t, s, queue, "far.epw", epw(t, weather.Sample{Name: "High Meadow"}))
	if got.State != TakingMisfit || len(got.Misfits) == 0 || got.Misfits[0].Kind != plan.TooBright {
		t.Fatalf("%+v", got)
	}
	if s.Desk.Plan().Sky.WeatherFile != nil {
		t.Error("taken all the same")
	}
	s.Weather.Move()
	if p := s.Desk.Plan(); s.Weather.Taking().State != TakingDone || p.Sky.WeatherFile == nil || p.Sky.LatitudeDeg != 47.5 {
		t.Errorf("after the move: %+v", s.Weather.Taking())
	}
	// Near by: taken, and moved on request.
	s.Desk.Change(func(p *plan.Plan) { p.Sky.LatitudeDeg = 47.7 })
	if y := s.Weather.Year(s.Desk.Plan()); y == nil {
		t.Error("its year is not found from near by")
	} else if m := float64(Apart(s.Desk.Plan(), y)); math.Abs(m-22239) > 5 {
		t.Errorf("%.0f m apart", m) // 0.2° of 6371 km · π / 180
	}
	s.Weather.Move()
	if got := s.Desk.Plan().Sky.LatitudeDeg; got != 47.5 {
		t.Errorf("moved to %g", got)
	}
}

func TestFileReadForAnotherPlanIsNotTaken(t *testing.T) {
	s, queue := page(t, store.NewMemory())
	s.Weather.Take("a.epw", epw(t, weather.Sample{}))
	s.New()
	for end := time.After(500 * time.Millisecond); ; {
		select {
		case do := <-queue:
			do()
			continue
		case <-end:
		}
		break
	}
	if s.Desk.Plan().Sky.WeatherFile != nil || s.Weather.Taking().State != TakingNone {
		t.Errorf("%+v", s.Weather.Taking())
	}
}

func TestCancelledFileIsForgotten(t *testing.T) {
	s, queue := page(t, store.NewMemory())
	s.Weather.Take("a.epw", epw(t, weather.Sample{}))
	s.Weather.Cancel()
	settle(t, queue, s.Weather.Ready)
	time.Sleep(200 * time.Millisecond) // for the end that must not come
	for len(queue) > 0 {
		(<-queue)()
	}
	if s.Weather.Taking().State != TakingNone || s.Desk.Plan().Sky.WeatherFile != nil {
		t.Errorf("%+v", s.Weather.Taking())
	}
}

// Storage that is full or not there: the plan has its hours all the same, and
// the page can say why the year is not kept.
func TestYearThatCannotBeKept(t *testing.T) {
	full := store.NewMemory()
	for name, c := range map[string]struct {
		drive store.Drive
		fail  func()
		want  error
	}{
		"full":   {full, func() { full.Fail = store.ErrFull }, store.ErrFull},
		"absent": {nil, func() {}, store.ErrAbsent},
	} {
		s, queue := page(t, c.drive)
		s.Weather.Look()
		settle(t, queue, s.Weather.Ready)
		c.fail()
		if got := taken(t, s, queue, "a.epw", epw(t, weather.Sample{})); got.State != TakingDone {
			t.Errorf("%s: %+v", name, got)
		}
		s.Weather.shelf.Flush()
		if !errors.Is(s.Weather.Trouble(), c.want) {
			t.Errorf("%s: trouble %v", name, s.Weather.Trouble())
		}
		if _, ok := s.Weather.Cut(s.Desk.Plan()); !ok {
			t.Errorf("%s: not there for other dates of this visit", name)
		}
	}
}

func TestTooManyYearsDropTheOldest(t *testing.T) {
	drive := store.NewMemory()
	s, queue := page(t, drive)
	for i := range mostYears + 2 {
		taken(t, s, queue, strconv.Itoa(i)+".epw", epw(t, weather.Sample{Index: func(int) float64 { return 0.5 + 0.01*float64(i) }}))
		s.Weather.shelf.Flush()
	}
	c, err := drive.Load()
	if err != nil || len(c.Records) != mostYears {
		t.Errorf("%d kept, %v", len(c.Records), err)
	}
	if s.Weather.Year(s.Desk.Plan()) == nil {
		t.Error("the latest is gone")
	}
}

// The 29 February of a file without one.
func TestLeapDayIsSaid(t *testing.T) {
	s, queue := page(t, store.NewMemory())
	starts(t, s, time.Date(2028, 2, 28, 9, 0, 0, 0, time.FixedZone("", 3600)), 48)
	taken(t, s, queue, "a.epw", epw(t, weather.Sample{}))
	p := s.Desk.Plan()
	if y := s.Weather.Year(p); y == nil || !Leaps(p, y) {
		t.Error("not said")
	}
	taken(t, s, queue, "b.epw", epw(t, weather.Sample{Leap: true}))
	p = s.Desk.Plan()
	if y := s.Weather.Year(p); y == nil || Leaps(p, y) {
		t.Error("said of a file that has the day")
	}
}

// The longest trip of whole days still fits what a plan takes.
func TestLongestTripFits(t *testing.T) {
	s, queue := page(t, store.NewMemory())
	starts(t, s, time.Date(2026, 12, 3, 23, 55, 0, 0, time.FixedZone("", 5*3600+45*60)), 720)
	if got := taken(t, s, queue, "a.epw", epw(t, weather.Sample{})); got.State != TakingDone {
		t.Fatalf("%+v", got)
	}
	if n := len(s.Desk.Plan().Sky.WeatherFile.GHI); n < 744 || n > plan.MaxHours {
		t.Errorf("%d hours", n)
	}
}

// A worker that dies is told, and the plan stays.
func TestLostWorkerIsTold(t *testing.T) {
	s, queue := page(t, store.NewMemory())
	s.Weather.crew = work.NewCrew(map[string]work.Job{work.ReadWeather: func([]byte, func(float64)) ([]byte, error) { panic("no memory") }})
	if got := taken(t, s, queue, "a.epw", epw(t, weather.Sample{})); got.State != TakingLost || got.File != "a.epw" {
		t.Errorf("%+v", got)
	}
	if s.Desk.Plan().Sky.WeatherFile != nil {
		t.Error("the plan was changed")
	}
}

// The trip is moved on the desk: its hours come from the kept year at once. On
// a device without the year the new date waits in its field and says so.
func TestMovedTripIsCutAnew(t *testing.T) {
	s, queue := page(t, store.NewMemory())
	starts(t, s, time.Date(2026, 6, 3, 9, 0, 0, 0, time.FixedZone("", 3600)), 48)
	taken(t, s, queue, "a.epw", epw(t, weather.Sample{Name: "High Meadow"}))
	text, err := plan.Write(*s.Desk.Plan())
	if err != nil {
		t.Fatal(err)
	}
	s.Desk.Enter(desk.StartDate, "2026-09-10")
	s.Desk.Enter("/trip/length_h", "60")
	p := s.Desk.Plan()
	if got := p.Sky.WeatherFile; len(s.Desk.Waiting()) > 0 || got.Start.Format("2006-01-02 15") != "2026-09-10 00" || len(got.GHI) != 72 {
		t.Errorf("waiting %v, %d hours from %v", s.Desk.Waiting(), len(got.GHI), got.Start)
	}
	// Meanwhile the light may be given in another way.
	s.Desk.Enter("/sky/light", string(plan.ByClearSky))
	s.Desk.Enter(desk.StartDate, "2026-11-20")
	s.Desk.Enter("/sky/light", string(plan.ByWeatherFile))
	if p := s.Desk.Plan(); len(s.Desk.Waiting()) > 0 || p.Sky.Light != plan.ByWeatherFile || p.Sky.WeatherFile.Start.Format("2006-01-02") != "2026-11-20" {
		t.Errorf("chosen again: waiting %v, hours from %v", s.Desk.Waiting(), p.Sky.WeatherFile.Start)
	}

	other, queue := page(t, store.NewMemory())
	if err := other.Import(text); err != nil {
		t.Fatal(err)
	}
	settle(t, queue, other.Weather.Ready)
	other.Desk.Enter(desk.StartDate, "2026-09-10")
	said := other.Desk.Fault(desk.StartDate)
	if w := other.Desk.Waiting(); len(w) != 1 || !strings.Contains(said, "file") {
		t.Errorf("waiting %v, %q", w, said)
	}
	t.Log(said)
	other.Desk.Drop(desk.StartDate)
	other.Desk.Enter("/trip/length_h", "24") // inside of what is there
	if w := other.Desk.Waiting(); len(w) != 0 {
		t.Errorf("a shorter trip waits: %v", w)
	}
}
