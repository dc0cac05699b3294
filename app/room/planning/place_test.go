package planning

import (
	"math"
	"os"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/towns"
	"duskline/app/words"
	"duskline/calc/plan"
)

// look types into the box as a page does.
func look(n *finder, typed string) string {
	n.typed, n.tried = typed, false
	n.search()
	return app.HTMLString(n.Render())
}

// searcher is the box of an example, with the shipped list open.
func searcher(t *testing.T) *finder {
	t.Helper()
	data, err := os.ReadFile("../../../web/towns/towns.bin")
	if err != nil {
		t.Fatal(err)
	}
	list, err := towns.Load(data, nil)
	if err != nil {
		t.Fatal(err)
	}
	was := shipped
	shipped = atlas{list: list}
	t.Cleanup(func() { shipped = was })
	s := session(t, "bird-count")
	return &finder{Session: s, Desk: s.Desk, marked: -1}
}

func TestPositionIsRounded(t *testing.T) {
	d := session(t, "bird-count").Desk
	at := func(lat, lon, alt float64) plan.Faults {
		return settle(d, func(p *plan.Plan) { standAt(p, lat, lon, alt) })
	}
	if f := at(-33.86881, 151.20929, 58.3); f != nil {
		t.Fatal(f)
	}
	if p := d.Plan().Sky; p.LatitudeDeg != -33.869 || p.LongitudeDeg != 151.209 || p.AltitudeM != 60 || p.Place != "" {
		t.Errorf("%g, %g, %g m, %q", p.LatitudeDeg, p.LongitudeDeg, p.AltitudeM, p.Place)
	}
	for _, alt := range []float64{math.NaN(), 6000, -900} { // a phone in an aeroplane
		if f := at(10, 10, alt); f != nil || d.Plan().Sky.AltitudeM != 60 {
			t.Errorf("altitude %g: %v, %g m", alt, f, d.Plan().Sky.AltitudeM)
		}
	}
	if f := at(math.NaN(), 10, 0); f == nil {
		t.Error("no latitude was taken")
	}
	for _, c := range [][2]float64{{90, 180}, {-90, -180}} {
		if f := at(c[0], c[1], 0); f != nil {
			t.Errorf("%v: %v", c, f)
		}
	}
}

// What waited in the fields of the place before does not come over the new one.
func TestAnotherPlaceDropsWhatWaited(t *testing.T) {
	d := session(t, "bird-count").Desk
	d.Enter(latitudeAt, "91")
	if d.Fault(latitudeAt) == "" {
		t.Fatal("latitude 91 was taken")
	}
	if f := settle(d, func(p *plan.Plan) { standAt(p, 10, 20, 30) }); f != nil {
		t.Fatal(f)
	}
	if d.Fault(latitudeAt) != "" || d.Plan().Sky.LatitudeDeg != 10 {
		t.Errorf("%q, %g", d.Fault(latitudeAt), d.Plan().Sky.LatitudeDeg)
	}
}

func TestTownBringsAltitudeAndClock(t *testing.T) {
	n := searcher(t)
	html := look(n, "kathm")
	for _, want := range []string{"Kathmandu", words.Amount(1300, 0, "m"), words.T("place.credit"), `role="listbox"`, `role="option"`, `role="combobox"`} {
		if !strings.Contains(html, want) {
			t.Errorf("no %s in %s", want, html)
		}
	}
	before := n.Desk.Plan().Trip.Start
	if f := settle(n.Desk, func(p *plan.Plan) {
		if !moveTo(p, n.found[0]) {
			t.Error("Asia/Kathmandu is not known")
		}
	}); f != nil {
		t.Fatal(f)
	}
	p := n.Desk.Plan()
	if p.Sky.Place != "Kathmandu, NP" || p.Sky.LatitudeDeg != 27.7 || p.Sky.AltitudeM != 1300 || p.Trip.Zone != "Asia/Kathmandu" {
		t.Errorf("%+v, zone %s", p.Sky, p.Trip.Zone)
	}
	if _, offset := p.Trip.Start.Zone(); offset != 5*3600+45*60 || p.Trip.Start.Format("15:04") != before.Format("15:04") {
		t.Errorf("starts %v, before %v", p.Trip.Start, before)
	}
	if got := app.HTMLString(n.Render()); !strings.Contains(got, "Clock: Asia/Kathmandu") {
		t.Errorf("the clock is not said: %s", got)
	}
}

func TestTypedPositionIsRead(t *testing.T) {
	n := searcher(t)
	for _, typed := range []string{"52,4 15,6", "52°24′N 15°36′E", "geo:52.4,15.6"} {
		if html := look(n, typed); !strings.Contains(html, words.T("place.use", words.Position(52.4, 15.6))) || n.faultText() != "" {
			t.Errorf("%q: %s", typed, html)
		}
	}
	// Half a position is a fault only when one has done with it.
	look(n, "52.4")
	if n.faultText() != "" {
		t.Errorf("while typing: %s", n.faultText())
	}
	n.tried = true
	if n.faultText() != words.T("coords.only_one") {
		t.Errorf("after: %q", n.faultText())
	}
	for typed, want := range map[string]string{"91 15": "91°", "52 181": "181°"} {
		look(n, typed)
		if got := n.faultText(); !strings.Contains(got, want) {
			t.Errorf("%q: %q", typed, got)
		}
		if n.spot != nil {
			t.Errorf("%q can be chosen", typed)
		}
	}
	look(n, "xyzzyx")
	if n.faultText() != "" || n.said() != words.T("place.none") {
		t.Errorf("no town: %q, %q", n.faultText(), n.said())
	}
}

// The list may be missing; a position goes without it.
func TestPositionsGoWithoutTheList(t *testing.T) {
	n := searcher(t)
	shipped = atlas{failed: true}
	look(n, "52.4 15.6")
	if n.spot == nil || n.said() != "" {
		t.Errorf("%v, %q", n.spot, n.said())
	}
	look(n, "bern")
	if n.said() != words.T("place.no_list") {
		t.Errorf("%q", n.said())
	}
	shipped = atlas{opening: true}
	look(n, "bern")
	if n.said() != words.T("place.loading") {
		t.Errorf("%q", n.said())
	}
}

func TestAltitudeOutsideIsRefusedInWords(t *testing.T) {
	d := session(t, "bird-count").Desk
	d.Enter(altitudeAt, "6000")
	if got := d.Fault(altitudeAt); !strings.Contains(got, words.Plain(5500, "m")) {
		t.Errorf("6000 m: %q", got)
	}
	d.Enter(altitudeAt, "-430")
	if got := d.Fault(altitudeAt); got != "" {
		t.Errorf("-430 m: %q", got)
	}
}

func TestEveryFailureOfTheDeviceIsWorded(t *testing.T) {
	states := []string{"asking", "none", "failed"}
	for _, s := range failures {
		states = append(states, s)
	}
	for _, s := range states {
		if !words.Has("here." + s) {
			t.Errorf("no words for %s", s)
		}
	}
}

// What was said of a place is not said of the next one.
func TestTheNearestTownIsThatOfThePlaceChosen(t *testing.T) {
	s := session(t, "bird-count")
	n := &finder{Desk: s.Desk, marked: -1, after: "Old news.", nearBy: true, near: towns.Town{Name: "Nearby"}, nearKm: 3}
	n.chosen = n.stands()
	if html := app.HTMLString(n.Render()); !strings.Contains(html, "Nearby") || !strings.Contains(html, "Old news.") {
		t.Fatal("not said of the place that was chosen")
	}
	s.Desk.Enter("/sky/latitude_deg", "-40")
	if html := app.HTMLString(n.Render()); strings.Contains(html, "Nearby") || strings.Contains(html, "Old news.") {
		t.Error("said of another place")
	}
}
