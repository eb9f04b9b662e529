package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"sync"
	"syscall"
)

// put writes a result to a file, whole or not at all; "-" is standard output.
func (a *app) put(path string, write func(w io.Writer) error) error {
	if path == "-" {
		return a.print(write)
	}
	var out bytes.Buffer
	if err := write(&out); err != nil {
		return err
	}
	return deliver(product{path, out.Bytes()})
}

// readable refuses a terminal for a format that is not text.
func (a *app) readable(path, format string) error {
	if path == "-" && slices.Contains([]string{"pdf", "png", "xlsx"}, format) && terminal(a.stdout) {
		return fmt.Errorf("%s is not for a terminal; give a file with -o", format)
	}
	return nil
}

// product is a file that a command makes.
type product struct {
	path    string
	content []byte
}

// deliver puts files in their places, all of them or none. Every file that the program writes goes
// through here. Each is drafted under another name beside its place and brought to the disk; once
// all of them are there, they are renamed. So nobody finds half of one: not after a full disk, an
// interrupt or a power failure, nor while another run writes the same file. A file that was there
// keeps its mode, and a link leads where it led. What is no file, such as a device or a pipe, is
// written straight.
func deliver(products ...product) error {
	var drafts []draft
	defer func() { discard(drafts) }()
	var straight []product
	for _, p := range products {
		place, mode, err := place(p.path)
		if err != nil {
			return err
		}
		if mode.Type() != 0 {
			straight = append(straight, p)
			continue
		}
		d, err := newDraft(place, mode, p.content)
		if err != nil {
			return fmt.Errorf("cannot write %s: %w", p.path, reason(err))
		}
		drafts = append(drafts, d)
	}
	for _, p := range straight {
		if err := pour(p); err != nil {
			return fmt.Errorf("cannot write %s: %w", p.path, reason(err))
		}
	}
	// An interrupt waits until all are renamed.
	unfinished.Lock()
	defer unfinished.Unlock()
	for len(drafts) > 0 {
		d := drafts[0]
		if err := os.Rename(d.name, d.place); err != nil {
			return fmt.Errorf("cannot write %s: %w", d.place, reason(err))
		}
		delete(unfinished.names, d.name)
		drafts = drafts[1:]
	}
	return nil
}

// place is where a path leads, and the mode of what is there, zero for nothing.
func place(path string) (string, fs.FileMode, error) {
	if path == "" {
		return "", 0, errors.New("the name of the file to write is empty")
	}
	if err := noFolder(path); err != nil {
		return "", 0, err
	}
	if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) {
		return path, 0, nil
	}
	path, err := filepath.EvalSymlinks(path)
	if err != nil {
		return "", 0, err
	}
	info, err := os.Stat(path)
	if err != nil {
		return "", 0, err
	}
	return path, info.Mode(), nil
}

// noFolder refuses a folder in the place of a file.
func noFolder(path string) error {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return fmt.Errorf("%s is a folder; give a file to write", path)
	}
	return nil
}

// draft is a file that is written and not yet in its place.
type draft struct{ name, place string }

// unfinished are the drafts of this process.
var unfinished = struct {
	sync.Mutex
	names map[string]bool
}{names: map[string]bool{}}

// newDraft writes a draft and brings it to the disk. mode is that of the file in its place.
func newDraft(place string, mode fs.FileMode, content []byte) (d draft, err error) {
	f, err := openDraft(filepath.Dir(place))
	if err != nil {
		return draft{}, err
	}
	d = draft{f.Name(), place}
	defer func() {
		if err != nil {
			f.Close()
			discard([]draft{d})
		}
	}()
	if mode != 0 {
		if err := f.Chmod(mode.Perm()); err != nil {
			return d, err
		}
	}
	if _, err := f.Write(content); err != nil {
		return d, err
	}
	if err := f.Sync(); err != nil {
		return d, err
	}
	return d, f.Close()
}

// openDraft makes a file of a name that nothing has. Its mode is that of any new file.
func openDraft(folder string) (*os.File, error) {
	unfinished.Lock()
	defer unfinished.Unlock()
	for n := 0; ; n++ {
		name := filepath.Join(folder, fmt.Sprintf(".galefast-%d-%d", os.Getpid(), n))
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err == nil {
			unfinished.names[name] = true
		}
		return f, err
	}
}

func discard(drafts []draft) {
	unfinished.Lock()
	defer unfinished.Unlock()
	for _, d := range drafts {
		os.Remove(d.name)
		delete(unfinished.names, d.name)
	}
}

// pour writes what is no file.
func pour(p product) error {
	f, err := os.OpenFile(p.path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	if _, err := f.Write(p.content); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

// reason is an error without the name of a draft, which means nothing to anybody.
func reason(err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}

// endings are the signals that end the program.
var endings = []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP}

// endOnSignals lets a signal end the program with 128 and its number, as a shell counts, and
// without a draft left behind.
func endOnSignals() {
	c := make(chan os.Signal, 1)
	for _, s := range endings {
		if s != syscall.SIGHUP || !signal.Ignored(s) { // nohup has it ignored
			signal.Notify(c, s)
		}
	}
	go func() {
		s := <-c
		unfinished.Lock() // for good: from here on nothing is drafted or renamed
		for name := range unfinished.names {
			os.Remove(name)
		}
		code := exitUnusable
		if n, ok := s.(syscall.Signal); ok {
			code = 128 + int(n)
		}
		os.Exit(code)
	}()
}
