package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"galefast/internal/catalog"
	"galefast/internal/sheet"
)

func (a *app) explainCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "explain CHECK-ID [FILE]",
		Short: "One check worked by hand",
		Long: `explain prints the working of one check: each formula, the numbers put in, its source and the input
that fed it. Check ids are those of check --json, such as "standing/west pier/overturning". The id of a
row of wind --all --json works the wind on one surface.`,
		Example: `  galefast explain "standing/west pier/overturning"
  galefast explain "power/run 1/cord ampacity" site.toml`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) < 1 || len(args) > 2 {
				return fmt.Errorf("explain takes a check id and one file at most")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			a.options.EveryDirection = strings.HasPrefix(args[0], "wind/")
			r, style, err := a.job(args[1:])
			if err != nil {
				return err
			}
			for i := range r.Wind.Rows {
				if row := &r.Wind.Rows[i]; row.ID == args[0] {
					return a.print(func(w io.Writer) error {
						if a.json {
							return sheet.JSON(w, sheet.WorkedWind{WindRow: row, Working: row.Working})
						}
						return sheet.ExplainWind(w, r, row, style)
					})
				}
			}
			c, ok := r.Find(args[0])
			if !ok {
				ids := make([]string, len(r.Checks))
				for i := range r.Checks {
					ids[i] = r.Checks[i].ID
				}
				err := fmt.Errorf("there is no check %q", args[0])
				if near := catalog.Nearest(args[0], ids); len(near) > 0 {
					err = fmt.Errorf("%w; did you mean %q?", err, near[0])
				}
				return fmt.Errorf("%w; `galefast check --json` lists every id", err)
			}
			return a.print(func(w io.Writer) error {
				if a.json {
					return sheet.JSON(w, sheet.Worked{Check: c, Working: c.Working})
				}
				return sheet.Explain(w, r, c, style)
			})
		},
	}
}
