//go:build !js

package work

import "errors"

// hire finds no worker outside of a browser: jobs run beside their caller.
func hire() (hand, error) { return nil, errors.New("no workers outside of a browser") }

// Serve does nothing outside of a browser, where no worker starts the program.
func Serve(map[string]Job) {}
