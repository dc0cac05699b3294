package words

import (
	"strconv"
	"strings"

	"duskline/calc/plan"
)

// Fault says what is wrong at a field, to stand beside it: "Must be between
// 30 W and 5 000 W, or 0." It does not name the field; FaultLine does.
func Fault(f plan.Fault) string {
	least, most := limit(f.Min, f.Unit), limit(f.Max, f.Unit)
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
	case plan.NotBelow, plan.NotDivided:
		return T(key, most, FieldName(f.Other))
	case plan.NotOne:
		return T(key, options(f.Allowed, func(s string) string { return FieldName(f.Pointer + "/" + s) }))
	case plan.OnlyWith:
		return T(key, FieldName(f.Other))
	case plan.WrongOffset, plan.NotNear:
		return T(key, most, FieldName(f.Other))
	case plan.NotPhysical, plan.NeverRests, plan.StandbyTooBig, plan.TooBright:
		return T(key, most)
	case plan.StartsLate:
		return T(key, most) + " " + T("fault.file_again")
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

// limit words the end of a range. Units that are no quantity (characters,
// entries) are in the sentence already.
func limit(v float64, unit string) string {
	switch unit {
	case "characters", "entries", "per day":
		unit = ""
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
