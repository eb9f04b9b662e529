package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"galefast/internal/site"
)

// README.md and the guides under docs are run as they stand, each from its top to its end, in
// a folder that holds a copy of testdata.
//
//   - A toml block whose first line is "# NAME.toml: ..." is written to that file.
//   - A toml block without such a line must be understood at the end of the first such file,
//     or of the site.toml that a command has written.
//   - A remark <!-- edit NAME.toml: OLD -> NEW --> changes the file, as the text around
//     it asks the reader to; \n in it is a new line.
//   - Each `$ galefast ...` or `$ go run ./cmd/galefast ...` in a console block is run, and what
//     stands below it must be what it prints; a line `...` stands for lines left out.
//     `$ echo $?` prints the exit code of the command before. Any other command shows no
//     output and is not run.
//   - Lines of galefast in an indented block, the remark behind them left out, are run too, and
//     must end with 0 or 1 and without a complaint; so is cp, since they may need another file.
//
// UPDATE_GOLDEN=1 rewrites what stands below the commands. Beside a `...` it keeps as many
// lines as there were, from the same first line on.
func TestReadme(t *testing.T) {
	if n := runDocument(t, filepath.Join("..", "..", "README.md")); n < 10 {
		t.Errorf("README.md shows %d commands of galefast; the tour has more", n)
	}
}

func TestGuides(t *testing.T) {
	paths, err := filepath.Glob(filepath.Join("..", "..", "docs", "*.md"))
	if err != nil || len(paths) < 5 {
		t.Fatalf("%d guides, %v", len(paths), err)
	}
	for _, path := range paths {
		t.Run(filepath.Base(path), func(t *testing.T) {
			if n := runDocument(t, path); n == 0 && !withoutCommands[filepath.Base(path)] {
				t.Errorf("%s shows no command of galefast", path)
			}
		})
	}
}

// withoutCommands are the pages that are there to look things up.
var withoutCommands = map[string]bool{"keys.md": true, "methods.md": true}

// runDocument runs what one document shows and returns the number of its commands.
func runDocument(t *testing.T, path string) (commands int) {
	name := filepath.Base(path)
	path, err := filepath.Abs(path)
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	if err := os.CopyFS(filepath.Join(folder, "testdata"), os.DirFS(filepath.Join("..", "..", "testdata"))); err != nil {
		t.Fatal(err)
	}
	t.Chdir(folder)
	t.Setenv("NO_COLOR", "1")

	lines := strings.Split(string(text), "\n")
	var out []string
	var tour []byte // the first file
	exit := 0
	for i := 0; i < len(lines); i++ {
		out = append(out, lines[i])
		if m := readmeEdit.FindStringSubmatch(lines[i]); m != nil {
			editFile(t, name, i+1, m[1], m[2], m[3])
			continue
		}
		if line, indented := strings.CutPrefix(lines[i], "    "); indented {
			if runIndented(t, fmt.Sprintf("%s:%d", name, i+1), line) {
				commands++
			}
			continue
		}
		kind, opens := strings.CutPrefix(lines[i], "```")
		if !opens {
			continue
		}
		first := i + 1
		for i++; i < len(lines) && lines[i] != "```"; i++ {
		}
		if i == len(lines) {
			t.Fatalf("%s:%d: the block has no end", name, first)
		}
		block := lines[first:i]
		switch kind {
		case "toml":
			if m := readmeFile.FindStringSubmatch(block[0]); m != nil {
				file := []byte(strings.Join(block, "\n") + "\n")
				if tour == nil {
					tour = file
				}
				if err := os.WriteFile(m[1], file, 0o666); err != nil {
					t.Fatal(err)
				}
				break
			}
			whole := slices.Clone(tour)
			if whole == nil {
				if whole, err = os.ReadFile("site.toml"); err != nil {
					t.Fatalf("%s:%d: a part of a file that is not there: %v", name, first, err)
				}
			}
			if _, problems := site.Load(name, append(whole, strings.Join(block, "\n")...)); len(problems) > 0 {
				t.Errorf("%s:%d: %v", name, first, problems)
			}
		case "console":
			for k := 0; k < len(block); {
				command, ok := strings.CutPrefix(block[k], "$ ")
				if !ok {
					t.Fatalf("%s:%d: want a line that begins with $", name, first+k+1)
				}
				out = append(out, block[k])
				at := first + k + 1
				start := k + 1
				for k++; k < len(block) && !strings.HasPrefix(block[k], "$ "); k++ {
				}
				shown := block[start:k]
				printed, ran := printedBy(t, command, &exit)
				if !ran {
					if len(shown) > 0 {
						t.Errorf("%s:%d: output of %q, which the test cannot run", name, at, command)
					}
					continue
				}
				commands++
				if os.Getenv("UPDATE_GOLDEN") != "" {
					shown = refresh(shown, printed)
				}
				if !shows(shown, printed) {
					t.Errorf("%s:%d: %s prints something else. Shown:\n%s\nwant:\n%s", name, at, command,
						strings.Join(shown, "\n"), strings.Join(printed, "\n"))
				}
				out = append(out, shown...)
			}
			out = append(out, lines[i])
			continue
		}
		out = append(out, block...)
		out = append(out, lines[i])
	}
	if now := strings.Join(out, "\n"); os.Getenv("UPDATE_GOLDEN") != "" && now != string(text) {
		if err := os.WriteFile(path, []byte(now), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return commands
}

var (
	readmeEdit = regexp.MustCompile(`^<!-- edit (\S+\.toml): (.+) -> (.+) -->$`)
	readmeFile = regexp.MustCompile(`^# ([a-z-]+\.toml):`)
	readmeWord = regexp.MustCompile(`"[^"]*"|\S+`)
)

func editFile(t *testing.T, document string, line int, name, from, to string) {
	t.Helper()
	src, err := os.ReadFile(name)
	if err != nil {
		t.Fatalf("%s:%d: %v", document, line, err)
	}
	if n := bytes.Count(src, []byte(from)); n != 1 {
		t.Fatalf("%s:%d: %s has %q %d times, want once", document, line, name, from, n)
	}
	if err := os.WriteFile(name, bytes.Replace(src, []byte(from), []byte(strings.ReplaceAll(to, `\n`, "\n")), 1), 0o666); err != nil {
		t.Fatal(err)
	}
}

// runIndented runs a line of an indented block, if it is one that it knows.
func runIndented(t *testing.T, at, line string) bool {
	t.Helper()
	line, _, _ = strings.Cut(line, "  #")
	words := readmeWords(strings.TrimPrefix(strings.TrimPrefix(line, "go run ./cmd/"), "./"))
	if len(words) == 3 && words[0] == "cp" {
		src, err := os.ReadFile(words[1])
		if err == nil {
			err = os.WriteFile(words[2], src, 0o666)
		}
		if err != nil {
			t.Fatalf("%s: %v", at, err)
		}
	}
	if len(words) == 0 || words[0] != "galefast" {
		return false
	}
	if _, problems, code := runLine(t, words[1:]); code != exitHolds && code != exitFails || problems != "" {
		t.Errorf("%s: %s: exit code %d, %s", at, line, code, problems)
	}
	return true
}

// readmeWords splits a command line as a shell would, where quotes stand around whole words.
func readmeWords(line string) []string {
	words := readmeWord.FindAllString(line, -1)
	for i, w := range words {
		words[i] = strings.Trim(w, `"`)
	}
	return words
}

// printedBy runs a command of the README and returns the lines that it prints, what goes to
// standard error before the rest. ran is false for a command of another program.
func printedBy(t *testing.T, command string, exit *int) (lines []string, ran bool) {
	t.Helper()
	if command == "echo $?" {
		return []string{fmt.Sprint(*exit)}, true
	}
	args, ok := strings.CutPrefix(command, "galefast ")
	if !ok {
		if args, ok = strings.CutPrefix(command, "go run ./cmd/galefast "); !ok {
			return nil, false
		}
	}
	words := readmeWords(args)
	var stdin bytes.Buffer
	if i := slices.Index(words, "<"); i >= 0 {
		src, err := os.ReadFile(words[i+1])
		if err != nil {
			t.Fatal(err)
		}
		stdin.Write(src)
		words = words[:i]
	}
	var stdout, stderr bytes.Buffer
	*exit = run(words, &stdin, &stdout, &stderr)
	text := strings.TrimRight(stderr.String()+stdout.String(), "\n")
	if text == "" {
		return nil, true
	}
	return strings.Split(text, "\n"), true
}

// shows reports whether the shown lines are the printed ones, where "..." stands for any.
func shows(shown, printed []string) bool {
	anywhere := false
	for i, line := range shown {
		if line == "..." {
			anywhere = true
			continue
		}
		if !anywhere {
			if len(printed) == 0 || printed[0] != line {
				return false
			}
			printed = printed[1:]
			continue
		}
		for start := range printed {
			if printed[start] == line && shows(shown[i:], printed[start:]) {
				return true
			}
		}
		return false
	}
	return anywhere || len(printed) == 0
}

// refresh brings shown lines up to date: whole when nothing was left out, else the runs of
// lines between the "...", each from its first line on.
func refresh(shown, printed []string) []string {
	if !slices.Contains(shown, "...") {
		return printed
	}
	fresh := slices.Clone(shown)
	for i := 0; i < len(fresh); i++ {
		if fresh[i] == "..." {
			continue
		}
		at := slices.Index(printed, fresh[i])
		for ; i < len(fresh) && fresh[i] != "..."; i++ {
			if at >= 0 && at < len(printed) {
				fresh[i] = printed[at]
				at++
			}
		}
		if at >= 0 {
			printed = printed[min(at, len(printed)):]
		}
	}
	return fresh
}

func TestReadmeLeavesOut(t *testing.T) {
	printed := strings.Fields("a b c b d")
	for _, c := range []struct {
		shown string
		want  bool
	}{
		{"a b c b d", true},
		{"a ...", true},
		{"... d", true},
		{"a ... b d", true},
		{"... c ... d", true},
		{"...", true},
		{"a b c b", false},
		{"a ... c d", false},
		{"b ...", false},
		{"... e", false},
		{"... d ... c", false},
	} {
		if got := shows(strings.Fields(c.shown), printed); got != c.want {
			t.Errorf("%q shows %q: got %v, want %v", c.shown, printed, got, c.want)
		}
	}
	if got := strings.Join(refresh(strings.Fields("a ... c x ... z"), printed), " "); got != "a ... c b ... z" {
		t.Errorf("refreshed to %q", got)
	}
}
