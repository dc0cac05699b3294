package plan

// batteryFields are the fields of the battery. What version 4 brought is, in a
// document before it, a battery as good as new, kept in a cool place at half
// charge, without protection.
var batteryFields = []rule{
	widened(choice("chemistry", func(b *Battery) *string { return (*string)(&b.Chemistry) },
		string(LiFePO4), string(AGM), string(NMC), string(Gel), string(Flooded), string(Own)), 2, 4),
	num("capacity_Ah", in(1, 1000, "Ah", 1, 1), func(b *Battery) *float64 { return &b.CapacityAh }),
	fourth(num("rated_hours", in(1, 100, "h", 1, 1), func(b *Battery) *float64 { return &b.RatedHours }), 20.0),
	fourth(optNum("peukert", in(1, 1.6, "", 0.01, 3), func(b *Battery) **float64 { return &b.Peukert }), nil),
	num("resistance_mohm", in(0.5, 500, "mΩ", 1, 1), func(b *Battery) *float64 { return &b.ResistanceMohm }),

	fourth(num("age_years", in(0, 30, "years", 1, 1), func(b *Battery) *float64 { return &b.AgeYears }), 0.0),
	fourth(num("cycles", in(0, 20000, "cycles", 10, 0), func(b *Battery) *float64 { return &b.Cycles }), 0.0),
	fourth(optNum("health_pct", in(10, 100, "%", 1, 1), func(b *Battery) **float64 { return &b.HealthPct }), nil),
	fourth(num("kept_C", in(-20, 60, "°C", 1, 1), func(b *Battery) *float64 { return &b.KeptC }), 20.0),
	fourth(num("kept_pct", in(0, 100, "%", 5, 1), func(b *Battery) *float64 { return &b.KeptPct }), 50.0),
	fourth(num("uses_per_year", in(0, 366, "per year", 1, 1), func(b *Battery) *float64 { return &b.UsesPerYear }), 12.0),

	fourth(optNum("self_discharge_pct_month", in(0, 50, "%", 0.5, 2), func(b *Battery) **float64 { return &b.SelfDischargePctMonth }), nil),
	fourth(optNum("no_charge_below_C", in(-40, 20, "°C", 1, 1), func(b *Battery) **float64 { return &b.NoChargeBelowC }), nil),
	fourth(optNum("heat_kJ_per_K", in(0.1, 500, "kJ/K", 0.5, 2), func(b *Battery) **float64 { return &b.HeatKJPerK }), nil),
	fourth(optNum("cooling_W_per_K", in(0.05, 50, "W/K", 0.1, 2), func(b *Battery) **float64 { return &b.CoolingWPerK }), nil),

	num("charge_V", in(10, 17, "V", 0.1, 2), func(b *Battery) *float64 { return &b.ChargeV }),
	third(num("absorption_h", in(0, 24, "h", 0.5, 2), func(b *Battery) *float64 { return &b.AbsorptionH }), 0.0),
	third(choice("after_full", func(b *Battery) *string { return (*string)(&b.AfterFull) },
		string(AfterHold), string(AfterFloat), string(AfterRest)), string(AfterHold)),
	third(num("float_V", in(10, 17, "V", 0.1, 2), func(b *Battery) *float64 { return &b.FloatV }), 13.5),
	third(num("resume_V", in(9, 16, "V", 0.1, 2), func(b *Battery) *float64 { return &b.ResumeV }), 13.2),
	third(num("compensation_mV_per_K", in(-60, 0, "mV/K", 1, 1), func(b *Battery) *float64 { return &b.CompensationMVPerK }), 0.0),
	num("alarm_V", in(8, 16, "V", 0.1, 2), func(b *Battery) *float64 { return &b.AlarmV }),
	num("alarm_delay_s", in(0, 600, "s", 5, 0), func(b *Battery) *float64 { return &b.AlarmDelayS }),
	num("cutoff_V", in(7, 15, "V", 0.1, 2), func(b *Battery) *float64 { return &b.CutoffV }),
	num("cutoff_delay_s", in(0, 600, "s", 5, 0), func(b *Battery) *float64 { return &b.CutoffDelayS }),
	num("reconnect_V", in(8, 16.5, "V", 0.1, 2), func(b *Battery) *float64 { return &b.ReconnectV }),
	num("reconnect_delay_s", in(0, 86400, "s", 60, 0), func(b *Battery) *float64 { return &b.ReconnectS }),

	fourth(optSub("own", func(b *Battery) **OwnBattery { return &b.Own }, []rule{
		some("rest", 2, MaxRest, func(o *OwnBattery) *[]OwnPoint { return &o.Rest }, rule{shape: object, fields: []rule{
			num("charge_pct", in(0, 100, "%", 5, 2), func(r *OwnPoint) *float64 { return &r.ChargePct }),
			num("volts", in(5, 18, "V", 0.05, 3), func(r *OwnPoint) *float64 { return &r.Volts }),
		}}),
		num("coulombic_pct", in(50, 100, "%", 1, 1), func(o *OwnBattery) *float64 { return &o.CoulombicPct }),
		num("accept_h", in(0, 24, "h", 0.5, 2), func(o *OwnBattery) *float64 { return &o.AcceptH }),
		num("hysteresis_mV", in(0, 500, "mV", 5, 1), func(o *OwnBattery) *float64 { return &o.HysteresisMV }),
		num("cycles_to_80", in(10, 20000, "cycles", 50, 0), func(o *OwnBattery) *float64 { return &o.CyclesTo80 }),
		yesNo("lithium", func(o *OwnBattery) *bool { return &o.Lithium }),
	}), nil),
	fourth(optSub("protection", func(b *Battery) **Protection { return &b.Protection }, []rule{
		num("over_V", in(5, 18, "V", 0.1, 2), func(p *Protection) *float64 { return &p.OverV }),
		num("over_back_V", in(5, 18, "V", 0.1, 2), func(p *Protection) *float64 { return &p.OverBackV }),
		num("under_V", in(5, 18, "V", 0.1, 2), func(p *Protection) *float64 { return &p.UnderV }),
		num("under_back_V", in(5, 18, "V", 0.1, 2), func(p *Protection) *float64 { return &p.UnderBackV }),
		num("volts_delay_s", in(0, 60, "s", 1, 1), func(p *Protection) *float64 { return &p.VoltsDelayS }),
		num("charge_A", in(0, 1000, "A", 5, 1), func(p *Protection) *float64 { return &p.ChargeA }),
		num("discharge_A", in(0, 2000, "A", 5, 1), func(p *Protection) *float64 { return &p.DischargeA }),
		num("amps_delay_s", in(0, 60, "s", 1, 1), func(p *Protection) *float64 { return &p.AmpsDelayS }),
		num("charge_cold_C", in(-40, 20, "°C", 1, 1), func(p *Protection) *float64 { return &p.ChargeColdC }),
		num("charge_hot_C", in(30, 90, "°C", 1, 1), func(p *Protection) *float64 { return &p.ChargeHotC }),
		num("discharge_cold_C", in(-60, 10, "°C", 1, 1), func(p *Protection) *float64 { return &p.DischargeColdC }),
		num("discharge_hot_C", in(30, 90, "°C", 1, 1), func(p *Protection) *float64 { return &p.DischargeHotC }),
		num("release_s", in(0, 3600, "s", 5, 0), func(p *Protection) *float64 { return &p.ReleaseS }),
	}), nil),
}
