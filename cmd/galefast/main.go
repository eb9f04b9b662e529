// Command galefast tells the crew of a temporary walk-through structure whether it is
// fit to open, from a description in a TOML file.
package main

import (
	"io"
	"os"
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// Exit codes.
const (
	exitHolds    = 0 // every computed check holds
	exitFails    = 1 // something fails
	exitUnusable = 2 // the file or the command line cannot be used
)

// run is the program with its surroundings handed in.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	a := &app{stdin: stdin, stdout: stdout, stderr: stderr}
	root := a.root()
	root.SetArgs(args)
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	if err := root.Execute(); err != nil {
		a.complain(err)
		return exitUnusable
	}
	return a.exit
}
