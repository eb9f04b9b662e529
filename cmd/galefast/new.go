package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"galefast/internal/site"
	"galefast/internal/starter"
)

func (a *app) newCommand() *cobra.Command {
	p := starter.Plan{Columns: 1}
	var ask, force bool
	cmd := &cobra.Command{
		Use:   "new [FILE]",
		Short: "Writes a first description to start from",
		Long: `new writes a description with a remark beside whatever has to be looked at: site.toml unless another
file is named, - for standard output. What the flags do not tell has a common size, to be
corrected in the file. On a terminal without flags it asks a few questions.

Beside the file it puts galefast.schema.json, unless one is there, by which editors complete and
check the description as it is written. Nothing that is there is overwritten without --force.`,
		Example: `  galefast new
  galefast new --title "Harvest gate" --columns 2 --gates 2 --sign --supply gate.toml
  galefast new --columns 1 --width "22 in" --height "9 ft" --gust-alone "40 mph" --force
  galefast new --units si --columns 0 --walls 2 - > walls.toml`,
		Args: oneFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			if a.json {
				return errors.New("a first description is TOML; `galefast schema` has its JSON Schema")
			}
			path := "site.toml"
			if len(args) > 0 {
				path = args[0]
			}
			// What is there is seen before anybody answers questions.
			if err := free(path, force); err != nil {
				return err
			}
			p.Units = a.units
			if ask || cmd.Flags().NFlag() == 0 && terminal(a.stdin) {
				if err := a.ask(&p); err != nil {
					return err
				}
			}
			if err := p.Complete(); err != nil {
				return err
			}
			if path == "-" {
				return a.print(func(w io.Writer) error { _, err := io.WriteString(w, p.Text()); return err })
			}
			if err := free(path, force); err != nil {
				return err
			}
			return a.start(path, p.Text())
		},
	}
	f := cmd.Flags()
	f.StringVar(&p.Title, "title", "", "`title` of what is described")
	f.IntVar(&p.Columns, "columns", p.Columns, "`number` of columns")
	f.IntVar(&p.Gates, "gates", 0, "`number` of swing leaves, two to an opening between columns")
	f.IntVar(&p.Walls, "walls", 0, "`number` of scenic walls beside the columns")
	f.BoolVar(&p.Sign, "sign", false, "a sign between the first two columns")
	f.BoolVar(&p.Supply, "supply", false, "an outlet, a cord and lamps")
	f.StringVar(&p.Width, "width", "", "`width` of each column")
	f.StringVar(&p.Height, "height", "", "`height` of each column")
	f.StringVar(&p.Ground, "ground", "", "`row` of the ground table")
	f.StringVar(&p.GustOpen, "gust-open", "", "`gust` above which the public is out")
	f.StringVar(&p.GustAlone, "gust-alone", "", "`gust` up to which it must stand alone")
	f.BoolVar(&ask, "ask", false, "ask, also where there is no terminal")
	f.BoolVar(&force, "force", false, "overwrite a file that is there")
	return cmd
}

// free refuses a file that is there.
func free(path string, force bool) error {
	if path == "-" || force {
		return nil
	}
	if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) {
		if err != nil {
			return err
		}
		return fmt.Errorf("%s is there already; name another file, or --force overwrites it", path)
	}
	return nil
}

// start writes a new file with the schema beside it, and tells what comes next.
func (a *app) start(path, text string) error {
	products, wrote := []product{{path, []byte(text)}}, path
	if schema := filepath.Join(filepath.Dir(path), starter.SchemaFile); free(schema, false) == nil {
		products = append(products, product{schema, site.Schema()})
		wrote += " and " + schema + " (for editors)"
	}
	if err := deliver(products...); err != nil {
		return err
	}
	shown := path
	if strings.ContainsRune(path, ' ') {
		shown = `"` + path + `"`
	}
	_, err := fmt.Fprintf(a.stdout, "wrote %s\nnext: galefast check %s, then correct the sizes in the file and check again\n", site.Visible(wrote), site.Visible(shown))
	return err
}

// ask fills the plan from answers to questions. An empty answer takes what stands in
// brackets; one that cannot be used is asked for again.
func (a *app) ask(p *starter.Plan) error {
	in := bufio.NewScanner(io.LimitReader(a.stdin, maxFile))
	fmt.Fprintln(a.stderr, "A few questions; Enter takes what stands in brackets.")
	for _, q := range p.Questions() {
		for q.Asked() {
			fmt.Fprintf(a.stderr, "%s [%s] ", q.Text(), q.Default())
			if !in.Scan() {
				fmt.Fprintln(a.stderr)
				return errors.Join(errors.New("the answers ended early; nothing was written"), in.Err())
			}
			err := q.Answer(in.Text())
			if err == nil {
				break
			}
			fmt.Fprintf(a.stderr, "  %s\n", site.Visible(err.Error()))
		}
	}
	return nil
}
