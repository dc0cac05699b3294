package room

import (
	"duskline/calc/plan"
	"duskline/web/demo"
)

// An Example is an invented plan that comes with the app.
type Example struct {
	Key  string
	Text []byte
}

// Examples lists them in the order to show them; the first one opens on the
// first start.
func Examples() []Example {
	var list []Example
	for _, key := range demo.Names() {
		if text, ok := demo.Document(key); ok {
			list = append(list, Example{key, text})
		}
	}
	return list
}

// Name returns the plan's own name, its key if it cannot be read.
func (e Example) Name() string {
	p, err := plan.Read(e.Text)
	if err != nil {
		return e.Key
	}
	return p.Name
}
