package main

import (
	"io"

	"github.com/spf13/cobra"

	"galefast/internal/site"
)

func (a *app) schemaCommand() *cobra.Command {
	out := "-"
	cmd := &cobra.Command{
		Use:   "schema",
		Short: "The JSON Schema of the description, for editors",
		Long: `schema prints the JSON Schema (2020-12) of the description. An editor that understands TOML and schemas
completes keys with it, shows what they mean and marks what the reader would not take. It is
made from the definitions that the reader uses. A file names its schema in its first line:

  #:schema ./galefast.schema.json`,
		Example: `  galefast schema -o galefast.schema.json
  galefast schema`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.put(out, func(w io.Writer) error {
				_, err := w.Write(site.Schema())
				return err
			})
		},
	}
	cmd.Flags().StringVarP(&out, "output", "o", out, "the `file` to write; - is standard output")
	return cmd
}
