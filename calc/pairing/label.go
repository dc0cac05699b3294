package pairing

import (
	"math"

	"duskline/calc/daylight"
	"duskline/calc/panel"
	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
	"duskline/calc/wire"
)

// What the labels say, without a simulation: full sun, and the cells at 25 °C
// or as cold as the trip's air gets.

// fullSun is the light of a label, W/m².
const fullSun qty.Irradiance = 1000

// standard is the heat of a label, °C.
const standard qty.Celsius = 25

// arrayOf returns the joined panels in full sun, each with its cells at the
// heat that cell says.
func arrayOf(s *daylight.Spec, cell func(p *daylight.Panel) qty.Celsius) panel.Array {
	a := panel.Array{Joined: s.Joined, Drop: s.Drop, Series: s.Series}
	for i := range s.Panels {
		p := &s.Panels[i]
		a.Parts = append(a.Parts, panel.Part{Curve: p.Module.At(fullSun, cell(p)), Count: p.Count, String: p.String})
	}
	return a
}

// all25 is the heat of labels.
func all25(*daylight.Panel) qty.Celsius { return standard }

// inCold is the heat of a panel's cells at the trip's coldest dawn.
func (t *trial) inCold(*daylight.Panel) qty.Celsius { return t.coldest }

// inHeat returns the heat of a panel's cells in full sun, in the trip's warmest
// air.
func (t *trial) inHeat(p *daylight.Panel) qty.Celsius {
	mount := p.Mount
	if mount == (panel.Mount{}) {
		mount = panel.OpenRack
	}
	return mount.Cell(t.hottest, fullSun, qty.MetrePerSecond(t.p.Sky.WindMs))
}

// label fills what the labels say of a rung.
//
// The coldest volts are those of panels as cold as the air at the trip's
// coldest dawn, in full light: the first bright minute after a clear night,
// before the sun warms them.
func (t *trial) label(r *Rung, s *daylight.Spec) {
	std := arrayOf(s, all25)
	cold := arrayOf(s, t.inCold)
	hot := arrayOf(s, t.inHeat)
	r.ColdV, r.LimitV = float64(cold.OpenCircuit()), float64(t.control.InputMax)
	std.Series = 0 // what the cable takes is no fault of the panels
	v, _ := std.MaxPower()
	r.WorkV = float64(v)
	r.NeedV = float64(qty.Volt(t.p.Case.Battery.ChargeV) + over(t.control.Kind))
	r.OpenV = float64(hot.OpenCircuit())
	r.LeastV = math.Max(float64(t.half()+over(t.control.Kind)), t.p.Case.Controller.StartV)
	offer := t.control.Offer(&hot)
	r.Charges = offer.Amps(t.half()) > 0
	r.RatingA, r.LimitA = float64(power.RatingFor(std.ShortCircuit())), float64(t.control.Limit)
	for k := range std.Parts {
		p := &std.Parts[k]
		vk, ik := p.Curve.MaxPower()
		r.SumW += float64(p.Count) * float64(qty.Power(vk, ik))
	}
	bare := std
	bare.Drop = 0 // what diodes take is no mismatch
	if v, i := bare.MaxPower(); r.SumW-float64(qty.Power(v, i)) > 1e-6*r.SumW {
		r.MismatchW = r.SumW - float64(qty.Power(v, i))
	}
	t.fuses(r, s, &std)
}

// half is what the battery shows at rest, half full.
func (t *trial) half() qty.Volt { return t.battery.Rest(0.5) }

// over is what panels must show above the battery for a controller to charge.
func over(kind power.Kind) qty.Volt {
	if kind == power.MPPT {
		return power.Headroom
	}
	return power.SwitchDrop
}

// LeastVolts returns the volts that panels must show, open circuit, for
// anything to reach a Case's battery that is half full: those of the battery
// at rest with what its controller takes. What the controller starts at is a
// mark of its own.
//
// Errors: those of [plan.Battery.Model], none for a checked Plan.
func LeastVolts(c plan.Case) (qty.Volt, error) {
	b, err := c.Battery.Model()
	if err != nil {
		return 0, err
	}
	return b.Rest(0.5) + over(c.Controller.Model().Kind), nil
}

// Fusing is what strings side by side ask of their fuses.
type Fusing struct {
	Strings int
	Back    qty.Ampere // most that all others could drive through one that has failed
	Need    bool       // each needs a fuse
	Least   qty.Ampere // that the fuse must be rated for
	Label   qty.Ampere // least series fuse that a label allows; 0: none says
}

// Fuses says whether the strings of a plan's panels need fuses: whether all the
// others could drive more through one that has failed than its label allows.
// Where a label is not known, three strings or more do: common practice, no
// source.
//
// Blocking diodes count for nothing here, because they fail short.
//
// Errors: those of [plan.Plan.Daylight], none for a checked Plan.
//
// Source: NFPA70, articles 690.8 and 690.9, as calc/wire has them.
func Fuses(p plan.Plan) (Fusing, error) {
	s, err := p.Daylight()
	if err != nil {
		return Fusing{}, err
	}
	std := arrayOf(&s, all25)
	return fusing(stringsOf(p.Panels.List, &s, &std)), nil
}

func fusing(list []line) Fusing {
	f := Fusing{Strings: len(list)}
	sum, most := 0.0, 0.0
	for _, k := range list {
		sum += k.amps
		most = math.Max(most, k.amps)
	}
	f.Least = wire.PanelFuse(qty.Ampere(most))
	for _, k := range list {
		back := wire.PanelCurrent(qty.Ampere(sum - k.amps))
		f.Back = max(f.Back, back)
		label := qty.Ampere(k.label)
		if label <= 0 {
			f.Need = f.Need || len(list) >= 3
			continue
		}
		f.Need = f.Need || back > label
		if f.Label == 0 || label < f.Label {
			f.Label = label
		}
	}
	return f
}

// fuses fills what a rung says of them.
func (t *trial) fuses(r *Rung, s *daylight.Spec, std *panel.Array) {
	f := fusing(stringsOf(r.Panels.List, s, std))
	r.Strings, r.BackA, r.Fuse = f.Strings, float64(f.Back), f.Need
	if size, ok := wire.Cartridge.Next(f.Least); r.Fuse && ok && (f.Label == 0 || size <= f.Label) {
		r.FuseA = float64(size)
	}
}

// A line is one string: its short-circuit amps and the least series fuse of
// its labels, 0 if one of them is not known.
type line struct{ amps, label float64 }

// stringsOf returns the strings of joined panels.
func stringsOf(panels []plan.Panel, s *daylight.Spec, std *panel.Array) []line {
	var list []line
	at := map[int]int{}
	for k := range std.Parts {
		p := &std.Parts[k]
		one := line{float64(p.Curve.ShortCircuit()), panels[k].SeriesFuseA}
		if s.Joined == panel.SideBySide {
			for range p.Count {
				list = append(list, one)
			}
			continue
		}
		number := 0
		if s.Joined == panel.Strings {
			number = p.String
		}
		i, seen := at[number]
		if !seen {
			at[number] = len(list)
			list = append(list, one)
			continue
		}
		list[i].amps = math.Max(list[i].amps, one.amps)
		list[i].label = math.Min(list[i].label, one.label)
	}
	return list
}
