package plan

// The battery of a Case as the document has it: its label, its life so far,
// its charge and its marks; a table of its own where no chemistry fits; and
// the protection between its cells and everything else.

// A Battery is a battery of about 12 V with its alarm and cut-off.
//
// The order cutoff_V < alarm_V < charge_V and cutoff_V < reconnect_V <
// charge_V is checked, that float_V and resume_V fit charge_V where after_full
// names them, that charge_V is not far from the volts that charge the
// chemistry, that alarm_V and cutoff_V lie under the volts at which a full
// battery of it rests, and that its age leaves it some capacity.
type Battery struct {
	Chemistry      Chemistry `json:"chemistry"`
	CapacityAh     float64   `json:"capacity_Ah"`       // 1 to 1000, rated, of the new battery
	RatedHours     float64   `json:"rated_hours"`       // 1 to 100; capacity_Ah is what it gives in so many hours
	Peukert        *float64  `json:"peukert,omitempty"` // 1 to 1.6, exponent of its capacity at other rates; nil: by the chemistry
	ResistanceMohm float64   `json:"resistance_mohm"`   // 0.5 to 500, whole battery with its wires, 25 °C, new

	AgeYears    float64  `json:"age_years"`            // 0 to 30
	Cycles      float64  `json:"cycles"`               // 0 to 20000, full ones so far
	HealthPct   *float64 `json:"health_pct,omitempty"` // 10 to 100, measured: capacity left, instead of what age and cycles would leave
	KeptC       float64  `json:"kept_C"`               // -20 to 60, where it is kept between uses
	KeptPct     float64  `json:"kept_pct"`             // 0 to 100, charge at which it is kept
	UsesPerYear float64  `json:"uses_per_year"`        // 0 to 366, trips like this one

	SelfDischargePctMonth *float64 `json:"self_discharge_pct_month,omitempty"` // 0 to 50, at 20 °C; nil: by the chemistry
	NoChargeBelowC        *float64 `json:"no_charge_below_C,omitempty"`        // -40 to 20, under which it takes no charge; nil: by the chemistry
	HeatKJPerK            *float64 `json:"heat_kJ_per_K,omitempty"`            // 0.1 to 500, what warms it by a kelvin; nil: by capacity_Ah
	CoolingWPerK          *float64 `json:"cooling_W_per_K,omitempty"`          // 0.05 to 50, what it gives to the air for each kelvin over it; nil: by capacity_Ah

	ChargeV            float64   `json:"charge_V"`     // 10 to 17; the volts at which charging is held
	AbsorptionH        float64   `json:"absorption_h"` // 0 to 24; hours at charge_V before what comes after
	AfterFull          AfterFull `json:"after_full"`
	FloatV             float64   `json:"float_V"`               // 10 to 17; counts with AfterFloat: at most charge_V
	ResumeV            float64   `json:"resume_V"`              // 9 to 16; counts with AfterRest: below charge_V
	CompensationMVPerK float64   `json:"compensation_mV_per_K"` // -60 to 0; what charge_V and float_V change by for each kelvin over 25 °C, whole battery; 0 with a lithium chemistry
	AlarmV             float64   `json:"alarm_V"`               // 8 to 16
	AlarmDelayS        float64   `json:"alarm_delay_s"`         // 0 to 600
	CutoffV            float64   `json:"cutoff_V"`              // 7 to 15
	CutoffDelayS       float64   `json:"cutoff_delay_s"`        // 0 to 600
	ReconnectV         float64   `json:"reconnect_V"`           // 8 to 16.5
	ReconnectS         float64   `json:"reconnect_delay_s"`     // 0 to 86400; how long the volts must stay there

	Own        *OwnBattery `json:"own,omitempty"`        // there with chemistry Own, and only then
	Protection *Protection `json:"protection,omitempty"` // nil: none that is known
}

// An OwnBattery is what there is to know of a chemistry that has no name here.
type OwnBattery struct {
	Rest         []OwnPoint `json:"rest"`          // 2 to 41, from 0 to 100 %, charge and volts rising from row to row
	CoulombicPct float64    `json:"coulombic_pct"` // 50 to 100, amp-hours that come out again
	AcceptH      float64    `json:"accept_h"`      // 0 to 24; it takes at most the missing amp-hours divided by it; 0: any amps
	HysteresisMV float64    `json:"hysteresis_mV"` // 0 to 500, whole battery: by so much it rests higher after charging, lower after discharging
	CyclesTo80   float64    `json:"cycles_to_80"`  // 10 to 20000, cycles of 80 % depth until 80 % of the capacity is left
	Lithium      bool       `json:"lithium"`       // no charge in frost, and no compensation
}

// An OwnPoint is a row of the battery's own table.
type OwnPoint struct {
	ChargePct float64 `json:"charge_pct"` // 0 to 100
	Volts     float64 `json:"volts"`      // 5 to 18, whole battery at rest, 25 °C
}

// A Protection cuts the battery off from what charges it, or from what it
// feeds, before harm comes to its cells.
//
// The order under_V < under_back_V < over_back_V < over_V is checked, that each
// cold lies under its heat, that a full battery at rest lies between under_V
// and over_V.
type Protection struct {
	OverV          float64 `json:"over_V"`           // 5 to 18; at it nothing charges
	OverBackV      float64 `json:"over_back_V"`      // 5 to 18; under it charging comes back
	UnderV         float64 `json:"under_V"`          // 5 to 18; at it nothing is fed
	UnderBackV     float64 `json:"under_back_V"`     // 5 to 18; over it feeding comes back
	VoltsDelayS    float64 `json:"volts_delay_s"`    // 0 to 60
	ChargeA        float64 `json:"charge_A"`         // 0 to 1000, most amps in; 0: any
	DischargeA     float64 `json:"discharge_A"`      // 0 to 2000, most amps out; 0: any
	AmpsDelayS     float64 `json:"amps_delay_s"`     // 0 to 60
	ChargeColdC    float64 `json:"charge_cold_C"`    // -40 to 20; colder, nothing charges
	ChargeHotC     float64 `json:"charge_hot_C"`     // 30 to 90; hotter, nothing charges
	DischargeColdC float64 `json:"discharge_cold_C"` // -60 to 10; colder, nothing is fed
	DischargeHotC  float64 `json:"discharge_hot_C"`  // 30 to 90; hotter, nothing is fed
	ReleaseS       float64 `json:"release_s"`        // 0 to 3600, how long all must be well again before it lets go
}
