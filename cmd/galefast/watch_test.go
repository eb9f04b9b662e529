package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// tape is a stream that can be read while it is written.
type tape struct {
	mutex sync.Mutex
	b     bytes.Buffer
}

func (s *tape) Write(p []byte) (int, error) {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	return s.b.Write(p)
}

func (s *tape) String() string {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	return s.b.String()
}

const watchedSite = `[site]
gust_alone = "20 mph"
ground = "asphalt"
[[column]]
name = "block"
at = ["0 ft", "0 ft"]
foot = ["4 ft", "4 ft"]
weighed = "2000 lb"
section = [{ name = "body", width = "2 ft", height = "5 ft" }]
`

// A description is saved again and again while it is watched, in the ways of editors and with
// slips; an interrupt ends it with the code of the last run.
func TestWatch(t *testing.T) {
	path := filepath.Join(t.TempDir(), "site.toml")
	page := filepath.Join(t.TempDir(), "sheet.html")
	save := func(text string) {
		t.Helper()
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		command []string
		shows   func(out *tape) string
	}{
		{[]string{"check", "--watch", path}, (*tape).String},
		{[]string{"sheet", "--watch", "-o", page, path}, func(*tape) string {
			text, _ := os.ReadFile(page)
			return string(text)
		}},
	} {
		save("title = \"First save\"\n" + watchedSite)
		var out, problems tape
		exit := make(chan int, 1)
		go func() { exit <- run(c.command, strings.NewReader(""), &out, &problems) }()
		until := func(what string, ok func() bool) {
			t.Helper()
			for end := time.Now().Add(30 * time.Second); !ok(); time.Sleep(10 * time.Millisecond) {
				if time.Now().After(end) {
					t.Fatalf("%v: no %s\n%s%s", c.command, what, out.String(), problems.String())
				}
			}
		}
		runs := func(n int) func() bool {
			return func() bool { return strings.Count(problems.String(), "galefast: watching "+path) >= n }
		}
		shows := func(title string, n int) {
			t.Helper()
			until(title, runs(n))
			if !strings.Contains(c.shows(&out), title) {
				t.Errorf("%v: no %s in\n%s", c.command, title, c.shows(&out))
			}
		}
		shows("First save", 1)
		save("title = \"Second save\"\n" + watchedSite)
		shows("Second save", 2)
		// A slip is reported, and the watch goes on.
		save("title = \"A slip\"\n" + strings.Replace(watchedSite, `"20 mph"`, "20", 1))
		until("problem", runs(3))
		if !strings.Contains(problems.String(), "is the bare number 20") {
			t.Errorf("%v: %s", c.command, problems.String())
		}
		// Replaced by another file, now too light.
		other := path + "~"
		if err := os.WriteFile(other, []byte("title = \"Third save\"\n"+strings.Replace(watchedSite, "2000 lb", "20 lb", 1)), 0o666); err != nil {
			t.Fatal(err)
		}
		if err := os.Rename(other, path); err != nil {
			t.Fatal(err)
		}
		shows("Third save", 4)
		self, err := os.FindProcess(os.Getpid())
		if err != nil {
			t.Fatal(err)
		}
		if err := self.Signal(os.Interrupt); err != nil {
			t.Fatal(err)
		}
		select {
		case code := <-exit:
			if code != exitFails {
				t.Errorf("%v: exit code %d of a run in which something fails", c.command, code)
			}
		case <-time.After(30 * time.Second):
			t.Fatalf("%v: the interrupt did not end it", c.command)
		}
	}
}

func TestWatchRefuses(t *testing.T) {
	file := filepath.Join(t.TempDir(), "site.toml")
	if err := os.WriteFile(file, []byte(watchedSite), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"check", "--watch"}, "--watch needs the file to watch"},
		{[]string{"check", "--watch", "-"}, "--watch needs the file to watch"},
		{[]string{"check", "--watch", "nowhere.toml"}, "nowhere.toml"},
		{[]string{"check", "--watch", "--units", "yards", file}, "--units"},
		{[]string{"sheet", "--watch", "--format", "docx", file}, "--format"},
	} {
		var out, problems bytes.Buffer
		if exit := run(c.args, strings.NewReader(""), &out, &problems); exit != exitUnusable || !strings.Contains(problems.String(), c.want) {
			t.Errorf("%v: exit %d, %s", c.args, exit, problems.String())
		}
	}
}
