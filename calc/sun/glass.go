package sun

import "math"

// A Glass says how much of the light that meets a panel's face gets in.
type Glass uint8

// The kinds of glass.
const (
	ASHRAE   Glass = iota // 1 - 0.05 (1/cos i - 1)
	Physical              // refraction and absorption in a pane: index 1.526, 4 /m, 2 mm
	NoGlass               // everything gets in
)

// passes returns the share of a beam that gets in at an angle of incidence, of
// what gets in straight on. Behind the face it is 0, but for NoGlass.
//
//	ASHRAE    max(1 - 0.05 (1/cos i - 1), 0)
//	Physical  t(i) / t(0),  t = exp(-K L / cos r) (1 - (s² + p²)/2)
//	          sin r = sin i / n,  s = (cos i - n cos r)/(cos i + n cos r),
//	          p = (cos r - n cos i)/(cos r + n cos i);  n 1.526, K 4 /m, L 0.002 m
//
// Source: Souka1966 for ASHRAE with b0 = 0.05 as in pvlib iam.ashrae; paper
// not opened.
//
// Source: DeSoto2006 for Physical, as pvlib iam.physical reads it.
func (g Glass) passes(cosI float64) float64 {
	if g == NoGlass {
		return 1
	}
	if !(cosI > 0) {
		return 0
	}
	if g == ASHRAE {
		return max(1-0.05*(1/cosI-1), 0)
	}
	const n = 1.526
	const thick = 4 * 0.002 // K·L
	cosR := math.Sqrt(1 - (1-cosI*cosI)/(n*n))
	s := (cosI - n*cosR) / (cosI + n*cosR)
	p := (cosR - n*cosI) / (cosR + n*cosI)
	const straight = (n - 1) / (n + 1)
	return math.Exp(thick-thick/cosR) * (1 - (s*s+p*p)/2) / (1 - straight*straight)
}

// glassRings is into how many rings diffuse cuts the half-space.
const glassRings = 64

// diffuse returns the shares of an even sky's and an even ground's light that
// get in: the mean of passes over what the plane sees of each.
//
// In rings around the plane's normal: of the ring at i the horizon of a plane
// tilted by t leaves to the sky the part acos(-cot i cot t)/π, the rest to the
// ground. A ring's weight is sin i cos i di, the cosine in equal steps of the
// cosine. 64 rings are good to 1e-4 of the share, to 5e-3 of a ground or sky
// that is but a sliver.
//
// Source: Marion2017, the integral over each region as pvlib
// iam.marion_diffuse describes it; paper not opened. The rings are ours.
func (g Glass) diffuse(up float64) (sky, ground float64) {
	if g == NoGlass {
		return 1, 1
	}
	var skyPass, skyAll, groundPass, groundAll float64
	flat := math.Sqrt(max(1-up*up, 0))
	for k := range glassRings {
		cosI := (float64(k) + 0.5) / glassRings
		var seen float64
		switch c, s := cosI*up, math.Sqrt(1-cosI*cosI)*flat; {
		case c >= s:
			seen = 1
		case c > -s:
			seen = math.Acos(-c/s) / math.Pi
		}
		pass := g.passes(cosI)
		skyAll += cosI * seen
		skyPass += cosI * seen * pass
		groundAll += cosI * (1 - seen)
		groundPass += cosI * (1 - seen) * pass
	}
	if skyAll > 0 {
		sky = skyPass / skyAll
	}
	if groundAll > 0 {
		ground = groundPass / groundAll
	}
	return sky, ground
}
