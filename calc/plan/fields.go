package plan

import "time"

// document is the table of all fields and their limits, in the order in which
// [Write] writes them. web/plan.schema.json says the same and a test compares
// the two. Steps and decimals are our own choice.
var document = rule{shape: object, fields: []rule{
	whole("duskline", in(Version, Version, "", 1, 0), func(p *Plan) *int { return &p.Duskline }),
	str("name", 1, 80, func(p *Plan) *string { return &p.Name }),
	paragraph(str("note", 0, 500, func(p *Plan) *string { return &p.Note })),
	yesNo("example", func(p *Plan) *bool { return &p.Example }),
	sub("case", func(p *Plan) *Case { return &p.Case }, caseFields),
	some("gear", 0, MaxDevices, func(p *Plan) *[]Device { return &p.Gear }, rule{shape: object, fields: deviceFields}),
	sub("sky", func(p *Plan) *Sky { return &p.Sky }, skyFields),
	sub("panels", func(p *Plan) *Panels { return &p.Panels }, panelsFields),
	sub("trip", func(p *Plan) *Trip { return &p.Trip }, tripFields),
}}

var caseFields = []rule{
	str("name", 1, 60, func(c *Case) *string { return &c.Name }),
	sub("battery", func(c *Case) *Battery { return &c.Battery }, batteryFields),
	sub("controller", func(c *Case) *Controller { return &c.Controller }, []rule{
		choice("kind", func(c *Controller) *string { return (*string)(&c.Kind) }, string(PWM), string(MPPT)),
		num("limit_A", in(1, 100, "A", 1, 1), func(c *Controller) *float64 { return &c.LimitA }),
		num("efficiency_pct", in(70, 100, "%", 1, 1), func(c *Controller) *float64 { return &c.EfficiencyPct }),
		third(optNum("efficiency_low_pct", in(50, 100, "%", 1, 1), func(c *Controller) **float64 { return &c.EfficiencyLowPct }), nil),
		third(num("start_V", orZero(in(5, 200, "V", 1, 1)), func(c *Controller) *float64 { return &c.StartV }), 0.0),
		num("input_max_V", in(15, 250, "V", 5, 0), func(c *Controller) *float64 { return &c.InputMaxV }),
		num("standby_A", in(0, 1, "A", 0.01, 3), func(c *Controller) *float64 { return &c.StandbyA }),
		third(optNum("night_A", in(0, 1, "A", 0.01, 3), func(c *Controller) **float64 { return &c.NightA }), nil),
	}),
	sub("wall_charger", func(c *Case) *WallCharger { return &c.WallCharger }, []rule{
		num("current_A", in(0, 100, "A", 1, 1), func(w *WallCharger) *float64 { return &w.CurrentA }),
		num("efficiency_pct", in(50, 100, "%", 1, 1), func(w *WallCharger) *float64 { return &w.EfficiencyPct }),
		third(num("input_min_V", in(90, 264, "V", 5, 0), func(w *WallCharger) *float64 { return &w.InputMinV }), 100.0),
		third(num("input_max_V", in(90, 264, "V", 5, 0), func(w *WallCharger) *float64 { return &w.InputMaxV }), 240.0),
	}),
	third(optSub("vehicle_charger", func(c *Case) **VehicleCharger { return &c.Vehicle }, []rule{
		num("current_A", in(0.5, 100, "A", 1, 1), func(v *VehicleCharger) *float64 { return &v.CurrentA }),
		num("efficiency_pct", in(50, 100, "%", 1, 1), func(v *VehicleCharger) *float64 { return &v.EfficiencyPct }),
		num("socket_A", in(0, 60, "A", 5, 1), func(v *VehicleCharger) *float64 { return &v.SocketA }),
	}), nil),
	sub("inverter", func(c *Case) *Inverter { return &c.Inverter }, []rule{
		num("rated_W", orZero(in(30, 5000, "W", 50, 0)), func(i *Inverter) *float64 { return &i.RatedW }),
		num("surge_W", in(0, 15000, "W", 50, 0), func(i *Inverter) *float64 { return &i.SurgeW }),
		third(num("surge_s", in(0, 60, "s", 1, 1), func(i *Inverter) *float64 { return &i.SurgeS }), 0.0),
		choice("wave", func(i *Inverter) *string { return (*string)(&i.Wave) }, string(PureSine), string(ModifiedSine)),
		third(num("pulse_deg", in(60, 180, "°", 5, 0), func(i *Inverter) *float64 { return &i.PulseDeg }), 126.0),
		num("standby_A", in(0, 5, "A", 0.05, 3), func(i *Inverter) *float64 { return &i.StandbyA }),
		third(optNum("sleep_A", in(0, 5, "A", 0.01, 3), func(i *Inverter) **float64 { return &i.SleepA }), nil),
		third(num("wake_W", in(0, 500, "W", 1, 1), func(i *Inverter) *float64 { return &i.WakeW }), 0.0),
		num("efficiency_pct", in(60, 99, "%", 1, 1), func(i *Inverter) *float64 { return &i.EfficiencyPct }),
		third(optNum("efficiency_half_pct", in(50, 99, "%", 1, 1), func(i *Inverter) **float64 { return &i.EfficiencyHalfPct }), nil),
		third(num("low_cutoff_V", orZero(in(9, 13, "V", 0.1, 2)), func(i *Inverter) *float64 { return &i.LowCutoffV }), 0.0),
		third(num("low_reconnect_V", orZero(in(9, 14.5, "V", 0.1, 2)), func(i *Inverter) *float64 { return &i.LowReconnectV }), 0.0),
		num("output_V", in(100, 240, "V", 5, 0), func(i *Inverter) *float64 { return &i.OutputV }),
	}),
	sub("dc_outlet", func(c *Case) *Outlet { return &c.DC }, outletFields),
	sub("usb_outlet", func(c *Case) *Outlet { return &c.USB }, outletFields),
	sub("meters", func(c *Case) *Meters { return &c.Meters }, []rule{
		num("standby_A", in(0, 1, "A", 0.01, 3), func(m *Meters) *float64 { return &m.StandbyA }),
	}),
	fourth(choice("stands", func(c *Case) *string { return (*string)(&c.Stands) }, string(Shade), string(InSun)), string(Shade)),
	choice("switch", func(c *Case) *string { return (*string)(&c.Switch) }, string(DCOnly), string(DCAndAC), string(ACOnly)),
	some("inverter_hours", 0, MaxWindows, func(c *Case) *[]Window { return &c.InverterHours }, window),
}

var outletFields = []rule{
	num("standby_A", in(0, 1, "A", 0.01, 3), func(o *Outlet) *float64 { return &o.StandbyA }),
	num("efficiency_pct", in(50, 100, "%", 1, 1), func(o *Outlet) *float64 { return &o.EfficiencyPct }),
}

var window = rule{shape: object, fields: []rule{
	num("from_h", in(0, 24, "h", 0.5, 2), func(w *Window) *float64 { return &w.FromH }),
	num("to_h", in(0, 24, "h", 0.5, 2), func(w *Window) *float64 { return &w.ToH }),
}}

var deviceFields = []rule{
	str("name", 1, 60, func(d *Device) *string { return &d.Name }),
	whole("count", in(1, 100, "", 1, 0), func(d *Device) *int { return &d.Count }),
	choice("route", func(d *Device) *string { return (*string)(&d.Route) }, string(RouteDC), string(RouteUSB), string(RouteAC)),
	optNum("power_W", in(0, 5000, "W", 1, 1), func(d *Device) **float64 { return &d.PowerW }),
	optNum("current_A", in(0, 100, "A", 0.1, 2), func(d *Device) **float64 { return &d.CurrentA }),
	optNum("refill_Wh", in(0, 5000, "Wh", 1, 1), func(d *Device) **float64 { return &d.RefillWh }),
	third(num("power_factor", in(0.1, 1, "", 0.05, 2), func(d *Device) *float64 { return &d.PowerFactor }), 1.0),
	third(choice("sensitivity", func(d *Device) *string { return (*string)(&d.Sensitivity) }, sensitivities...), string(SensitivityUnsaid)),
	num("refills_per_day", in(0, 24, "per day", 0.5, 2), func(d *Device) *float64 { return &d.RefillsPerDay }),
	num("refill_efficiency_pct", in(50, 100, "%", 1, 1), func(d *Device) *float64 { return &d.RefillEfficiencyPct }),
	num("duty_pct", in(0, 100, "%", 5, 1), func(d *Device) *float64 { return &d.DutyPct }),
	optNum("duty_at_C", in(-30, 60, "°C", 1, 1), func(d *Device) **float64 { return &d.DutyAtC }),
	optNum("inside_C", in(-30, 30, "°C", 1, 1), func(d *Device) **float64 { return &d.InsideC }),
	num("surge_W", in(0, 15000, "W", 10, 0), func(d *Device) *float64 { return &d.SurgeW }),
	third(num("surge_s", in(0, 60, "s", 1, 1), func(d *Device) *float64 { return &d.SurgeS }), 0.0),
	some("hours", 1, MaxWindows, func(d *Device) *[]Window { return &d.Hours }, window),
	yesNo("life_support", func(d *Device) *bool { return &d.LifeSupport }),
}

var sensitivities = []string{string(SensitivityUnsaid), string(SensitivityResistive), string(SensitivityUniversalMotor),
	string(SensitivityInductionMotor), string(SensitivityClock), string(SensitivityCharger), string(SensitivityMedical), string(SensitivityAudio)}

var skyFields = []rule{
	str("place", 0, 80, func(s *Sky) *string { return &s.Place }),
	num("latitude_deg", in(-90, 90, "°", 0.1, 4), func(s *Sky) *float64 { return &s.LatitudeDeg }),
	num("longitude_deg", in(-180, 180, "°", 0.1, 4), func(s *Sky) *float64 { return &s.LongitudeDeg }),
	num("altitude_m", in(-430, 5500, "m", 50, 0), func(s *Sky) *float64 { return &s.AltitudeM }),
	num("warmest_C", in(-40, 55, "°C", 1, 1), func(s *Sky) *float64 { return &s.WarmestC }),
	num("coldest_C", in(-50, 55, "°C", 1, 1), func(s *Sky) *float64 { return &s.ColdestC }),
	num("wind_m_per_s", in(0, 30, "m/s", 1, 1), func(s *Sky) *float64 { return &s.WindMs }),
	num("linke_turbidity", in(1, 10, "", 0.5, 1), func(s *Sky) *float64 { return &s.Turbidity }),
	second(choice("surface", func(s *Sky) *string { return (*string)(&s.Surface) }, surfaces...), string(SurfaceOwn)),
	num("albedo", in(0, 1, "", 0.05, 2), func(s *Sky) *float64 { return &s.Albedo }),
	second(choice("sky_model", func(s *Sky) *string { return (*string)(&s.SkyModel) },
		string(HayDavies), string(Perez), string(Isotropic)), string(HayDavies)),
	second(choice("glass_model", func(s *Sky) *string { return (*string)(&s.GlassModel) },
		string(GlassASHRAE), string(GlassPhysical)), string(GlassASHRAE)),
	second(some("horizon", 0, MaxHorizon, func(s *Sky) *[]HorizonPoint { return &s.Horizon }, rule{shape: object, fields: []rule{
		num("azimuth_deg", in(0, 360, "°", 5, 1), func(h *HorizonPoint) *float64 { return &h.AzimuthDeg }),
		num("height_deg", in(0, 90, "°", 5, 1), func(h *HorizonPoint) *float64 { return &h.HeightDeg }),
	}}), nil),
	widened(choice("light", func(s *Sky) *string { return (*string)(&s.Light) }, string(ByClearSky), string(ByPeakSun),
		string(BySkyStates), string(ByLastThreeDays), string(ByWeatherFile)), 2, 2),
	unused(some("clear_sky_index", 0, MaxDays, func(s *Sky) *[]float64 { return &s.ClearSkyIndex },
		rule{shape: number, limit: in(0, 1.2, "", 0.05, 2)})),
	unused(some("peak_sun_hours", 0, MaxDays, func(s *Sky) *[]float64 { return &s.PeakSunHours },
		rule{shape: number, limit: in(0, 12, "kWh/m²", 0.25, 2)})),
	second(choice("peak_sun_on", func(s *Sky) *string { return (*string)(&s.PeakSunOn) }, string(OnLevel), string(OnPanels)), string(OnLevel)),
	second(unused(someStates("sky_states", 0, MaxDays, func(s *Sky) *[]SkyState { return &s.SkyStates },
		string(SkyClear), string(SkyThinVeil), string(SkyHalfCloud), string(SkyOvercast), string(SkyRain), string(SkySmoke), string(SkyDust))), nil),
	second(unused(some("last_three_days", 0, threeDays, func(s *Sky) *[]float64 { return &s.LastThreeDays },
		rule{shape: number, limit: in(0, 20000, "", 10, 0)})), nil),
	second(choice("meter_unit", func(s *Sky) *string { return (*string)(&s.MeterUnit) }, string(MeterWh), string(MeterAh)), string(MeterWh)),
	second(optSub("weather_file", func(s *Sky) **Weather { return &s.WeatherFile }, []rule{
		str("name", 0, 120, func(w *Weather) *string { return &w.Name }),
		instant("start", func(w *Weather) *time.Time { return &w.Start }),
		some("ghi_W_m2", 1, MaxHours, func(w *Weather) *[]float64 { return &w.GHI }, rule{shape: number, limit: in(0, 2000, "W/m²", 10, 0)}),
		some("dhi_W_m2", 1, MaxHours, func(w *Weather) *[]float64 { return &w.DHI }, rule{shape: number, limit: in(0, 2000, "W/m²", 10, 0)}),
		some("air_C", 0, MaxHours, func(w *Weather) *[]float64 { return &w.AirC }, rule{shape: number, limit: in(-90, 70, "°C", 1, 1)}),
		some("wind_m_per_s", 0, MaxHours, func(w *Weather) *[]float64 { return &w.WindMs }, rule{shape: number, limit: in(0, 60, "m/s", 1, 1)}),
	}), nil),
}

var surfaces = []string{string(SurfaceOwn), string(SurfaceGrass), string(SurfaceSand), string(SurfaceSnow), string(SurfaceOldSnow), string(SurfaceWater),
	string(SurfaceEarth), string(SurfaceAsphalt), string(SurfaceConcrete)}

// gauges are the cables of which panels are wired: mm² of IEC 60228 and even
// sizes of the AWG, as calc/wire names them.
var gauges = []string{"0.75_mm2", "1_mm2", "1.5_mm2", "2.5_mm2", "4_mm2", "6_mm2", "10_mm2", "16_mm2", "25_mm2", "35_mm2",
	"18_AWG", "16_AWG", "14_AWG", "12_AWG", "10_AWG", "8_AWG", "6_AWG", "4_AWG", "2_AWG"}

// usualGauge is that of most panel leads: common practice, no source.
const usualGauge = "4_mm2"

var panelsFields = []rule{
	widened(choice("joined", func(p *Panels) *string { return (*string)(&p.Joined) }, string(SideBySide), string(EndToEnd), string(InStrings)), 2, 3),
	third(num("blocking_V", in(0, 1, "V", 0.1, 2), func(p *Panels) *float64 { return &p.BlockingV }), 0.0),
	third(num("cable_m", in(0, 100, "m", 1, 1), func(p *Panels) *float64 { return &p.CableM }), 0.0),
	third(choice("cable_gauge", func(p *Panels) *string { return &p.CableGauge }, gauges...), usualGauge),
	some("list", 0, MaxPanels, func(p *Panels) *[]Panel { return &p.List }, rule{shape: object, fields: []rule{
		str("name", 1, 60, func(p *Panel) *string { return &p.Name }),
		whole("count", in(1, 20, "", 1, 0), func(p *Panel) *int { return &p.Count }),
		num("rated_W", in(1, 1000, "W", 5, 1), func(p *Panel) *float64 { return &p.RatedW }),
		third(choice("technology", func(p *Panel) *string { return (*string)(&p.Technology) }, string(Crystalline), string(ThinFilm)), string(Crystalline)),
		third(num("age_years", in(0, 40, "years", 1, 1), func(p *Panel) *float64 { return &p.AgeYears }), 0.0),
		second(choice("lie", func(p *Panel) *string { return (*string)(&p.Lie) },
			string(LieFixed), string(LieTurned), string(LieTwoAxis), string(LieOnLid)), string(LieFixed)),
		num("tilt_deg", in(0, 90, "°", 5, 0), func(p *Panel) *float64 { return &p.TiltDeg }),
		num("azimuth_deg", in(0, 360, "°", 5, 0), func(p *Panel) *float64 { return &p.AzimuthDeg }),
		second(whole("aims_per_day", in(1, 24, "", 1, 0), func(p *Panel) *int { return &p.AimsPerDay }), 1),
		third(choice("back", func(p *Panel) *string { return (*string)(&p.Back) }, string(BackFree), string(BackCovered)), string(BackFree)),
		third(whole("string", in(1, MaxPanels, "", 1, 0), func(p *Panel) *int { return &p.String }), 1),
		third(num("series_fuse_A", in(0, 60, "A", 1, 1), func(p *Panel) *float64 { return &p.SeriesFuseA }), 0.0),
		num("loss_pct", in(0, 90, "%", 1, 1), func(p *Panel) *float64 { return &p.LossPct }),
		second(some("shade_hours", 0, MaxWindows, func(p *Panel) *[]Window { return &p.ShadeHours }, window), nil),
		second(num("shaded_pct", in(0, 100, "%", 5, 0), func(p *Panel) *float64 { return &p.ShadedPct }), 100.0),
		optSub("datasheet", func(p *Panel) **Datasheet { return &p.Datasheet }, []rule{
			num("isc_A", in(0.05, 30, "A", 0.1, 2), func(d *Datasheet) *float64 { return &d.IscA }),
			num("voc_V", in(2, 100, "V", 0.1, 2), func(d *Datasheet) *float64 { return &d.VocV }),
			num("imp_A", in(0.01, 30, "A", 0.1, 2), func(d *Datasheet) *float64 { return &d.ImpA }),
			num("vmp_V", in(1, 100, "V", 0.1, 2), func(d *Datasheet) *float64 { return &d.VmpV }),
			num("alpha_isc_pct_per_K", in(-0.1, 0.3, "%/K", 0.01, 3), func(d *Datasheet) *float64 { return &d.AlphaIscPctPerK }),
			num("beta_voc_pct_per_K", in(-0.6, -0.1, "%/K", 0.01, 3), func(d *Datasheet) *float64 { return &d.BetaVocPctPerK }),
			whole("cells", in(4, 200, "", 1, 0), func(d *Datasheet) *int { return &d.Cells }),
		}),
	}}),
}

var tripFields = []rule{
	instant("start", func(t *Trip) *time.Time { return &t.Start }),
	second(zoneName(str("zone", 0, 60, func(t *Trip) *string { return &t.Zone })), ""),
	second(some("clock_changes", 0, MaxChanges, func(t *Trip) *[]ClockChange { return &t.ClockChanges }, rule{shape: object, fields: []rule{
		instant("at", func(c *ClockChange) *time.Time { return &c.At }),
		whole("offset_min", in(-720, 840, "min", 1, 0), func(c *ClockChange) *int { return &c.OffsetMin }),
	}}), nil),
	num("length_h", in(6, 720, "h", 6, 2), func(t *Trip) *float64 { return &t.LengthH }),
	whole("step_min", in(1, 15, "min", 1, 0), func(t *Trip) *int { return &t.StepMin }, "1", "2", "3", "5", "10", "15"),
	num("start_charge_pct", in(0, 100, "%", 5, 1), func(t *Trip) *float64 { return &t.StartChargePct }),
	num("reserve_pct", in(0, 90, "%", 5, 1), func(t *Trip) *float64 { return &t.ReservePct }),
	some("wall_hours", 0, MaxWindows, func(t *Trip) *[]Window { return &t.WallHours }, window),
	third(num("wall_V", orZero(in(90, 264, "V", 5, 0)), func(t *Trip) *float64 { return &t.WallV }), 0.0),
	third(some("engine_hours", 0, MaxWindows, func(t *Trip) *[]Window { return &t.EngineHours }, window), nil),
	third(some("generator_hours", 0, MaxWindows, func(t *Trip) *[]Window { return &t.GeneratorHours }, window), nil),
	third(num("generator_W", orZero(in(100, 20000, "W", 100, 0)), func(t *Trip) *float64 { return &t.GeneratorW }), 0.0),
}

// paragraph lets a text have line breaks and tabs.
func paragraph(r rule) rule { r.lines = true; return r }

// zoneName lets a text have no more than the name of a time zone does.
func zoneName(r rule) rule { r.zone = true; return r }

// widened says that all but the first n of the choices came with that version.
func widened(r rule, n, version int) rule { r.early, r.widen = n, version; return r }

// orZero lets a number be 0, which stands for "none", outside its range.
func orZero(l Limit) Limit { l.OrZero = true; return l }

// unused lets a list be absent. The relations refuse it where it is used.
func unused(r rule) rule { r.optional = true; return r }
