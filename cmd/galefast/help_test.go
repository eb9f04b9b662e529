package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"
)

// every lists a command and those below it, without those that cobra makes.
func every(cmd *cobra.Command) []*cobra.Command {
	list := []*cobra.Command{cmd}
	for _, c := range cmd.Commands() {
		if c.Name() != "help" && c.Name() != "completion" {
			list = append(list, every(c)...)
		}
	}
	return list
}

// Every command has examples, and every example runs as it stands, in a folder with the sites
// of this project and two files of the names that the examples use.
func TestHelpExamples(t *testing.T) {
	examples, err := filepath.Abs(filepath.Join("..", "..", "testdata"))
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv("NO_COLOR", "1")
	for _, cmd := range every((&app{}).root()) {
		ran := 0
		for line := range strings.Lines(cmd.Example) {
			line, _, _ = strings.Cut(strings.TrimSpace(line), "   ") // what it does may stand behind it
			if !strings.HasPrefix(line, cmd.CommandPath()) && cmd.HasParent() {
				t.Errorf("%s: the example %q is of something else", cmd.CommandPath(), line)
				continue
			}
			ran++
			t.Run(line, func(t *testing.T) { runExample(t, line, examples) })
		}
		if ran == 0 {
			t.Errorf("%s has no example", cmd.CommandPath())
		}
	}
}

// helpSite is the file that the examples call site.toml.
var helpSite = strings.ReplaceAll(watchedSite, "block", "west pier") + `
[[supply]]
name = "outlet"
at = ["9 ft", "0 ft"]
volts = 120
breaker = "15 A"

[[cord]]
name = "run 1"
from = "outlet"
gauge = "14 AWG"
length = "25 ft"

[[lamp]]
name = "flood"
at = ["0 ft", "3 ft"]
on = "run 1"
watts = 50
`

func runExample(t *testing.T, line, examples string) {
	folder := t.TempDir()
	t.Chdir(folder)
	if err := os.CopyFS(filepath.Join(folder, "testdata", "sites"), os.DirFS(filepath.Join(examples, "sites"))); err != nil {
		t.Fatal(err)
	}
	words := readmeWords(line)[1:]
	if n := len(words); n > 2 && words[n-2] == ">" {
		words = words[:n-2] // a shell's business
	}
	if words[0] != "new" {
		for name, text := range map[string]string{"site.toml": helpSite, "before.toml": strings.Replace(helpSite, "2000 lb", "90 lb", 1)} {
			if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
				t.Fatal(err)
			}
		}
	}
	out, problems, code := runLine(t, words)
	if code != exitHolds && code != exitFails || problems != "" {
		t.Errorf("exit code %d, %s", code, problems)
	}
	files, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	if out == "" && len(files) < 4 {
		t.Error("it prints nothing and writes nothing")
	}
}

// runLine runs a command line. One that watches a file is interrupted after its first run, and
// what it says of that is left out.
func runLine(t *testing.T, words []string) (stdout, stderr string, code int) {
	t.Helper()
	var out, problems tape
	exit := make(chan int, 1)
	go func() { exit <- run(words, strings.NewReader(""), &out, &problems) }()
	if slices.Contains(words, "--watch") {
		for end := time.Now().Add(30 * time.Second); !strings.Contains(problems.String(), "galefast: watching"); time.Sleep(10 * time.Millisecond) {
			if time.Now().After(end) {
				t.Fatalf("no first run: %s", problems.String())
			}
		}
		self, err := os.FindProcess(os.Getpid())
		if err == nil {
			err = self.Signal(os.Interrupt)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	code = <-exit
	said, _, _ := strings.Cut(problems.String(), "galefast: watching")
	return out.String(), said, code
}
