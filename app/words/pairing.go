package words

import (
	"math"
	"strings"
	"time"

	"duskline/calc/notice"
	"duskline/calc/outlook"
	"duskline/calc/pairing"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// PanelSet names panels and how they are joined: "Folding ×2 + Lid panel, side
// by side". Panels without a name go by their watts.
func PanelSet(p plan.Panels) string {
	var names []string
	for i := range p.List {
		x := &p.List[i]
		name := panelName(x)
		if x.Count > 1 {
			name = T("device.many", name, Amount(float64(x.Count), 0, ""))
		}
		names = append(names, name)
	}
	set := strings.Join(names, " + ")
	if how := JoinedHow(p); how != "" {
		return T("pairing.joined", set, how)
	}
	return set
}

// panelName names one panel of a kind.
func panelName(x *plan.Panel) string {
	if x.Name == "" {
		return Plain(x.RatedW, "W")
	}
	return x.Name
}

// PanelNames is PanelSet without how they are joined.
func PanelNames(p plan.Panels) string {
	return PanelSet(plan.Panels{List: p.List})
}

// JoinedHow says how panels are joined; "" for one alone.
func JoinedHow(p plan.Panels) string {
	count := 0
	for i := range p.List {
		count += p.List[i].Count
	}
	if count < 2 || p.Joined == "" {
		return ""
	}
	return T("pairing_joined." + string(p.Joined))
}

// RungName names a rung: a generic panel by its watts, one's own by names.
func RungName(r *pairing.Rung, owned bool) string {
	if owned {
		return PanelSet(r.Panels)
	}
	return Plain(r.W, "W")
}

// RungSays is a rung in one sentence, for who does not see the ladder.
// used is what the plan uses a day.
func RungSays(r *pairing.Rung, owned bool, used qty.WattHour) string {
	return T("pairing.rung_says", RungName(r, owned), RungVerdict(r), Energy(qty.WattHour(r.HarvestWh)), Energy(used))
}

// RungVerdict names what becomes of the plan with a rung.
func RungVerdict(r *pairing.Rung) string {
	switch r.Fit {
	case pairing.Danger:
		return T("pairing.danger")
	case pairing.Warning:
		return T("pairing.warning")
	}
	return Verdict(outlook.Verdict(r.Verdict))
}

// reasonNumbers lists the numbers of each reason in the order in which its
// text takes them. A test compares it with calc/pairing.
var reasonNumbers = map[pairing.Code][]string{
	pairing.OverVolts:  {"volts", "limit", "air"},
	pairing.NearVolts:  {"volts", "limit", "air"},
	pairing.OverAmps:   {"amps", "limit"},
	pairing.TooLow:     {"volts", "need"},
	pairing.Low:        {"volts", "need"},
	pairing.NeedsFuse:  {"strings", "amps", "size"},
	pairing.Mismatch:   {"lost", "sum"},
	pairing.ThrownAway: {"lost", "share"},
	pairing.ClipsSun:   {"lost", "limit"},
	pairing.SpillsSun:  {"lost"},
	pairing.RunsOut:    {"lowest"},
	pairing.TightFit:   {"lowest"},
	pairing.Unserved:   {"lowest"},
	pairing.NotBack:    {"back", "days"},
}

// PairingReason words a reason. signal is "" where nobody is hurt.
func PairingReason(r *pairing.Reason) (signal, says string) {
	n := notice.Notice{Values: r.Values}
	var args []any
	for _, name := range reasonNumbers[r.Code] {
		args = append(args, noticeNumber(n, name, plan.Plan{}, time.Time{}))
	}
	key := "pairing_reason." + string(r.Code)
	if size, ok := r.Number("size"); r.Code == pairing.NeedsFuse && !(ok && size > 0) {
		key = "pairing_reason.no_fuse"
		args = args[:2]
	}
	if r.Fit != pairing.Fits {
		signal = T("signal." + string(r.Fit))
	}
	return signal, T(key, args...)
}

// FitGrade is the grade of a fit, as the style sheet names it; "" for none.
func FitGrade(f pairing.Fit) string {
	if f == pairing.Fits {
		return ""
	}
	return string(f)
}

// Refilled words how long a refill takes; none within the horizon says so.
func Refilled(h pairing.Hours, horizonH float64) string {
	if !h.Ok {
		return T("pairing.never", Hours(horizonH))
	}
	if h.H < 1.0/60 {
		return T("pairing.full_now")
	}
	return Hours(h.H)
}

// RefillSource names what refills.
func RefillSource(s pairing.Source) string { return T("pairing_source." + string(s)) }

// PairingAdvice says what to do with unlike panels.
func PairingAdvice(m *pairing.Mix) string { return T("pairing_advice." + string(m.Advice)) }

// MixSays tells what unlike panels give joined either way, and each alone.
func MixSays(m *pairing.Mix, p *plan.Plan) string {
	var names, alone []string
	for i, k := range m.Kinds {
		if k >= 0 && k < len(p.Panels.List) {
			names = append(names, panelName(&p.Panels.List[k]))
			if i < len(m.AloneW) {
				alone = append(alone, Watts(qty.Watt(m.AloneW[i])))
			}
		}
	}
	says := T("pairing.mix", strings.Join(names, " + "), Watts(qty.Watt(m.SideBySide.W)), Watts(qty.Watt(m.EndToEnd.W)))
	if m.SumW > 0 { // else none of them may be connected
		says += " " + T("pairing.mix_alone", Watts(qty.Watt(m.SumW)), strings.Join(alone, " + "))
	}
	return says + " " + T("pairing.mix_battery", Volts(qty.Volt(m.BatteryV)))
}

// DaysOf words a share of days: "5 of 7".
func DaysOf(n, of int) string {
	return T("pairing.days_of", Amount(float64(n), 0, ""), Amount(float64(of), 0, ""))
}

// IVPoint words a point of a curve: "17.6 V × 5.4 A = 95 W".
func IVPoint(v, a float64) string {
	if math.IsNaN(v) || math.IsNaN(a) {
		return "–"
	}
	return T("iv.point", Volts(qty.Volt(v)), Amps(qty.Ampere(a)), Watts(qty.Watt(v*a)))
}
