package planning

import (
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/calc/plan"
)

func TestOffsetsHaveThePlansOwn(t *testing.T) {
	for _, own := range []string{"2", "-3.5", "0.25", "5.75"} {
		found := false
		for _, o := range offsets(own) {
			found = found || o.Value == byOffset+own
		}
		if !found {
			t.Errorf("%s is not offered", own)
		}
	}
}

// clockAt is the clock of a plan that starts at a local time.
func clockAt(t *testing.T, zone string, start time.Time, hours float64) *placeClock {
	t.Helper()
	s := session(t, "bird-count")
	if f := s.Desk.Change(func(p *plan.Plan) {
		p.SetZone("", 0, nil)
		p.SetStart(start)
		p.Trip.LengthH = hours
		if err := room.SetZone(p, zone); err != nil {
			t.Fatal(err)
		}
	}); f != nil {
		t.Fatal(f)
	}
	return &placeClock{Session: s, Desk: s.Desk}
}

func TestTheClocksMoveIsSaid(t *testing.T) {
	utc := func(month time.Month, day, hour int) time.Time {
		return time.Date(2026, month, day, hour, 0, 0, 0, time.UTC)
	}
	for _, c := range []struct {
		zone  string
		start time.Time
		hours float64
		want  string
	}{
		{"Europe/Berlin", utc(10, 24, 12), 48, "On Sunday 25\u00a0October at 03:00 the clock goes back to 02:00. Hours here are by the place's clock."},
		{"Europe/Berlin", utc(3, 28, 12), 48, "On Sunday 29\u00a0March at 02:00 the clock goes forward to 03:00. Hours here are by the place's clock."},
		{"Europe/Berlin", utc(6, 24, 12), 48, "The clock is not changed during the trip."},
		{"Australia/Lord_Howe", utc(4, 4, 12), 48, "On Sunday 5\u00a0April at 02:00 the clock goes back to 01:30. Hours here are by the place's clock."},
		{"Asia/Kathmandu", utc(4, 4, 12), 48, "The clock is not changed during the trip."},
	} {
		p := clockAt(t, c.zone, c.start, c.hours).Desk.Plan()
		if got := moves(p.Trip); got != c.want {
			t.Errorf("%s: %q", c.zone, got)
		}
		if got := p.Trip.Start.Format("2006-01-02 15:04"); got != c.start.Format("2006-01-02 15:04") {
			t.Errorf("%s: the start reads %s", c.zone, got)
		}
	}
}

func TestAZoneIsChosenAndGivenUp(t *testing.T) {
	c := clockAt(t, "Europe/Berlin", time.Date(2026, 10, 24, 12, 0, 0, 0, time.UTC), 48)
	trip := func() plan.Trip { return c.Desk.Plan().Trip }
	c.choose(byZone + "America/Lima")
	if trip().Zone != "America/Lima" || len(trip().ClockChanges) != 0 || trip().Start.Format(time.RFC3339) != "2026-10-24T12:00:00-05:00" {
		t.Errorf("Lima: %+v", trip())
	}
	c.choose(byOffset + "5.75")
	if trip().Zone != "" || trip().Start.Format(time.RFC3339) != "2026-10-24T12:00:00+05:45" {
		t.Errorf("fixed: %+v", trip())
	}
	if got := moves(trip()); !strings.Contains(got, "no summer time") {
		t.Errorf("fixed: %q", got)
	}
	c.choose(byZone + "Mars/Olympus")
	if c.wrong == "" || trip().Zone != "" {
		t.Errorf("an unknown zone: %q, %+v", c.wrong, trip())
	}
	c.choose(byOther)
	if html := app.HTMLString(c); !strings.Contains(html, `id="trip-zone_name"`) {
		t.Error("no field for the name of another zone")
	}
	c.seek("Asia/Calcut")
	c.seek("Asia/Calcutta") // an older name
	if f := c.found(); len(f) == 0 {
		t.Error("an older name is not found")
	} else if c.pick(f[0]); trip().Start.Format("-07:00") != "+05:30" || c.elsewhere {
		t.Errorf("picked %s: %+v", f[0], trip())
	}
	c.choose(byOther)
	c.seek("x!")
	lost := &placeClock{Session: c.Session, Desk: c.Desk, elsewhere: true, typed: c.typed}
	if f := c.found(); len(f) != 0 || !strings.Contains(app.HTMLString(lost), "knows no time zone") {
		t.Errorf("x! finds %v", f)
	}
}
