package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"galefast/internal/sheet"
	"galefast/internal/verdict"
)

func (a *app) diffCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "diff FILE FILE",
		Short: "What changed in the results between two descriptions",
		Long: `diff checks two descriptions and prints what changed from the first to the second: checks that turned,
numbers that moved, ballast up or down, other gust limits. One of them can be - for standard input.
Results are printed in the units of the second.

It exits with 0 when nothing fails in the second that did not fail in the first, with 1 when something
does, and with 2 when one of the files cannot be used.`,
		Example: `  galefast diff testdata/sites/apple-fair.toml testdata/sites/apple-fair-ballasted.toml
  galefast diff --json before.toml site.toml`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 2 || args[0] == "-" && args[1] == "-" {
				return fmt.Errorf("%s takes two files, the earlier one first", cmd.CommandPath())
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			was, _, err := a.job(args[:1])
			if err != nil {
				return err
			}
			is, style, err := a.job(args[1:])
			if err != nil {
				return err
			}
			d := verdict.Compare(was, is)
			if d.Worse {
				a.exit = exitFails
			}
			return a.print(func(w io.Writer) error {
				if a.json {
					return sheet.JSON(w, d)
				}
				return sheet.Diff(w, d, args[0], args[1], style)
			})
		},
	}
}
