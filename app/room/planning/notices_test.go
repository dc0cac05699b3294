package planning

import (
	"fmt"
	stdhtml "html"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/words"
	"duskline/calc/notice"
)

var codeOf = regexp.MustCompile(`data-code="([^"]*)"`)

// shownOf splits the notices of a list into those in view and those behind the
// fold.
func shownOf(t *testing.T, list []notice.Notice) (open, folded []string, html string) {
	t.Helper()
	s := session(t, "bird-count")
	before := slices.Clone(list)
	html = app.HTMLString(notices(list, *s.Desk.Plan()))
	if len(before) != len(list) || len(list) > 0 && before[0].Code != list[0].Code {
		t.Error("the Outlook's own list was changed")
	}
	view, rest, _ := strings.Cut(html, `id="notices-more"`)
	for _, m := range codeOf.FindAllStringSubmatch(view, -1) {
		open = append(open, m[1])
	}
	for _, m := range codeOf.FindAllStringSubmatch(rest, -1) {
		folded = append(folded, m[1])
	}
	return open, folded, html
}

func TestThreeGravestNoticesAreInView(t *testing.T) {
	n := func(code notice.Code, grade notice.Grade) notice.Notice {
		return notice.Notice{Code: code, Grade: grade}
	}
	open, folded, html := shownOf(t, []notice.Notice{
		n(notice.NoGear, notice.Advice),
		n(notice.MainsVolts, notice.Warning),
		n(notice.ColdCharge, notice.Warning),
		n(notice.RechargeWithin, notice.Advice),
		n(notice.LifeSupport, notice.Danger),
		n(notice.HighCurrent, notice.Warning),
	})
	// Of equal grade what only this plan has comes first.
	if want := []string{"life_support", "cold_charge", "mains_volts"}; !slices.Equal(open, want) {
		t.Errorf("in view %v, want %v", open, want)
	}
	if want := []string{"high_current", "no_gear", "recharge_within"}; !slices.Equal(folded, want) {
		t.Errorf("folded %v, want %v", folded, want)
	}
	if more := words.T("notices.more", 3, words.T("signal.warning")+", "+words.T("signal.notice")); !strings.Contains(html, more) {
		t.Errorf("the fold does not say %q", more)
	}

	open, folded, html = shownOf(t, []notice.Notice{n(notice.NoGear, notice.Advice), n(notice.FullEarly, notice.Advice), n(notice.MainsVolts, notice.Warning)})
	if len(open) != 3 || len(folded) != 0 || strings.Contains(html, "notices-more") {
		t.Errorf("three notices fold: %v, %v", open, folded)
	}
	if app.HTMLString(app.Div().Body(notices(nil, *session(t, "bird-count").Desk.Plan()))) != app.HTMLString(app.Div()) {
		t.Error("no notice takes room")
	}
}

// General advice is short in view and whole behind; nothing of it is lost.
func TestGeneralAdviceIsShort(t *testing.T) {
	volts := notice.Notice{Code: notice.MainsVolts, Grade: notice.Warning, Values: []notice.Value{{Name: "volts", Number: 230, Unit: "V"}}}
	_, _, html := shownOf(t, []notice.Notice{volts})
	a := words.Notice(volts, *session(t, "bird-count").Desk.Plan(), session(t, "bird-count").Desk.Plan().Trip.Start)
	head, rest, ok := strings.Cut(stdhtml.UnescapeString(html), "</summary>")
	if !ok || !strings.Contains(head, a.Short) || !strings.Contains(head, a.Signal) || strings.Contains(head, a.Do) || !strings.Contains(rest, a.Do) {
		t.Errorf("in view:\n%s\nbehind:\n%s", head, rest)
	}
	if words.General(notice.LifeSupport) {
		t.Error("a life that hangs on the plan is told in short")
	}
}

func TestPlaceIsAskedFor(t *testing.T) {
	s := session(t, "bird-count")
	if strings.Contains(page(s), `id="placeless"`) {
		t.Error("an example has no place")
	}
	s.New()
	html := page(s)
	if !strings.Contains(html, `id="placeless"`) || !strings.Contains(html, `id="set-place"`) || !strings.Contains(html, words.T("summary.no_place")) {
		t.Error("nothing says that the place is not set")
	}
	s.Desk.Enter("/sky/latitude_deg", "-33.9")
	if html = page(s); strings.Contains(html, `id="placeless"`) || strings.Contains(html, words.T("summary.no_place")) {
		t.Error("the place is set, and still asked for")
	}
}

// Every field is found in the fold that it is said to lie in.
func TestEveryFieldIsLedTo(t *testing.T) {
	for pointer, want := range map[string]string{
		"/name": "trip 0", "/note": "trip 0", "/trip/start/date": "trip 0", "/trip/wall_hours": "trip 0",
		"/case/battery/alarm_V": "case 0", "/case/inverter_hours/0/from_h": "case 0",
		"/gear/3/power_W": "gear/gear 3", "/gear/12/hours": "gear/gear 12",
		"/sky/clear_sky_index/2": "sky 0", "/panels/joined": "panels 0",
		"/panels/list/1/datasheet/isc_A": "panels/panels/list 1",
	} {
		fold, list, row := foldOf(pointer)
		if got := fmt.Sprintf("%s%s %d", fold, list, row); got != want {
			t.Errorf("%s lies in %q, want %q", pointer, got, want)
		}
	}
	s := session(t, "bird-count")
	s.Desk.Enter("/case/battery/alarm_V", "99")
	if html := page(s); !strings.Contains(html, `id="go-to"`) || !strings.Contains(html, words.FieldPlace("/case/battery/alarm_V")) {
		t.Error("no way to the value that waits")
	}
}

// A fault of the program is said as one, in words, with the plan to take away.
func TestAFailedOutlookIsSaidInWords(t *testing.T) {
	d := session(t, "bird-count").Desk
	html := app.HTMLString((&outcome{Desk: d, Failed: true}).Render())
	for _, want := range []string{words.T("outlook.failed"), `id="failed-download"`, `id="verdict"`} {
		if !strings.Contains(html, want) {
			t.Errorf("no %q in\n%s", want, html)
		}
	}
	if html = app.HTMLString((&outcome{Desk: d}).Render()); strings.Contains(html, "failed-download") {
		t.Error("a good Outlook is called a failure")
	}
}
