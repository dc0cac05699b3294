package desk

import (
	"reflect"
	"strconv"
	"strings"
	"time"

	"duskline/calc/plan"
)

// find follows a JSON Pointer into a Plan. The members go by the names of the
// document, so that a fault of the core and a field of the page speak of the
// same place. An optional member that is absent is found as a nil pointer.
func find(p *plan.Plan, pointer string) (reflect.Value, bool) {
	v := reflect.ValueOf(p).Elem()
	if pointer == "" {
		return v, true
	}
	steps := strings.Split(pointer, "/")
	for _, step := range steps[1:] {
		if v.Kind() == reflect.Pointer {
			if v.IsNil() {
				return v, false
			}
			v = v.Elem()
		}
		switch v.Kind() {
		case reflect.Struct:
			i := member(v.Type(), step)
			if i < 0 {
				return v, false
			}
			v = v.Field(i)
		case reflect.Slice:
			i, err := strconv.Atoi(step)
			if err != nil || i < 0 || i >= v.Len() {
				return v, false
			}
			v = v.Index(i)
		default:
			return v, false
		}
	}
	return v, true
}

// members is where the fields of each type stand, by JSON name. A page asks for
// a hundred of them at every key, and reading tags is slow.
var members = membersOf(map[reflect.Type]map[string]int{}, reflect.TypeFor[plan.Plan]())

func membersOf(all map[reflect.Type]map[string]int, t reflect.Type) map[reflect.Type]map[string]int {
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice:
		return membersOf(all, t.Elem())
	case reflect.Struct:
		if _, ok := all[t]; ok || t == reflect.TypeFor[time.Time]() {
			return all
		}
		all[t] = map[string]int{}
		for i := range t.NumField() {
			name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
			all[t][name] = i
			membersOf(all, t.Field(i).Type)
		}
	}
	return all
}

// member returns the place of the field with that JSON name, -1 if there is
// none.
func member(t reflect.Type, name string) int {
	if i, ok := members[t][name]; ok {
		return i
	}
	return -1
}

// Clone returns a Plan that shares nothing with p.
func Clone(p plan.Plan) plan.Plan {
	v := reflect.New(reflect.TypeOf(p)).Elem()
	copyInto(v, reflect.ValueOf(p))
	return v.Interface().(plan.Plan)
}

func copyInto(to, from reflect.Value) {
	switch from.Kind() {
	case reflect.Pointer:
		if !from.IsNil() {
			to.Set(reflect.New(from.Type().Elem()))
			copyInto(to.Elem(), from.Elem())
		}
	case reflect.Slice:
		if !from.IsNil() {
			to.Set(reflect.MakeSlice(from.Type(), from.Len(), from.Len()))
			if from.Type().Elem().Kind() == reflect.Float64 { // a weather file has thousands
				reflect.Copy(to, from)
				return
			}
			for i := range from.Len() {
				copyInto(to.Index(i), from.Index(i))
			}
		}
	case reflect.Struct:
		if from.Type() == reflect.TypeFor[time.Time]() {
			to.Set(from)
			return
		}
		for i := range from.NumField() {
			copyInto(to.Field(i), from.Field(i))
		}
	default:
		to.Set(from)
	}
}
