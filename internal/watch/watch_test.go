package watch

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// watched runs Content on a file and keeps what it was run on.
type watched struct {
	t    *testing.T
	path string
	end  func()
	over chan error

	mutex sync.Mutex
	runs  []string
	gone  int
}

func watchFile(t *testing.T, first string, run func(string) error) *watched {
	t.Helper()
	w := &watched{t: t, path: filepath.Join(t.TempDir(), "site.toml"), over: make(chan error, 1)}
	w.write(first)
	ctx, cancel := context.WithCancel(context.Background())
	w.end = cancel
	go func() {
		w.over <- Content(ctx, func() ([]byte, error) { return os.ReadFile(w.path) }, func(content []byte) error {
			w.mutex.Lock()
			w.runs = append(w.runs, string(content))
			w.mutex.Unlock()
			if run != nil {
				return run(string(content))
			}
			return nil
		}, func(error) {
			w.mutex.Lock()
			w.gone++
			w.mutex.Unlock()
		})
	}()
	t.Cleanup(cancel)
	w.until(first)
	return w
}

func (w *watched) write(content string) {
	w.t.Helper()
	if err := os.WriteFile(w.path, []byte(content), 0o666); err != nil {
		w.t.Fatal(err)
	}
}

// swap replaces the file as many editors do.
func (w *watched) swap(content string) {
	w.t.Helper()
	other := w.path + ".new"
	if err := os.WriteFile(other, []byte(content), 0o666); err != nil {
		w.t.Fatal(err)
	}
	if err := os.Rename(other, w.path); err != nil {
		w.t.Fatal(err)
	}
}

func (w *watched) all() []string {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	return append([]string(nil), w.runs...)
}

// until waits for a run on the content, which must be the last.
func (w *watched) until(content string) {
	w.t.Helper()
	for end := time.Now().Add(20 * time.Second); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
		if runs := w.all(); len(runs) > 0 && runs[len(runs)-1] == content {
			return
		}
	}
	w.t.Fatalf("no run on %q; runs: %q", content, w.all())
}

func TestEverySaveIsSeen(t *testing.T) {
	w := watchFile(t, "one", nil)
	w.write("two")
	w.until("two")
	w.swap("three")
	w.until("three")
	// The same length, at the same time of change.
	info, err := os.Stat(w.path)
	if err != nil {
		t.Fatal(err)
	}
	w.write("eight")
	if err := os.Chtimes(w.path, info.ModTime(), info.ModTime()); err != nil {
		t.Fatal(err)
	}
	w.until("eight")
	// Taken away and put back.
	if err := os.Remove(w.path); err != nil {
		t.Fatal(err)
	}
	for end := time.Now().Add(20 * time.Second); ; time.Sleep(5 * time.Millisecond) {
		w.mutex.Lock()
		gone := w.gone
		w.mutex.Unlock()
		if gone == 1 {
			break
		}
		if time.Now().After(end) {
			t.Fatal("nobody was told that the file is gone")
		}
	}
	w.swap("nine")
	w.until("nine")
	if runs := w.all(); len(runs) != 5 || w.gone != 1 {
		t.Errorf("%d runs: %q; gone %d times", len(runs), runs, w.gone)
	}
}

// Many saves in a row: few runs, none on a half, and the last save is the last run.
func TestBurstsAreGathered(t *testing.T) {
	w := watchFile(t, "start", nil)
	const saves = 60
	for i := range saves {
		text := strings.Repeat("x", i)
		if i%2 == 0 {
			w.write(text)
		} else {
			w.swap(text)
		}
		time.Sleep(10 * time.Millisecond)
	}
	w.until(strings.Repeat("x", saves-1))
	if runs := w.all(); len(runs) > saves/4 {
		t.Errorf("%d runs for %d saves in a row", len(runs), saves)
	}
}

// A save during a run, however long that takes, gets a run of its own.
func TestSaveDuringRun(t *testing.T) {
	var w *watched
	inRun, goOn := make(chan bool, 1), make(chan bool)
	w = watchFile(t, "one", func(content string) error {
		if content == "slow" {
			inRun <- true
			<-goOn
		}
		return nil
	})
	w.write("slow")
	<-inRun
	w.write("late")
	goOn <- true
	w.until("late")
}

// Touching a file or writing the same again is no change.
func TestSameContentIsNoChange(t *testing.T) {
	w := watchFile(t, "same", nil)
	for range 3 {
		w.write("same")
		w.swap("same")
		time.Sleep(3 * Pause)
	}
	if runs := w.all(); len(runs) != 1 {
		t.Errorf("runs: %q", runs)
	}
}

func TestEnds(t *testing.T) {
	w := watchFile(t, "one", nil)
	w.end()
	if err := <-w.over; err != nil {
		t.Error(err)
	}
	stop := errors.New("stop")
	w = watchFile(t, "one", func(string) error { return stop })
	if err := <-w.over; err != stop {
		t.Errorf("ended with %v", err)
	}
}
