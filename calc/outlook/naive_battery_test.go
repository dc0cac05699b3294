package outlook

import (
	"math"
	"sort"

	"duskline/calc/battery"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// The naive simulation's battery: the differential equations that
// battery.Step states, each second along its slope in the middle. Of the package it takes
// the chemistries' tables, and nothing that steps.
type naiveBattery struct {
	b    plan.Battery
	chem battery.Chemistry

	holds float64 // A·h
	c, k  float64 // free share; exchange at 25 °C, 1/h
	joule float64 // J/K
	cool  float64 // W/K
	s, d  float64 // charge; bound head over free head
	slow  float64
	lean  float64
	core  float64
}

func (n *naiveBattery) begin(b plan.Battery, charge, core float64) {
	n.b = b
	n.chem = map[plan.Chemistry]battery.Chemistry{plan.LiFePO4: battery.LiFePO4, plan.AGM: battery.AGM, plan.NMC: battery.NMC,
		plan.Gel: battery.Gel, plan.Flooded: battery.Flooded}[b.Chemistry]
	n.s, n.core = charge, core
	n.c, n.k = float64(n.chem.Free), n.chem.Exchange
	// What the wells give of all that they hold in the rated hours, H24.
	kt := n.k * b.RatedHours
	gives := kt * n.c / (1 - math.Exp(-kt) + n.c*(kt-1+math.Exp(-kt)))
	n.holds = b.CapacityAh / gives
	n.joule = n.chem.HeatPerAmpHour * b.CapacityAh
	n.cool = 0.09 * math.Pow(b.CapacityAh, 2.0/3)
	if b.HeatKJPerK != nil {
		n.joule = 1000 * *b.HeatKJPerK
	}
	if b.CoolingWPerK != nil {
		n.cool = *b.CoolingWPerK
	}
}

// curve is the rest volts at a charge, 25 °C, whole battery.
func (n *naiveBattery) curve(s float64) float64 {
	pts := n.chem.Rest
	k := sort.Search(len(pts)-1, func(i int) bool { return float64(pts[i].Charge) >= s })
	if k == 0 {
		return float64(n.chem.Cells) * float64(pts[0].Volts)
	}
	a, b := pts[k-1], pts[k]
	f := (s - float64(a.Charge)) / float64(b.Charge-a.Charge)
	return float64(n.chem.Cells) * (float64(a.Volts) + math.Min(f, 1)*float64(b.Volts-a.Volts))
}

func (n *naiveBattery) free() float64 { return n.s - (1-n.c)*n.d }

// stands is what it shows while nothing flows.
func (n *naiveBattery) stands() float64 {
	cells := float64(n.chem.Cells)
	return n.curve(math.Max(0, n.free())) + cells*n.chem.ShiftAt(qty.Fraction(n.s))*(n.core-25) + cells*float64(n.chem.Swing)*n.lean + n.slow
}

func (n *naiveBattery) ohm() float64 {
	return n.b.ResistanceMohm / 1000 * n.chem.OhmsAt(qty.Fraction(n.s)) * n.chem.Cold(qty.Celsius(n.core))
}

// lift is the volts by which amps into it raise it, beyond what they drop over
// the resistance.
func (n *naiveBattery) lift(i float64) float64 {
	if i <= 0 || len(n.chem.Lift) == 0 {
		return 0
	}
	return float64(n.chem.Cells) * n.chem.Lift.At(qty.Fraction(n.s), 0) * i / (i + n.chem.LiftRate*n.holds)
}

// accepts is the most amps that it takes, volts aside.
func (n *naiveBattery) accepts() float64 {
	limit := float64(n.chem.NoChargeBelow)
	if n.b.NoChargeBelowC != nil {
		limit = *n.b.NoChargeBelowC
	}
	if n.core < limit || n.s >= 1 {
		return 0
	}
	// A free well that is full takes as much as goes on to the bound one.
	k := n.k * n.chem.ExchangeCold(qty.Celsius(n.core))
	room := n.c * n.holds * ((1-n.free())*3600 - (1-n.c)*k*n.d) / n.chem.CoulombicAt(qty.Fraction(n.s))
	if n.chem.AcceptHours > 0 {
		room = math.Min(room, n.holds*(1-n.s)/n.chem.AcceptHours)
	}
	return math.Max(room, 0)
}

// naiveSecond is what became of a second: W, and of gas A.
type naiveSecond struct{ heat, charging, standing, stored, gas float64 }

// on takes it so many seconds on with i amps into it at v volts.
func (n *naiveBattery) on(v, i, air, sun, seconds float64) naiveSecond {
	h := seconds / 3600
	u := n.curve(n.s)
	stays := i
	if i > 0 {
		stays = i * n.chem.CoulombicAt(qty.Fraction(n.s))
	}
	month := float64(n.chem.SelfDischarge)
	if n.b.SelfDischargePctMonth != nil {
		month = *n.b.SelfDischargePctMonth / 100
	}
	perHour := -math.Log(1-month) / 720
	if n.chem.DoublesEvery > 0 {
		perHour *= math.Exp2((n.core - 20) / n.chem.DoublesEvery)
	}
	lost := perHour * n.s * n.holds // A
	x := naiveSecond{heat: (v - u) * i, charging: u * (i - stays), standing: u * lost, stored: u * (stays - lost), gas: i - stays}

	r1 := n.ohm() * n.chem.SlowShare
	if tau := n.chem.SlowSeconds; tau > 0 {
		n.slow += (i*r1 - n.slow) * (1 - math.Exp(-seconds/tau))
	}
	k := n.k * n.chem.ExchangeCold(qty.Celsius(n.core))
	n.d += (-k*n.d - stays/(n.c*n.holds)) * h
	n.s += (stays - lost) / n.holds * h
	moved := stays / n.holds * h
	switch rate := n.chem.SwingRate; {
	case moved > 0:
		n.lean += rate * moved * (1 - n.lean)
	case moved < 0:
		n.lean += rate * moved * (1 + n.lean)
	}
	warmth := x.heat + x.charging + x.standing - 1.481*float64(n.chem.Cells)*float64(n.chem.Vents)*x.gas
	n.core += (warmth + sun - n.cool*(n.core-air)) / n.joule * seconds
	n.s = math.Min(math.Max(n.s, 0), 1)
	return x
}
