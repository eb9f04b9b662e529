//go:build unix

package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
)

func save(t *testing.T, path, text string, mode fs.FileMode) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(path, mode); err != nil {
		t.Fatal(err)
	}
}

func holds(t *testing.T, path, want string, mode fs.FileMode) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	info, err := os.Lstat(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(text) != want || info.Mode() != mode {
		t.Errorf("%s holds %.40q with the mode %v; want %.40q with %v", path, text, info.Mode(), want, mode)
	}
}

func TestDeliver(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	save(t, at("private"), "old", 0o600)
	save(t, at("target"), "old", 0o640)
	if err := os.Symlink("target", at("link")); err != nil {
		t.Fatal(err)
	}
	long := strings.Repeat("n", 255) // as long as a name can be
	if err := deliver(product{at("new"), []byte("1")}, product{at("private"), []byte("2")}, product{at("link"), []byte("3")}, product{at(long), []byte("4")}, product{os.DevNull, []byte("5")}); err != nil {
		t.Fatal(err)
	}
	mask := syscall.Umask(0)
	syscall.Umask(mask)
	holds(t, at("new"), "1", 0o666&^fs.FileMode(mask))
	holds(t, at("private"), "2", 0o600)
	holds(t, at("target"), "3", 0o640)
	holds(t, at("link"), "3", fs.ModeSymlink|0o777)
	if info, err := os.Stat(os.DevNull); err != nil || info.Mode().IsRegular() {
		t.Fatalf("%s has become a file: %v", os.DevNull, err)
	}
	if got, want := listing(t, dir), "link new "+long+" private target"; got != want {
		t.Errorf("the folder holds %s, want %s", got, want)
	}
}

// What cannot be written leaves every file of the command as it was.
func TestDeliverAllOrNone(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	save(t, at("old"), "old", 0o644)
	if err := os.Mkdir(at("folder"), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("nowhere/at-all", at("loose")); err != nil {
		t.Fatal(err)
	}
	before := listing(t, dir)
	for name, bad := range map[string]string{
		"a folder":           at("folder"),
		"no folder":          at("nowhere/file"),
		"a file as a folder": at("old/file"),
		"a slash at the end": dir + "/file/",
		"a zero byte":        at("a\x00b"),
		"a name too long":    at(strings.Repeat("n", 256)),
		"a link to nothing":  at("loose"),
		"a full device":      "/dev/full",
		"no name":            "",
	} {
		for _, products := range [][]product{
			{{at("old"), []byte("new")}, {at("more"), []byte("new")}, {bad, []byte("new")}},
			{{bad, []byte("new")}, {at("old"), []byte("new")}},
		} {
			if err := deliver(products...); err == nil || strings.Contains(err.Error(), "-galefast") {
				t.Errorf("%s: %v", name, err)
			}
			holds(t, at("old"), "old", 0o644)
			if after := listing(t, dir); after != before {
				t.Errorf("%s: the folder holds %s, and held %s", name, after, before)
			}
		}
	}
}

// Many write the same file at once; whoever reads it finds one of them whole.
func TestDeliverAtOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "file")
	text := func(n int) []byte { return bytes.Repeat([]byte{byte('a' + n)}, 200_000+n) }
	if err := deliver(product{path, text(0)}); err != nil {
		t.Fatal(err)
	}
	var writers sync.WaitGroup
	for n := range 4 {
		writers.Go(func() {
			for range 20 {
				if err := deliver(product{path, text(n)}); err != nil {
					t.Error(err)
				}
			}
		})
	}
	done := make(chan bool)
	go func() { writers.Wait(); close(done) }()
	for reading := true; reading; {
		select {
		case <-done:
			reading = false
		default:
		}
		got, err := os.ReadFile(path)
		if err != nil || len(got) == 0 || !bytes.Equal(got, text(int(got[0]-'a'))) {
			t.Fatalf("%d bytes, %v", len(got), err)
		}
	}
	if got := listing(t, filepath.Dir(path)); got != "file" {
		t.Errorf("left behind: %s", got)
	}
}

// process starts the program as a shell does. TestMain has put it into the path.
func process(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	ctx, stop := context.WithTimeout(t.Context(), time.Minute)
	t.Cleanup(stop)
	return exec.CommandContext(ctx, "galefast", args...)
}

// ended is the exit code and what was said, of a process that has been started.
func ended(t *testing.T, cmd *exec.Cmd, problems *bytes.Buffer) (int, string) {
	t.Helper()
	var exit *exec.ExitError
	if err := cmd.Wait(); err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	if text := problems.String(); strings.Contains(text, "goroutine ") || strings.Contains(text, "panic") {
		t.Errorf("%v: %s", cmd.Args, text)
	}
	return cmd.ProcessState.ExitCode(), problems.String()
}

func exitOf(t *testing.T, cmd *exec.Cmd) (int, string) {
	t.Helper()
	var problems bytes.Buffer
	cmd.Stderr = &problems
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	return ended(t, cmd, &problems)
}

// On a disk that takes no more than 8 kB of a file, nothing of a command's output is there
// afterwards, and what was there still is.
func TestFullDisk(t *testing.T) {
	for _, c := range []struct{ command, place string }{
		{"sheet -o", "sheet.html"},
		{"sheet --format csv,md,pdf -o", ""}, // the first would fit alone
		{"draw plan --format png -o", "plan.png"},
		{"schema -o", "schema.json"},
		{"new --force", "site.toml"}, // the schema beside it does not fit
		{"man", ""},
	} {
		dir := t.TempDir()
		old := filepath.Join(dir, c.place)
		if c.place == "" {
			old = filepath.Join(dir, "sheet.csv")
		}
		save(t, old, "old", 0o640)
		limited := process(t)
		limited.Path, limited.Args = "/bin/sh", []string{"sh", "-c", "ulimit -f 8 && exec galefast " + c.command + " '" + filepath.Join(dir, c.place) + "'"}
		exit, problems := exitOf(t, limited)
		if c.command == "man" {
			// Every page is small; it only must not disturb what is there.
			if exit != exitHolds {
				t.Errorf("%s: exit code %d, %s", c.command, exit, problems)
			}
			continue
		}
		if exit != exitUnusable || !strings.HasPrefix(problems, "galefast: cannot write ") || !strings.Contains(problems, "file too large") {
			t.Errorf("%s: exit code %d, %q", c.command, exit, problems)
		}
		holds(t, old, "old", 0o640)
		if got := listing(t, dir); got != filepath.Base(old) {
			t.Errorf("%s left %s", c.command, got)
		}
	}
}

// A folder that may not be written is told of. Root may write everywhere, so the program then runs as
// somebody else.
func TestReadOnlyFolder(t *testing.T) {
	dir, err := os.MkdirTemp("", "")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.Chmod(filepath.Join(dir, "closed"), 0o755); os.RemoveAll(dir) })
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(self)
	if err != nil {
		t.Fatal(err)
	}
	program, closed := filepath.Join(dir, "galefast"), filepath.Join(dir, "closed")
	save(t, program, string(text), 0o755)
	if err := errors.Join(os.Chmod(dir, 0o755), os.Mkdir(closed, 0o755)); err != nil {
		t.Fatal(err)
	}
	save(t, filepath.Join(closed, "site.toml"), "old", 0o666)
	if err := os.Chmod(closed, 0o555); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{"sheet", "-o", filepath.Join(closed, "sheet.html")},
		{"sheet", "--format", "html,csv", "-o", closed},
		{"sheet", "--format", "html,csv", "-o", filepath.Join(closed, "within")},
		{"draw", "plan", "-o", filepath.Join(closed, "plan.svg")},
		{"new", "--force", filepath.Join(closed, "site.toml")},
		{"schema", "-o", filepath.Join(closed, "schema.json")},
		{"man", closed},
	} {
		cmd := process(t, args...)
		cmd.Path, cmd.Dir, cmd.Env = program, dir, []string{"HOME=" + dir}
		if os.Geteuid() == 0 {
			const nobody = 65534
			cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
		}
		if exit, problems := exitOf(t, cmd); exit != exitUnusable || !strings.Contains(problems, "permission denied") || strings.Contains(problems, ".galefast-") {
			t.Errorf("%v: exit code %d, %q", args, exit, problems)
		}
		holds(t, filepath.Join(closed, "site.toml"), "old", 0o666)
		if got := listing(t, closed); got != "site.toml" {
			t.Errorf("%v left %s", args, got)
		}
	}
}

// crowd is a description that takes seconds to check.
func crowd(columns int) string {
	var b strings.Builder
	b.WriteString("[site]\ngust_open = \"25 mph\"\ngust_alone = \"40 mph\"\nground = \"asphalt\"\n")
	for i := range columns {
		fmt.Fprintf(&b, "[[column]]\nname = \"c%d\"\nat = [\"%d m\", \"%d m\"]\nfoot = [\"1 m\", \"1 m\"]\nsection = [{ name = \"body\", width = \"0.6 m\", height = \"%g m\", mass = \"70 kg\" }]\n",
			i, i%20*3, i/20*3, 2+float64(i%17)/20)
	}
	return b.String()
}

// A signal ends a run with the code that a shell gives it, and leaves nothing behind: neither while the
// checks run, nor when a file is drafted and not yet in its place. A pipe that nobody reads holds
// the command at that point.
func TestSignals(t *testing.T) {
	work := t.TempDir()
	site := filepath.Join(work, "site.toml")
	save(t, site, crowd(2000), 0o644)
	quick := filepath.Join(work, "quick.toml")
	save(t, quick, watchedSite, 0o644)
	for _, signal := range []syscall.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP} {
		for _, c := range []struct {
			description, formats string
			stopped              func(folder string) bool
		}{
			{site, "csv,html", nil},
			{quick, "csv,html,pdf", func(folder string) bool {
				found, _ := filepath.Glob(filepath.Join(folder, ".galefast-*"))
				return len(found) == 2
			}},
		} {
			dir := t.TempDir()
			pipe := filepath.Join(dir, "sheet.pdf")
			if err := syscall.Mkfifo(pipe, 0o600); err != nil {
				t.Fatal(err)
			}
			save(t, filepath.Join(dir, "sheet.csv"), "old", 0o640)
			before := listing(t, dir)
			cmd := process(t, "sheet", "--format", c.formats, "-o", dir, c.description)
			var problems bytes.Buffer
			cmd.Stderr = &problems
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			if c.stopped == nil {
				time.Sleep(1500 * time.Millisecond) // time to begin, on a busy machine as well
			}
			for end := time.Now().Add(30 * time.Second); c.stopped != nil && !c.stopped(dir); time.Sleep(5 * time.Millisecond) {
				if time.Now().After(end) {
					t.Fatalf("no drafts beside %s", listing(t, dir))
				}
			}
			if err := cmd.Process.Signal(signal); err != nil {
				t.Fatal(err)
			}
			if exit, problems := ended(t, cmd, &problems); exit != 128+int(signal) || problems != "" {
				t.Errorf("%v while writing %s: exit code %d, want %d; %q", signal, c.formats, exit, 128+int(signal), problems)
			}
			holds(t, filepath.Join(dir, "sheet.csv"), "old", 0o640)
			if got := listing(t, dir); got != before {
				t.Errorf("%v: the folder holds %s, and held %s", signal, got, before)
			}
		}
	}
}

// A watch ends with the code of its last run; a second signal does not wait for a run to end.
func TestSignalsWhileWatching(t *testing.T) {
	for _, c := range []struct {
		site    string
		signals int
		want    int
	}{
		{watchedSite, 1, exitHolds},
		{crowd(2000), 2, 128 + int(syscall.SIGTERM)},
	} {
		path := filepath.Join(t.TempDir(), "site.toml")
		save(t, path, c.site, 0o644)
		cmd := process(t, "check", "--watch", path)
		said := &tape{}
		cmd.Stderr = said
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		for end := time.Now().Add(30 * time.Second); c.signals == 1 && !strings.Contains(said.String(), "watching"); time.Sleep(5 * time.Millisecond) {
			if time.Now().After(end) {
				t.Fatal(said.String())
			}
		}
		for range c.signals {
			time.Sleep(1500 * time.Millisecond)
			if err := cmd.Process.Signal(syscall.SIGTERM); err != nil {
				t.Fatal(err)
			}
		}
		var exit *exec.ExitError
		if err := cmd.Wait(); err != nil && !errors.As(err, &exit) {
			t.Fatal(err)
		}
		if got := cmd.ProcessState.ExitCode(); got != c.want {
			t.Errorf("%d signals: exit code %d, want %d; %s", c.signals, got, c.want, said.String())
		}
	}
}

// Two runs write the same sheets at once; each file is that of one of them.
func TestTwoRunsAtOnce(t *testing.T) {
	work := t.TempDir()
	var sites, alone [2]string
	for i, title := range []string{"First run", "Second run"} {
		sites[i], alone[i] = filepath.Join(work, title+".toml"), filepath.Join(work, title)
		save(t, sites[i], fmt.Sprintf("title = %q\n%s", title, watchedSite), 0o644)
		if exit, problems := exitOf(t, process(t, "sheet", "--format", "html,csv", "-o", alone[i], sites[i])); exit != exitHolds {
			t.Fatalf("exit code %d, %s", exit, problems)
		}
	}
	dir := t.TempDir()
	var runs sync.WaitGroup
	for n := range 6 {
		runs.Go(func() {
			cmd := process(t, "sheet", "--format", "html,csv", "-o", dir, sites[n%2])
			if out, err := cmd.CombinedOutput(); err != nil {
				t.Errorf("%v: %s", err, out)
			}
		})
	}
	runs.Wait()
	for _, name := range []string{"sheet.html", "sheet.csv"} {
		got, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		for i := range alone {
			one, err := os.ReadFile(filepath.Join(alone[i], name))
			if err != nil {
				t.Fatal(err)
			}
			if bytes.Equal(got, one) {
				got = nil
			}
		}
		if got != nil {
			t.Errorf("%s is of neither run", name)
		}
	}
	if got := listing(t, dir); got != "sheet.csv sheet.html" {
		t.Errorf("left behind: %s", got)
	}
}

// Nobody reads the output, or it has nowhere to go: no panic, and never the code of a result
// that was not told.
func TestClosedOutput(t *testing.T) {
	site := filepath.Join(t.TempDir(), "site.toml")
	save(t, site, watchedSite, 0o644)
	for _, args := range [][]string{{"check", site}, {"check", "--json", site}, {"sheet", site}, {"list", "ground"}, {"schema"}, {"draw", "plan", site}, {"--help"}} {
		r, w, err := os.Pipe()
		if err != nil {
			t.Fatal(err)
		}
		cmd := process(t, args...)
		cmd.Stdout = w
		r.Close()
		exit, problems := exitOf(t, cmd)
		w.Close()
		status := cmd.ProcessState.Sys().(syscall.WaitStatus)
		if !(status.Signaled() && status.Signal() == syscall.SIGPIPE) && exit != exitUnusable {
			t.Errorf("%v into a closed pipe: %v, %q", args, cmd.ProcessState, problems)
		}
		full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
		if err != nil {
			t.Fatal(err)
		}
		cmd = process(t, args...)
		cmd.Stdout = full
		if exit, problems := exitOf(t, cmd); exit != exitUnusable || !strings.Contains(problems, "no space left") {
			t.Errorf("%v onto a full disk: exit code %d, %q", args, exit, problems)
		}
		full.Close()
	}
	// As `galefast sheet | head -1` does.
	cmd := process(t, "sheet", site)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	var problems bytes.Buffer
	cmd.Stderr = &problems
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if _, err := io.ReadFull(out, make([]byte, 10)); err != nil {
		t.Fatal(err)
	}
	out.Close()
	ended(t, cmd, &problems)
}
