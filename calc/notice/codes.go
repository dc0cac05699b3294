package notice

// The codes. Each line says who raises it and which numbers it carries.
const (
	// Raised by outlook.
	AlarmInTrip    Code = "alarm_in_trip"    // at (s after start), charge (%), volts (V)
	EarlyAlarm     Code = "early_alarm"      // at (s after start), charge (%), amps (A): the load pulls the volts of a well charged battery under the alarm
	StartAlarm     Code = "start_alarm"      // device (index), at (s after start), charge (%): its start does so for a moment
	LateAlarm      Code = "late_alarm"       // at (s after start), charge (%), left (min): the cut-off is near when the alarm sounds
	CutOffInTrip   Code = "cut_off_in_trip"  // at (s after start), charge (%), volts (V)
	SagCutOff      Code = "sag_cut_off"      // charge (%), amps (A): the load alone pulls the volts under the cut-off while the battery is well charged
	InverterTrips  Code = "inverter_trips"   // device (index), asked (W), limit (W), at (s after start)
	NoPower        Code = "no_power"         // device (index): its outlet is dead in its hours (switch, no inverter)
	InsideReserve  Code = "inside_reserve"   // charge (%), reserve (%), at (s after start)
	ColdCharge     Code = "cold_charge"      // core (°C), at (s after start), limit (°C): the battery is colder than it may be charged
	ColdNear       Code = "cold_near"        // core (°C), at (s after start), limit (°C): within 3 K of it
	PolarNight     Code = "polar_night"      // days (1): days on which the sun does not rise
	PolarDay       Code = "polar_day"        // days (1)
	NoPanels       Code = "no_panels"        //
	NoGear         Code = "no_gear"          //
	StartsEmpty    Code = "starts_empty"     // charge (%)
	SunClipped     Code = "sun_clipped"      // lost (Wh a day), limit (A): MPPT current limit
	PanelOverPWM   Code = "panel_over_pwm"   // amps (A), limit (A): 1.25 × short-circuit amps above the PWM rating
	PanelOverVolts Code = "panel_over_volts" // volts (V), limit (V): cold open-circuit volts above the controller's input
	PanelTooLow    Code = "panel_too_low"    // volts (V), need (V): panel volts too low to charge, or for the controller to start
	FullEarly      Code = "full_early"       // spilled (Wh a day): a full battery turned sun away
	IdleInverter   Code = "idle_inverter"    // a day (Wh a day), share (%): of all that is drawn in a day
	DeepDischarge  Code = "deep_discharge"   // charge (%), advised (%): drawn down further than its chemistry bears well
	RechargeWithin Code = "recharge_within"  // charge (%), within (days): trip ends under the advised charge of a battery that does not bear to stand so
	StopAt         Code = "stop_at"          // charge (%), advised (%): where to stop in the evening to come through the night with the advised charge
	NightReserve   Code = "night_reserve"    // night (%), charge (%), at (s after start): a night takes more than there is above the advised charge
	BatteryFreezes Code = "battery_freezes"  // core (°C), freezes (°C), charge (%), at (s after start): lead-acid at or near its freezing point
	BatteryHot     Code = "battery_hot"      // core (°C), at (s after start)
	Gassing        Code = "gassing"          // gas (l): hydrogen that charging lets out
	Worn           Code = "worn"             // health (%), holds (Ah): of the rated capacity
	LifeSupport    Code = "life_support"     // device (index)
	MainsVolts     Code = "mains_volts"      // volts (V): the inverter is on in this plan
	HighCurrent    Code = "high_current"     // amps (A): peak draw from the battery above 50 A

	// Raised by outlook for the battery's own protection.
	GuardTrips        Code = "guard_trips"         // reason (reason), at (s after start), charge (%): it cuts the battery off
	GuardBeforeCutOff Code = "guard_before_cutoff" // guard (V), cut_off (V): it acts before the Case's own cut-off
	GuardBeforeCharge Code = "guard_before_charge" // guard (V), charge (V): it acts before charging is held

	// Raised by outlook for what else charges the battery.
	SocketFuse     Code = "socket_fuse"     // amps (A), fuse (A): the vehicle charger asks the vehicle's socket for more than its fuse carries
	WallTooHigh    Code = "wall_too_high"   // volts (V), limit (V): mains above what the wall charger takes
	WallTooLow     Code = "wall_too_low"    // volts (V), need (V): mains below what the wall charger takes
	GeneratorSmall Code = "generator_small" // need (W), gives (W): the wall charger asks for more than the generator gives
	EngineExhaust  Code = "engine_exhaust"  // : an engine runs to charge in this plan

	// Raised by outlook for the inverter.
	InverterLow    Code = "inverter_low"    // at (s after start), charge (%), volts (V): the inverter's own low-voltage cut-off
	InverterAsleep Code = "inverter_asleep" // device (index), asked (W), wake (W): too little to wake the inverter
	InverterVA     Code = "inverter_va"     // device (index), asked (VA), limit (VA), at (s after start): as InverterTrips, by a poor power factor
	SurgeTooLong   Code = "surge_too_long"  // device (index), asked (s), limit (s), at (s after start): a start that lasts longer than the inverter's surge

	// Raised by outlook for gear on a modified sine, by its sensitivity.
	WaveMotor   Code = "wave_motor"   // device (index), extra (%): a motor with brushes
	WaveHum     Code = "wave_hum"     // device (index), extra (%): an induction motor, a compressor
	WaveClock   Code = "wave_clock"   // device (index)
	WaveCharger Code = "wave_charger" // device (index): a charger or a plug-in supply
	WaveMedical Code = "wave_medical" // device (index)
	WaveAudio   Code = "wave_audio"   // device (index)

	MedicalGear Code = "medical_gear" // device (index): medical gear that is not marked as life support, on any outlet
)

// Codes lists every code; tests walk it.
var Codes = []Code{
	AlarmInTrip, CutOffInTrip, SagCutOff, InverterTrips, NoPower, InsideReserve,
	ColdCharge, ColdNear, PolarNight, PolarDay, NoPanels, NoGear, StartsEmpty,
	SunClipped, PanelOverPWM, PanelOverVolts, PanelTooLow, FullEarly,
	IdleInverter, DeepDischarge, LifeSupport, MainsVolts, HighCurrent,
	EarlyAlarm, StartAlarm, LateAlarm, RechargeWithin, StopAt, NightReserve,
	BatteryFreezes, BatteryHot, Gassing, Worn, GuardTrips, GuardBeforeCutOff, GuardBeforeCharge,
	SocketFuse, WallTooHigh, WallTooLow, GeneratorSmall, EngineExhaust,
	InverterLow, InverterAsleep, InverterVA, SurgeTooLong,
	WaveMotor, WaveHum, WaveClock, WaveCharger, WaveMedical, WaveAudio, MedicalGear,
}
