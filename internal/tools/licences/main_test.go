package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var (
	root  = filepath.Join("..", "..", "..")
	row   = regexp.MustCompile("(?m)^\\| `(\\S+)` \\| (\\S+) \\| (.+) \\| (program|tests|program, on Windows) \\|$")
	taken = regexp.MustCompile(`(?m)^(?:require |\t)(\S+\.\S+/\S+|\S+\.net/\S+) (v\S+)`)
)

// TestThirdParty holds the list of THIRD-PARTY.md to go.mod, to what is linked and to the
// licences that the modules carry.
func TestThirdParty(t *testing.T) {
	text := file(t, "THIRD-PARTY.md")
	var listed, required []string
	licence, part := map[string]string{}, map[string]string{}
	for _, m := range row.FindAllStringSubmatch(text, -1) {
		listed = append(listed, m[1]+" "+m[2])
		licence[m[1]], part[m[1]] = m[3], m[4]
	}
	for _, m := range taken.FindAllStringSubmatch(file(t, "go.mod"), -1) {
		required = append(required, m[1]+" "+m[2])
	}
	slices.Sort(required)
	if diff := cmp.Diff(required, listed); len(listed) == 0 || diff != "" {
		t.Errorf("THIRD-PARTY.md lists other modules than go.mod (-go.mod +list):\n%s", diff)
	}
	list, err := linked("galefast/cmd/galefast")
	if err != nil {
		t.Fatal(err)
	}
	inside := map[string]bool{}
	for _, m := range list[1:] { // after the standard library
		inside[m.path] = true
		if part[m.path] == "tests" || licence[m.path] != m.licence {
			t.Errorf("%s is linked and carries %s; the list says %s, %s", m.path, m.licence, part[m.path], licence[m.path])
		}
	}
	for _, line := range listed {
		path, _, _ := strings.Cut(line, " ")
		if part[path] == "program" && !inside[path] {
			t.Errorf("%s is listed as linked and is not", path)
		}
		if part[path] != "tests" {
			continue
		}
		dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", path).Output()
		if err != nil {
			t.Fatal(err)
		}
		m, err := read([]string{path, "", strings.TrimSpace(string(dir))})
		if err != nil || m.licence != licence[path] {
			t.Errorf("%s carries %q, %v; the list says %s", path, m.licence, err, licence[path])
		}
	}
}

// TestRun prints every licence under its module, and refuses what it cannot read.
func TestRun(t *testing.T) {
	var out, errs bytes.Buffer
	if code := run("galefast/cmd/galefast", &out, &errs); code != 0 {
		t.Fatalf("exit code %d: %s", code, errs.String())
	}
	for _, want := range []string{"std go1.", "github.com/spf13/cobra v", "Apache License", "Permission is hereby granted, free of charge"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q is missing", want)
		}
	}
	if code := run("galefast/no/such", io.Discard, &errs); code != 1 || !strings.Contains(errs.String(), "no/such") {
		t.Errorf("a package that is not there: exit code %d, %s", code, errs.String())
	}
	if code := run("galefast/internal/verdict", full{}, &errs); code != 1 {
		t.Errorf("a full disk: exit code %d", code)
	}
	for name, text := range map[string]string{"own": "Do what you like.", "none": ""} {
		dir := t.TempDir()
		if text != "" {
			if err := os.WriteFile(filepath.Join(dir, "LICENSE"), []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		if m, err := read([]string{name, "v1.0.0", dir}); err == nil {
			t.Errorf("%s: taken as %s", name, m.licence)
		}
	}
	if _, err := read([]string{"gone", "v1.0.0", filepath.Join(t.TempDir(), "gone")}); err == nil {
		t.Error("a folder that is not there was read")
	}
}

func file(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(root, name))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// full is a disk without space.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, fmt.Errorf("no space") }
