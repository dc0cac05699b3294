package plan

import "time"

// A rule says what one value of a document may be and which member of the Go
// types holds it. The rules hang together as a tree, which [Read], [Check]
// and [LimitOf] all walk: a limit stands in one place only.
//
// There is no reflection: each rule is bound to its member by a small
// function, so that a wrong binding does not compile.
type rule struct {
	name     string // of the member; "" for the entries of a list
	shape    shape
	optional bool     // may be absent
	since    int      // document version that brought it; 0: the first
	before   any      // what it is in a document before that: string, float64 or int; a list is empty
	limit    Limit    // number, integer: the value; text: characters; list: entries
	choices  []string // word: all there are; integer: likewise, if not every figure in the limit will do
	early    int      // word: so many of the choices are older than version widen
	widen    int      // version that brought the others; 0: all are of the field's own
	lines    bool     // text: line breaks are allowed
	zone     bool     // text: what a time zone's name may have

	// at returns a pointer to the member of the parent: *float64, *int,
	// *string, *bool, *time.Time, a pointer to the struct, or nil if an
	// optional one is absent. give does the same but makes what is absent.
	at, give func(parent any) any

	fields []rule // of an object

	// Of a list, whose entries follow the rule item. list is what at returns.
	item  *rule
	count func(list any) int
	entry func(list any, i int) any // pointer to entry i
	grow  func(list any) any        // appends an entry and returns a pointer to it
	clear func(list any)            // makes it empty, not nil
}

type shape uint8

const (
	object shape = iota
	list
	number
	integer
	text
	word
	flag
	date
)

// jsonType is what WrongType says was wanted.
var jsonType = [...]string{"object", "array", "number", "integer", "string", "string", "boolean", "string"}

// in is a limit of a number: its range and unit, and what one press of a
// stepper in the app changes, shown with so many decimals.
func in(min, max float64, unit string, step float64, decimals int) Limit {
	return Limit{Min: min, Max: max, Unit: unit, Step: step, Decimals: decimals}
}

// The functions below are generic over pointer types and not over what they
// point to: Go compiles one instance for all pointers, and one for each struct
// otherwise. That is 250 kB of program, 8 kB on the way to a phone.

func num[P any](name string, l Limit, at func(P) *float64) rule {
	return bind(rule{name: name, shape: number, limit: l}, at)
}

// optNum is a number that may be absent.
func optNum[P any](name string, l Limit, at func(P) **float64) rule {
	r := rule{name: name, shape: number, limit: l, optional: true}
	r.at = func(parent any) any {
		if p := *at(parent.(P)); p != nil {
			return p
		}
		return nil
	}
	r.give = func(parent any) any {
		p := at(parent.(P))
		*p = new(float64)
		return *p
	}
	return r
}

func whole[P any](name string, l Limit, at func(P) *int, choices ...string) rule {
	return bind(rule{name: name, shape: integer, limit: l, choices: choices}, at)
}

// str is a text of min to max characters on one line.
func str[P any](name string, min, max float64, at func(P) *string) rule {
	return bind(rule{name: name, shape: text, limit: Limit{Min: min, Max: max, Unit: characters}}, at)
}

func choice[P any](name string, at func(P) *string, words ...string) rule {
	return bind(rule{name: name, shape: word, choices: words}, at)
}

func yesNo[P any](name string, at func(P) *bool) rule {
	return bind(rule{name: name, shape: flag}, at)
}

func instant[P any](name string, at func(P) *time.Time) rule {
	return bind(rule{name: name, shape: date}, at)
}

func sub[P, M any](name string, at func(P) M, fields []rule) rule {
	return bind(rule{name: name, shape: object, fields: fields}, at)
}

// optSub is an object that may be absent.
func optSub[P, M any](name string, at func(P) **M, fields []rule) rule {
	r := rule{name: name, shape: object, fields: fields, optional: true}
	r.at = func(parent any) any {
		if p := *at(parent.(P)); p != nil {
			return p
		}
		return nil
	}
	r.give = func(parent any) any {
		p := at(parent.(P))
		*p = new(M)
		return *p
	}
	return r
}

// some is a list of min to max entries.
func some[P, E any](name string, min, max float64, at func(P) *[]E, item rule) rule {
	r := bind(rule{name: name, shape: list, limit: Limit{Min: min, Max: max, Unit: entries}}, at)
	r.item = &item
	r.count = func(list any) int { return len(*list.(*[]E)) }
	r.entry = func(list any, i int) any { return &(*list.(*[]E))[i] }
	r.grow = func(list any) any {
		s := list.(*[]E)
		*s = append(*s, *new(E))
		return &(*s)[len(*s)-1]
	}
	r.clear = func(list any) { *list.(*[]E) = []E{} }
	return r
}

// someStates is a list of min to max looks of the sky.
func someStates[P any](name string, min, max float64, at func(P) *[]SkyState, words ...string) rule {
	r := some(name, min, max, at, rule{shape: word, choices: words})
	r.entry = func(list any, i int) any { return (*string)(&(*list.(*[]SkyState))[i]) }
	r.grow = func(list any) any {
		s := list.(*[]SkyState)
		*s = append(*s, "")
		return (*string)(&(*s)[len(*s)-1])
	}
	return r
}

// second marks a field that came with version 2, and says what it is in a
// document before it: string, float64, int; nil for a list, which is empty,
// and for what may be absent.
func second(r rule, before any) rule {
	r.since, r.before = 2, before
	return r
}

// third marks one that came with version 3 likewise.
func third(r rule, before any) rule {
	r.since, r.before = 3, before
	return r
}

// fourth marks one that came with version 4 likewise.
func fourth(r rule, before any) rule {
	r.since, r.before = 4, before
	return r
}

// fill gives a field that its document's version does not know the value that
// it had then.
func (r *rule) fill(parent any) {
	switch v := r.before.(type) {
	case string:
		*r.give(parent).(*string) = v
	case float64:
		*r.give(parent).(*float64) = v
	case int:
		*r.give(parent).(*int) = v
	case nil:
		if r.shape == list {
			r.clear(r.give(parent))
		}
	}
}

func bind[P, M any](r rule, at func(P) M) rule {
	r.at = func(parent any) any { return at(parent.(P)) }
	r.give = r.at
	return r
}

// field returns the rule of a member of an object, nil if there is none.
func (r *rule) field(name string) *rule {
	for i := range r.fields {
		if r.fields[i].name == name {
			return &r.fields[i]
		}
	}
	return nil
}
