package plan

import (
	"strconv"
	"time"
)

// Check returns the faults of a Plan in memory, nil if it is sound. They are
// those that [Read] finds in its document, except for Line, which is 0, and in
// the order in which [Write] writes the fields.
func Check(p Plan) Faults {
	s := newSheet()
	c := &checker{sheet: s}
	c.value(&document, &p, "")
	relate(&p, s)
	faults, _ := s.result()
	if len(faults) == 0 {
		return nil
	}
	return faults
}

// A checker walks a Plan along the table.
type checker struct {
	*sheet
	place int
}

func (c *checker) value(r *rule, target any, pointer string) {
	c.place++
	place := c.place
	c.pos[pointer] = place
	switch r.shape {
	case object:
		for i := range r.fields {
			f := &r.fields[i]
			if member := f.at(target); member != nil {
				c.value(f, member, pointer+"/"+escape(f.name))
			}
		}
	case list:
		n := r.count(target)
		for i := range min(n, int(r.limit.Max)) {
			if r.item.shape == number {
				c.number(r.item, r.entry(target, i), pointer, i)
				continue
			}
			c.value(r.item, r.entry(target, i), pointer+"/"+strconv.Itoa(i))
		}
		if f, bad := r.judgeCount(pointer, n); bad {
			c.add(place, f)
		}
	default:
		if f, bad := r.judge(pointer, target); bad {
			f.Found = foundIn(target)
			c.add(place, f)
		}
	}
}

// number checks entry i of a list of numbers. A weather file has thousands, so
// that only a bad one gets a pointer; sheet.note knows where the others stood.
func (c *checker) number(r *rule, target any, list string, i int) {
	c.place++
	if f, bad := r.judge("", target); bad {
		f.Pointer = list + "/" + strconv.Itoa(i)
		f.Found = foundIn(target)
		c.pos[f.Pointer] = c.place
		c.add(c.place, f)
	}
}

// foundIn is the short JSON text of a value in memory.
func foundIn(target any) string {
	switch v := target.(type) {
	case *float64:
		return jsonNumber(*v)
	case *int:
		return strconv.Itoa(*v)
	case *string:
		return cut(jsonText(*v))
	case *time.Time:
		return cut(jsonText(v.Format(time.RFC3339Nano)))
	}
	return ""
}
