package room

import (
	"strings"
	"unicode"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
)

// Give hands a text to the browser as a file to keep.
func Give(name string, text []byte) {
	w := app.Window()
	bytes := w.Get("Uint8Array").New(len(text))
	app.CopyBytesToJS(bytes, text)
	parts := w.Get("Array").New()
	parts.Call("push", bytes)
	blob := w.Get("Blob").New(parts, map[string]any{"type": "application/json"})
	url := w.Get("URL").Call("createObjectURL", blob)
	a := w.Get("document").Call("createElement", "a")
	a.Set("href", url)
	a.Set("download", name)
	a.Call("click")
	w.Get("URL").Call("revokeObjectURL", url)
}

// FileName makes a name for a file that every system takes.
func FileName(plan string) string {
	var b strings.Builder
	for _, c := range strings.ToLower(plan) {
		switch {
		case c < unicode.MaxASCII && (unicode.IsLetter(c) || unicode.IsDigit(c)):
			b.WriteRune(c)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	name := strings.Trim(b.String(), "-")
	if name == "" {
		name = "plan"
	}
	return name + ".json"
}
