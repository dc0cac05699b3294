package outlook

import (
	"math"
	"slices"
	"testing"
	"time"
	_ "time/tzdata" // Go's copy of the public zone database, for these tests only

	"duskline/calc/civil"
	"duskline/calc/notice"
	"duskline/calc/plan"
)

// A clockChange is a place whose clock is moved in the night before day 1 of
// a trip that starts at its noon the day before.
type clockChange struct {
	name       string
	zone       string // in the public zone database
	y          int
	m          time.Month
	d          int // date of the start
	first      time.Duration
	at         time.Time
	then       time.Duration
	south      bool
	hoursOfDay float64 // of day 1
}

var clockChanges = []clockChange{
	{"spring in the north", "Europe/Berlin", 2026, 3, 28, time.Hour, time.Date(2026, 3, 29, 1, 0, 0, 0, time.UTC), 2 * time.Hour, false, 23},
	{"autumn in the north", "Europe/Berlin", 2026, 10, 24, 2 * time.Hour, time.Date(2026, 10, 25, 1, 0, 0, 0, time.UTC), time.Hour, false, 25},
	{"spring in the south", "Pacific/Auckland", 2026, 9, 26, 12 * time.Hour, time.Date(2026, 9, 26, 14, 0, 0, 0, time.UTC), 13 * time.Hour, true, 23},
	{"autumn in the south", "Pacific/Auckland", 2026, 4, 4, 13 * time.Hour, time.Date(2026, 4, 4, 14, 0, 0, 0, time.UTC), 12 * time.Hour, true, 25},
	{"spring by half an hour", "Australia/Lord_Howe", 2026, 10, 3, 10*time.Hour + 30*time.Minute, time.Date(2026, 10, 3, 15, 30, 0, 0, time.UTC), 11 * time.Hour, true, 23.5},
	{"a day without its midnight", "America/Havana", 2026, 3, 7, -5 * time.Hour, time.Date(2026, 3, 8, 5, 0, 0, 0, time.UTC), -4 * time.Hour, false, 23},
}

// of returns the bench plan for four days there, with the Location built by
// hand from the one change.
func (c clockChange) of(t testing.TB) plan.Plan {
	t.Helper()
	changes := []civil.Change{{At: c.at, Offset: c.then}}
	loc, err := civil.Location(c.zone, c.first, changes)
	if err != nil {
		t.Fatal(err)
	}
	p := bench()
	p.Trip.Start, p.Trip.LengthH = time.Date(c.y, c.m, c.d, 12, 0, 0, 0, loc), 96
	p.Trip.Zone, p.Trip.ClockChanges = c.zone, []plan.ClockChange{{At: c.at, OffsetMin: int(c.then / time.Minute)}}
	p.Sky.LongitudeDeg = math.Remainder(c.first.Hours()*15, 360)
	if c.south {
		p.Sky.LatitudeDeg, p.Panels.List[0].AzimuthDeg = -40, 0
	}
	return p
}

func eachChange(t *testing.T, check func(*testing.T, clockChange, plan.Plan)) {
	for _, c := range clockChanges {
		t.Run(c.name, func(t *testing.T) { check(t, c, c.of(t)) })
	}
}

// What the clock switches goes by the clock: an hour that it leaves out is
// dark, one that it shows twice is bright twice, and all other days are as
// long as ever. A refill is once a day on every day, whatever its hours.
func TestHoursOnTheDayOfAChange(t *testing.T) {
	eachChange(t, func(t *testing.T, c clockChange, p plan.Plan) {
		moved := c.then - c.first
		gapFrom := c.at.Add(c.first).Sub(c.at.Add(c.first).Truncate(24 * time.Hour)).Hours() // where the clock stood
		from, to := gapFrom, gapFrom+moved.Hours()                                           // left out
		if moved < 0 {
			from, to = to, from // shown twice
		}
		p.Case.Switch, p.Case.InverterHours = plan.DCAndAC, []plan.Window{{FromH: from, ToH: to}}
		lamp := deviceOf24h(plan.RouteDC, 10)
		lamp.Hours = []plan.Window{{FromH: from, ToH: to}}
		p.Gear = []plan.Device{lamp}
		var want []float64
		add := func(wh float64, list ...plan.Window) {
			want = append(want, wh)
			p.Gear = append(p.Gear, plan.Device{Name: "Telephone", Count: 1, Route: plan.RouteUSB, RefillWh: ptr(12), RefillsPerDay: 1,
				RefillEfficiencyPct: 80, DutyPct: 100, Hours: list})
		}
		const once = 12 / 0.8
		add(4*once, plan.Window{FromH: from, ToH: to})
		add(4*once, plan.Window{FromH: 22, ToH: 6})
		add(4*once, plan.Window{FromH: 1, ToH: 2.5})
		add(4*once, plan.Window{FromH: 2.25, ToH: 3.75})
		add(4*once, plan.Window{FromH: 23.5, ToH: 0.25}, plan.Window{FromH: 2.9, ToH: 3.1}, plan.Window{FromH: 17, ToH: 18})
		add(4*once, plan.Window{FromH: 0, ToH: 24})
		// Four times 24 hours after noon the clock does not stand at noon: an
		// hour more or less of one that is under way then.
		add(4*once+moved.Hours()*once/21, plan.Window{FromH: 1, ToH: 22})
		// With half an hour off in a day there is never room to move a whole
		// hour: it stays with the old clock.
		add(4*once, plan.Window{FromH: 0.3, ToH: 23.9})
		o := mustRun(t, p)

		day := (to - from) * 3 // three nights show it once, the fourth not at all
		if moved < 0 {
			day += 2 * (to - from) // or twice
		}
		if got := float64(o.Ledger.Uses[0].Energy); math.Abs(got-10*day) > 1e-6 {
			t.Errorf("10 W from %g to %g h: %.4f Wh, want %.4f Wh", from, to, got, 10*day)
		}
		if got, want := float64(o.Ledger.Losses[3].Energy), day*12.8*0.5; math.Abs(got-want) > 1e-6 {
			t.Errorf("the inverter from %g to %g h: %.4f Wh, want %.4f Wh", from, to, got, want)
		}
		for i, d := range p.Gear[1:] {
			if got := float64(o.Ledger.Uses[i+1].Energy); math.Abs(got-want[i]) > 1e-6 {
				t.Errorf("12 Wh a day at 80 %% within %v: %.4f Wh in four days, want %.4f Wh", d.Hours, got, want[i])
			}
		}
		if o.Series.Time(len(o.Series.Charge)-1).Sub(p.Trip.Start) != 96*time.Hour {
			t.Error("the trip is not as long as it says")
		}
	})
}

// The days are the calendar's, their lengths 23 and 25 hours; sun and weather
// are those of the day; clipping is told once a day.
func TestDaysAcrossAChange(t *testing.T) {
	eachChange(t, func(t *testing.T, c clockChange, p plan.Plan) {
		p.Sky.ClearSkyIndex = []float64{0.9, 0.8, 1, 0.7}
		p.Case.Controller.LimitA, p.Case.Battery.CapacityAh, p.Trip.StartChargePct = 2, 500, 20
		o := mustRun(t, p)
		if len(o.Days) != 5 {
			t.Fatalf("%d days, want 5", len(o.Days))
		}
		for k, d := range o.Days {
			date := time.Date(c.y, c.m, c.d+k, 0, 0, 0, 0, time.UTC).Format(time.DateOnly)
			if d.Midnight.Format(time.DateOnly) != date || d.Midnight.Add(-time.Second).Format(time.DateOnly) == date {
				t.Errorf("day %d begins at %v, want %s", k, d.Midnight, date)
			}
			if k > 0 {
				want := 24.0
				if k == 2 {
					want = c.hoursOfDay
				}
				if got := d.Midnight.Sub(o.Days[k-1].Midnight).Hours(); got != want {
					t.Errorf("the day before %s has %g h, want %g h", date, got, want)
				}
			}
			for what, at := range map[string]time.Time{"rises": d.Rise, "stands highest": d.Noon, "sets": d.Set} {
				if at.Format(time.DateOnly) != date {
					t.Errorf("the sun of %s %s at %v", date, what, at)
				}
			}
			if got := d.ClearSkyIndex; got != p.Sky.ClearSkyIndex[min(k, 3)] {
				t.Errorf("%s has index %g", date, got)
			}
		}
		for i, cloud := range o.Series.Cloud[1:] {
			middle := o.Series.Time(i).Add(o.Series.Step / 2)
			k := slices.IndexFunc(o.Days, func(d Day) bool { return d.Midnight.After(middle) })
			if k < 0 {
				k = len(o.Days)
			}
			if want := 1 - o.Days[k-1].ClearSkyIndex; math.Abs(float64(cloud)-want) > 1e-9 {
				t.Fatalf("cloud %g at %v, want %g", cloud, middle, want)
			}
		}
		clipped := map[string]int{}
		for _, e := range o.Events {
			if e.Kind == Clipped {
				clipped[e.At.Format(time.DateOnly)] += e.Times
			}
		}
		if len(clipped) != 5 {
			t.Errorf("clipping is told on %v, want on five days", clipped)
		}
		for date, n := range clipped {
			if n != 1 {
				t.Errorf("clipping is told %d times on %s", n, date)
			}
		}
	})
}

// The hours of gear are the clock's on both sides: a kettle trips the inverter
// every evening at eight, in local time.
func TestEventsCarryTheClocksTime(t *testing.T) {
	eachChange(t, func(t *testing.T, c clockChange, p plan.Plan) {
		p.Case.Switch = plan.DCAndAC
		kettle := deviceOf24h(plan.RouteAC, 1000)
		kettle.Hours = []plan.Window{{FromH: 20, ToH: 20.5}}
		p.Gear = append(p.Gear, kettle)
		o := mustRun(t, p)
		n := 0
		for _, e := range o.Events {
			if e.Kind == Overload {
				want := time.Date(c.y, c.m, c.d+n, 20, 0, 0, 0, p.Trip.Start.Location())
				if d := e.At.Sub(want); d.Abs() > time.Second || e.At.Hour() != 20 && e.At.Hour() != 19 {
					t.Errorf("evening %d: %v, want %v", n, e.At, want)
				}
				n++
			}
		}
		if n != 4 || !has(o, notice.InverterTrips) {
			t.Errorf("%d evenings trip the inverter, want 4", n)
		}
	})
}

// The hours without sun are those of a month in the dark, of which a trip of
// hours or days shows the first part: in frost and heat by the hour, with gear
// by the clock, and over a change of it.
func TestNoSunAgainstALongTripInTheDark(t *testing.T) {
	eachChange(t, func(t *testing.T, c clockChange, p plan.Plan) {
		p.Sky.WarmestC, p.Sky.ColdestC = 30, -15
		p.Case.Battery.CapacityAh, p.Case.Battery.ResistanceMohm = 150, 40
		lamp := deviceOf24h(plan.RouteDC, 30)
		lamp.Hours = []plan.Window{{FromH: 1.5, ToH: 4}, {FromH: 19, ToH: 22}}
		p.Gear = append(p.Gear, lamp)
		long := p
		long.Panels.List, long.Trip.LengthH = nil, 720
		o := mustRun(t, long)
		want := o.Figures.FirstAlarm.Sub(p.Trip.Start)
		if want < 48*time.Hour || want > 29*24*time.Hour {
			t.Fatalf("the alarm comes after %v", want)
		}
		for _, length := range []float64{6, 17, 30, 48} {
			p.Trip.LengthH = length
			if got := mustRun(t, p).Figures.NoSun; (got - want).Abs() > time.Second {
				t.Errorf("a trip of %g h: %v without sun, in a month of dark %v", length, got, want)
			}
		}
	})
}

// The Location made of a document's changes and Go's own give the same.
func TestRunWithGoZoneDatabase(t *testing.T) {
	eachChange(t, func(t *testing.T, c clockChange, p plan.Plan) {
		p.Sky.ClearSkyIndex = []float64{0.9, 0.8, 1, 0.7}
		mine := mustRun(t, p)
		loc, err := time.LoadLocation(c.zone)
		if err != nil {
			t.Fatal(err)
		}
		p.Trip.Start = p.Trip.Start.In(loc)
		theirs, err := Run(neutral(p))
		if err != nil {
			t.Fatal(err)
		}
		sameSeries(t, mine, theirs, 0)
		for i, d := range theirs.Days {
			if m := mine.Days[i]; !d.Midnight.Equal(m.Midnight) || !d.Rise.Equal(m.Rise) || !d.Set.Equal(m.Set) {
				t.Errorf("day %d: %+v and %+v", i, m, d)
			}
		}
	})
}

// anotherDate is how much of the light two tellings of one trip may differ by:
// the sun's distance goes by the day of the year, which begins at the local
// midnight, and from one day to the next its light changes by 0.06 % at most.
const anotherDate = 0.0006

// sameSeries says that two Outlooks of one trip agree: in the sun's height to
// 1e-6°, the sun's track being one whose knots begin at the first local
// midnight, in light to a share, and in charge as far as that much of the sun
// moves it.
func sameSeries(t *testing.T, a, b *Outlook, share float64) {
	t.Helper()
	if len(a.Series.Charge) != len(b.Series.Charge) {
		t.Fatalf("%d rows and %d", len(a.Series.Charge), len(b.Series.Charge))
	}
	for i := range a.Series.Charge {
		x, y := &a.Series, &b.Series
		if !x.Time(i).Equal(y.Time(i)) || math.Abs(float64(x.Elevation[i]-y.Elevation[i])) > 1e-6 ||
			math.Abs(float64(x.Light[i]-y.Light[i])) > share*float64(x.Light[i])+1e-4 || math.Abs(float64(x.Charge[i]-y.Charge[i])) > share+1e-8 {
			t.Fatalf("row %d: %v charge %.15g light %.15g sun %.15g°, and %v charge %.15g light %.15g sun %.15g°",
				i, x.Time(i), x.Charge[i], x.Light[i], x.Elevation[i], y.Time(i), y.Charge[i], y.Light[i], y.Elevation[i])
		}
	}
}

// One trip told in UTC and in zones at the ends of the day, with its hours
// moved along, is one trip. The air is the same all day, which else goes by
// the local hour.
func TestOneTripInManyZones(t *testing.T) {
	told := func(offset time.Duration) plan.Plan {
		p := bench()
		p.Trip.Start = time.Date(2026, 5, 14, 9, 30, 0, 0, time.UTC).In(time.FixedZone("", int(offset/time.Second)))
		p.Trip.LengthH, p.Case.Switch = 72, plan.DCAndAC
		p.Sky.ColdestC = p.Sky.WarmestC
		local := func(h float64) float64 { return math.Mod(h+offset.Hours()+24, 24) }
		window := func(from, to float64) []plan.Window {
			return []plan.Window{{FromH: local(from), ToH: local(to)}}
		}
		p.Case.InverterHours, p.Trip.WallHours = window(18.25, 23), window(5, 6.5)
		lamp := deviceOf24h(plan.RouteAC, 40)
		lamp.Hours = window(19.5, 22)
		p.Gear = []plan.Device{lamp, deviceOf24h(plan.RouteDC, 12), {Name: "Telephone", Count: 1, Route: plan.RouteUSB, RefillWh: ptr(12),
			RefillsPerDay: 1, RefillEfficiencyPct: 80, DutyPct: 100, Hours: window(22, 1.5)}}
		return p
	}
	want := mustRun(t, told(0))
	for _, offset := range []time.Duration{14 * time.Hour, -12 * time.Hour, 5*time.Hour + 45*time.Minute, -3*time.Hour - 30*time.Minute} {
		got := mustRun(t, told(offset))
		sameSeries(t, want, got, anotherDate)
		for i, f := range got.Ledger.Uses {
			if math.Abs(float64(f.Energy-want.Ledger.Uses[i].Energy)) > 1e-6 {
				t.Errorf("%v: device %d got %.6f Wh, in UTC %.6f Wh", offset, i, f.Energy, want.Ledger.Uses[i].Energy)
			}
		}
	}
}

// Across a change, too: gear that runs all day knows no hour, and the sun
// knows no clock.
func TestOneTripAcrossAChangeAndInUTC(t *testing.T) {
	eachChange(t, func(t *testing.T, c clockChange, p plan.Plan) {
		p.Sky.ColdestC = p.Sky.WarmestC
		p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 12)}
		here := mustRun(t, p)
		p.Trip.Start, p.Trip.Zone, p.Trip.ClockChanges = p.Trip.Start.UTC(), "", nil
		sameSeries(t, here, mustRun(t, p), anotherDate)
	})
}
