package desk

import (
	"reflect"
	"slices"
	"strconv"
	"strings"

	"duskline/calc/plan"
)

// removed is the last entry taken out of a list.
type removed struct {
	list  string
	index int
	value reflect.Value
}

// Insert puts an entry into the list at a pointer: "/gear" takes a
// plan.Device, "/panels/list" a plan.Panel, a list of days a float64.
func (d *Desk) Insert(list string, index int, entry any) plan.Faults {
	return d.reshape(list, func(old int) int {
		if old >= index {
			return old + 1
		}
		return old
	}, func(v reflect.Value) {
		v.Set(insert(v, index, reflect.ValueOf(entry)))
	})
}

// Copy puts a copy of an entry behind it.
func (d *Desk) Copy(list string, index int) plan.Faults {
	whole := Clone(d.good)
	v, ok := find(&whole, list)
	if !ok || index < 0 || index >= v.Len() {
		return nil
	}
	return d.Insert(list, index+1, v.Index(index).Interface())
}

// Remove takes an entry out; Undo puts it back. What waits in its fields is
// gone with it.
func (d *Desk) Remove(list string, index int) plan.Faults {
	whole := Clone(d.good)
	v, ok := find(&whole, list)
	if !ok || index < 0 || index >= v.Len() {
		return nil
	}
	entry := v.Index(index)
	faults := d.reshape(list, func(old int) int {
		switch {
		case old == index:
			return -1
		case old > index:
			return old - 1
		}
		return old
	}, func(v reflect.Value) {
		v.Set(reflect.AppendSlice(v.Slice(0, index), v.Slice(index+1, v.Len())))
	})
	if faults == nil {
		d.undo = &removed{list, index, entry}
	}
	return faults
}

// Move carries an entry to another place of its list.
func (d *Desk) Move(list string, from, to int) plan.Faults {
	v, ok := find(&d.good, list)
	if !ok || from < 0 || to < 0 || from >= v.Len() || to >= v.Len() || from == to {
		return nil
	}
	return d.reshape(list, func(old int) int {
		switch {
		case old == from:
			return to
		case from < old && old <= to:
			return old - 1
		case to <= old && old < from:
			return old + 1
		}
		return old
	}, func(v reflect.Value) {
		entry := reflect.New(v.Type().Elem()).Elem()
		entry.Set(v.Index(from))
		v.Set(reflect.AppendSlice(v.Slice(0, from), v.Slice(from+1, v.Len())))
		v.Set(insert(v, to, entry))
	})
}

// Undoable returns the list and the place of the entry that Undo would bring
// back.
func (d *Desk) Undoable() (list string, index int, ok bool) {
	if d.undo == nil {
		return "", 0, false
	}
	return d.undo.list, d.undo.index, true
}

// Undo puts the entry that was removed last back where it was, or at the end
// of a list that has become shorter since.
func (d *Desk) Undo() plan.Faults {
	u := d.undo
	if u == nil {
		return nil
	}
	v, ok := find(&d.good, u.list)
	if !ok {
		return nil
	}
	faults := d.Insert(u.list, min(u.index, v.Len()), u.value.Interface())
	if faults == nil {
		d.undo = nil
	}
	return faults
}

// ForgetUndo lets go of what Undo would bring back.
func (d *Desk) ForgetUndo() { d.undo, d.serial = nil, d.serial+1 }

// reshape edits a list, and moves what waits in its fields along: to says
// where the entry at an index goes, -1 if it goes away.
func (d *Desk) reshape(list string, to func(int) int, edit func(reflect.Value)) plan.Faults {
	kept, typed := slices.Clone(d.waiting), d.typed
	d.waiting = slices.DeleteFunc(slices.Clone(kept), func(e entry) bool { return strings.HasPrefix(e.pointer, list+"/") })
	var moved []entry
	for _, e := range kept {
		if strings.HasPrefix(e.pointer, list+"/") {
			if p, ok := moveTo(e.pointer, list, to); ok {
				e.pointer = p
				moved = append(moved, e)
			}
		}
	}
	d.typed, d.runs = map[string]string{}, map[string]run{}
	faults := d.Change(func(p *plan.Plan) {
		if v, ok := find(p, list); ok {
			edit(v)
		}
	})
	if faults != nil {
		d.waiting, d.typed = kept, typed
		d.refused = entry{pointer: list, fault: faults[0]}
		d.serial++
		return faults
	}
	if len(moved) > 0 { // what is wrong with them is wrong at another place now
		d.waiting = append(d.waiting, moved...)
		d.settle()
	}
	return nil
}

// moveTo renames the index that stands in a pointer behind its list.
func moveTo(pointer, list string, to func(int) int) (string, bool) {
	rest := strings.TrimPrefix(pointer, list+"/")
	index, end, deeper := strings.Cut(rest, "/")
	i, err := strconv.Atoi(index)
	if err != nil {
		return "", false
	}
	if i = to(i); i < 0 {
		return "", false
	}
	pointer = list + "/" + strconv.Itoa(i)
	if deeper {
		pointer += "/" + end
	}
	return pointer, true
}

// insert returns the list with an entry put in. Indices outside are our own
// slip.
func insert(list reflect.Value, index int, entry reflect.Value) reflect.Value {
	longer := reflect.MakeSlice(list.Type(), 0, list.Len()+1)
	longer = reflect.AppendSlice(longer, list.Slice(0, index))
	longer = reflect.Append(longer, entry)
	return reflect.AppendSlice(longer, list.Slice(index, list.Len()))
}
