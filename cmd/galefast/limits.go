package main

import (
	"github.com/spf13/cobra"

	"galefast/internal/sheet"
	"galefast/internal/verdict"
)

func (a *app) limitsCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "limits [FILE]",
		Short: "The gust at which each piece reaches its factors, and what to do when",
		Long: `limits prints for each piece the gust, as forecast for 10 m (33 ft) over open ground and as a handheld
reading at 2 m (6.6 ft), at which it reaches its required factors, and an action plan in a few steps.`,
		Example: `  galefast limits site.toml
  galefast limits --json site.toml`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			_, err := a.report(args, sheet.Limits, func(r *verdict.Report) any { return r.Limits })
			return err
		},
	}
}
