package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"runtime/debug"

	"github.com/mattn/go-isatty"
	"github.com/spf13/cobra"

	"galefast/internal/check"
	"galefast/internal/quantity"
	"galefast/internal/sheet"
	"galefast/internal/site"
	"galefast/internal/takeoff"
	"galefast/internal/verdict"
	"galefast/testdata/sites"
)

// app carries the flags and streams that every command shares.
type app struct {
	stdin          io.Reader
	stdout, stderr io.Writer
	exit           int
	guard          func() // ends the process on a signal; nil leaves signals alone
	held           []byte // the content of the file, where --watch has read it already

	options check.Options
	units   string
	json    bool
	noColor bool
}

func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "galefast",
		Short: "Checks temporary walk-through scenery before opening night",
		Long: `galefast reads a description of columns, gates, walls, a sign and lamps from a TOML file
and tells what holds, what fails and what would cure it: standing in wind and under leaning
people, ballast, gust limits, hinges and bolts, circuits and cords, the way through.

Its results are estimates. Local codes, the authority having jurisdiction, licensed engineers
and licensed electricians decide.`,
		Example: `  galefast check                      the embedded example
  galefast check site.toml            the whole job on your own file
  galefast explain "standing/west pier/overturning" site.toml`,
		SilenceUsage:  true,
		SilenceErrors: true,
		RunE:          func(cmd *cobra.Command, args []string) error { return cmd.Help() },
	}
	flags := root.PersistentFlags()
	flags.StringVar(&a.units, "units", "", "print in `us` or si units (default: as the file says)")
	flags.BoolVar(&a.json, "json", false, "print JSON in SI for other programs")
	flags.BoolVar(&a.noColor, "no-color", false, "print without bold (so does the variable NO_COLOR)")
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return fmt.Errorf("%w; `%s --help` lists the flags", err, cmd.CommandPath())
	})
	root.AddCommand(a.checkCommand(), a.weighCommand(), a.windCommand(), a.ballastCommand(), a.limitsCommand(), a.hardwareCommand(),
		a.powerCommand(), a.wayCommand(), a.quickCommand(), a.sheetCommand(), a.drawCommand(), a.explainCommand(), a.listCommand(), a.diffCommand(), a.newCommand(), a.schemaCommand(), a.manCommand())
	return root
}

// complain prints an error with the program's name before it.
func (a *app) complain(err error) {
	if errors.Is(err, errReported) {
		return
	}
	fmt.Fprintf(a.stderr, "galefast: %s\n", site.Visible(err.Error()))
}

// errReported says that the problems have been printed already.
var errReported = errors.New("the file cannot be used")

// maxFile keeps a device or a pipe from being read without end: a byte more than the reader of
// descriptions takes, which then says so.
const maxFile = site.MaxSource + 1

// read returns the description: the file, standard input for "-", else the example.
func (a *app) read(args []string) (name string, src []byte, err error) {
	switch {
	case len(args) == 0:
		src, err = sites.Files.ReadFile(sites.Example)
		return sites.Example, src, err
	case args[0] == "-":
		src, err = io.ReadAll(io.LimitReader(a.stdin, maxFile))
		return "standard input", src, err
	case a.held != nil:
		return args[0], a.held, nil
	}
	f, err := os.Open(args[0])
	if errors.Is(err, fs.ErrNotExist) {
		return "", nil, fmt.Errorf("%w; `galefast new` writes a file to start from", err)
	}
	if err != nil {
		return "", nil, err
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.IsDir() {
		return "", nil, fmt.Errorf("%s is a folder; give the description file", args[0])
	}
	src, err = io.ReadAll(io.LimitReader(f, maxFile))
	return args[0], src, err
}

// job reads, loads and checks a description, and prints every problem with it.
func (a *app) job(args []string) (*verdict.Report, sheet.Style, error) {
	_, report, style, err := a.site(args)
	return report, style, err
}

// site is a job together with the description that it is about.
func (a *app) site(args []string) (*site.File, *verdict.Report, sheet.Style, error) {
	name, src, err := a.read(args)
	if err != nil {
		return nil, nil, sheet.Style{}, err
	}
	return a.description(name, src)
}

// description loads and checks the text of a description.
func (a *app) description(name string, src []byte) (*site.File, *verdict.Report, sheet.Style, error) {
	style := sheet.Style{Color: a.color(a.stdout)}
	f, problems := load(name, src)
	var masses *takeoff.Takeoff
	if f != nil {
		var more site.Problems
		masses, more = takeoff.Take(f)
		problems = append(problems, more...)
		problems.Sort()
	}
	if len(problems) > 0 {
		if err := problems.Write(a.stderr, src, a.color(a.stderr)); err != nil {
			return nil, nil, style, err
		}
	}
	if problems.Fatal() {
		return nil, nil, style, errReported
	}
	style.System = f.System()
	if a.units != "" {
		var err error
		if style.System, err = quantity.ParseSystem(a.units); err != nil {
			return nil, nil, style, fmt.Errorf("--units: %w", err)
		}
		f.Units.V = a.units
	}
	report, err := check.Run(f, masses, a.options)
	return f, report, style, err
}

// load reads the text of a description. Of a large one, garbage is collected often meanwhile: it is made
// faster than the values that stay.
func load(name string, src []byte) (*site.File, site.Problems) {
	if len(src) > 1<<20 {
		defer debug.SetGCPercent(debug.SetGCPercent(30))
	}
	return site.Load(name, src)
}

// color reports whether bold may be used in a stream: on a terminal, unless told otherwise.
func (a *app) color(w io.Writer) bool {
	return !a.noColor && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb" && terminal(w)
}

// terminal reports whether somebody sits at the other end of a stream.
func terminal(stream any) bool {
	f, ok := stream.(*os.File)
	return ok && (isatty.IsTerminal(f.Fd()) || isatty.IsCygwinTerminal(f.Fd()))
}

// print writes a result whole: it is made in memory first, so that an error on the way
// leaves nothing half printed.
func (a *app) print(write func(w io.Writer) error) error {
	var out bytes.Buffer
	if err := write(&out); err != nil {
		return err
	}
	_, err := a.stdout.Write(out.Bytes())
	return err
}

// report runs the job and prints one view of it, as a table or as JSON.
func (a *app) report(args []string, text func(io.Writer, *verdict.Report, sheet.Style) error, part func(*verdict.Report) any) (*verdict.Report, error) {
	r, style, err := a.job(args)
	if err != nil {
		return nil, err
	}
	return r, a.print(func(w io.Writer) error {
		if a.json {
			return sheet.JSON(w, part(r))
		}
		return text(w, r, style)
	})
}

// oneFile allows no argument or one, in words.
func oneFile(cmd *cobra.Command, args []string) error {
	if len(args) > 1 {
		return fmt.Errorf("%s takes one file, and got %d", cmd.CommandPath(), len(args))
	}
	return nil
}
