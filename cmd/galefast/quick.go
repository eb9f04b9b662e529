package main

import "github.com/spf13/cobra"

// quickCommand groups the answers that need no file.
func (a *app) quickCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "quick",
		Short: "One answer from flags alone, without a file",
		Long: `quick answers one question from flags alone, by the same rules as check, with the same assumptions and
cautions.`,
		Example: `  galefast quick column --width "22 in" --height "9 ft" --mass "120 lb" --gust-alone "35 mph"
  galefast quick cord --watts "1500 W" --length "100 ft" --breaker "15 A" --gfci`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, args []string) error { return cmd.Help() },
	}
	cmd.AddCommand(a.quickColumnCommand(), a.quickWallCommand(), a.quickGateCommand(), a.quickCordCommand())
	return cmd
}
