package plan

// Marks are the four volts that go with the kind of battery: whole battery,
// 12 V nominal.
type Marks struct {
	ChargeV    float64 // V; where charging is held
	AlarmV     float64 // V; where the alarm sounds, under load
	CutoffV    float64 // V; where the outlets shut off, under load
	ReconnectV float64 // V; where the outlets come back
}

// UsualMarks returns marks to start from when a battery of that kind is put
// in. ok is false for [Own], whose table gives them ([Battery.UsualMarks]), and
// for a chemistry that this version does not know.
//
// Common practice, no source. ChargeV lies in the chemistry's own band
// ([battery.Chemistry] ChargeFrom to ChargeTo). The marks fit together and
// pass [Check] with every capacity and resistance in range; that a thin wire
// or a heavy draw pulls the volts under them is for the Outlook to say.
func UsualMarks(c Chemistry) (m Marks, ok bool) {
	switch c {
	case NMC:
		return Marks{ChargeV: 12.6, AlarmV: 10.5, CutoffV: 9.6, ReconnectV: 11.1}, true
	case Gel:
		return Marks{ChargeV: 14.2, AlarmV: 12, CutoffV: 11.1, ReconnectV: 12.6}, true
	case Flooded:
		return Marks{ChargeV: 14.6, AlarmV: 12, CutoffV: 11.1, ReconnectV: 12.6}, true
	case LiFePO4:
		return Marks{ChargeV: 14.4, AlarmV: 12, CutoffV: 11, ReconnectV: 13}, true
	case AGM:
		return Marks{ChargeV: 14.4, AlarmV: 12, CutoffV: 11.1, ReconnectV: 12.6}, true
	}
	return Marks{}, false
}

// An own table's marks as shares of its volts at rest. Common practice, no
// source: charging goes far over the volts of the full battery with lead-acid,
// and not at all with lithium until its user says how far; the alarm stands
// where a light draw pulls a battery of a fifth of its charge; the cut-off
// under the volts of one of a tenth: an empty one's fall too steeply to say.
const (
	ownOverLithium, ownOverLead = 1.0, 1.13
	ownAlarm                    = 0.98 // of the volts at 20 %
	ownCutLithium, ownCutLead   = 0.92, 0.95
)

// UsualMarks returns marks to start from for this battery. For a chemistry
// they are those of [UsualMarks]; an own table gives its own, as shares of its
// volts at rest. ok is false for a table that is too flat for marks in order.
//
// Common practice, no source.
func (b Battery) UsualMarks() (m Marks, ok bool) {
	if b.Chemistry != Own {
		return UsualMarks(b.Chemistry)
	}
	if b.Own == nil || len(b.Own.Rest) < 2 {
		return Marks{}, false
	}
	rows := b.Own.Rest
	full, over, empty := rows[len(rows)-1].Volts, ownOverLead, ownCutLead*restAt(rows, 10)
	if b.Own.Lithium {
		over, empty = ownOverLithium, ownCutLithium*restAt(rows, 10)
	}
	m = Marks{
		ChargeV:    decimals(over*full, 1),
		AlarmV:     decimals(ownAlarm*restAt(rows, 20), 1),
		CutoffV:    decimals(empty, 1),
		ReconnectV: decimals(restAt(rows, 50), 1),
	}
	return m, m.CutoffV < m.AlarmV && m.AlarmV < m.ReconnectV && m.ReconnectV < m.ChargeV
}

// restAt reads an own table at a charge, %.
func restAt(rows []OwnPoint, pct float64) float64 {
	for i := 1; i < len(rows); i++ {
		if lo, hi := rows[i-1], rows[i]; pct <= hi.ChargePct {
			return lo.Volts + (hi.Volts-lo.Volts)*(pct-lo.ChargePct)/(hi.ChargePct-lo.ChargePct)
		}
	}
	return rows[len(rows)-1].Volts
}

// Marks returns the battery's own marks.
func (b Battery) Marks() Marks { return Marks{b.ChargeV, b.AlarmV, b.CutoffV, b.ReconnectV} }

// SetMarks puts others in their place.
func (b *Battery) SetMarks(m Marks) {
	b.ChargeV, b.AlarmV, b.CutoffV, b.ReconnectV = m.ChargeV, m.AlarmV, m.CutoffV, m.ReconnectV
}
