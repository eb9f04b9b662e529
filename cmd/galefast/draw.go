package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"galefast/internal/catalog"
	"galefast/internal/drawing"
	"galefast/internal/quantity"
	"galefast/internal/site"
	"galefast/internal/verdict"
)

// pictures are the drawings by name.
var pictures = []struct {
	name  string
	title string
	draw  func(*site.File, *verdict.Report, quantity.System) []*drawing.Scene
}{
	{"plan", "Plan", func(f *site.File, r *verdict.Report, s quantity.System) []*drawing.Scene {
		return []*drawing.Scene{drawing.Plan(f, r, s)}
	}},
	{"elevation", "Elevations", drawing.Elevations},
	{"rose", "Gust limits by wind direction", func(_ *site.File, r *verdict.Report, s quantity.System) []*drawing.Scene {
		return drawing.Roses(r, s)
	}},
	{"supply", "Supply diagram", drawing.Supply},
}

func pictureNames() []string {
	names := make([]string, len(pictures))
	for i, p := range pictures {
		names[i] = p.name
	}
	return names
}

func (a *app) drawCommand() *cobra.Command {
	format, out := "svg", "-"
	cmd := &cobra.Command{
		Use:   "draw PICTURE [FILE]",
		Short: "One drawing: plan, elevation, rose or supply",
		Long: `draw makes one drawing of a site: plan (from above, to scale), elevation (each column and wall, with
the wind that governs), rose (the gust that each piece takes, by direction) or supply (breaker, cords,
lamps). It goes to standard output, or with -o to a file.`,
		Example: `  galefast draw plan site.toml > plan.svg
  galefast draw elevation --format pdf -o elevations.pdf site.toml
  galefast draw supply --format png -o supply.png site.toml`,
		ValidArgs: pictureNames(),
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) < 1 || len(args) > 2 {
				return fmt.Errorf("draw takes a picture (%s) and one file at most", strings.Join(pictureNames(), ", "))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if a.json {
				return fmt.Errorf("a drawing has no JSON; `galefast check --json` has its numbers")
			}
			write, ok := map[string]func(*drawing.Scene, io.Writer) error{
				"svg": (*drawing.Scene).SVG, "pdf": (*drawing.Scene).PDF, "png": (*drawing.Scene).PNG,
			}[format]
			if !ok {
				return fmt.Errorf("--format: %q is none of svg, pdf, png", format)
			}
			if err := a.readable(out, format); err != nil {
				return err
			}
			for _, p := range pictures {
				if p.name != args[0] {
					continue
				}
				a.options.EveryDirection = true // the wind of every check, not only of the governing one
				a.options.LimitsAround = args[0] == "rose"
				f, r, style, err := a.site(args[1:])
				if err != nil {
					return err
				}
				scenes := p.draw(f, r, style.System)
				if len(scenes) == 0 {
					return fmt.Errorf("%s has nothing for the picture %q", f.Name, p.name)
				}
				scene := drawing.Sheet(p.title, scenes)
				return a.put(out, func(w io.Writer) error { return write(scene, w) })
			}
			err := fmt.Errorf("there is no picture %q", args[0])
			if near := catalog.Nearest(args[0], pictureNames()); len(near) > 0 {
				return fmt.Errorf("%w; did you mean %q?", err, near[0])
			}
			return fmt.Errorf("%w; the pictures are %s", err, strings.Join(pictureNames(), ", "))
		},
	}
	cmd.Flags().StringVar(&format, "format", format, "`svg`, pdf or png")
	cmd.Flags().StringVarP(&out, "output", "o", out, "the `file` to write; - is standard output")
	return cmd
}
