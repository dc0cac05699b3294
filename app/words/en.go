package words

// english holds the words of the core: verdicts, notices, faults, fields.
// The words of screens are in en_screens.go.
var english = map[string]string{
	// Faults: what is wrong at a field.
	"fault.number": "This is not a number.",
}
