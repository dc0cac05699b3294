package main

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// overChange is an example whose trip runs from a Friday evening over the
// Sunday on which the clock is moved, told at an offset of its own.
func overChange(t *testing.T, friday string, longitude float64) string {
	return edited(t, "bird-count", func(p map[string]any) {
		trip := p["trip"].(map[string]any)
		trip["start"], trip["length_h"] = friday+"T18:00:00-07:00", 63
		p["sky"].(map[string]any)["longitude_deg"] = longitude
	})
}

// -zone keeps what the clock of the start shows, and every instant of the
// answer carries the offset that is in force at it.
func TestOutlookZoneAcrossAChange(t *testing.T) {
	for _, c := range []struct {
		friday, zone  string
		longitude     float64
		before, after string // offsets
		end           string // what the clock shows after 63 hours
		says          string
	}{
		{"2026-03-27", "Europe/Berlin", 10, "+01:00", "+02:00", "2026-03-30T10:00:00", "On Sunday 29\u00a0March at 02:00 the clock goes forward to 03:00."},
		{"2026-10-23", "Europe/Berlin", 10, "+02:00", "+01:00", "2026-10-26T08:00:00", "On Sunday 25\u00a0October at 03:00 the clock goes back to 02:00."},
		{"2026-09-25", "Pacific/Auckland", 175, "+12:00", "+13:00", "2026-09-28T10:00:00", "On Sunday 27\u00a0September at 02:00 the clock goes forward to 03:00."},
		{"2026-06-05", "Asia/Kathmandu", 85, "+05:45", "+05:45", "2026-06-08T09:00:00", ""},
		{"2026-06-05", "Pacific/Kiritimati", -157, "+14:00", "+14:00", "2026-06-08T09:00:00", ""},
		{"2026-06-05", "Etc/GMT+12", -178, "-12:00", "-12:00", "2026-06-08T09:00:00", ""},
	} {
		_, out, complaint := ask(t, overChange(t, c.friday, c.longitude), "-zone", c.zone, "-json")
		require.Empty(t, complaint)
		var j struct {
			Series struct{ Time []string }
			Days   []struct {
				Date  string
				Noon  time.Time
				Panel float64 `json:"panels_kWh_m2"`
				Clear float64 `json:"panels_clear_kWh_m2"`
			}
		}
		require.NoError(t, json.Unmarshal([]byte(out), &j))
		assert.Equal(t, c.friday+"T18:00:00"+c.before, j.Series.Time[0])
		last := len(j.Series.Time) - 1
		assert.Equal(t, c.end+c.after, j.Series.Time[last])
		first, err := time.Parse(time.RFC3339, j.Series.Time[0])
		require.NoError(t, err)
		for i, text := range j.Series.Time {
			at, err := time.Parse(time.RFC3339, text)
			require.NoError(t, err)
			require.Equal(t, 5*time.Minute*time.Duration(i), at.Sub(first), "row %d is %s", i, text)
		}
		require.Len(t, j.Days, 4, c.zone)
		for _, d := range j.Days {
			assert.Equal(t, d.Date, d.Noon.Format(time.DateOnly))
			assert.Greater(t, d.Panel, 0.0)
			assert.LessOrEqual(t, d.Panel, d.Clear*1.2)
		}

		_, out, _ = ask(t, overChange(t, c.friday, c.longitude), "-zone", c.zone)
		flat := strings.ReplaceAll(out, "\n", " ")
		if c.says == "" {
			assert.NotContains(t, flat, "the clock goes")
		} else {
			assert.Contains(t, flat, c.says)
		}
	}
}

// The table of days has a row for each with its light, ceiling and sun.
func TestOutlookTextTellsTheLightOfEachDay(t *testing.T) {
	_, out, _ := ask(t, string(example(t, "bird-count")))
	for _, head := range []string{"Day", "On the panel", "Clear sky", "Dawn", "Sunrise", "Sunset", "Dusk"} {
		assert.Contains(t, out, head)
	}
	days := 0
	for _, line := range strings.Split(out, "\n") {
		if strings.Count(line, "kWh/m²") == 2 {
			days++
			assert.Equal(t, 4, strings.Count(line, ":"), line)
		}
	}
	assert.Equal(t, 4, days)

	pole := edited(t, "bird-count", func(p map[string]any) {
		p["sky"].(map[string]any)["latitude_deg"] = 80
		p["panels"].(map[string]any)["list"] = []any{}
	})
	_, out, _ = ask(t, pole)
	assert.Contains(t, out, "On level ground")
	for _, line := range strings.Split(out, "\n") {
		if strings.Count(line, "kWh/m²") == 2 {
			assert.True(t, strings.HasSuffix(line, "up       up      –"), line)
		}
	}
}

// A name that no database has is told as such, and so is what the zone makes
// wrong in the Plan: nothing runs.
func TestOutlookUnknownZone(t *testing.T) {
	for name, want := range map[string]string{
		"Europe/Nowhere":  "no such time zone",
		"+05:30":          "no such time zone",
		"Local":           "no such time zone",
		"../etc/passwd":   "no such time zone",
		"Africa/Monrovia": "/trip/start: ", // until 1972 it was 44 min 30 s behind
	} {
		document := edited(t, "bird-count", func(p map[string]any) {
			p["trip"].(map[string]any)["start"] = "1960-05-15T18:00:00+02:00"
		})
		status, out, complaint := ask(t, document, "-zone", name)
		assert.Equal(t, 64, status, name)
		assert.Empty(t, out, name)
		assert.Contains(t, complaint, name)
		assert.Contains(t, complaint, want)
	}
}
