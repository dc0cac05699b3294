package plan

import "time"

// Blank returns a Plan to start one's own from: a small Case with one panel
// in fair weather, no gear, for three days. All of it is in range; the
// figures are invented middle values and stand for no product.
//
// The name is taken as it is and may be refused by [Check]. Of the start,
// seconds are dropped and the zone is kept as its offset from UTC, as a
// document does. The place is 45° north at sea level, on the longitude at
// which the sun fits the start's offset: the user sets the true one.
func Blank(name string, start time.Time) Plan {
	_, offset := start.Zone()
	offset -= offset % 60
	start = start.Truncate(time.Minute).In(time.FixedZone("", offset))
	marks, _ := UsualMarks(LiFePO4)
	p := Plan{
		Duskline: Version,
		Name:     name,
		Case: Case{
			Name: "My Case",
			Battery: Battery{
				Chemistry: LiFePO4, CapacityAh: 40, RatedHours: 20, ResistanceMohm: 25,
				KeptC: 20, KeptPct: 50, UsesPerYear: 12,
				AfterFull: AfterHold, FloatV: 13.5, ResumeV: 13.2,
				AlarmDelayS: 5, CutoffDelayS: 5, ReconnectS: 60,
			},
			Controller:  Controller{Kind: PWM, LimitA: 10, EfficiencyPct: 96, InputMaxV: 50, StandbyA: 0.01},
			WallCharger: WallCharger{CurrentA: 10, EfficiencyPct: 85, InputMinV: 100, InputMaxV: 240},
			Inverter:    Inverter{RatedW: 300, SurgeW: 600, Wave: PureSine, PulseDeg: 126, StandbyA: 0.5, EfficiencyPct: 88, OutputV: 230},
			DC:          Outlet{EfficiencyPct: 98},
			USB:         Outlet{StandbyA: 0.02, EfficiencyPct: 90},
			Meters:      Meters{StandbyA: 0.03},
			Switch:      DCOnly,
			Stands:      Shade,

			InverterHours: []Window{},
		},
		Gear: []Device{},
		Sky: Sky{
			LatitudeDeg: nowhereDeg, LongitudeDeg: meridian(start),
			WarmestC: 22, ColdestC: 10, WindMs: 1, Turbidity: 3, Albedo: 0.2,
			Surface: SurfaceOwn, SkyModel: HayDavies, GlassModel: GlassASHRAE,
			Horizon: []HorizonPoint{},
			Light:   ByClearSky, ClearSkyIndex: []float64{0.8}, PeakSunHours: []float64{},
			PeakSunOn: OnLevel, SkyStates: []SkyState{}, LastThreeDays: []float64{}, MeterUnit: MeterWh,
		},
		Panels: Panels{
			Joined: SideBySide, CableGauge: usualGauge,
			List: []Panel{NewPanel("Panel", 0, 180)},
		},
		Trip: Trip{
			Start: start, LengthH: 72, StepMin: 5, StartChargePct: 100, ReservePct: 20,
			ClockChanges: []ClockChange{}, WallHours: []Window{}, EngineHours: []Window{}, GeneratorHours: []Window{},
		},
	}
	p.Case.Battery.SetMarks(marks)
	return p
}

// NewPanel returns a panel of 100 W to start from, left as it lies, in no
// shade near by, its glass a little dusty: invented middle values. tilt and
// azimuth are in degrees as in [Panel].
func NewPanel(name string, tilt, azimuth float64) Panel {
	return Panel{
		Name: name, Count: 1, RatedW: 100, Technology: Crystalline, Back: BackFree, String: 1, Lie: LieFixed, TiltDeg: tilt, AzimuthDeg: azimuth, AimsPerDay: 1,
		LossPct: 3, ShadeHours: []Window{}, ShadedPct: 100,
	}
}

// NewDevice returns a device to start from, of one piece that runs all through
// its hours and says nothing of how it takes volts that are no sine. Its draw
// is the caller's to give.
func NewDevice(name string, route Route, hours ...Window) Device {
	return Device{
		Name: name, Count: 1, Route: route, PowerFactor: 1, Sensitivity: SensitivityUnsaid,
		RefillEfficiencyPct: 85, DutyPct: 100, Hours: append([]Window{}, hours...),
	}
}
