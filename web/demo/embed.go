// Package demo holds the worked examples that come with Duskline: invented
// Plans of invented trips, one of each verdict.
//
// It knows bytes only. The client, the server and the tests read them through
// plan.Read as they read any document.
package demo

import "embed"

//go:embed *.json
var files embed.FS

// names is the order in which the examples are shown; the first one opens on
// the first start.
var names = []string{"bird-count", "eye-clinic", "river-festival"}

// Names returns the names of the examples, in the order to show them.
func Names() []string { return append([]string(nil), names...) }

// Document returns the document of that name. It reports false if there is
// none.
func Document(name string) ([]byte, bool) {
	data, err := files.ReadFile(name + ".json")
	return data, err == nil
}
