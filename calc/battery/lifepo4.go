package battery

import "duskline/calc/qty"

// LiFePO4 is lithium iron phosphate against graphite, four cells.
//
// Rest: points of the published formula for one 2 Ah cell at 25 °C, so close
// that the straight lines between them stay within 0.13 mV of it a cell; both
// ends are steep, hence the fine points there. Another honest cell model lies
// 12 mV away at mid charge: the energy is right, a charge read from volts on
// the plateau is not.
// Source: Bpx2022, open-circuit functions and stoichiometry.
//
// Swing, SwingRate: a full cell rests some 20 mV higher after charging than
// after discharging, and pages of the trade say 5 to 25; half of 16 is taken.
// That a twentieth of the charge brings it 63 % of the way is our own estimate.
// Source: Dreyer2010, the gap of 20 mV.
// Source: CommonPractice.
//
// Shift: the entropy terms of both electrodes over their stoichiometry, rows
// so close that lines between them stay within 0.003 mV/K.
// Source: Bpx2022, entropic change coefficients.
//
// Ohms: flat over the plateau, half as much again at empty. SlowShare,
// SlowSeconds: a quarter more than the volts drop at once comes within some
// minutes; the wells bring what comes later.
// Source: CommonPractice.
//
// Cold: two fifths of the resistance are wires, switches and joints, which the
// cold leaves as they are (an estimate); the rest follows Arrhenius with 30
// kJ/mol, the figure of the same file for diffusion in graphite. Its others go
// from 17.1 (electrolyte) to 80 kJ/mol. Together 2.2 times at 0 °C, 5.6 times
// at -20 °C. Above 25 °C the factor stays 1.
// Source: Bpx2022, activation energies.
//
// Free, Exchange: what diffusion into a sphere of radius r leaves behind is a
// 1/(15 D/r²) of the rate, and so much lag have two wells of equal size with
// k' = 15 D/r². The file's particles give 14.8 /h (positive) and 22.5 /h
// (graphite); 22 stands nearer to what cells give at an hour's rate, 96 %.
// Source: Bpx2022, particle radii and diffusivities.
//
// ExchangeCold: Arrhenius with 60 kJ/mol. Alone the file's 30 (graphite) would
// leave nearly all in the cold and its 80 (positive) next to nothing but the
// free well; 60 between them is our own fit to 0.8, 0.7, 0.5 to 0.6 of the
// amp-hours at 0, -10, -20 °C and a moderate rate, which are from memory.
// Source: LiFePO4Cold.
//
// HeatPerAmpHour: 20 g for each amp-hour of a cell at 1.1 kJ/(kg·K), a seventh
// more for bars and case. The file's cell, which is in no can, would have 66;
// it calls its thermal figures estimated.
// Source: Bpx2022, specific heat capacity.
// Source: CommonPractice, for the weight.
//
// Coulombic 99.5 %; no charging below 0 °C (lithium plating); ChargeFrom,
// ChargeTo; SelfDischarge 2 % a month with the electronics on the cells, twice
// that for 10 K more.
// Source: CommonPractice.
var LiFePO4 = Chemistry{
	Name:  "LiFePO4",
	Cells: 4,
	Rest: []Point{
		{0.0000, 1.99999}, {0.0001, 2.02920}, {0.0002, 2.05744}, {0.0003, 2.08473}, {0.0004, 2.11112}, {0.0005, 2.13662},
		{0.0006, 2.16126}, {0.0007, 2.18507}, {0.0008, 2.20808}, {0.0009, 2.23031}, {0.0010, 2.25179}, {0.0011, 2.27254},
		{0.0012, 2.29258}, {0.0013, 2.31194}, {0.0014, 2.33064}, {0.0015, 2.34870}, {0.0016, 2.36613}, {0.0017, 2.38297},
		{0.0018, 2.39923}, {0.0019, 2.41492}, {0.0020, 2.43008}, {0.0021, 2.44471}, {0.0022, 2.45883}, {0.0023, 2.47246},
		{0.0024, 2.48562}, {0.0025, 2.49832}, {0.0026, 2.51057}, {0.0027, 2.52240}, {0.0028, 2.53382}, {0.0029, 2.54484},
		{0.0030, 2.55547}, {0.0031, 2.56573}, {0.0032, 2.57563}, {0.0033, 2.58519}, {0.0034, 2.59440}, {0.0035, 2.60330},
		{0.0036, 2.61189}, {0.0037, 2.62017}, {0.0038, 2.62817}, {0.0039, 2.63588}, {0.0040, 2.64333}, {0.0041, 2.65052},
		{0.0042, 2.65745}, {0.0043, 2.66415}, {0.0044, 2.67061}, {0.0045, 2.67685}, {0.0046, 2.68287}, {0.0047, 2.68869},
		{0.0049, 2.69972}, {0.0051, 2.71002}, {0.0053, 2.71963}, {0.0055, 2.72861}, {0.0057, 2.73699}, {0.0059, 2.74484},
		{0.0061, 2.75219}, {0.0063, 2.75907}, {0.0065, 2.76553}, {0.0067, 2.77160}, {0.0070, 2.78004}, {0.0073, 2.78777},
		{0.0076, 2.79488}, {0.0079, 2.80144}, {0.0083, 2.80945}, {0.0087, 2.81675}, {0.0091, 2.82347}, {0.0096, 2.83121},
		{0.0102, 2.83973}, {0.0107, 2.84635}, {0.0112, 2.85265}, {0.0118, 2.85989}, {0.0126, 2.86917}, {0.0136, 2.88041},
		{0.0151, 2.89683}, {0.0168, 2.91507}, {0.0183, 2.93083}, {0.0196, 2.94417}, {0.0209, 2.95714}, {0.0221, 2.96874},
		{0.0233, 2.97995}, {0.0244, 2.98988}, {0.0256, 3.00032}, {0.0268, 3.01035}, {0.0280, 3.01998}, {0.0292, 3.02922},
		{0.0304, 3.03807}, {0.0316, 3.04655}, {0.0328, 3.05467}, {0.0341, 3.06308}, {0.0354, 3.07108}, {0.0367, 3.07869},
		{0.0380, 3.08593}, {0.0393, 3.09280}, {0.0406, 3.09931}, {0.0419, 3.10546}, {0.0433, 3.11172}, {0.0447, 3.11758},
		{0.0461, 3.12308}, {0.0476, 3.12857}, {0.0491, 3.13367}, {0.0507, 3.13869}, {0.0523, 3.14330}, {0.0539, 3.14753},
		{0.0555, 3.15140}, {0.0572, 3.15515}, {0.0590, 3.15872}, {0.0608, 3.16194}, {0.0628, 3.16513}, {0.0649, 3.16808},
		{0.0672, 3.17090}, {0.0696, 3.17344}, {0.0721, 3.17572}, {0.0750, 3.17796}, {0.0782, 3.18002}, {0.0819, 3.18199},
		{0.0864, 3.18393}, {0.0921, 3.18591}, {0.1004, 3.18828}, {0.1190, 3.19319}, {0.1291, 3.19621}, {0.1385, 3.19942},
		{0.1474, 3.20285}, {0.1564, 3.20671}, {0.1658, 3.21116}, {0.1758, 3.21627}, {0.1898, 3.22391}, {0.2118, 3.23615},
		{0.2233, 3.24219}, {0.2330, 3.24691}, {0.2419, 3.25086}, {0.2507, 3.25439}, {0.2596, 3.25755}, {0.2688, 3.26041},
		{0.2783, 3.26294}, {0.2883, 3.26519}, {0.2990, 3.26719}, {0.3108, 3.26897}, {0.3239, 3.27053}, {0.3387, 3.27189},
		{0.3572, 3.27314}, {0.3806, 3.27426}, {0.4151, 3.27542}, {0.4808, 3.27734}, {0.5112, 3.27856}, {0.5349, 3.27987},
		{0.5547, 3.28132}, {0.5724, 3.28297}, {0.5894, 3.28495}, {0.6059, 3.28727}, {0.6227, 3.29005}, {0.6412, 3.29354},
		{0.6701, 3.29953}, {0.6956, 3.30479}, {0.7134, 3.30813}, {0.7301, 3.31087}, {0.7464, 3.31315}, {0.7632, 3.31509},
		{0.7811, 3.31676}, {0.8017, 3.31824}, {0.8253, 3.31950}, {0.8540, 3.32060}, {0.8928, 3.32163}, {0.9532, 3.32274},
		{0.9758, 3.32317}, {0.9800, 3.32350}, {0.9825, 3.32401}, {0.9842, 3.32469}, {0.9855, 3.32553}, {0.9866, 3.32660},
		{0.9875, 3.32782}, {0.9882, 3.32905}, {0.9889, 3.33063}, {0.9895, 3.33231}, {0.9900, 3.33399}, {0.9907, 3.33689},
		{0.9913, 3.33998}, {0.9919, 3.34378}, {0.9924, 3.34760}, {0.9929, 3.35212}, {0.9933, 3.35634}, {0.9937, 3.36118},
		{0.9941, 3.36672}, {0.9944, 3.37140}, {0.9947, 3.37659}, {0.9950, 3.38233}, {0.9953, 3.38870}, {0.9956, 3.39575},
		{0.9958, 3.40086}, {0.9960, 3.40634}, {0.9962, 3.41221}, {0.9964, 3.41849}, {0.9966, 3.42521}, {0.9968, 3.43241},
		{0.9970, 3.44012}, {0.9972, 3.44837}, {0.9974, 3.45721}, {0.9976, 3.46667}, {0.9978, 3.47680}, {0.9980, 3.48764},
		{0.9982, 3.49925}, {0.9983, 3.50536}, {0.9984, 3.51168}, {0.9985, 3.51822}, {0.9986, 3.52499}, {0.9987, 3.53200},
		{0.9988, 3.53924}, {0.9989, 3.54674}, {0.9990, 3.55450}, {0.9991, 3.56253}, {0.9992, 3.57083}, {0.9993, 3.57943},
		{0.9994, 3.58832}, {0.9995, 3.59753}, {0.9996, 3.60705}, {0.9997, 3.61690}, {0.9998, 3.62710}, {0.9999, 3.63765},
		{1.0000, 3.64856},
	},
	Swing:          0.008,
	SwingRate:      20,
	Shift:          lithiumIronShift,
	Ohms:           ByCharge{{0, 1.5}, {0.05, 1.25}, {0.1, 1.1}, {0.2, 1}, {0.9, 1}, {1, 1.1}},
	Cold:           lithiumIronCold,
	SlowShare:      0.25,
	SlowSeconds:    60,
	Free:           0.5,
	Exchange:       22,
	ExchangeCold:   lithiumIronExchange,
	Coulombic:      Always(0.995),
	NoChargeBelow:  0,
	SelfDischarge:  0.02,
	DoublesEvery:   10,
	HeatPerAmpHour: 100,
	ChargeFrom:     14.2,
	ChargeTo:       14.6,
	Life:           LiFePO4Life,
	Lithium:        true,
}

// lithiumIronCold is how many times its value at 25 °C the resistance of cells
// and wires together is.
func lithiumIronCold(core qty.Celsius) float64 {
	const wires = 0.4
	if core >= 25 {
		return 1
	}
	return wires + (1-wires)*arrhenius(30_000, core)
}

// lithiumIronShift is what a kelvin adds to a cell, V/K.
var lithiumIronShift = ByCharge{
	{0.000, -223.62e-6}, {0.015, -263.98e-6}, {0.045, -368.28e-6}, {0.065, -435.54e-6}, {0.080, -471.52e-6}, {0.090, -484.97e-6},
	{0.100, -488.48e-6}, {0.110, -481.67e-6}, {0.120, -464.77e-6}, {0.135, -423.39e-6}, {0.185, -240.53e-6}, {0.205, -183.33e-6},
	{0.225, -144.09e-6}, {0.250, -114.63e-6}, {0.290, -91.91e-6}, {0.445, -51.10e-6}, {0.500, -38.62e-6}, {0.890, 63.31e-6},
	{0.900, 66.69e-6}, {1.000, 102.37e-6},
}

// lithiumIronExchange is how many times its value at 25 °C the exchange
// between the wells is.
func lithiumIronExchange(core qty.Celsius) float64 { return 1 / arrhenius(60_000, core) }
