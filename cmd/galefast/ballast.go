package main

import (
	"github.com/spf13/cobra"

	"galefast/internal/sheet"
	"galefast/internal/verdict"
)

func (a *app) ballastCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "ballast [FILE]",
		Short: "The least ballast, in whole units, and where it goes",
		Long: `ballast finds the fewest whole units with which each piece reaches its factors in every situation, and
the other cures with the number that makes the piece hold.`,
		Example: `  galefast ballast site.toml
  galefast ballast --json site.toml`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			_, err := a.report(args, sheet.Ballast, func(r *verdict.Report) any { return r.Ballast })
			return err
		},
	}
}
