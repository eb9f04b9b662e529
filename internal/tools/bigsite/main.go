// Command bigsite writes the description of an invented fairground of any size, to measure
// galefast with:
//
//	go run ./internal/tools/bigsite -pieces 1000 | galefast check -
//
// The same flags give the same bytes.
package main

import (
	"flag"
	"fmt"
	"io"
	"os"

	"galefast/internal/tools/fairground"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run is the whole program; it returns the exit code.
func run(args []string, out, errors io.Writer) int {
	flags := flag.NewFlagSet("bigsite", flag.ContinueOnError)
	flags.SetOutput(errors)
	pieces := flags.Int("pieces", 100, "number of columns, leaves, walls and signs")
	groups := flags.Float64("groups", 0.25, "share of them, 0 to 1, that stand in groups fastened together with strengths")
	seed := flags.Uint64("seed", 1, "another number gives another fairground")
	if flags.Parse(args) != nil {
		return 2
	}
	if *pieces < 1 || !(*groups >= 0 && *groups <= 1) || flags.NArg() > 0 {
		fmt.Fprintln(errors, "bigsite: it takes at least one piece, a share from 0 to 1, and no further words")
		return 2
	}
	if _, err := io.WriteString(out, fairground.Site(*pieces, *groups, *seed)); err != nil {
		fmt.Fprintln(errors, "bigsite:", err)
		return 1
	}
	return 0
}
