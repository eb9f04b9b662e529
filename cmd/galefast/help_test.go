package main

import (
	"os"
	"path/filepath"
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
	words := readmeWord.FindAllString(line, -1)[1:]
	for i, w := range words {
		words[i] = strings.Trim(w, `"`)
	}
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
	var out, problems tape
	exit := make(chan int, 1)
	go func() { exit <- run(words, strings.NewReader(""), &out, &problems) }()
	watched := strings.Contains(line, "--watch")
	for end := time.Now().Add(30 * time.Second); watched && !strings.Contains(problems.String(), "watching"); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("no first run: %s", problems.String())
		}
	}
	if watched {
		self, err := os.FindProcess(os.Getpid())
		if err == nil {
			err = self.Signal(os.Interrupt)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	code := <-exit
	if code != exitHolds && code != exitFails || !watched && problems.String() != "" {
		t.Errorf("exit code %d, %s", code, problems.String())
	}
	files, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	if out.String() == "" && len(files) < 4 {
		t.Error("it prints nothing and writes nothing")
	}
}
