package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"galefast/internal/catalog"
	"galefast/internal/sheet"
)

func (a *app) listCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "list [TABLE]",
		Short: "A table of the catalog, with source and certainty of every row",
		Long: `list prints a table of the catalog: the names that a description can use, their figures, and where each
is from. Without a table it names the tables. A description adds rows of its own under
[[catalog.TABLE]], each with its source.`,
		Example: `  galefast list
  galefast list ground`,
		ValidArgs: catalog.Tables(),
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return fmt.Errorf("list takes one table, and got %d", len(args))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return a.print(func(w io.Writer) error {
					if a.json {
						return sheet.JSON(w, catalog.Tables())
					}
					_, err := fmt.Fprintln(w, strings.Join(catalog.Tables(), "\n"))
					return err
				})
			}
			header, rows, err := catalog.Embedded().Rows(args[0])
			if err != nil {
				return err
			}
			return a.print(func(w io.Writer) error {
				if a.json {
					return sheet.JSON(w, sheet.Listing{Table: args[0], Header: header, Rows: rows})
				}
				return sheet.List(w, header, rows, sheet.Style{Color: a.color(a.stdout)})
			})
		},
	}
}
