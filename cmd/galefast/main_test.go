package main

import "io"

// run is the program with its surroundings handed in; signals are left alone.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	return (&app{stdin: stdin, stdout: stdout, stderr: stderr}).run(args)
}
