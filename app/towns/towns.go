// Package towns finds a town by the beginning of its name, in any script and
// without accents, in a list that ships with the app.
//
// The list is one packed file, made from GeoNames data by the command in
// pack; web/towns/README.md tells its origin. The page loads it on first use
// only, hands its bytes to Load and keeps the List.
//
// A search goes through the words of all names from the first to the last:
// they are some 80,000, which takes a millisecond or two in WebAssembly, and no
// index has to be shipped or sorted.
package towns

import (
	"math"
	"strings"

	"duskline/calc/qty"
)

// A Town is one place of the list.
type Town struct {
	Name      string // as GeoNames has it, in Latin letters
	Local     string // the other name by which it was found, or ""
	Admin     string // state, province, region, or ""
	Country   string // ISO 3166-1 alpha-2
	Latitude  qty.Degree
	Longitude qty.Degree // both to a hundredth of a degree
	Altitude  qty.Metre  // to 10 m
	Height    bool       // the altitude is known
	Zone      string     // IANA name: "Europe/Andorra"
}

// A List is the packed list, opened.
type List struct {
	origin string // package and version that it was made from

	names  []name // of all towns, in their order
	folded string // the folded names, each with a line break before and behind
	words  []word // where they begin
	towns  []place
	runs   []run    // countries and their parts, in the towns' order
	zones  []string //
	fold   folding
}

// A name is one way to call a town; its first name is the one shown.
type name struct {
	text string
	town uint16
}

type word struct{ at, name uint32 }

type place struct {
	lat, lon int16 // hundredths of a degree
	altitude int16 // tens of metres
	people   uint8 // thirds of a power of two
	zone     uint16
	run      uint16
}

type run struct{ country, admin string }

// Origin names the package and version that the list was made from.
func (l *List) Origin() string { return l.origin }

// Len is the number of towns.
func (l *List) Len() int { return len(l.towns) }

// What a hit is worth, in thirds of a doubling of the people: an exact name is
// worth a town a thousand times as big, the beginning of a name sixteen times.
const (
	exact     = 30
	beginning = 12
	otherName = -15 // a name that is not the first
)

type hit struct {
	name  int
	score int
}

// Search returns at most max towns that have a name in which a word begins
// with what was typed, the best first: whole names before beginnings, big
// towns before small ones. What stands behind a comma must begin a word of
// the region or be the code of the country: "springfield, il".
func (l *List) Search(typed string, max int) []Town {
	typed, where, _ := strings.Cut(typed, ",")
	q, where := l.fold.fold(typed), l.fold.fold(where)
	if q == "" || max < 1 {
		return nil
	}
	best := l.scan(q, where, max, nil)
	if len(best) < max {
		// Umlauts and their kin as keyboards without them have it.
		if plain := umlauts.Replace(q); plain != q {
			best = l.scan(plain, where, max, best)
		}
	}
	found := make([]Town, len(best))
	for i, h := range best {
		found[i] = l.town(h.name)
	}
	return found
}

var umlauts = strings.NewReplacer("ae", "a", "oe", "o", "ue", "u", "aa", "a")

// scan goes through all names and keeps the best towns, each once.
func (l *List) scan(q, where string, max int, best []hit) []hit {
	for _, w := range l.words {
		if !strings.HasPrefix(l.folded[w.at:], q) {
			continue
		}
		n := int(w.name)
		t := l.names[n].town
		score := int(l.towns[t].people)
		if n > 0 && l.names[n-1].town == t {
			score += otherName
		}
		if l.folded[w.at-1] == '\n' {
			score += beginning
			if l.folded[int(w.at)+len(q)] == '\n' {
				score += exact - beginning
			}
		}
		if len(best) == max && score <= best[max-1].score || where != "" && !l.within(t, where) {
			continue
		}
		best = l.put(best, hit{n, score}, max)
	}
	return best
}

// put keeps the list sorted, with each town once.
func (l *List) put(best []hit, h hit, max int) []hit {
	at := len(best)
	for i, b := range best {
		if l.names[b.name].town == l.names[h.name].town {
			if b.score >= h.score {
				return best
			}
			best = append(best[:i], best[i+1:]...)
			at--
			break
		}
	}
	best = append(best, h)
	for ; at > 0 && best[at-1].score < h.score; at-- {
		best[at], best[at-1] = best[at-1], best[at]
	}
	return best[:min(len(best), max)]
}

func (l *List) within(town uint16, where string) bool {
	r := l.runs[l.towns[town].run]
	return l.fold.fold(r.country) == where || strings.Contains(" "+l.fold.fold(r.admin), " "+where)
}

func (l *List) town(n int) Town {
	t := l.names[n].town
	first := n
	for first > 0 && l.names[first-1].town == t {
		first--
	}
	p := l.towns[t]
	r := l.runs[p.run]
	town := Town{
		Name: l.names[first].text, Admin: r.admin, Country: r.country, Zone: l.zones[p.zone],
		Latitude: qty.Degree(p.lat) / 100, Longitude: qty.Degree(p.lon) / 100,
	}
	if n != first {
		town.Local = l.names[n].text
	}
	if p.altitude != unknown {
		town.Altitude, town.Height = qty.Metre(p.altitude)*10, true
	}
	return town
}

// Nearest returns the town that lies nearest to a position, and how far off
// it is, in km along a great circle of a globe of 6371 km.
func (l *List) Nearest(lat, lon qty.Degree) (Town, float64) {
	// The nearest on the globe is the nearest through it: compare squares of
	// straight distances between points of a unit globe.
	x, y, z := onGlobe(float64(lat), float64(lon))
	best, least := 0, math.Inf(1)
	for n := range l.names {
		t := l.names[n].town
		if n > 0 && l.names[n-1].town == t {
			continue
		}
		// A degree of latitude away is at least a degree away.
		if d := math.Abs(float64(l.towns[t].lat)/100 - float64(lat)); 2*math.Sin(d*math.Pi/360) > math.Sqrt(least) {
			continue
		}
		u, v, w := onGlobe(float64(l.towns[t].lat)/100, float64(l.towns[t].lon)/100)
		if d := (u-x)*(u-x) + (v-y)*(v-y) + (w-z)*(w-z); d < least {
			best, least = n, d
		}
	}
	return l.town(best), 2 * 6371 * math.Asin(min(1, math.Sqrt(least)/2))
}

func onGlobe(lat, lon float64) (x, y, z float64) {
	sinLat, cosLat := math.Sincos(lat * math.Pi / 180)
	sinLon, cosLon := math.Sincos(lon * math.Pi / 180)
	return cosLat * cosLon, cosLat * sinLon, sinLat
}
