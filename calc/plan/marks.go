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
// in. ok is false for a chemistry that this version does not know.
//
// Common practice, no source. ChargeV lies in the chemistry's own band
// ([battery.Chemistry] ChargeFrom to ChargeTo). The marks fit together and
// pass [Check] with every capacity and resistance in range; that a thin wire
// or a heavy draw pulls the volts under them is for the Outlook to say.
func UsualMarks(c Chemistry) (m Marks, ok bool) {
	switch c {
	case LiFePO4:
		return Marks{ChargeV: 14.4, AlarmV: 12, CutoffV: 11, ReconnectV: 13}, true
	case AGM:
		return Marks{ChargeV: 14.4, AlarmV: 12, CutoffV: 11.1, ReconnectV: 12.6}, true
	}
	return Marks{}, false
}

// Marks returns the battery's own marks.
func (b Battery) Marks() Marks { return Marks{b.ChargeV, b.AlarmV, b.CutoffV, b.ReconnectV} }

// SetMarks puts others in their place.
func (b *Battery) SetMarks(m Marks) {
	b.ChargeV, b.AlarmV, b.CutoffV, b.ReconnectV = m.ChargeV, m.AlarmV, m.CutoffV, m.ReconnectV
}
