package weather

import (
	"math"
	"strconv"
	"time"

	"duskline/calc/qty"
	"duskline/calc/sun"
)

// An overhead is the sun of a file's place, hour by hour.
//
// Decision: the sun of one year serves all files, in the middle between two
// leap years, as a file is put together from several; it is a quarter of a
// degree off at most.
type overhead struct {
	track *sun.Track
	leap  bool
}

func newOverhead(p sun.Place, standard time.Duration, leap bool) (overhead, error) {
	year, rows := 2002, commonRows
	if leap {
		year, rows = 2004, leapRows
	}
	from := time.Date(year, 1, 1, 0, 0, 0, 0, time.UTC).Add(-standard)
	track, err := sun.NewTrack(from, from.Add(time.Duration(rows)*time.Hour), p)
	return overhead{track, leap}, err
}

// A lit is the sun of one hour.
type lit struct {
	up   float64 // mean of the sine of its height, 0 where it is down
	most float64 // greatest irradiance of level ground above the air, W/m²
	day  int     // of the year
}

// hour returns the sun of a row, counted in a leap year: from its middle
// fives of minutes for the mean, from its ends too for the greatest.
func (o *overhead) hour(row int) lit {
	if !o.leap && row >= leapDay {
		row -= 24
	}
	start := time.Duration(row) * time.Hour
	var sum, most float64
	const n = 12
	for i := range n {
		up := max(o.track.At(start+(2*time.Duration(i)+1)*time.Hour/(2*n)).Up, 0)
		sum, most = sum+up, max(most, up)
	}
	most = max(most, o.track.At(start).Up, o.track.At(start+time.Hour).Up)
	day := row/24 + 1
	return lit{up: sum / n, most: most * float64(sun.Extraterrestrial(day)), day: day}
}

// fill makes the year of what was read, and judges the light in it.
func (r *reader) fill() {
	if r.noGlobal() {
		for i := range r.raw {
			r.raw[i].ghi = math.NaN()
		}
	}
	above, err := newOverhead(r.year.Place, r.year.Standard, r.leap)
	if err != nil { // the header's limits are those of the place
		panic(err)
	}
	y := &r.year
	y.Rows = len(r.raw)
	y.hours = make([]hour, len(r.raw))
	bright := false
	for i := range r.raw {
		h := &r.raw[i]
		out := &y.hours[i]
		out.ghi, out.dhi = noLight, noLight
		if !h.broken {
			if ghi, dhi, ok := r.light(h, &above); ok {
				out.ghi, out.dhi = uint16(ghi*10+0.5), uint16(dhi*10+0.5)
				bright = bright || ghi > 0
			}
		}
		out.air, out.wind = noAir, noWind
		if h.air == h.air {
			out.air = int16(math.Round(h.air * 100))
		} else {
			y.Missing.Air++
		}
		if h.wind == h.wind {
			out.wind = uint16(h.wind*100 + 0.5)
		} else {
			y.Missing.Wind++
		}
	}
	if !bright && len(r.errs) == 0 {
		r.errs.add(Error{Kind: Dark})
	}
}

// noGlobal reports whether the column of all light is empty of light while
// another is not.
func (r *reader) noGlobal() bool {
	other := false
	for i := range r.raw {
		h := &r.raw[i]
		if h.ghi > 0 {
			return false
		}
		other = other || h.dni > 0 || h.dhi > 0
	}
	return other
}

// light returns all light and the sky's part of it for one line, as far as it
// can be told.
//
//	GHI = DNI · sin(height) + DHI, with the hour's mean sine
func (r *reader) light(h *rawHour, above *overhead) (ghi, dhi float64, ok bool) {
	ghi, dhi = h.ghi, h.dhi
	if ghi == 0 && dhi != dhi {
		dhi = 0
	}
	if ghi <= slack && dhi <= ghi { // nothing to make up, too little to judge
		return ghi, dhi, true
	}
	missing := &r.year.Missing
	s := above.hour(h.row)
	column, field := colGHI, "ghi"
	if ghi != ghi {
		switch {
		case s.most == 0 && !(h.dni > 0) && !(dhi > 0): // night
			return 0, 0, true
		case h.dni == h.dni && dhi == dhi:
			missing.Global++
			ghi = h.dni*s.up + dhi
			column, field = colDNI, "dni"
		default:
			missing.Light++
			return 0, 0, false
		}
	}
	if ghi > s.most+slack {
		r.judge(h, column, Error{Kind: Bright, Field: field, Max: s.most, Unit: "W/m²"}, ghi)
		return 0, 0, false
	}
	switch {
	case dhi != dhi:
		missing.Diffuse++
		dhi = ghi - h.dni*s.up
		if !(dhi >= 0) { // no beam to take off, or too much of it
			dhi = float64(sun.Erbs(qty.Irradiance(ghi), zenith(s.up), s.day).DHI)
		}
	case dhi > ghi+slack:
		r.judge(h, colGHI, Error{Kind: Dim, Field: "ghi", Min: dhi, Max: s.most, Unit: "W/m²"}, ghi)
		return 0, 0, false
	case dhi > ghi:
		missing.Trimmed++
		dhi = ghi
	}
	return ghi, dhi, true
}

// judge notes a fault of a line that has been read before.
func (r *reader) judge(h *rawHour, column int, f Error, found float64) {
	if r.errs.full() {
		return
	}
	line, _ := nextLine(r.data, h.start)
	r.f.split(line)
	was := r.line
	r.line = h.line
	r.fault(line, column, f)
	r.line = was
	if column == colDNI { // made up: what it comes to tells more than its parts
		r.errs[len(r.errs)-1].Found = strconv.FormatFloat(math.Round(found), 'f', -1, 64)
	}
}

// zenith returns the angle from straight up of a sun whose height has a sine.
func zenith(up float64) qty.Degree { return qty.Radian(math.Acos(min(up, 1))).Degrees() }
