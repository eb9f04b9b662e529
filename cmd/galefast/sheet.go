package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"galefast/internal/quantity"
	"galefast/internal/sheet"
)

// formats are those of the sheet, in the order of the help.
var formats = []string{"html", "pdf", "md", "csv", "json", "xlsx"}

// sheetFlags are those of the sheet command.
type sheetFlags struct {
	formats []string
	out     string
	folder  bool // several files go into out
	paper   string
	sheet.Options
}

func (a *app) sheetCommand() *cobra.Command {
	var flags sheetFlags
	cmd := &cobra.Command{
		Use:   "sheet [FILE]",
		Short: "The document for the venue, with drawings",
		Long: `sheet writes what the venue gets: the answer, the pieces, the ballast and where it goes, the action plan,
hardware, circuits, the way through, assumptions, cautions, what was not checked, an inspection list
and lines for signatures, with drawings in HTML and PDF. One format goes to standard output, or with -o
to a file or into a folder; several go into a folder as sheet.html, sheet.pdf and so on. The same
description gives the same bytes: a date stands in it only if --date gives one.

It exits with 0 when every computed check holds, with 1 when one fails and with 2 when the file cannot
be used or the sheet cannot be written. With --watch it writes the sheet again whenever the file is
saved, until it is interrupted.`,
		Example: `  galefast sheet -o sheet.html site.toml
  galefast sheet --format html,pdf,md,csv,json,xlsx -o out site.toml
  galefast sheet --format pdf --date 2025-10-04 --working -o sheet.pdf site.toml
  galefast sheet --watch -o sheet.html site.toml`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			paths, err := a.sheetPaths(&flags)
			if err != nil {
				return err
			}
			a.options.EveryDirection = true // the elevations show the wind of every check
			a.options.LimitsAround = true   // the roses
			f, r, style, err := a.site(args)
			if err != nil {
				return err
			}
			paper := sheet.A4
			if flags.paper == "letter" || flags.paper == "" && style.System == quantity.US {
				paper = sheet.Letter
			}
			d := sheet.Compose(f, r, style.System, flags.Options)
			writers := map[string]func(io.Writer) error{
				"html": d.HTML, "md": d.Markdown, "csv": d.CSV, "json": d.JSON, "xlsx": d.XLSX,
				"pdf": func(w io.Writer) error { return d.PDF(w, paper) },
			}
			if paths == nil {
				if err := a.print(writers[flags.formats[0]]); err != nil {
					return err
				}
			} else if err := flags.write(paths, writers); err != nil {
				return err
			}
			if r.Summary.Fails > 0 {
				a.exit = exitFails
			}
			return nil
		},
	}
	cmd.Flags().StringSliceVar(&flags.formats, "format", []string{"html"}, "`formats`: "+strings.Join(formats, ", "))
	cmd.Flags().StringVarP(&flags.out, "output", "o", "-", "the `file` or folder to write; - is standard output")
	cmd.Flags().StringVar(&flags.paper, "paper", "", "`size` of PDF pages, a4 or letter (default: letter for us units)")
	cmd.Flags().StringVar(&flags.Date, "date", "", "a `date` to print on the sheet")
	cmd.Flags().StringVar(&flags.Digest, "digest", "", "a `digest` of the description to print on the sheet")
	cmd.Flags().BoolVar(&flags.Working, "working", false, "add the working of every computed check")
	return a.watchable(cmd)
}

// write makes the sheet in every format before any of them is put in its place.
func (flags *sheetFlags) write(paths []string, writers map[string]func(io.Writer) error) error {
	products := make([]product, len(paths))
	for i, name := range flags.formats {
		var made bytes.Buffer
		if err := writers[name](&made); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		products[i] = product{paths[i], made.Bytes()}
	}
	if flags.folder {
		if err := os.MkdirAll(flags.out, 0o777); err != nil {
			return err
		}
	}
	return deliver(products...)
}

// sheetPaths checks the flags and gives the file for each format, none for standard output.
func (a *app) sheetPaths(flags *sheetFlags) ([]string, error) {
	if a.json {
		flags.formats = []string{"json"}
	}
	for i, name := range flags.formats {
		if !slices.Contains(formats, name) {
			return nil, fmt.Errorf("--format: %q is none of %s", name, strings.Join(formats, ", "))
		}
		if slices.Contains(flags.formats[:i], name) {
			return nil, fmt.Errorf("--format: %s is named twice", name)
		}
	}
	if !slices.Contains([]string{"", "a4", "letter"}, flags.paper) {
		return nil, fmt.Errorf("--paper: %q is neither a4 nor letter", flags.paper)
	}
	info, err := os.Stat(flags.out)
	folder := err == nil && info.IsDir()
	switch {
	case len(flags.formats) == 0:
		return nil, fmt.Errorf("--format names no format; it can be %s", strings.Join(formats, ", "))
	case len(flags.formats) == 1 && flags.out == "-":
		return nil, a.readable(flags.out, flags.formats[0])
	case len(flags.formats) == 1 && !folder:
		return []string{flags.out}, nil
	case flags.out == "-":
		return nil, fmt.Errorf("several formats do not fit on standard output; give a folder with -o")
	case err == nil && !folder:
		return nil, fmt.Errorf("%s is a file; several formats need a folder", flags.out)
	}
	flags.folder = true
	paths := make([]string, len(flags.formats))
	for i, name := range flags.formats {
		paths[i] = filepath.Join(flags.out, "sheet."+name)
		if err := noFolder(paths[i]); err != nil {
			return nil, err
		}
	}
	return paths, nil
}
