// Command licences prints the licences of everything that is linked into galefast, word for
// word as the modules carry them. Who hands on a binary hands this on with it:
//
//	go build -trimpath ./cmd/galefast
//	go run ./internal/tools/licences > third-party.txt
//
// THIRD-PARTY.md lists the modules; a test holds that list to this program and to go.mod.
package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

func main() { os.Exit(run("galefast/cmd/galefast", os.Stdout, os.Stderr)) }

// run is the whole program, for one package; it returns the exit code.
func run(program string, out, errors io.Writer) int {
	list, err := linked(program)
	if err != nil {
		fmt.Fprintln(errors, "licences:", err)
		return 1
	}
	var text bytes.Buffer
	for _, m := range list {
		fmt.Fprintf(&text, "%s %s (%s)\n\n%s\n\n", m.path, m.version, m.licence, strings.TrimSpace(m.text))
	}
	if _, err := out.Write(text.Bytes()); err != nil {
		fmt.Fprintln(errors, "licences:", err)
		return 1
	}
	return 0
}

// module is one that is linked into the program, with what it says of its licence.
type module struct{ path, version, licence, text string }

// linked lists the modules of a program on this system, the standard library first.
func linked(program string) ([]module, error) {
	goes := func(args ...string) (string, error) {
		cmd := exec.Command("go", args...)
		var complaint bytes.Buffer
		cmd.Stderr = &complaint
		out, err := cmd.Output()
		if err != nil {
			return "", fmt.Errorf("go %s: %w\n%s", args[0], err, complaint.String())
		}
		return strings.TrimSpace(string(out)), nil
	}
	about, err := goes("env", "GOVERSION", "GOROOT")
	if err != nil {
		return nil, err
	}
	version, root, _ := strings.Cut(about, "\n")
	deps, err := goes("list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}}|{{.Version}}|{{.Dir}}{{end}}{{end}}", program)
	if err != nil {
		return nil, err
	}
	lines := strings.Split(deps, "\n")
	slices.Sort(lines)
	lines = slices.DeleteFunc(lines, func(line string) bool { return line == "" })
	lines = append([]string{"std|" + version + "|" + root}, slices.Compact(lines)...)
	var list []module
	for _, line := range lines {
		m, err := read(strings.SplitN(line, "|", 3))
		if err != nil {
			return nil, err
		}
		list = append(list, m)
	}
	return list, nil
}

// read reads the licence in the folder of a module: path, version and folder.
func read(about []string) (module, error) {
	m := module{path: about[0], version: about[1]}
	files, err := os.ReadDir(about[2])
	if err != nil {
		return m, err
	}
	for _, f := range files {
		name := strings.ToUpper(f.Name())
		if f.IsDir() || !strings.HasPrefix(name, "LICENSE") && !strings.HasPrefix(name, "COPYING") && !strings.HasPrefix(name, "NOTICE") {
			continue
		}
		text, err := os.ReadFile(filepath.Join(about[2], f.Name()))
		if err != nil {
			return m, err
		}
		m.text += string(text) + "\n"
	}
	m.licence = kind(m.text)
	if m.licence == "" {
		return m, fmt.Errorf("%s %s has no licence that is known here", m.path, m.version)
	}
	return m, nil
}

// kind tells licences by sentences that only they have, by their SPDX names.
func kind(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	var found []string
	for _, k := range [][2]string{
		{"Apache-2.0", "Apache License"},
		{"BSD-3-Clause", "may be used to endorse or promote products derived from this software without specific prior written permission"},
		{"MPL-2.0", "Mozilla Public License Version 2.0"},
		{"MIT", "Permission is hereby granted, free of charge, to any person obtaining a copy"},
	} {
		if strings.Contains(text, k[1]) {
			found = append(found, k[0])
		}
	}
	if len(found) == 0 && strings.Contains(text, "Redistribution and use in source and binary forms") {
		found = append(found, "BSD-2-Clause")
	}
	return strings.Join(found, " AND ")
}
