package main

import (
	"os"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
)

func (a *app) manCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "man FOLDER",
		Short:   "Writes the manual pages into a folder",
		Example: `  galefast man share/man/man1`,
		Args:    cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := os.MkdirAll(args[0], 0o777); err != nil {
				return err
			}
			root := cmd.Root()
			root.DisableAutoGenTag = true // the same program writes the same pages
			return doc.GenManTree(root, &doc.GenManHeader{Title: "GALEFAST", Section: "1", Source: "galefast", Manual: "galefast"}, args[0])
		},
	}
}
