package main

import (
	"github.com/spf13/cobra"

	"galefast/internal/sheet"
	"galefast/internal/verdict"
)

func (a *app) powerCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "power [FILE]",
		Short: "Circuits, cords and voltage drop",
		Long: `power solves the supply trees and prints the load on each breaker, the current and rating of each cord,
and the voltage at each lamp.`,
		Example: `  galefast power site.toml
  galefast power --json site.toml`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			_, err := a.report(args, sheet.Power, func(r *verdict.Report) any { return r.Circuit })
			return err
		},
	}
}
