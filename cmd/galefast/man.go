package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"

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
			cmd.Root().DisableAutoGenTag = true // the same program writes the same pages
			pages, err := manual(cmd.Root(), args[0])
			if err != nil {
				return err
			}
			if err := os.MkdirAll(args[0], 0o777); err != nil {
				return err
			}
			return deliver(pages...)
		},
	}
}

// manual is a page for a command and for each below it.
func manual(cmd *cobra.Command, folder string) ([]product, error) {
	var page bytes.Buffer
	if err := doc.GenMan(cmd, &doc.GenManHeader{Title: "GALEFAST", Section: "1", Source: "galefast", Manual: "galefast"}, &page); err != nil {
		return nil, err
	}
	pages := []product{{filepath.Join(folder, strings.ReplaceAll(cmd.CommandPath(), " ", "-")+".1"), page.Bytes()}}
	for _, c := range cmd.Commands() {
		if !c.IsAvailableCommand() || c.IsAdditionalHelpTopicCommand() {
			continue
		}
		more, err := manual(c, folder)
		if err != nil {
			return nil, err
		}
		pages = append(pages, more...)
	}
	return pages, nil
}
