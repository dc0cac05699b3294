package battery

import (
	"math"

	"duskline/calc/qty"
)

// Lithium cells age in calendar time, faster hot and full, and by use. All
// four models here are fits to published ageing tests, taken with their
// coefficients. What is held, because no cell was measured there or because
// the authors themselves call it wrong:
//
//   - colder than 10 °C counts as 10 °C for calendar loss: the fits go on
//     falling, but nobody measured it;
//   - loss by use has no benefit from a temperature: the large LiFePO4 cell's
//     fit falls with heat to balance its calendar part, the large NMC cell's
//     falls in the cold. Both are read at 25 °C, the NMC one above it, too;
//   - a rate above 1.5/h counts as 1.5/h, for the resistance above 1/h as 1/h.
const (
	coldestKept = 10.0 // °C
	usualUse    = 25.0 // °C
	fastestUse  = 1.5  // 1/h
)

// keptKelvin returns the temperature that counts for calendar loss.
func keptKelvin(kept qty.Celsius) float64 { return math.Max(float64(kept), coldestKept) + 273.15 }

// graphite returns the volts of the graphite electrode against lithium at a
// charge of the cell: the lower, the more eagerly it eats electrolyte.
//
// Source: Safari2011, as coded in the models of Blast2023.
func graphite(charge float64) float64 {
	x := 0.0085 + charge*(0.78-0.0085)
	return 0.6379 + 0.5416*math.Exp(-305.5309*x) +
		0.044*math.Tanh(-(x-0.1958)/0.1088) -
		0.1978*math.Tanh((x-1.0571)/0.0854) -
		0.6875*math.Tanh((x+0.0117)/0.0529) -
		0.0175*math.Tanh((x-0.5692)/0.0875)
}

// largeIron is a prismatic LiFePO4 cell of 250 Ah, measured from 10 to 45 °C.
//
// Source: Blast2023, model of the 250 Ah cell.
func largeIron(u *Use) law {
	return law{
		largeIronCalendar(keptKelvin(u.Kept), float64(u.KeptAt)),
		largeIronCycling(usualUse+273.15, float64(u.Depth), u.Rate),
	}
}

// k t^0.526 with k = 8.37e4 exp(-5210/T) exp(-3560 Ua/T), t in days.
func largeIronCalendar(kelvin, charge float64) power {
	return times(8.37e4*math.Exp(-(5210+3560*graphite(charge))/kelvin), 0.526)
}

// k n^0.828 with k = (4.38e-8 + 1.55e-8 depth + 1.68e-7 rate)(exp(2190/T) +
// exp(-155000/T)), n full cycles.
func largeIronCycling(kelvin, depth, rate float64) power {
	k := 4.38e-8 + 1.55e-8*depth + 1.68e-7*math.Min(rate, fastestUse)
	return times(k*(math.Exp(2190/kelvin)+math.Exp(-155_000/kelvin)), 0.828)
}

// smallIron is a round LiFePO4 cell of 3 Ah, kept at 0 to 60 °C, used at 25
// and 40 °C; its cycle loss knows no temperature.
//
// Source: Blast2023, model of the 3 Ah cell.
// Source: Naumann2018, the measurements.
func smallIron(u *Use) law {
	return law{
		smallIronCalendar(keptKelvin(u.Kept), float64(u.KeptAt)),
		smallIronCycling(float64(u.Depth), u.Rate),
	}
}

// 2 q1 (1/2 - 1/(1 + exp((q2 t)^q3))) = q1 tanh((q2 t)^q3 / 2), t in days.
func smallIronCalendar(kelvin, charge float64) power {
	ua := graphite(charge)
	third, quarter, t2 := math.Cbrt(ua), math.Sqrt(math.Sqrt(ua)), kelvin*kelvin
	q1 := 0.98968715129359 * math.Exp(math.Sqrt(ua)*(8742.06309157261/kelvin-2881067.56019324/t2))
	q3 := 0.000332850281062177 * math.Exp(third*(734553185711.369/(t2*t2)-3284991315.45121/(t2*kelvin))+
		quarter*(0.0012722759365729*t2-2.8216157562078e-6*t2*kelvin))
	return power{k: 0.000130510034211874, p: q3, bound: q1}
}

// (k n)^1.128 with k = |-6.81e-6 + 2.60e-5 depth + 2.12e-6 exp(depth² rate³)|,
// n full cycles.
func smallIronCycling(depth, rate float64) power {
	c := math.Min(rate, fastestUse)
	k := -6.81260579372875e-6 + 2.59615973160844e-5*depth + 2.11559710307295e-6*math.Exp(depth*depth*c*c*c)
	return power{k: math.Abs(k), p: 1.12847759334355}
}

// ironOhms is the growth of the small LiFePO4 cell's resistance, in
// proportion to time and to use; the large cell's was not published with it.
//
// Source: Blast2023, model of the 3 Ah cell.
// Source: Naumann2018.
func ironOhms(u *Use) law {
	const gas = 8.3144
	s, d := float64(u.KeptAt)-0.5, float64(u.Depth)-0.5
	day := 86_400 * 3.4194e-10 * math.Exp(-71_827/gas*(1/keptKelvin(u.Kept)-1/298.15)) * (1.5604 - 3.3903*s*s*s)
	cycle := 0.01 * (0.0021 - 0.002*math.Min(u.Rate, 1)) * (0.91882 + 6.8477*d*d*d)
	return law{power{k: day, p: 1}, power{k: cycle, p: 1}}
}

// smallNMC is a round NMC cell of 2.15 Ah, kept at 35 to 65 °C, used at 35 °C
// and a rate of 1/h. It wears by its volts: U is the rest volts at the charge
// where it stands, for use at the mean charge of a cycle from full.
//
//	calendar: (7.543 U - 23.75) 1e6 exp(-6976/T) t^0.75, t in days
//	use: (0.007348 (U - 3.667)² + 0.00076 + 0.004081 depth) sqrt(Ah),
//	both ways through the 2.15 Ah of the cell
//
// Source: Schmalstieg2014, as coded in the models of Blast2023.
func smallNMC(u *Use) law {
	kept, mean := smallNMCVolts(float64(u.KeptAt)), smallNMCVolts(1-float64(u.Depth)/2)-3.667
	return law{
		times((7.543*kept-23.75)*1e6*math.Exp(-6976/keptKelvin(u.Kept)), 0.75),
		times((0.007348*mean*mean+0.00076+0.004081*float64(u.Depth))*math.Sqrt(2*2.15), 0.5),
	}
}

// smallNMCVolts returns the rest volts of that cell.
func smallNMCVolts(charge float64) float64 {
	t := [...]float64{3.331, 3.491, 3.5812, 3.6267, 3.6552, 3.6974, 3.7747, 3.8688, 3.9649, 4.073, 4.162} // by tenths
	k := min(int(charge*10), 9)
	return t[k] + (t[k+1]-t[k])*(charge*10-float64(k))
}

// largeNMC is a flat NMC cell of 75 Ah, kept and used at 0 to 55 °C. The knee
// of its active material, near 7000 full cycles, is left out: the other part
// has taken the life by then.
//
//	calendar: 2.66e7 exp(-17.8/θ - 5.21 (Ua/0.123 V)/θ) t^0.357, t in days
//	use: 3800 exp(-18.4/θ) exp(1.04 exp(depth²)) n^0.778, n full cycles
//	θ = T/308.15 K
//
// Source: Blast2023, model of the 75 Ah cell.
func largeNMC(u *Use) law {
	kept := keptKelvin(u.Kept) / 308.15
	used := (math.Max(float64(u.During), usualUse) + 273.15) / 308.15
	d := float64(u.Depth)
	return law{
		times(2.66e7*math.Exp((-17.8-5.21*graphite(float64(u.KeptAt))/0.123)/kept), 0.357),
		times(3.80e3*math.Exp(-18.4/used+1.04*math.Exp(d*d)), 0.778),
	}
}

// nmcOhms is the growth of the small NMC cell's resistance.
//
//	calendar: (5.270 U - 16.32) 1e5 exp(-5986/T) t^0.75
//	use: (2.153e-4 (U - 3.725)² - 1.521e-5 + 2.798e-4 depth) Ah
//
// Source: Schmalstieg2014, as coded in the models of Blast2023.
func nmcOhms(u *Use) law {
	kept, mean := smallNMCVolts(float64(u.KeptAt)), smallNMCVolts(1-float64(u.Depth)/2)-3.725
	return law{
		times((5.270*kept-16.32)*1e5*math.Exp(-5986/keptKelvin(u.Kept)), 0.75),
		power{k: (2.153e-4*mean*mean - 1.521e-5 + 2.798e-4*float64(u.Depth)) * 2 * 2.15, p: 1},
	}
}
