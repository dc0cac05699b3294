package words

import (
	"math"
	"strconv"
	"strings"

	"duskline/calc/plan"
)

// Fault says what is wrong at a field, to stand beside it, and why if that
// helps: "Must be between 30 W and 5 000 W, or 0." It does not name the field;
// FaultLine does.
func Fault(f plan.Fault) string {
	text := fault(f)
	switch f.Kind {
	case plan.OutOfRange, plan.NotAbove, plan.NotBelow:
		path, _ := fieldPath(f.Pointer)
		if why := "fault_why." + path; Has(why) {
			text += " " + T(why)
		}
	}
	return text
}

func fault(f plan.Fault) string {
	// Both ends are rounded inwards, so that what is told is taken.
	least, most := limit(inward(f.Min, math.Ceil), f.Unit), limit(inward(f.Max, math.Floor), f.Unit)
	key := "fault." + string(f.Kind)
	switch f.Kind {
	case plan.Missing:
		if f.Pointer == "/sky/weather_file" && f.Line == 0 { // chosen on the page, where it is taken
			return T("fault.no_file")
		}
	case plan.TooBig:
		return T(key, Amount(f.Max/1024, 0, "KiB"))
	case plan.Syntax:
		if f.Found == "" {
			return T("fault.broken_off")
		}
		return T(key)
	case plan.TooDeep:
		return T(key, Plain(f.Max, ""))
	case plan.Newer:
		return T(key, f.Found)
	case plan.WrongType:
		return T(key, options(f.Allowed, func(s string) string { return T("type." + s) }))
	case plan.OutOfRange:
		switch {
		case len(f.Allowed) > 0:
			return T("fault.out_of_range_or", least, most, options(f.Allowed, verbatim))
		case f.Other != "" && f.Min == f.Max:
			return T("fault.out_of_range_is", most, FieldName(f.Other))
		case f.Other != "":
			return T("fault.out_of_range_by", least, most, FieldName(f.Other))
		}
		return T(key, least, most)
	case plan.NotWhole:
		return T(key, least, most)
	case plan.BadWord:
		return T(key, options(f.Allowed, verbatim))
	case plan.BadLength, plan.BadCount:
		least, most = Plain(f.Min, ""), Plain(f.Max, "")
		switch {
		case f.Other == "/trip/length_h":
			return T("fault.file_ends") + " " + T("fault.file_again")
		case f.Other != "" && f.Min == f.Max:
			return T("fault.bad_count_other", most, FieldName(f.Other))
		case f.Other != "":
			return T("fault.bad_count_by", least, most, FieldName(f.Other))
		case len(f.Allowed) > 0:
			return T("fault.bad_count_or", most, options(f.Allowed, verbatim))
		case f.Min == 0:
			return T(key+"_most", most)
		}
		return T(key, least, most)
	case plan.BadDate:
		return T(key, strconv.Itoa(int(f.Min)), strconv.Itoa(int(f.Max)), options(f.Allowed, verbatim))
	case plan.NotAbove:
		return T(key, least, FieldName(f.Other))
	case plan.NeverFull:
		return T(key, least)
	case plan.OutOfBand:
		if len(f.Allowed) == 2 {
			return T(key, least, most, volts(f.Allowed[0], f.Unit), volts(f.Allowed[1], f.Unit))
		}
		return T("fault.out_of_range", least, most)
	case plan.NotRising:
		return T(key, Plain(f.Max, ""), limit(f.Min, f.Unit))
	case plan.WornOut:
		if f.Max <= 0 {
			return T("fault.worn_out_none")
		}
		return T(key, most)
	case plan.NotBelow, plan.NotDivided:
		return T(key, most, FieldName(f.Other))
	case plan.NotOne:
		return T(key, options(f.Allowed, func(s string) string { return FieldName(f.Pointer + "/" + s) }))
	case plan.OnlyWith:
		if f.Found == "" && len(f.Allowed) > 0 { // a word of the other field
			return T("fault.only_with_word", FieldName(f.Other), options(f.Allowed, verbatim))
		}
		return T(key, FieldName(f.Other))
	case plan.WrongOffset, plan.NotNear:
		return T(key, most, FieldName(f.Other))
	case plan.NotPhysical, plan.NeverRests, plan.StandbyTooBig, plan.TooBright:
		return T(key, most)
	case plan.StartsLate:
		return T(key, most) + " " + T("fault.file_again")
	case plan.NoCurve:
		switch {
		case f.Max == 0 && f.Min == 0:
		case strings.HasSuffix(f.Pointer, "/cells"):
			return T("fault.no_curve_cells", least, most)
		case strings.HasSuffix(f.Pointer, "/datasheet"):
			return T("fault.no_curve_watts", most)
		case least == most || f.Min == f.Max:
			return T("fault.no_curve_is", limit(f.Min, f.Unit))
		default:
			return T("fault.no_curve_by", least, most)
		}
	case plan.ModelRefuses:
		if f.Min != f.Max {
			return T("fault.out_of_range", least, most)
		}
	}
	return T(key)
}

// FaultLine says the same away from the field: which field of what, in which
// line of the document if it was read from one, what is wrong, what was found.
func FaultLine(f plan.Fault) string {
	line := T("fault.at", FieldPlace(f.Pointer), Fault(f))
	if f.Line > 0 {
		line = T("fault.in_line", f.Line, line)
	}
	switch f.Kind {
	case plan.Newer, plan.TooBig:
		return line
	}
	if f.Found != "" {
		line += " " + T("fault.found", f.Found)
	}
	return line
}

// inward rounds the end of a range to the digits that Plain shows. A figure
// that has no more of them stays.
func inward(v float64, round func(float64) float64) float64 {
	scale := 1.0
	if a := math.Abs(v); a > 0 && a < 1000 {
		scale = math.Pow10(min(3-int(math.Floor(math.Log10(a))), 6))
	}
	if math.Abs(math.Round(v*scale)-v*scale) <= 1e-6 {
		return v
	}
	return round(v*scale) / scale
}

// limit words the end of a range. Units that are no quantity (characters,
// entries) are in the sentence already.
func limit(v float64, unit string) string {
	switch unit {
	case "characters", "entries", "per day":
		unit = ""
	case "years":
		unit = T("unit.years")
	case "cycles":
		unit = T("unit.cycles")
	case "per year":
		unit = T("unit.per_year")
	}
	return Plain(v, unit)
}

// options lists choices: "A, B or C".
func options(list []string, word func(string) string) string {
	var names []string
	for _, s := range list {
		names = append(names, word(s))
	}
	if n := len(names); n > 1 {
		return T("list.or", strings.Join(names[:n-1], ", "), names[n-1])
	}
	return strings.Join(names, "")
}

func verbatim(s string) string { return s }

// volts words a figure that stands as text.
func volts(text, unit string) string {
	if v, ok := Number(text); ok {
		return Plain(v, unit)
	}
	return text
}
