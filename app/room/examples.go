package room

import (
	"duskline/calc/plan"
	"duskline/web/demo"
)

// A Demo is an invented plan that comes with the app.
type Demo struct {
	Key  string
	Text []byte
}

// Examples lists them in the order to show them; the first one opens on the
// first start.
func Examples() []Demo {
	var list []Demo
	for _, key := range demo.Names() {
		if text, ok := demo.Document(key); ok {
			list = append(list, Demo{key, text})
		}
	}
	return list
}

// Name returns the plan's own name, its key if it cannot be read.
func (e Demo) Name() string {
	p, err := plan.Read(e.Text)
	if err != nil {
		return e.Key
	}
	return p.Name
}
