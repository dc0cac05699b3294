package battery

import "duskline/calc/qty"

// LiFePO4 is lithium iron phosphate against graphite, four cells.
//
// Rest: points of the published formula for one 2 Ah cell at 25 °C, so close
// that the straight lines between them stay within 0.25 mV of it a cell; both
// ends are steep, hence the fine points there. Another honest cell model lies
// 12 mV away at mid charge: the energy is right, a charge read from volts on
// the plateau is not.
// Source: Bpx2022, open-circuit functions and stoichiometry.
//
// Cold: Arrhenius with 30 kJ/mol, the figure of the same file for diffusion in
// graphite. Its others go from 17.1 (electrolyte) to 80 kJ/mol and a pack is a
// mix; 30 gives 3.0 times the resistance at 0 °C. Above 25 °C the factor stays
// 1: the wires in the figure do not get better with heat.
//
// Coulombic 99 %; no charging below 0 °C (lithium plating); ChargeFrom,
// ChargeTo.
// Source: CommonPractice.
var LiFePO4 = Chemistry{
	Name:  "LiFePO4",
	Cells: 4,
	Rest: []Point{
		{0.0000, 1.99999}, {0.0001, 2.02920}, {0.0002, 2.05744}, {0.0003, 2.08473}, {0.0004, 2.11112}, {0.0005, 2.13662},
		{0.0006, 2.16126}, {0.0007, 2.18507}, {0.0008, 2.20808}, {0.0009, 2.23031}, {0.0010, 2.25179}, {0.0011, 2.27254},
		{0.0012, 2.29258}, {0.0013, 2.31194}, {0.0014, 2.33064}, {0.0015, 2.34870}, {0.0016, 2.36613}, {0.0017, 2.38297},
		{0.0018, 2.39923}, {0.0019, 2.41492}, {0.0020, 2.43008}, {0.0021, 2.44471}, {0.0023, 2.47246}, {0.0025, 2.49832},
		{0.0027, 2.52240}, {0.0029, 2.54484}, {0.0031, 2.56573}, {0.0033, 2.58519}, {0.0035, 2.60330}, {0.0037, 2.62017},
		{0.0039, 2.63588}, {0.0041, 2.65052}, {0.0043, 2.66415}, {0.0046, 2.68287}, {0.0049, 2.69972}, {0.0052, 2.71491},
		{0.0055, 2.72861}, {0.0058, 2.74098}, {0.0062, 2.75568}, {0.0066, 2.76861}, {0.0070, 2.78004}, {0.0075, 2.79257},
		{0.0080, 2.80351}, {0.0086, 2.81499}, {0.0093, 2.82665}, {0.0102, 2.83973}, {0.0114, 2.85510}, {0.0134, 2.87818},
		{0.0171, 2.91825}, {0.0203, 2.95120}, {0.0230, 2.97718}, {0.0256, 3.00032}, {0.0282, 3.02155}, {0.0309, 3.04165},
		{0.0337, 3.06053}, {0.0366, 3.07812}, {0.0396, 3.09433}, {0.0427, 3.10908}, {0.0459, 3.12232}, {0.0493, 3.13432},
		{0.0528, 3.14466}, {0.0566, 3.15387}, {0.0608, 3.16194}, {0.0654, 3.16873}, {0.0708, 3.17458}, {0.0774, 3.17954},
		{0.0863, 3.18389}, {0.1023, 3.18878}, {0.1300, 3.19650}, {0.1503, 3.20405}, {0.1716, 3.21408}, {0.2245, 3.24279},
		{0.2451, 3.25219}, {0.2650, 3.25928}, {0.2863, 3.26477}, {0.3113, 3.26904}, {0.3440, 3.27229}, {0.3967, 3.27485},
		{0.5123, 3.27861}, {0.5604, 3.28181}, {0.5983, 3.28615}, {0.6362, 3.29256}, {0.7125, 3.30797}, {0.7492, 3.31350},
		{0.7893, 3.31740}, {0.8432, 3.32023}, {0.9457, 3.32262}, {0.9800, 3.32350}, {0.9845, 3.32485}, {0.9870, 3.32709},
		{0.9888, 3.33038}, {0.9901, 3.33436}, {0.9912, 3.33942}, {0.9921, 3.34523}, {0.9929, 3.35212}, {0.9936, 3.35991},
		{0.9942, 3.36823}, {0.9947, 3.37659}, {0.9952, 3.38650}, {0.9957, 3.39826}, {0.9961, 3.40923}, {0.9965, 3.42179},
		{0.9969, 3.43620}, {0.9972, 3.44837}, {0.9975, 3.46186}, {0.9978, 3.47680}, {0.9981, 3.49335}, {0.9984, 3.51168},
		{0.9986, 3.52499}, {0.9988, 3.53924}, {0.9990, 3.55450}, {0.9992, 3.57083}, {0.9994, 3.58832}, {0.9996, 3.60705},
		{0.9998, 3.62710}, {1.0000, 3.64856},
	},
	Coulombic:     0.99,
	NoChargeBelow: 0,
	Cold:          lithiumIronCold,
	ChargeFrom:    14.2,
	ChargeTo:      14.6,
}

// lithiumIronActivation is the activation energy of the resistance, J/mol.
const lithiumIronActivation = 30_000

// lithiumIronCold is how many times its value at 25 °C the resistance is.
func lithiumIronCold(air qty.Celsius) float64 {
	if air >= 25 {
		return 1
	}
	return arrhenius(lithiumIronActivation, air)
}
