package main

import (
	"github.com/spf13/cobra"

	"galefast/internal/sheet"
	"galefast/internal/verdict"
)

func (a *app) powerCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "power [FILE]",
		Short: "Circuits, cords and voltage drop",
		Long: `power follows the current from each outlet, generator or battery through the cords to every lamp. It prints
the load on each breaker, the current, the rating, the least size and the greatest length of each cord, the
voltage and the fault current at each lamp, the energy of a night, and every check of them.

With --plan it puts the lamps onto the outlets there are, wherever the file plugs them in: each on a
cord of its own, every circuit within its limit, the cords shortest. Supplies and lamps then need
their positions (at). Cords go straight, or along the routes of the file's cords where there are any.`,
		Example: `  galefast power site.toml
  galefast power --plan site.toml
  galefast power --json site.toml`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			a.options.PowerOnly = true
			_, err := a.report(args, sheet.Power, func(r *verdict.Report) any { return r.Circuit })
			return err
		},
	}
	cmd.Flags().BoolVar(&a.options.PowerPlan, "plan", false, "put the lamps onto the outlets anew, with the shortest cords")
	return cmd
}
