package main

import (
	"io"
	"os"
	"strings"
	"testing"
)

// run is the program with its surroundings handed in; signals are left alone.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	return (&app{stdin: stdin, stdout: stdout, stderr: stderr}).run(args)
}

// listing names what is in a folder.
func listing(t *testing.T, folder string) string {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	names := make([]string, len(entries))
	for i, e := range entries {
		names[i] = e.Name()
	}
	return strings.Join(names, " ")
}
