package weather

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"duskline/calc/sun"
)

// A Sample is the recipe of an invented EPW file, for tests and demonstrations.
// The zero value is a clear year at latitude 0, longitude 0.
type Sample struct {
	Name      string // of the invented place; "": Inventia
	Place     sun.Place
	Standard  time.Duration         // the file's time ahead of UTC, whole quarters of an hour
	Turbidity float64               // Linke turbidity, 1 to 10; 0: 3
	Index     func(day int) float64 // clear-sky index of a day, 0 is 1 January; nil: 1
	Leap      bool                  // 8784 rows instead of 8760
	CRLF, BOM bool
	// Head may change the eight header lines before they are written.
	Head func(lines []string) []string
	// Row may change the 35 fields of a row (0 is the first) before they are
	// written; it returns none to leave the row out.
	Row func(row int, fields []string) []string
}

// Synthetic writes an EPW file of invented weather: the clear sky over the
// place times each day's index, 15 °C give or take 10 through the day, 2 m/s of
// wind. Its light is a mean over the hour that ends at the time of its row,
// from 5-minute steps, in whole W/m². The file says that it is invented.
//
// Errors: *qty.RangeError for the place and the turbidity.
func Synthetic(s Sample) ([]byte, error) {
	if s.Turbidity == 0 {
		s.Turbidity = 3
	}
	if s.Name == "" {
		s.Name = "Inventia"
	}
	air, err := sun.NewAtmosphere(s.Place, s.Turbidity)
	if err != nil {
		return nil, err
	}
	above, err := newOverhead(s.Place, s.Standard, s.Leap)
	if err != nil {
		return nil, err
	}
	end := "\n"
	if s.CRLF {
		end = "\r\n"
	}
	var b strings.Builder
	if s.BOM {
		b.WriteString("\ufeff")
	}
	for _, l := range s.head() {
		b.WriteString(l + end)
	}
	rows := commonRows
	if s.Leap {
		rows = leapRows
	}
	for row := range rows {
		f := s.row(row, air, above.track)
		if s.Row != nil {
			f = s.Row(row, f)
		}
		if len(f) > 0 {
			b.WriteString(strings.Join(f, ",") + end)
		}
	}
	return []byte(b.String()), nil
}

func (s *Sample) head() []string {
	leap := "No"
	if s.Leap {
		leap = "Yes"
	}
	lines := []string{
		fmt.Sprintf("LOCATION,%s,-,---,invented,000000,%.5f,%.5f,%s,%.1f", s.Name,
			s.Place.Latitude, s.Place.Longitude, strconv.FormatFloat(s.Standard.Hours(), 'f', -1, 64), s.Place.Altitude),
		"DESIGN CONDITIONS,0",
		"TYPICAL/EXTREME PERIODS,0",
		"GROUND TEMPERATURES,0",
		"HOLIDAYS/DAYLIGHT SAVINGS," + leap + ",0,0,0",
		"COMMENTS 1,invented weather: no station measured it",
		"COMMENTS 2,made from a clear-sky model for tests",
		"DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31",
	}
	if s.Head != nil {
		lines = s.Head(lines)
	}
	return lines
}

// row writes one hour.
func (s *Sample) row(row int, air sun.Atmosphere, track *sun.Track) []string {
	day, hour := row/24, row%24
	index := 1.0
	if s.Index != nil {
		index = s.Index(day)
	}
	extra := sun.Extraterrestrial(day + 1)
	var ghi, dni, dhi float64
	const n = 12
	for i := range n {
		d := track.At(time.Duration(row)*time.Hour + (2*time.Duration(i)+1)*time.Hour/(2*n))
		l := sun.Clouded(air.ClearSky(d, extra), index, d, extra)
		ghi, dni, dhi = ghi+float64(l.GHI)/n, dni+float64(l.DNI)/n, dhi+float64(l.DHI)/n
	}
	year := 2002
	if s.Leap {
		year = 2004
	}
	date := time.Date(year, 1, 1+day, 0, 0, 0, 0, time.UTC)
	w := func(x float64) string { return strconv.Itoa(int(math.Round(x))) }
	warmth := 15 - 10*math.Cos(2*math.Pi*(float64(hour)-3)/24)
	return []string{
		strconv.Itoa(year), strconv.Itoa(int(date.Month())), strconv.Itoa(date.Day()), strconv.Itoa(hour + 1), "60",
		"?9?9?9?9E0?9?9?9?9?9?9?9?9?9?9?9?9?9?9?9*9?9?9?9*9*9",
		strconv.FormatFloat(warmth, 'f', 1, 64), "8.0", "60", "101325", "9999", "9999", "9999",
		w(ghi), w(dni), w(dhi), "999999", "999999", "999999", "9999", "180", "2.0",
		"99", "99", "9999", "99999", "9", "999999999", "999", "0.999", "999", "99", "999", "999", "99",
	}
}
