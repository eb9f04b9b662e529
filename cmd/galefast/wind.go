package main

import (
	"github.com/spf13/cobra"

	"galefast/internal/sheet"
	"galefast/internal/verdict"
)

func (a *app) windCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "wind [FILE]",
		Short: "Pressures, force coefficients and forces on every surface",
		Long: `wind prints the velocity pressure, the force coefficient and the force on every surface, for the wind
direction that burdens its piece most.`,
		Example: `  galefast wind site.toml
  galefast wind --all site.toml
  galefast wind --json site.toml`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			_, err := a.report(args, sheet.Wind, func(r *verdict.Report) any { return r.Wind })
			return err
		},
	}
	cmd.Flags().BoolVar(&a.options.EveryDirection, "all", false, "every direction, not only the governing one")
	return cmd
}
