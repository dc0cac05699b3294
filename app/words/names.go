package words

import "duskline/calc/plan"

// The names of a Plan's choices. A choice that this version does not know
// shows its bare name in brackets.

// Chemistry names a kind of battery: "LiFePO4".
func Chemistry(c plan.Chemistry) string { return T("chemistry." + string(c)) }

// ChemistryHelp says in a few words what it is.
func ChemistryHelp(c plan.Chemistry) string { return T("chemistry_help." + string(c)) }

// Stands names where the Case stands by day.
func Stands(s plan.Stands) string { return T("stands." + string(s)) }

// ControllerKind names a kind of controller.
func ControllerKind(k plan.ControllerKind) string { return T("controller." + string(k)) }

// ControllerHelp says what it does.
func ControllerHelp(k plan.ControllerKind) string { return T("controller_help." + string(k)) }

// Route names the outlet that a device is plugged into.
func Route(r plan.Route) string { return T("route." + string(r)) }

// Switch names a position of the main switch.
func Switch(s plan.Switch) string { return T("switch." + string(s)) }

// Wave names the shape of the inverter's volts.
func Wave(w plan.Wave) string { return T("wave." + string(w)) }

// Joined names the way panels are wired together.
func Joined(j plan.Joined) string { return T("joined." + string(j)) }

// AfterFull names what a charger does once the battery is full.
func AfterFull(a plan.AfterFull) string { return T("after_full." + string(a)) }

// Sensitivity names a kind of load, by how it takes volts that are no sine.
func Sensitivity(s plan.Sensitivity) string { return T("sensitivity." + string(s)) }

// Technology names what a panel is made of.
func Technology(t plan.Technology) string { return T("technology." + string(t)) }

// Back names what is behind a panel.
func Back(b plan.Back) string { return T("back." + string(b)) }

// SkyModel names a way in which the sky's light is spread.
func SkyModel(m plan.SkyModel) string { return T("sky_model." + string(m)) }

// GlassModel names a way to reckon low light on glass.
func GlassModel(m plan.GlassModel) string { return T("glass_model." + string(m)) }

// PeakSunOn names what peak sun hours are counted on.
func PeakSunOn(o plan.PeakSunOn) string { return T("peak_sun_on." + string(o)) }

// MeterUnit names what the Case's meter counts.
func MeterUnit(u plan.MeterUnit) string { return T("meter_unit." + string(u)) }

// SkyStateHelp says how that sky looks.
func SkyStateHelp(s plan.SkyState) string { return T("sky_state_help." + string(s)) }

// LightKind names a way to give the weather.
func LightKind(k plan.LightKind) string { return T("light." + string(k)) }

// Device names one of the gear, with its count: "Audio recorders ×2". A place
// outside the gear gives "a device".
func Device(p plan.Plan, index int) string {
	if index < 0 || index >= len(p.Gear) {
		return T("device.unknown")
	}
	d := p.Gear[index]
	if d.Count > 1 {
		return T("device.many", d.Name, Amount(float64(d.Count), 0, ""))
	}
	return d.Name
}

// Column names a column of a table: "time", "charge", "volts", "in", "out",
// "events", "flow", "energy", "share", "side".
func Column(name string) string { return T("column." + name) }
