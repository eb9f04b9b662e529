package main

import (
	"github.com/spf13/cobra"

	"galefast/internal/sheet"
	"galefast/internal/verdict"
)

func (a *app) weighCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "weigh [FILE]",
		Short: "Mass and centre of mass of parts, sections and pieces",
		Long: `weigh adds up parts, sections and pieces. Every estimated mass has a light and a heavy end; each check
takes the end that makes it harder to pass. A mass from a scale overrules the estimate.`,
		Example: `  galefast weigh site.toml
  galefast weigh --json site.toml`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			_, err := a.report(args, sheet.Weigh, func(r *verdict.Report) any { return r.Weigh })
			return err
		},
	}
}
