package notice

// The codes. Each line says who raises it and which numbers it carries.
const (
	// Raised by outlook.
	AlarmInTrip    Code = "alarm_in_trip"    // at (s after start), charge (%), volts (V)
	CutOffInTrip   Code = "cut_off_in_trip"  // at (s after start), charge (%), volts (V)
	SagCutOff      Code = "sag_cut_off"      // charge (%), amps (A): the load alone pulls the volts under the cut-off while the battery is well charged
	InverterTrips  Code = "inverter_trips"   // device (index), asked (W), limit (W), at (s after start)
	NoPower        Code = "no_power"         // device (index): its outlet is dead in its hours (switch, no inverter)
	InsideReserve  Code = "inside_reserve"   // charge (%), reserve (%), at (s after start)
	ColdCharge     Code = "cold_charge"      // air (°C), at (s after start): lithium must not be charged below 0 °C
	ColdNear       Code = "cold_near"        // air (°C), at (s after start): coldest hour within 3 K of it
	PolarNight     Code = "polar_night"      // days (1): days on which the sun does not rise
	PolarDay       Code = "polar_day"        // days (1)
	NoPanels       Code = "no_panels"        //
	NoGear         Code = "no_gear"          //
	StartsEmpty    Code = "starts_empty"     // charge (%)
	SunClipped     Code = "sun_clipped"      // lost (Wh a day), limit (A): MPPT current limit
	PanelOverPWM   Code = "panel_over_pwm"   // amps (A), limit (A): 1.25 × short-circuit amps above the PWM rating
	PanelOverVolts Code = "panel_over_volts" // volts (V), limit (V): cold open-circuit volts above the controller's input
	PanelTooLow    Code = "panel_too_low"    // volts (V), need (V): panel volts too low to charge
	FullEarly      Code = "full_early"       // spilled (Wh a day): a full battery turned sun away
	IdleInverter   Code = "idle_inverter"    // a day (Wh a day), share (%): of all that is drawn in a day
	DeepAGM        Code = "deep_agm"         // charge (%): under half wears lead-acid out early
	LeftEmpty      Code = "left_empty"       // charge (%): trip ends low; recharge soon
	LifeSupport    Code = "life_support"     // device (index)
	MainsVolts     Code = "mains_volts"      // volts (V): the inverter is on in this plan
	HighCurrent    Code = "high_current"     // amps (A): peak draw from the battery above 50 A
)

// Codes lists every code; tests walk it.
var Codes = []Code{
	AlarmInTrip, CutOffInTrip, SagCutOff, InverterTrips, NoPower, InsideReserve,
	ColdCharge, ColdNear, PolarNight, PolarDay, NoPanels, NoGear, StartsEmpty,
	SunClipped, PanelOverPWM, PanelOverVolts, PanelTooLow, FullEarly,
	IdleInverter, DeepAGM, LeftEmpty, LifeSupport, MainsVolts, HighCurrent,
}
