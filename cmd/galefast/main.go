// Command galefast tells the crew of a temporary walk-through structure whether it is
// fit to open, from a description in a TOML file.
package main

import (
	"io"
	"os"
)

func main() {
	a := &app{stdin: os.Stdin, stdout: os.Stdout, stderr: os.Stderr, guard: endOnSignals}
	a.guard()
	os.Exit(a.run(os.Args[1:]))
}

// Exit codes. A signal ends the program with 128 and its number: 130 for an interrupt (Ctrl-C), 143
// for a request to end.
const (
	exitHolds    = 0 // every computed check holds
	exitFails    = 1 // something fails
	exitUnusable = 2 // the file or the command line cannot be used
)

// run is the program.
func (a *app) run(args []string) int {
	root := a.root()
	root.SetArgs(args)
	root.SetIn(a.stdin)
	help := &listener{w: a.stdout}
	root.SetOut(help)
	root.SetErr(a.stderr)
	if err := root.Execute(); err != nil {
		a.complain(err)
		return exitUnusable
	}
	if help.err != nil {
		a.complain(help.err)
		return exitUnusable
	}
	return a.exit
}

// listener keeps the first error of what is written without looking, as help is.
type listener struct {
	w   io.Writer
	err error
}

func (l *listener) Write(p []byte) (int, error) {
	n, err := l.w.Write(p)
	if l.err == nil {
		l.err = err
	}
	return n, err
}
