package main

import "github.com/spf13/cobra"

import (
	"galefast/internal/sheet"
	"galefast/internal/verdict"
)

func (a *app) checkCommand() *cobra.Command {
	explain := false
	cmd := &cobra.Command{
		Use:   "check [FILE]",
		Short: "The whole job: every check, what fails and what cures it",
		Long: `check runs every check on a description. Without a file it takes the embedded example; - reads
standard input. It exits with 0 when every computed check holds, with 1 when one fails and
with 2 when the file cannot be used.

With --watch it checks again whenever the file is saved, until it is interrupted, and exits as the
last check did.`,
		Example: `  galefast check
  galefast check site.toml
  galefast check --units si --json site.toml > result.json
  galefast check --explain site.toml
  galefast check --watch site.toml`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			text := sheet.Check
			if explain {
				text = sheet.CheckExplained
			}
			r, err := a.report(args, text, func(r *verdict.Report) any { return r })
			if err != nil {
				return err
			}
			if r.Summary.Fails > 0 {
				a.exit = exitFails
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&explain, "explain", false, "add the working of every computed check")
	return a.watchable(cmd)
}
