package main

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// A town is one place of the list before it is packed.
type town struct {
	name, ascii string
	former      string // its name of 2020 if that was another
	alternates  []string
	country     string // two letters
	division    string // code of the first division: "IT.07"
	admin       string // its name, or ""
	zone        string
	code        string // GeoNames feature code
	lat, lon    float64
	people      int
	altitude    int  // m
	height      bool // it is known

	others []string // what is kept of the alternates
}

// Which places are kept: those with this many people, capitals and seats of a
// country's first divisions; and where a square of this many degrees has none
// of these, its biggest place, so that a lonely camp has something near.
const (
	enoughPeople = 15000
	square       = 2.0
)

// gone are the feature codes that are left out: parts of a bigger place,
// abandoned, historical and destroyed ones.
const gone = " PPLX PPLQ PPLH PPLW PPLCH "

// reduce reads the files and returns the towns that are kept, in the order of
// the list.
func reduce(cities, now, regions []byte) ([]*town, error) {
	all, err := readCities(cities)
	if err != nil {
		return nil, err
	}
	if err := bringUp(all, now, regions); err != nil {
		return nil, err
	}
	type cell struct{ lat, lon int }
	at := func(t *town) cell { return cell{int(math.Floor(t.lat / square)), int(math.Floor(t.lon / square))} }
	var list []*town
	taken := map[cell]bool{}
	for _, t := range all {
		if t.people >= enoughPeople || t.code == "PPLC" || t.code == "PPLA" {
			list = append(list, t)
			taken[at(t)] = true
		}
	}
	// all is sorted with the biggest first: the first of a square is it.
	for _, t := range all {
		if !taken[at(t)] {
			list = append(list, t)
			taken[at(t)] = true
		}
	}
	chooseOthers(list)
	slices.SortFunc(list, func(a, b *town) int {
		return cmp.Or(cmp.Compare(a.country, b.country), cmp.Compare(a.admin, b.admin), cmp.Compare(a.lat, b.lat),
			cmp.Compare(a.lon, b.lon), cmp.Compare(a.name, b.name))
	})
	return list, nil
}

// readCities reads the lines of cities1000.txt, the biggest place first.
//
// Its 19 columns are those of the GeoNames dump: 1 name, 2 name in ASCII, 3
// alternate names, 4 latitude, 5 longitude, 7 feature code, 8 country, 10
// first division, 14 population, 15 elevation, 16 height from an elevation
// model, 17 time zone (counted from 0).
func readCities(data []byte) ([]*town, error) {
	var all []*town
	for n, line := range bytes.Split(bytes.TrimRight(data, "\n"), []byte("\n")) {
		f := strings.Split(string(line), "\t")
		if len(f) != 19 {
			return nil, fmt.Errorf("cities1000.txt, line %d: %d columns, not 19", n+1, len(f))
		}
		t := &town{name: clean(f[1]), ascii: f[2], alternates: strings.Split(f[3], ","), code: f[7], country: f[8],
			division: f[8] + "." + f[10], zone: f[17]}
		var bad [3]error
		t.lat, bad[0] = strconv.ParseFloat(f[4], 64)
		t.lon, bad[1] = strconv.ParseFloat(f[5], 64)
		t.people, bad[2] = strconv.Atoi(f[14])
		for _, err := range bad {
			if err != nil {
				return nil, fmt.Errorf("cities1000.txt, line %d: %w", n+1, err)
			}
		}
		// The model first: it is of one making all over the world, while some
		// elevations that people gave are in feet, or of the hill beside.
		for _, column := range []int{16, 15} {
			if m, err := strconv.Atoi(f[column]); err == nil && m > -500 && m < 6000 && !t.height {
				t.altitude, t.height = m, true
			}
		}
		if !strings.Contains(gone, " "+t.code+" ") && t.name != "" && len(t.country) == 2 && t.zone != "" {
			all = append(all, t)
		}
	}
	slices.SortStableFunc(all, func(a, b *town) int { return cmp.Compare(b.people, a.people) })
	return all, nil
}

// clean makes one line of a name, with single spaces.
func clean(s string) string { return strings.Join(strings.Fields(s), " ") }
