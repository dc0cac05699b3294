// Command server is Duskline outside the browser: it makes the site, serves
// it, and answers for a Plan on the command line. It is the only code of ours
// that reaches net/http's server.
//
//	duskline battery   say what a Plan's battery shows, and how to keep it from harm
//	duskline outlook   run a Plan and say how it ends
//	duskline pairing   say which panels belong with a Plan
//	duskline serve     serve a site
//	duskline site      write the site as static files
//
// Exit status: 0 done, 1 failed, 64 wrong use of the command. A subcommand
// that uses other numbers says so in its -h.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
)

// Exit statuses. 64 is EX_USAGE of BSD's sysexits.
const (
	exitDone   = 0
	exitFailed = 1
	exitUsage  = 64
)

// A command is one subcommand. run gets the words after its name and answers
// with the exit status.
type command struct {
	name, about string
	run         func(args []string, std streams) int
}

// streams are where a command reads and writes, so that tests can give it
// others.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// commands in the order that -h shows them. A new one is a file of its own
// and a line here.
func commands() []command {
	return []command{
		{"battery", "say what a Plan's battery shows, and how to keep it from harm", runBattery},
		{"outlook", "run a Plan and say how it ends", runOutlook},
		{"pairing", "say which panels belong with a Plan", runPairing},
		{"serve", "serve a site on this machine", runServe},
		{"site", "write the site as static files", runSite},
	}
}

func main() {
	os.Exit(run(os.Args[1:], streams{os.Stdin, os.Stdout, os.Stderr}))
}

func run(args []string, std streams) int {
	if len(args) == 0 {
		usage(std.err)
		return exitUsage
	}
	switch args[0] {
	case "-h", "-help", "--help", "help":
		usage(std.out)
		return exitDone
	}
	for _, c := range commands() {
		if c.name == args[0] {
			return c.run(args[1:], std)
		}
	}
	fmt.Fprintf(std.err, "duskline: there is no subcommand %q\n\n", args[0])
	usage(std.err)
	return exitUsage
}

func usage(w io.Writer) {
	fmt.Fprint(w, "Usage: duskline SUBCOMMAND [options]\n\n")
	for _, c := range commands() {
		fmt.Fprintf(w, "  %-9s %s\n", c.name, c.about)
	}
	fmt.Fprint(w, "\nEach subcommand explains itself with -h.\nExit status: 0 done, 1 failed, 64 wrong use.\n")
}

// newFlags makes the flag set of a subcommand; help is all of its -h but the
// list of flags.
func newFlags(name, help string, std streams) *flag.FlagSet {
	f := flag.NewFlagSet(name, flag.ContinueOnError)
	f.SetOutput(std.err)
	f.Usage = func() {
		fmt.Fprintf(f.Output(), "%s\n\nOptions:\n", help)
		f.PrintDefaults()
	}
	return f
}

// parse reads the flags, before and behind the other words, which it returns.
// goOn is false if the command ends here with status. Help asked for goes to
// standard output, help after a mistake to standard error.
func parse(f *flag.FlagSet, args []string, std streams) (words []string, status int, goOn bool) {
	for _, a := range args {
		if a == "-h" || a == "-help" || a == "--help" {
			f.SetOutput(std.out)
		}
		if a == "--" {
			break
		}
	}
	for {
		switch err := f.Parse(args); {
		case errors.Is(err, flag.ErrHelp):
			return nil, exitDone, false
		case err != nil:
			return nil, exitUsage, false
		}
		rest := f.Args()
		if n := len(args) - len(rest); len(rest) == 0 || n > 0 && args[n-1] == "--" {
			return append(words, rest...), exitDone, true
		}
		words, args = append(words, rest[0]), rest[1:]
	}
}

// fail reports an error and gives the exit status for it.
func fail(std streams, err error) int {
	fmt.Fprintln(std.err, "duskline:", err)
	return exitFailed
}
