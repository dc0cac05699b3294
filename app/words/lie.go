package words

import (
	"math"

	"duskline/calc/plan"
	"duskline/calc/qty"
)

// Facing words a direction as one says it in a field: "south", "20° west of
// south". azimuth is clockwise from north, any turn.
func Facing(azimuth qty.Degree) string {
	turn := math.Mod(math.Round(float64(azimuth)), 360)
	if turn < 0 {
		turn += 360
	}
	if turn != turn {
		return "–"
	}
	points := [...]string{"n", "e", "s", "w"}
	quarter := int(turn/90 + 0.5)
	off := turn - 90*float64(quarter)
	from := T("compass." + points[quarter%4])
	switch {
	case off > 0:
		return T("facing.off", Angle(qty.Degree(off)), T("compass."+points[(quarter+1)%4]), from)
	case off < 0:
		return T("facing.off", Angle(qty.Degree(-off)), T("compass."+points[(quarter+3)%4]), from)
	}
	return from
}

// Lies words how a panel lies, in a few words for a list: "leans 35°, faces
// south".
func Lies(p plan.Panel) string {
	tilt, facing := Angle(qty.Degree(p.TiltDeg)), Facing(qty.Degree(p.AzimuthDeg))
	switch {
	case p.Lie == plan.LieTwoAxis:
		return T("lies.two_axis", p.AimsPerDay)
	case p.Lie == plan.LieTurned:
		return T("lies.turned", p.AimsPerDay, tilt)
	case p.Lie == plan.LieOnLid && p.TiltDeg == 0:
		return T("lies.on_lid_flat")
	case p.Lie == plan.LieOnLid:
		return T("lies.on_lid", tilt, facing)
	case p.TiltDeg == 0:
		return T("lies.flat")
	}
	return T("lies.fixed", tilt, facing)
}

// LieKind names a way in which a panel lies.
func LieKind(k plan.Lie) string { return T("lie." + string(k)) }

// OverFlat says how much more or less than flat a panel gets: "+11 %", "−4 %",
// "the same".
func OverFlat(share float64) string {
	n := math.Round(100 * share)
	switch {
	case n > 0:
		return T("over_flat.more", Amount(n, 0, "%"))
	case n < 0:
		return T("over_flat.less", Amount(-n, 0, "%"))
	}
	return T("over_flat.same")
}
