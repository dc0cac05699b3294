package e2e

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// phoneOffline is the app on a phone whose server is gone.
func phoneOffline(t *testing.T) *tab {
	t.Helper()
	s := serve(t)
	b := launch(t, "")
	first := b.open(t, s.URL)
	first.saved()
	s.kill()
	p := b.tab(t)
	p.allow(gone)
	p.do(chromedp.EmulateViewport(360, 740, chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulateScale(2)))
	p.goTo(s.URL)
	p.planReady()
	return p
}

// Panels come and are joined with one thumb and no signal: the picture, its
// table, the cost of joining, the cable and the answer go along.
func TestPanelsAreJoinedOffline(t *testing.T) {
	p := phoneOffline(t)
	p.unfold("panels")
	const picture = `document.querySelector("#wiring svg")?.getAttribute("aria-label")`
	const lines = `document.querySelector('#wiring [data-s="joined-plus"]').getAttribute("d").split("M").length - 2`
	p.until(picture)
	if n := eval[int](p, lines); n != 2 {
		t.Errorf("two panels side by side are drawn on %d lines", n)
	}
	// The table stands beside the picture for a screen reader before it is seen.
	if got := p.text("#table-wiring tbody tr:last-child"); !strings.Contains(got, "All together") || !strings.Contains(got, "160 W") {
		t.Errorf("the whole is %q", got)
	}
	side, answer := eval[string](p, picture), p.answer()
	p.click(`label[for="panels-joined-end_to_end"]`)
	p.until(picture + ` !== ` + quote(side) + ` && ` + lines + ` === 1`)
	if got := p.text("#wiring .reading"); !strings.Contains(got, "One by one") || !strings.Contains(got, "lost") {
		t.Errorf("a 60 W holds a 100 W back, and it says %q", got)
	}
	if p.answer() == answer {
		t.Error("end to end gives the answer of side by side")
	}

	// In strings of their own they are side by side again.
	p.click(`label[for="panels-joined-strings"]`)
	p.click("#panels-list-1-row")
	p.enter("panels-list-1-string", "2")
	p.until(lines + ` === 2`)

	// A thin, long cable: its volts, its heat, and one that would do.
	p.click("#finer-wiring")
	p.enter("panels-cable_m", "15")
	p.choose("panels-cable_gauge", "1.5_mm2")
	p.until(`document.getElementById("cable-said")?.textContent.includes("into heat")`)
	if got := p.text("#cable-said"); !strings.Contains(got, "would keep it under 3") {
		t.Errorf("the cable says %q", got)
	}
	p.until(`document.querySelector("#wiring svg").textContent.includes("cable 15")`)
	thin := p.answer()
	p.choose("panels-cable_gauge", "16_mm2")
	if p.answer() == thin {
		t.Error("ten times the copper changes nothing")
	}
	p.enter("panels-blocking_V", "0.5")
	p.until(`document.querySelector('#wiring [data-s="joined-diode"]')`)
}

// Bad figures: each says at its own field what is wrong, and the panels that
// must not be connected, or charge nothing, say so where they are joined.
func TestBadPanelsSaySoAtTheirField(t *testing.T) {
	s := serve(t)
	p := launch(t, "").openPhone(t, s.URL)
	p.planReady()
	p.unfold("panels")
	p.click("#panels-add-label")
	const sheet = "panels-list-2-datasheet-"
	p.until(`document.getElementById("` + sheet + `voc_V") && document.activeElement.id === "panels-list-2-name"`)
	good := eval[map[string]string](p, `Object.fromEntries([...document.querySelectorAll("[id^=`+sheet+`]")].filter(e => e.matches("input")).map(e => [e.id.slice(`+quote(sheet)+`.length), e.value]))`)
	if len(good) != 7 {
		t.Fatalf("figures of a label: %v", good)
	}
	for _, c := range []struct{ field, bad, says string }{
		{"vmp_V", "30", "below 22"},
		{"imp_A", "9", "below 3.57"},
		{"beta_voc_pct_per_K", "0.35", "between"},
		{"beta_voc_pct_per_K", "0", "between"},
		{"alpha_isc_pct_per_K", "-2", "between"},
		{"imp_A", "3.5", "this one must be between"}, // no curve is so square
		{"voc_V", "20", "Volts at maximum power: No solar panel"},
		{"cells", "200", "cells in series"},
	} {
		p.enter(sheet+c.field, c.bad)
		fault := `document.getElementById("` + sheet + c.field + `-fault").textContent`
		p.until(fault + `.replaceAll("\u00a0", " ").includes(` + quote(c.says) + `)`)
		t.Logf("%s %s: %s", c.field, c.bad, eval[string](p, fault))
		if !eval[bool](p, `document.getElementById("`+sheet+c.field+`").getAttribute("aria-invalid") === "true"`) {
			t.Errorf("%s %s is not marked", c.field, c.bad)
		}
		p.enter(sheet+c.field, good[c.field])
		p.until(fault + ` === ""`)
	}
	p.enter("panels-list-2-count", "40")
	p.until(`document.getElementById("panels-list-2-count-fault").textContent.includes("between 1 and 20")`)
	p.enter("panels-list-2-count", "1")

	// Over the controller's volts on a cold morning: danger, at the joint.
	p.unfold("case")
	p.click(`label[for="panels-joined-end_to_end"]`)
	p.enter("case-controller-input_max_V", "60")
	p.until(`document.querySelector('#panels .said-here [data-code="panel_over_volts"]')`)
	if got := p.text(`#panels .said-here [data-code="panel_over_volts"]`); !strings.Contains(got, "DANGER") || !strings.Contains(got, "Do not connect") {
		t.Errorf("three panels end to end at 60 V: %q", got)
	}
	p.enter("case-controller-input_max_V", "150")
	p.until(`!document.querySelector('#panels [data-code="panel_over_volts"]')`)
	// Under the volts at which it starts: nothing.
	p.click("#finer-controller")
	p.enter("case-controller-start_V", "100")
	p.until(`document.getElementById("wiring-nothing")?.textContent.includes("charge nothing")`)
}

// The Case in finer figures, as its parts' labels have them.
func TestTheCaseInFinerFigures(t *testing.T) {
	p := phoneOffline(t)
	p.unfold("case")
	if eval[bool](p, `document.querySelector("#case .finer-body") !== null`) {
		t.Error("a small fold is open before it is asked for")
	}
	// A modified sine says what it is.
	p.click(`label[for="case-inverter-wave-modified_sine"]`)
	p.until(`document.getElementById("wave-said")?.textContent.includes("RMS")`)
	wave := p.text("#wave-said")
	p.click("#finer-inverter")
	p.enter("case-inverter-pulse_deg", "90")
	p.until(`document.getElementById("wave-said").textContent.includes("90°")`)
	if got := p.text("#wave-said"); got == wave || !strings.Contains(got, "325 V at the peak. A sine peaks at 325 V") {
		t.Errorf("a pulse of 90° has the peak of a sine: %q", got)
	}
	// What the switch feeds and costs; asleep the inverter costs less.
	idle := p.text("#idle-said")
	if !strings.Contains(idle, "inverter") || !strings.Contains(idle, "of a full battery") {
		t.Errorf("the switch says %q", idle)
	}
	p.click("#case-inverter-sleep")
	p.until(`document.getElementById("case-inverter-wake_W")`)
	p.until(`document.getElementById("idle-said").textContent.includes("sleeping inverter")`)
	p.click("#idle-numbers-fold")
	p.until(`document.querySelector("#idle-numbers:not(.unseen) #table-idle")`)
	if rows := eval[int](p, `document.querySelectorAll("#table-idle tbody tr").length`); rows != 3 {
		t.Errorf("%d positions", rows)
	}
	// Stages: the answer knows them.
	p.click("#finer-stages")
	p.click(`label[for="case-battery-after_full-float"]`)
	p.until(`document.getElementById("case-battery-float_V") && document.getElementById("finer-stages").textContent.includes("then 13.5")`)
	// The inverter's own cut-off comes with both its volts, and goes.
	p.click("#case-inverter-own_cutoff")
	p.until(`document.getElementById("case-inverter-low_cutoff_V").value === "10.5"`)
	p.enter("case-inverter-low_cutoff_V", "13")
	p.until(`document.getElementById("case-inverter-low_cutoff_V-fault").textContent !== ""`)
	p.enter("case-inverter-low_cutoff_V", "11")
	p.until(`document.getElementById("case-inverter-low_cutoff_V-fault").textContent === ""`)
	// A vehicle charger comes and goes, and the keyboard stays with it.
	p.click("#vehicle-add")
	p.until(`document.activeElement.id === "case-vehicle_charger-current_A"`)
	p.unfold("trip")
	p.click("#finer-charging")
	before := p.answer()
	p.until(`document.getElementById("trip-engine_hours-all") || document.querySelector("#trip-engine_hours-bar")`)
	p.click("#trip-engine_hours-all")
	p.until(`document.getElementById("finer-charging").textContent.includes("engine")`)
	if p.answer() == before {
		t.Error("an engine that runs all day changes nothing")
	}
	p.click("#vehicle-remove")
	p.until(`document.activeElement.id === "vehicle-add" || document.getElementById("vehicle-remove")`)
}

// What a device is decides what a modified sine does to it: said at the
// device.
func TestADeviceOnAModifiedSine(t *testing.T) {
	s := serve(t)
	p := launch(t, "").openPhone(t, s.URL)
	p.planReady()
	p.unfold("case")
	p.click(`label[for="case-inverter-wave-modified_sine"]`)
	p.until(`document.getElementById("wave-said")`)
	at := p.device()
	p.click(`label[for="` + at + `-route-ac"]`)
	p.until(`document.getElementById("` + at + `-sensitivity")`)
	for kind, code := range map[string]string{
		"universal_motor": "wave_motor", "induction_motor": "wave_hum", "clock": "wave_clock",
		"charger": "wave_charger", "medical": "wave_medical", "audio": "wave_audio",
	} {
		p.choose(at+"-sensitivity", kind)
		p.until(`document.querySelector('#` + at + ` .said-here [data-code="` + code + `"]')`)
	}
	p.choose(at+"-sensitivity", "resistive")
	p.until(`!document.querySelector('#` + at + ` .said-here [data-code^="wave_"]')`)
	p.click("#finer-device")
	p.enter(at+"-power_factor", "0.05")
	p.until(`document.getElementById("` + at + `-power_factor-fault").textContent.includes("between")`)
	p.enter(at+"-power_factor", "0.6")
	p.until(`document.getElementById("` + at + `-power_factor-fault").textContent === ""`)
}

// Every small fold open, every figure in it brought out: a screen reader finds
// its way, nothing runs off a small screen or large letters, no number is cut.
func TestSmallFoldsOnSmallScreens(t *testing.T) {
	s := serve(t)
	for _, c := range []struct {
		wide int64
		em   string
	}{{360, ""}, {320, "28px"}, {1280, ""}} {
		p := launch(t, "").tab(t) // a person of his own: plans are kept
		p.do(chromedp.EmulateViewport(c.wide, 740))
		p.goTo(s.URL)
		p.planReady()
		if c.em != "" {
			p.do(chromedp.Evaluate[chromedp.Void](`{ const s = new CSSStyleSheet(); s.replaceSync("html { font-size: ` + c.em + ` }"); document.adoptedStyleSheets.push(s); dispatchEvent(new Event("resize")) }`))
		}
		for _, f := range []string{"case", "panels", "trip"} {
			p.unfold(f)
		}
		at := p.device()
		p.click(`label[for="` + at + `-route-ac"]`)
		p.click("#panels-list-0-row")
		p.click("#panels-list-0-label")
		p.click(`label[for="panels-joined-strings"]`)
		p.click(`label[for="case-inverter-wave-modified_sine"]`)
		p.click("#vehicle-add")
		for _, fold := range []string{"stages", "controller", "wall", "inverter", "device", "wiring", "panel", "charging"} {
			p.click("#finer-" + fold)
			p.until(`document.getElementById("finer-` + fold + `").getAttribute("aria-expanded") === "true"`)
		}
		p.click(`label[for="case-battery-after_full-float"]`)
		for _, way := range []string{"controller-low_light", "controller-night_draw", "inverter-half", "inverter-sleep", "inverter-own_cutoff"} {
			p.click("#case-" + way)
		}
		for _, more := range []string{"#idle-numbers-fold", "#wiring-numbers-fold"} {
			p.click(more)
		}
		p.enter("panels-cable_m", "12.5")
		p.until(`document.getElementById("cable-said") && document.getElementById("case-inverter-low_reconnect_V") && document.querySelector("#idle-numbers:not(.unseen)")`)
		off := eval[[]string](p, astray)
		off = append(off, eval[[]string](p, `(() => {
			const wide = document.documentElement.clientWidth, off = [];
			for (const e of document.querySelectorAll("body *")) {
				const r = e.getBoundingClientRect();
				if (r.width && r.right > wide + 1 && !e.closest(".table, .rooms, svg")) off.push(e.tagName + " " + (e.id || e.className) + " ends at " + Math.round(r.right));
			}
			for (const e of document.querySelectorAll(".box > input"))
				if (e.checkVisibility() && e.scrollWidth > e.clientWidth) off.push(e.id + " shows " + e.clientWidth + " of " + e.scrollWidth + " px of " + e.value);
			for (const e of document.querySelectorAll("#case button, #gear button, #panels button, #trip button, #case select, #panels select"))
				if (e.checkVisibility() && e.getBoundingClientRect().height < 24) off.push(e.id + " is " + e.getBoundingClientRect().height + " px high");
			return off.slice(0, 8);
		})()`)...)
		if len(off) > 0 {
			t.Errorf("%d px, letters %q:\n%s", c.wide, c.em, strings.Join(off, "\n"))
		}
	}
}
