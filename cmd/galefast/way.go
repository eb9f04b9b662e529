package main

import (
	"github.com/spf13/cobra"

	"galefast/internal/sheet"
	"galefast/internal/verdict"
)

func (a *app) wayCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "way [FILE]",
		Short: "Clear width, headroom and ways out; foam and what is near it",
		Long: `way measures the ways through: the clear width at the narrowest place, with leaves open and with those
that nothing holds anywhere on their swing, the headroom, how many people that is enough for, the
ways out, and which way the leaves swing. It names the cords and guys that cross a way and the pieces
that would fall across it, and checks exposed foam and the lamps near it.

The figures are those of building codes, the IBC for us and European ones for metric (rules under
[[way]]; the units of the file tell when it is left out). What the authority asks for goes into the
file as width and headroom, and comes first.`,
		Example: `  galefast way site.toml
  galefast way --json site.toml`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			_, err := a.report(args, sheet.Way, func(r *verdict.Report) any { return r.Passage })
			return err
		},
	}
}
