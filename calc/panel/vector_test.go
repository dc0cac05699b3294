package panel

import (
	"fmt"
	"math"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// Figures: single_diode.csv, pvlib-python 0.15.2 (see testdata/panel/README.md),
// tolerances of that README.
func TestCurveAgainstPvlibSingleDiodeVector(t *testing.T) {
	s := golden.Vectors(t, "panel", "single_diode.csv")
	il := golden.Worst{What: "light current, share", Limit: 1e-10}
	io := golden.Worst{What: "saturation current, share", Limit: 1e-10}
	rsh := golden.Worst{What: "shunt, share", Limit: 1e-10}
	a := golden.Worst{What: "slope, share", Limit: 1e-10}
	amps := golden.Worst{What: "currents, share of i_sc", Limit: 1e-8}
	voc := golden.Worst{What: "open circuit, share", Limit: 1e-8}
	pmp := golden.Worst{What: "maximum power, share", Limit: 1e-9}
	vmp := golden.Worst{What: "volts at maximum power, V", Limit: 1e-8}
	imp := golden.Worst{What: "amps at maximum power, share", Limit: 1e-8}
	back := golden.Worst{What: "volts at the current found, V", Limit: 1e-8}
	for r := range s.Len() {
		num := func(col string) float64 { return s.Num(r, col) }
		m := Module{
			Light:      qty.Ampere(num("i_l_ref_a")),
			Saturation: qty.Ampere(num("i_o_ref_a")),
			Series:     qty.Ohm(num("r_s_ohm")),
			Shunt:      qty.Ohm(num("r_sh_ref_ohm")),
			Slope:      qty.Volt(num("a_ref_v")),
			AlphaIsc:   num("alpha_sc_a_k"),
		}
		if err := m.Check(); err != nil {
			t.Fatalf("row %d: %v", r+2, err)
		}
		c := m.At(qty.Irradiance(num("irradiance_w_m2")), qty.Celsius(num("temp_cell_c")))
		il.Add(r, c.il/num("i_l_a")-1)
		io.Add(r, c.io/num("i_o_a")-1)
		rsh.Add(r, 1/c.g/num("r_sh_ohm")-1)
		a.Add(r, c.a/num("n_ns_vth_v")-1)
		isc := num("i_sc_a")
		amps.Add(r, (float64(c.ShortCircuit())-isc)/isc)
		for _, at := range []struct {
			v   qty.Volt
			col string
		}{{12.5, "i_at_12p5v_a"}, {13.3, "i_at_13p3v_a"}, {14.4, "i_at_14p4v_a"}} {
			i := c.Current(at.v)
			amps.Add(r, (float64(i)-num(at.col))/isc)
			back.Add(r, float64(c.Volts(i)-at.v))
		}
		voc.Add(r, float64(c.OpenCircuit())/num("v_oc_v")-1)
		v, i := c.MaxPower()
		pmp.Add(r, float64(v*qty.Volt(i))/num("p_mp_w")-1)
		vmp.Add(r, float64(v)-num("v_mp_v"))
		imp.Add(r, float64(i)/num("i_mp_a")-1)
	}
	for _, w := range []*golden.Worst{&il, &io, &rsh, &a, &amps, &voc, &pmp, &vmp, &imp, &back} {
		w.Report(t)
	}
}

// Figures: mismatch.csv, own solver of the reference vectors (see
// testdata/panel/README.md): bisection, a scan of 4001 points and refinement.
// Its parallel rows have no blocking diodes.
func TestArrayAgainstMismatchVector(t *testing.T) {
	s := golden.Vectors(t, "panel", "mismatch.csv")
	pmp := golden.Worst{What: "maximum power, share", Limit: 1e-7}
	vmp := golden.Worst{What: "volts at maximum power, share", Limit: 1e-4}
	imp := golden.Worst{What: "amps at maximum power, share", Limit: 1e-4}
	alone := golden.Worst{What: "sum of the panels' own maxima, share", Limit: 1e-9}
	there := golden.Worst{What: "current at the volts of maximum power, share", Limit: 1e-4}
	same := golden.Worst{What: "current asked at our own maximum, share", Limit: 1e-8}
	for r := range s.Len() {
		num := func(col string) float64 { return s.Num(r, col) }
		a := Array{Unblocked: true}
		switch s.Text(r, "topology") {
		case "parallel":
		case "series":
			a.Joined = EndToEnd
		default:
			t.Fatalf("row %d: topology %q", r+2, s.Text(r, "topology"))
		}
		sum := 0.0
		for k := range int(num("panels")) {
			of := func(name, unit string) float64 { return num(fmt.Sprintf("%s%d_%s", name, k+1, unit)) }
			c := newCurve(of("i_l", "a"), of("i_o", "a"), of("r_s", "ohm"), 1/of("r_sh", "ohm"), of("n_ns_vth", "v"))
			a.Parts = append(a.Parts, Part{Curve: c, Count: 1})
			v, i := c.MaxPower()
			sum += float64(qty.Power(v, i))
		}
		v, i := a.MaxPower()
		pmp.Add(r, float64(qty.Power(v, i))/num("p_mp_w")-1)
		vmp.Add(r, float64(v)/num("v_mp_v")-1)
		imp.Add(r, float64(i)/num("i_mp_a")-1)
		alone.Add(r, sum/num("p_mp_sum_alone_w")-1)
		there.Add(r, float64(a.Current(qty.Volt(num("v_mp_v"))))/num("i_mp_a")-1)
		same.Add(r, float64(a.Current(v)/i)-1)
	}
	for _, w := range []*golden.Worst{&pmp, &vmp, &imp, &alone, &there, &same} {
		w.Report(t)
	}
}

// Figures: fit_desoto.csv, pvlib-python 0.15.2 ivtools.sdm.fit_desoto, polished
// (see testdata/panel/README.md), tolerances of that README.
func TestFromDatasheetAgainstPvlibFitVector(t *testing.T) {
	s := golden.Vectors(t, "panel", "fit_desoto.csv")
	par := golden.Worst{What: "five parameters, share", Limit: 1e-6}
	res := golden.Worst{What: "five conditions, A", Limit: 1e-9}
	pmp := golden.Worst{What: "maximum power in five states, share", Limit: 1e-7}
	for r := range s.Len() {
		num := func(col string) float64 { return s.Num(r, col) }
		d := Datasheet{
			Isc: qty.Ampere(num("i_sc_a")), Imp: qty.Ampere(num("i_mp_a")),
			Voc: qty.Volt(num("v_oc_v")), Vmp: qty.Volt(num("v_mp_v")),
			AlphaIsc: num("alpha_sc_a_k"), BetaVoc: num("beta_voc_v_k"),
			Cells: int(num("cells_in_series")),
		}
		m, err := FromDatasheet(d)
		if err != nil {
			t.Errorf("row %d: %v", r+2, err)
			continue
		}
		par.Add(r, float64(m.Light)/num("i_l_ref_a")-1)
		par.Add(r, float64(m.Saturation)/num("i_o_ref_a")-1)
		par.Add(r, float64(m.Series)/num("r_s_ohm")-1)
		par.Add(r, float64(m.Shunt)/num("r_sh_ref_ohm")-1)
		par.Add(r, float64(m.Slope)/num("a_ref_v")-1)
		for _, e := range missed(d, m) {
			res.Add(r, e)
		}
		for _, at := range []struct {
			sun  qty.Irradiance
			cell qty.Celsius
			col  string
		}{{1000, 25, "p_mp_1000_25_w"}, {200, 25, "p_mp_200_25_w"}, {100, 25, "p_mp_100_25_w"}, {50, 15, "p_mp_50_15_w"}, {800, 45, "p_mp_800_45_w"}} {
			v, i := m.At(at.sun, at.cell).MaxPower()
			pmp.Add(r, float64(qty.Power(v, i))/num(at.col)-1)
		}
	}
	for _, w := range []*golden.Worst{&par, &res, &pmp} {
		w.Report(t)
	}
}

// missed returns by how many amps a Module misses the five conditions of a
// label, straight from the equations.
func missed(d Datasheet, m Module) [5]float64 {
	amps := func(i, v float64, m Module) float64 {
		x := v + i*float64(m.Series)
		return float64(m.Light) - float64(m.Saturation)*math.Expm1(x/float64(m.Slope)) - x/float64(m.Shunt) - i
	}
	warm := m
	grow, slope := warmth(refKelvin + 2)
	warm.Light += qty.Ampere(2 * m.AlphaIsc)
	warm.Saturation *= qty.Ampere(grow)
	warm.Slope *= qty.Volt(slope)
	x := float64(d.Vmp) + float64(d.Imp)*float64(m.Series)
	g := float64(m.Saturation)/float64(m.Slope)*math.Exp(x/float64(m.Slope)) + 1/float64(m.Shunt)
	return [5]float64{
		amps(float64(d.Isc), 0, m),
		amps(0, float64(d.Voc), m),
		amps(float64(d.Imp), float64(d.Vmp), m),
		float64(d.Imp) - g*(float64(d.Vmp)-float64(d.Imp)*float64(m.Series)),
		amps(0, float64(d.Voc)+2*d.BetaVoc, warm),
	}
}
