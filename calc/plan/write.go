package plan

import (
	"bytes"
	"strconv"
	"strings"
	"time"
)

// Write writes a Plan as a document that [Read] reads back equal. A Plan that
// is not sound is not written; the error is then its [Faults].
//
// The start is written with its offset from UTC, and read back with the
// Location that the trip's zone and clock changes make. A Location that a
// caller put there without them is not kept.
func Write(p Plan) ([]byte, error) {
	if f := Check(p); f != nil {
		return nil, f
	}
	var b bytes.Buffer
	write(&b, &document, &p, "\n")
	b.WriteByte('\n')
	return b.Bytes(), nil
}

// write writes one value along the table; indent is a line break and the
// indent of the line that the value began on. What holds no object or list
// stands on one line.
func write(b *bytes.Buffer, r *rule, target any, indent string) {
	switch v := target.(type) {
	case *float64:
		b.WriteString(jsonNumber(*v))
		return
	case *int:
		b.WriteString(strconv.Itoa(*v))
		return
	case *bool:
		b.WriteString(strconv.FormatBool(*v))
		return
	case *string:
		b.WriteString(jsonText(*v))
		return
	case *time.Time:
		b.WriteString(jsonText(v.Format(startForm)))
		return
	}
	inner, between := indent+"  ", indent+"  "
	if r.flat() {
		inner, between, indent = "", " ", ""
	}
	sep := inner
	item := func(f *rule, target any) {
		b.WriteString(sep)
		if f.name != "" {
			b.WriteString(jsonText(f.name) + ": ")
		}
		write(b, f, target, inner)
		sep = "," + between
	}
	if r.shape == object {
		b.WriteByte('{')
		for i := range r.fields {
			if member := r.fields[i].at(target); member != nil {
				item(&r.fields[i], member)
			}
		}
		b.WriteString(indent + "}")
		return
	}
	b.WriteByte('[')
	n := r.count(target)
	for i := range n {
		item(r.item, r.entry(target, i))
	}
	if n == 0 {
		indent = strings.TrimSpace(indent)
	}
	b.WriteString(indent + "]")
}

// flat reports whether a value stands on one line: a list of numbers, a
// window of hours.
func (r *rule) flat() bool {
	if r.shape == list {
		return r.item.shape != object
	}
	for i := range r.fields {
		if s := r.fields[i].shape; s != number {
			return false
		}
	}
	return len(r.fields) <= 2
}
