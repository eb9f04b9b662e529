package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
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
	return replace(path, out.Bytes())
}

// readable refuses a terminal for a format that is not text.
func (a *app) readable(path, format string) error {
	if path == "-" && slices.Contains([]string{"pdf", "png", "xlsx"}, format) && a.terminal() {
		return fmt.Errorf("%s is not for a terminal; give a file with -o", format)
	}
	return nil
}

// replace puts content in the place of a file: it is written beside it, brought to
// the disk and then renamed, so that nobody finds half of it.
func replace(path string, content []byte) (err error) {
	if err := noFolder(path); err != nil {
		return err
	}
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	if _, err = f.Write(content); err != nil {
		return err
	}
	if err = f.Chmod(0o644); err != nil {
		return err
	}
	if err = f.Sync(); err != nil {
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// noFolder refuses a folder in the place of a file.
func noFolder(path string) error {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return fmt.Errorf("%s is a folder; give a file to write", path)
	}
	return nil
}
