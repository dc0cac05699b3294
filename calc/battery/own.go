package battery

import (
	"strconv"

	"duskline/calc/qty"
)

// An Own is a chemistry that has no name here, as its user measured it.
type Own struct {
	// Rest is the volts of the whole battery at rest, 25 °C, 2 to 41 rows, the
	// first at charge 0 and the last at 1, charge and volts both rising from
	// row to row; volts 5 to 20.
	Rest []Point

	Coulombic   qty.Fraction // of the amp-hours put in, those that come out again, 0.5 to 1
	AcceptHours float64      // it takes at most the missing amp-hours divided by it, 0 to 24 h; 0: any amps
	Swing       qty.Volt     // whole battery: rests so much higher after charging and lower after discharging, 0 to 0.5
	CyclesTo80  float64      // cycles of 80 % depth until 80 % of the amp-hours are left, 10 to 20,000
	Lithium     bool         // no charge in frost, no charge volts that follow the temperature
}

// A RowError is a row of an own table that does not fit: counted from 0, with
// what is wrong with it.
type RowError struct {
	Row   int
	Falls bool // it does not rise from the row before
	*qty.RangeError
}

// Error says which row, counted from 1 as people do, and what is wrong.
func (e *RowError) Error() string {
	row := "row " + strconv.Itoa(e.Row+1) + ": "
	if e.Falls {
		return row + e.What + " " + strconv.FormatFloat(e.Got, 'g', 6, 64) + " does not rise from the row before"
	}
	return row + e.RangeError.Error()
}

// Unwrap gives the range error of the row.
func (e *RowError) Unwrap() error { return e.RangeError }

// OwnTable returns a chemistry of its own: one cell whose rest volts are the
// table's. What the table does not say is that of the nearest chemistry:
// LiFePO4's for Lithium, AGM's else. Its freezing point is not known.
//
// Errors: *RowError for a row that does not rise, or whose volts are beyond 5
// to 20; *qty.RangeError for everything else.
//
// Source: CommonPractice, that the nearest chemistry serves.
func OwnTable(o Own) (Chemistry, error) {
	if err := qty.InRange("rows", float64(len(o.Rest)), 2, 41, "rows"); err != nil {
		return Chemistry{}, err
	}
	const step = 1e-4 // of charge and of volts: the least that rises
	for k, p := range o.Rest {
		charge, volts := [2]float64{0, 0}, [2]float64{5, 20}
		switch {
		case k == len(o.Rest)-1:
			charge = [2]float64{1, 1}
		case k > 0:
			charge = [2]float64{float64(o.Rest[k-1].Charge) + step, 1 - step}
		}
		if k > 0 {
			volts[0] = float64(o.Rest[k-1].Volts) + step
		}
		before := Point{-1, -1}
		if k > 0 {
			before = o.Rest[k-1]
		}
		if err := rowInRange(k, "charge", float64(p.Charge), float64(before.Charge), charge, ""); err != nil {
			return Chemistry{}, err
		}
		if err := rowInRange(k, "volts", float64(p.Volts), float64(before.Volts), volts, "V"); err != nil {
			return Chemistry{}, err
		}
	}
	if err := qty.InRange("coulombic", float64(o.Coulombic), 0.5, 1, ""); err != nil {
		return Chemistry{}, err
	}
	if err := qty.InRange("accept hours", o.AcceptHours, 0, 24, "h"); err != nil {
		return Chemistry{}, err
	}
	if err := qty.InRange("swing", float64(o.Swing), 0, 0.5, "V"); err != nil {
		return Chemistry{}, err
	}
	if err := qty.InRange("cycles to 80 %", o.CyclesTo80, 10, 20_000, "cycles"); err != nil {
		return Chemistry{}, err
	}
	c := AGM
	c.Vents = 0
	if o.Lithium {
		c = LiFePO4
	}
	last := len(o.Rest) - 1
	c.Name, c.Cells = "own", 1
	c.Rest = append([]Point(nil), o.Rest...)
	c.Coulombic = Always(float64(o.Coulombic))
	c.AcceptHours = o.AcceptHours
	c.Swing = o.Swing
	if c.Swing > 0 && c.SwingRate == 0 {
		c.SwingRate = LiFePO4.SwingRate
	}
	c.Shift, c.Lift = nil, nil
	if !o.Lithium { // one cell that stands for six
		for _, row := range leadAcidLift {
			c.Lift = append(c.Lift, Row{row.Charge, row.Value * float64(AGM.Cells)})
		}
	}
	c.Freezing = nil
	c.Life = OwnLife(o.CyclesTo80, o.Lithium)
	c.ChargeFrom, c.ChargeTo = o.Rest[last].Volts, o.Rest[last].Volts
	return c, nil
}

// rowInRange is qty.InRange for a row of a table.
func rowInRange(row int, what string, got, before float64, span [2]float64, unit string) error {
	err, _ := qty.InRange(what, got, span[0], span[1], unit).(*qty.RangeError)
	if err == nil {
		return nil
	}
	return &RowError{row, got <= before, err}
}
