package main

import (
	"github.com/spf13/cobra"

	"galefast/internal/sheet"
	"galefast/internal/verdict"
)

func (a *app) hardwareCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "hardware [FILE]",
		Short: "Hinges, screws, bolts, braces and guys: what each is asked and what it carries",
		Long: `hardware prints for every hinge, section joint, brace, fixing, keeper and guy the force on the worst
screw or bolt of it, what that one carries, which way it gives first, and what would make it hold. Where
the file does not describe a fastener far enough, the force that it must hold stands in its place.`,
		Example: `  galefast hardware site.toml
  galefast hardware --json site.toml`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			_, err := a.report(args, sheet.Hardware, func(r *verdict.Report) any { return r.Hardware })
			return err
		},
	}
}
