package battery

import "duskline/calc/qty"

// NMC is lithium nickel manganese cobalt oxide against graphite, three cells:
// about 12.6 V full, the battery of the lighter units.
//
// Rest: points of the published formula for one 12.5 Ah cell at 25 °C, so
// close that the straight lines between them stay within 0.2 mV of it a cell.
// Source: Bpx2022Nmc, open-circuit functions and stoichiometry.
//
// Its hysteresis, a few millivolts in six hundred, is left out.
//
// Shift: as that of LiFePO4, from this file's figures.
// Source: Bpx2022Nmc, entropic change coefficients.
//
// Ohms, SlowShare, SlowSeconds: resistance of a cell of 27 to 31 Ah and of its
// slow part at 20 °C by charge, both together over their sum at half charge;
// the slow part is 0.26 of the fast one on the mean, and comes in 29 to 105 s,
// 40 s here.
// Source: Huria2012.
//
// Cold: Arrhenius with 16.4 kJ/mol, what the same table has between 20 and
// 5 °C at half charge. Next to empty it has more.
// Source: Huria2012.
//
// Free, Exchange: two equal wells and k' 76 /h, which is the measured loss
// between a discharge of 20 h and one of an hour, 1.3 % of the amp-hours. From
// its particles, as with LiFePO4, the cell would have 82 /h.
// Source: Bpx2022Nmc, validation block; particle radii and diffusivities.
//
// ExchangeCold: Arrhenius with 50 kJ/mol, so that it gives nine tenths at 0 °C
// and some seven tenths at -20 °C in two hours. The file has 30 for diffusion
// in graphite and 55 for its reaction.
// Source: CommonPractice.
//
// HeatPerAmpHour: as with LiFePO4, 17 g for each amp-hour of a cell; bare the
// file's has 52.
// Source: Bpx2022Nmc, specific heat capacity.
// Source: CommonPractice, for the weight.
//
// Coulombic 99.5 %; no charging below 0 °C (lithium plating); ChargeFrom,
// ChargeTo; SelfDischarge 2 % a month, twice that for 10 K more.
// Source: CommonPractice.
var NMC = Chemistry{
	Name:  "NMC",
	Cells: 3,
	Rest: []Point{
		{0.0000, 2.69997}, {0.0005, 2.72437}, {0.0010, 2.74745}, {0.0015, 2.76930}, {0.0020, 2.78998}, {0.0025, 2.80956},
		{0.0030, 2.82811}, {0.0035, 2.84570}, {0.0040, 2.86237}, {0.0045, 2.87819}, {0.0050, 2.89321}, {0.0055, 2.90747},
		{0.0060, 2.92102}, {0.0065, 2.93391}, {0.0070, 2.94617}, {0.0075, 2.95784}, {0.0080, 2.96896}, {0.0085, 2.97957},
		{0.0090, 2.98969}, {0.0095, 2.99935}, {0.0100, 3.00860}, {0.0110, 3.02591}, {0.0120, 3.04182}, {0.0130, 3.05651},
		{0.0140, 3.07013}, {0.0150, 3.08282}, {0.0160, 3.09469}, {0.0175, 3.11122}, {0.0190, 3.12648}, {0.0205, 3.14073},
		{0.0225, 3.15850}, {0.0250, 3.17927}, {0.0280, 3.20277}, {0.0320, 3.23252}, {0.0360, 3.26094}, {0.0400, 3.28798},
		{0.0435, 3.31026}, {0.0465, 3.32813}, {0.0495, 3.34470}, {0.0525, 3.35989}, {0.0555, 3.37365}, {0.0585, 3.38598},
		{0.0615, 3.39696}, {0.0645, 3.40665}, {0.0680, 3.41649}, {0.0715, 3.42493}, {0.0755, 3.43312}, {0.0800, 3.44080},
		{0.0850, 3.44783}, {0.0910, 3.45472}, {0.0985, 3.46169}, {0.1085, 3.46925}, {0.1250, 3.47971}, {0.1560, 3.49852},
		{0.1745, 3.51109}, {0.1930, 3.52518}, {0.2350, 3.55969}, {0.2510, 3.57150}, {0.2660, 3.58111}, {0.2815, 3.58953},
		{0.2995, 3.59767}, {0.3220, 3.60612}, {0.3675, 3.62076}, {0.4095, 3.63453}, {0.4410, 3.64622}, {0.4695, 3.65825},
		{0.4960, 3.67088}, {0.5220, 3.68477}, {0.5470, 3.69961}, {0.5715, 3.71563}, {0.5960, 3.73314}, {0.6205, 3.75216},
		{0.6450, 3.77267}, {0.6695, 3.79465}, {0.6950, 3.81906}, {0.7210, 3.84550}, {0.7470, 3.87342}, {0.7745, 3.90446},
		{0.8035, 3.93877}, {0.8335, 3.97581}, {0.8655, 4.01684}, {0.9010, 4.06396}, {0.9405, 4.11800}, {0.9870, 4.18327},
		{1.0000, 4.20176},
	},
	Shift:          nmcShift,
	Ohms:           ByCharge{{0, 1.16}, {0.1, 1.11}, {0.25, 1.15}, {0.5, 1}, {0.75, 1.08}, {0.9, 1.05}, {1, 1.04}},
	Cold:           nmcCold,
	SlowShare:      0.26,
	SlowSeconds:    40,
	Free:           0.5,
	Exchange:       76,
	ExchangeCold:   nmcExchange,
	Coulombic:      Always(0.995),
	NoChargeBelow:  0,
	SelfDischarge:  0.02,
	DoublesEvery:   10,
	HeatPerAmpHour: 65,
	ChargeFrom:     12.3,
	ChargeTo:       12.6,
	Life:           NMCLife,
	Lithium:        true,
}

// nmcShift is what a kelvin adds to a cell, V/K.
var nmcShift = ByCharge{
	{0.000, -225.18e-6}, {0.025, -294.79e-6}, {0.060, -406.72e-6}, {0.075, -445.18e-6}, {0.090, -469.51e-6}, {0.100, -475.81e-6},
	{0.115, -469.10e-6}, {0.130, -444.02e-6}, {0.150, -388.72e-6}, {0.195, -239.60e-6}, {0.215, -188.02e-6}, {0.235, -151.61e-6},
	{0.260, -124.50e-6}, {0.295, -107.87e-6}, {0.455, -90.52e-6}, {0.500, -86.76e-6}, {0.900, -53.35e-6}, {1.000, -45.00e-6},
}

// nmcCold is how many times its value at 25 °C the resistance is.
func nmcCold(core qty.Celsius) float64 {
	if core >= 25 {
		return 1
	}
	return arrhenius(16_400, core)
}

// nmcExchange is how many times its value at 25 °C the exchange between the
// wells is.
func nmcExchange(core qty.Celsius) float64 { return 1 / arrhenius(50_000, core) }
