// Package e2e tests the app where it runs: in Chromium, served by the real
// command as a process of its own, over a site that the real exporter wrote.
//
// It holds tests only. A test asks for a server with serve or serveOwn, for a
// browser with launch, opens tabs with open, and gets a failure for every
// line in the console that it did not allow. "-short" skips the whole
// package; a missing Chromium fails it.
package e2e
