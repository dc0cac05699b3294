package sun

// A strip is a narrow range of azimuth under the horizon's line.
type strip struct{}

func (h *Horizon) addStrips(azimuth, wide, height, slope float64) {}

func (h *Horizon) leavesLevel() float64 { return 1 }

func (h *Horizon) leaves(p Plane) float64 { return 1 }
