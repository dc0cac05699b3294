package towns

import (
	"errors"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"time"
)

// shipped is the list that ships with the app.
func shipped(t testing.TB) (*List, []byte) {
	t.Helper()
	data, err := os.ReadFile("../../web/towns/towns.bin")
	if err != nil {
		t.Fatal(err)
	}
	l, err := Load(data, nil)
	if err != nil {
		t.Fatal(err)
	}
	return l, data
}

func ExampleList_Search() {
	data, _ := os.ReadFile("../../web/towns/towns.bin")
	list, err := Load(data, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, t := range list.Search("san fr", 1) {
		fmt.Println(t.Name, t.Admin, t.Country, t.Latitude, t.Longitude, t.Altitude, t.Zone)
	}
	// Output: San Francisco California US 37.77 -122.42 30 America/Los_Angeles
}

// What people type, and what must be among the first.
func TestSearchFindsTheTown(t *testing.T) {
	l, _ := shipped(t)
	for _, c := range []struct {
		typed, name, country string
		within               int
	}{
		{"san fr", "San Francisco", "US", 1},
		{"SAN FRANCISCO", "San Francisco", "US", 1},
		{"  san   francisco ", "San Francisco", "US", 1},
		{"york", "York", "GB", 1},
		{"york", "New York City", "US", 4}, // a later word
		{"zurich", "Zürich", "CH", 1},
		{"Zür", "Zürich", "CH", 1},
		{"zu\u0308rich", "Zürich", "CH", 1}, // u and its dots apart, as some keyboards send it
		{"Zuerich", "Zürich", "CH", 1},
		{"lodz", "Łódź", "PL", 1},
		{"ŁÓDŹ", "Łódź", "PL", 1},
		{"München", "Munich", "DE", 1},
		{"muenchen", "Munich", "DE", 1},
		{"wien", "Vienna", "AT", 1},
		{"venezia", "Venice", "IT", 1},
		{"københavn", "Copenhagen", "DK", 1},
		{"bombay", "Mumbai", "IN", 1},
		{"peking", "Beijing", "CN", 1},
		{"st louis", "St. Louis", "US", 1},
		{"xian", "Xi’an", "CN", 1},
		{"s-gravenhage", "The Hague", "NL", 1},
		{"Москва", "Moscow", "RU", 1},
		{"мос", "Moscow", "RU", 1},
		{"Київ", "Kyiv", "UA", 1},
		{"Киев", "Kyiv", "UA", 1},
		{"Београд", "Belgrade", "RS", 1},
		{"αθηνα", "Athens", "GR", 1},
		{"Αθήνα", "Athens", "GR", 1},
		{"القاهرة", "Cairo", "EG", 1},
		{"القاهره", "Cairo", "EG", 1},
		{"تهران", "Tehran", "IR", 1},
		{"תל אביב", "Tel Aviv", "IL", 1},
		{"北京", "Beijing", "CN", 1},
		{"東京", "Tokyo", "JP", 1},
		{"よこ", "Yokohama", "JP", 1},
		{"대전", "Daejeon", "KR", 1},
		{"กรุง", "Bangkok", "TH", 1},
		{"दिल्ली", "Delhi", "IN", 2},
		{"சென்னை", "Chennai", "IN", 1},
		{"ঢাকা", "Dhaka", "BD", 1},
		{"თბილისი", "Tbilisi", "GE", 1},
		{"አዲስ", "Addis Ababa", "ET", 1},
		{"ភ្នំ", "Phnom Penh", "KH", 1},
		{"springfield, il", "Springfield", "US", 1},
		{"paris, texas", "Paris", "US", 1},
		{"paris", "Paris", "FR", 1},
		{"halle, de", "Halle (Saale)", "DE", 2},
		{"longyear", "Longyearbyen", "SJ", 1},
		{"mcmurdo", "McMurdo Station", "AQ", 1},
	} {
		found := false
		list := l.Search(c.typed, 8)
		for i, town := range list {
			found = found || i < c.within && town.Name == c.name && town.Country == c.country
		}
		if !found {
			t.Errorf("%q gave %v", c.typed, list)
		}
	}
	if got := l.Search("springfield, il", 8); got[0].Admin != "Illinois" {
		t.Errorf("springfield, il is in %s", got[0].Admin)
	}
	if got := l.Search("Москва", 8); got[0].Local != "Москва" {
		t.Errorf("Москва is shown as %q", got[0].Local)
	}
}

func TestSearchForNothing(t *testing.T) {
	l, _ := shipped(t)
	for _, typed := range []string{"", " ", "...", "\n", "\n\n", ",", ", il", "'", "qqqq", "\xff\xfe", strings.Repeat("long ", 1000)} {
		if got := l.Search(typed, 8); len(got) > 0 {
			t.Errorf("%q gave %v", typed, got)
		}
	}
	if got := l.Search("a", 0); got != nil {
		t.Errorf("none asked for, %v given", got)
	}
}

// Each town once, the most asked for at most.
func TestSearchGivesEachTownOnce(t *testing.T) {
	l, _ := shipped(t)
	for _, typed := range strings.Fields("a e san new moskau ber м ا 大") {
		list := l.Search(typed, 8)
		if len(list) > 8 || len(list) == 0 {
			t.Errorf("%q gave %d", typed, len(list))
		}
		for i, a := range list {
			for _, b := range list[:i] {
				if a.Name == b.Name && a.Latitude == b.Latitude && a.Longitude == b.Longitude {
					t.Errorf("%q gave %s twice", typed, a.Name)
				}
			}
		}
	}
}

// The whole list: about 25,000 places with altitudes; every zone one that Go
// knows, every position and altitude one that a plan takes.
func TestEveryTownIsUsable(t *testing.T) {
	l, _ := shipped(t)
	if l.Len() < 24000 || l.Len() > 27000 {
		t.Errorf("%d towns", l.Len())
	}
	low := 0
	for _, z := range l.zones {
		if _, err := time.LoadLocation(z); err != nil {
			t.Errorf("zone %q: %v", z, err)
		}
	}
	for n := range l.names {
		if n > 0 && l.names[n].town == l.names[n-1].town {
			continue
		}
		town := l.town(n)
		if town.Name == "" || len(town.Country) != 2 || math.Abs(float64(town.Latitude)) > 90 || math.Abs(float64(town.Longitude)) > 180 {
			t.Errorf("%+v", town)
		}
		if !town.Height {
			low++
		} else if town.Altitude < -430 || town.Altitude > 5500 {
			t.Errorf("%s lies at %v m", town.Name, town.Altitude)
		}
	}
	if low > 100 {
		t.Errorf("%d towns without an altitude", low)
	}
}

// Figures: commonly known, from memory; the list's own steps are 0.01° and
// 10 m, and altitudes of a town differ by where in it they are taken.
func TestTownsLieWhereTheyAre(t *testing.T) {
	l, _ := shipped(t)
	for _, c := range []struct {
		name          string
		lat, lon, alt float64
		zone          string
	}{
		{"la paz, bo", -16.50, -68.15, 3640, "America/La_Paz"},
		{"denver", 39.74, -104.98, 1609, "America/Denver"},
		{"kathmandu", 27.70, 85.32, 1300, "Asia/Kathmandu"},
		{"reykjavík", 64.14, -21.90, 15, "Atlantic/Reykjavik"},
		{"ushuaia", -54.80, -68.30, 20, "America/Argentina/Ushuaia"},
		{"suva", -18.14, 178.44, 10, "Pacific/Fiji"},
		{"apia", -13.83, -171.77, 10, "Pacific/Apia"},
	} {
		town := l.Search(c.name, 1)[0]
		if math.Abs(float64(town.Latitude)-c.lat) > 0.05 || math.Abs(float64(town.Longitude)-c.lon) > 0.05 || math.Abs(float64(town.Altitude)-c.alt) > 200 || town.Zone != c.zone {
			t.Errorf("%s: %+v", c.name, town)
		}
	}
}

func TestLoadRefusesDamage(t *testing.T) {
	_, data := shipped(t)
	bad := map[string][]byte{
		"empty":     nil,
		"a page":    []byte("<!doctype html>\n<html>"),
		"header":    []byte("duskline towns 2\tx\t1\n"),
		"no towns":  []byte("duskline towns 1\tx\t0\n"),
		"too many":  []byte("duskline towns 1\tx\t99999999\n"),
		"too long":  make([]byte, maxBytes+1),
		"more":      append(append([]byte{}, data...), 0),
		"cut off":   data[:len(data)-1],
		"one fewer": []byte(strings.Replace(string(data), fmt.Sprintf("\t%d\n", 25428), "\t25427\n", 1)),
	}
	for name, b := range bad {
		if l, err := Load(b, nil); !errors.Is(err, ErrDamaged) || l != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for n := 0; n < len(data); n += 997 {
		if _, err := Load(data[:n], nil); err == nil {
			t.Errorf("cut off at %d and taken", n)
		}
	}
}

// tiny is a whole list of two towns, a start for the fuzzer.
const tiny = "duskline towns 1\tx\t2\n" +
	"\x04u\t\u00fc" + "\x08AAOne\t2\n" + "\x03Z/A" + "\x02\x00\x02" +
	"\x02\x00\x00" + "\x02\x02\x04" + "\x02\x00\x00" + "\x02\x00\x03" + "\x02\x00\x00" + "\x02\x40\x00" + "\x02\x09\x09" +
	"\x08Ab C\nDef" + "\x05\nX\tYz"

func TestTinyListIsOne(t *testing.T) {
	l, err := Load([]byte(tiny), nil)
	if err != nil {
		t.Fatal(err)
	}
	got := l.Search("y", 8)
	if len(got) != 1 || got[0].Name != "Def" || got[0].Local != "Yz" || got[0].Latitude != 0.03 || got[0].Height {
		t.Errorf("%+v", got)
	}
	if got := l.Search("c, one", 8); len(got) != 1 || got[0].Altitude != 130 {
		t.Errorf("%+v", got)
	}
}

func FuzzLoad(f *testing.F) {
	f.Add([]byte(tiny), "y")
	f.Add([]byte("duskline towns 1\tx\t1\n"), "")
	f.Fuzz(func(t *testing.T, data []byte, typed string) {
		l, err := Load(data, nil)
		if err != nil {
			return
		}
		for _, town := range l.Search(typed, 8) {
			if math.Abs(float64(town.Latitude)) > 90 || math.Abs(float64(town.Longitude)) > 180 || town.Name == "" {
				t.Fatalf("%+v", town)
			}
		}
	})
}

func FuzzSearch(f *testing.F) {
	l, _ := shipped(f)
	for _, s := range []string{"san fr", "Москва", "ß, a", "\xff", "ﬁ", "İ"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, typed string) {
		if n := len(l.Search(typed, 8)); n > 8 {
			t.Fatalf("%q gave %d", typed, n)
		}
	})
}

func BenchmarkLoad(b *testing.B) {
	_, data := shipped(b)
	b.ReportAllocs()
	for b.Loop() {
		Load(data, nil)
	}
}

// One key press each; "a" has the most hits of all.
func BenchmarkSearch(b *testing.B) {
	l, _ := shipped(b)
	for _, typed := range []string{"a", "san", "san fr", "muenchen", "Мо"} {
		b.Run("typed="+typed, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				l.Search(typed, 8)
			}
		})
	}
}

// The town at each town's own position is that town or one at the same
// hundredth of a degree; the other checks are distances of a degree, 111.19 km
// on that globe, and the two sides of the antimeridian.
func TestNearestIsTheTownItself(t *testing.T) {
	l, _ := shipped(t)
	for n := 0; n < len(l.names); n += 331 {
		town := l.town(n)
		got, km := l.Nearest(town.Latitude, town.Longitude)
		if km > 1e-3 || got.Latitude != town.Latitude || got.Longitude != town.Longitude {
			t.Errorf("at %s the nearest is %s, %v km", town.Name, got.Name, km)
		}
	}
	two, err := Load([]byte(tiny), nil)
	if err != nil {
		t.Fatal(err)
	}
	if got, km := two.Nearest(1.01, 0); got.Name != "Def" && got.Name != "Ab C" || km < 108 || km > 112 {
		t.Errorf("%s, %v km", got.Name, km)
	}
	if got, km := two.Nearest(90, 0); got.Name != "Def" || math.Abs(km-111.195*89.97) > 5 {
		t.Errorf("from the pole %s, %v km", got.Name, km)
	}
	a, kmA := l.Nearest(-16.8, 180)
	b, kmB := l.Nearest(-16.8, -180)
	if a != b || math.Abs(kmA-kmB) > 1e-6 {
		t.Errorf("at the antimeridian %s, %v km and %s, %v km", a.Name, kmA, b.Name, kmB)
	}
}

func BenchmarkNearest(b *testing.B) {
	l, _ := shipped(b)
	for b.Loop() {
		l.Nearest(46.9, 7.4)
	}
}
