package plan

import "time"

// The Sky: where the trip goes, its weather, and what stands around.

// LightKind says which figures of the Sky count.
type LightKind string

// The kinds of light input. Each but [ByWeatherFile] is the name of the list
// that counts.
const (
	ByClearSky      LightKind = "clear_sky_index"
	ByPeakSun       LightKind = "peak_sun_hours"
	BySkyStates     LightKind = "sky_states"
	ByLastThreeDays LightKind = "last_three_days"
	ByWeatherFile   LightKind = "weather_file"
)

// A Sky is place, weather, haze and what stands around. The trip's start
// carries the zone.
type Sky struct {
	Place        string     `json:"place"`           // "" to 80 characters
	LatitudeDeg  float64    `json:"latitude_deg"`    // -90 to 90, north positive
	LongitudeDeg float64    `json:"longitude_deg"`   // -180 to 180, east positive
	AltitudeM    float64    `json:"altitude_m"`      // -430 to 5500
	WarmestC     float64    `json:"warmest_C"`       // -40 to 55, air in mid-afternoon
	ColdestC     float64    `json:"coldest_C"`       // -50 to warmest_C, air before dawn
	WindMs       float64    `json:"wind_m_per_s"`    // 0 to 30, at the panels
	Turbidity    float64    `json:"linke_turbidity"` // 1 to 10
	Surface      Surface    `json:"surface"`         // what lies on the ground around the panels
	Albedo       float64    `json:"albedo"`          // 0 to 1, of the ground; counts only with SurfaceOwn
	SkyModel     SkyModel   `json:"sky_model"`
	GlassModel   GlassModel `json:"glass_model"`

	Horizon []HorizonPoint `json:"horizon"` // 0 to 36, in any order; with a step, two heights at one azimuth, clockwise; none: open all round

	Light LightKind `json:"light"`
	// What Light names is there: a list by day has 1 to 31 entries, a figure a
	// day from the trip's first, of which the last one holds for the days after
	// it. What it does not name may be empty or absent.
	ClearSkyIndex []float64  `json:"clear_sky_index"` // 0 to 1.2
	PeakSunHours  []float64  `json:"peak_sun_hours"`  // kWh/m², 0 to 12
	PeakSunOn     PeakSunOn  `json:"peak_sun_on"`     // what PeakSunHours lies on
	SkyStates     []SkyState `json:"sky_states"`
	LastThreeDays []float64  `json:"last_three_days"` // none or 3, oldest first: 0 to 20000 in MeterUnit, what the panels brought on each day before the trip's first
	MeterUnit     MeterUnit  `json:"meter_unit"`
	WeatherFile   *Weather   `json:"weather_file,omitempty"`
}

// Surface is what the ground around the panels is covered with.
type Surface string

// The surfaces. Their albedo is [duskline/calc/sun.Surface]'s; SurfaceOwn has
// the Sky's own.
const (
	SurfaceOwn      Surface = "own"
	SurfaceGrass    Surface = "grass"
	SurfaceSand     Surface = "sand"
	SurfaceSnow     Surface = "snow"
	SurfaceOldSnow  Surface = "old_snow"
	SurfaceWater    Surface = "water"
	SurfaceEarth    Surface = "earth"
	SurfaceAsphalt  Surface = "asphalt"
	SurfaceConcrete Surface = "concrete"
)

// SkyModel is how the light of the sky is spread over it.
type SkyModel string

// The sky models.
const (
	HayDavies SkyModel = "hay_davies"
	Perez     SkyModel = "perez"
	Isotropic SkyModel = "isotropic"
)

// GlassModel is how light that comes in low is lost on the panels' glass.
type GlassModel string

// The glass models.
const (
	GlassASHRAE   GlassModel = "ashrae"
	GlassPhysical GlassModel = "physical"
)

// A HorizonPoint is a point of the line behind which the sun goes down. Lines
// between the points are straight in azimuth and height; one point alone is
// the same height all round.
type HorizonPoint struct {
	AzimuthDeg float64 `json:"azimuth_deg"` // 0 to 360, clockwise from north
	HeightDeg  float64 `json:"height_deg"`  // 0 to 90, above level; a fist at arm's length is about 10
}

// SkyState is the look of a day's sky.
type SkyState string

// The looks of the sky.
const (
	SkyClear     SkyState = "clear"
	SkyThinVeil  SkyState = "thin_veil"
	SkyHalfCloud SkyState = "half_cloud"
	SkyOvercast  SkyState = "overcast"
	SkyRain      SkyState = "rain"
	SkySmoke     SkyState = "smoke"
	SkyDust      SkyState = "dust"
)

// PeakSunOn says on what plane peak sun hours are counted.
type PeakSunOn string

// The two planes.
const (
	OnLevel  PeakSunOn = "level"  // level ground
	OnPanels PeakSunOn = "panels" // the panels as they lie, in the open
)

// MeterUnit is what the Case's meter counts.
type MeterUnit string

// The two units.
const (
	MeterWh MeterUnit = "Wh"
	MeterAh MeterUnit = "Ah"
)

// Weather is the trip's hours out of a weather file. Entry i of each list is
// the mean of the hour that begins i hours after Start.
type Weather struct {
	Name   string    `json:"name"`         // "" to 120 characters: place and source, as the file says
	Start  time.Time `json:"start"`        // RFC 3339 in the file's own offset, minutes 0; at or before the trip's start
	GHI    []float64 `json:"ghi_W_m2"`     // 0 to 2000, on level ground; 1 to 792 hours, up to the trip's end at least
	DHI    []float64 `json:"dhi_W_m2"`     // 0 to GHI, its diffuse part; as many
	AirC   []float64 `json:"air_C"`        // -90 to 70; as many or none
	WindMs []float64 `json:"wind_m_per_s"` // 0 to 60; as many or none
}
