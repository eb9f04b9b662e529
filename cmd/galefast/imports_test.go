package main

import (
	"go/build"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// arrows lists what each package may import: packages of the module by their folder, and
// other modules by their path. Data flows one way, and the engines know neither each other
// nor the description; DEVELOPERS.md draws the same arrows.
var arrows = map[string][]string{
	"wind":              nil,
	"statics":           nil,
	"statics/fastener":  nil,
	"electrical":        {"gonum.org/v1/gonum"},
	"internal/quantity": nil,
	"internal/verdict":  nil,
	"internal/way":      {"internal/quantity"},
	"internal/catalog":  {"internal/quantity"},
	"internal/site":     {"internal/quantity", "internal/catalog", "github.com/BurntSushi/toml"},
	"internal/takeoff":  {"internal/quantity", "internal/catalog", "internal/site"},
	"internal/starter":  {"internal/quantity", "internal/catalog", "internal/site"},
	"internal/watch":    nil,
	"internal/steady":   {"pgregory.net/rapid"},
	"internal/leash":    nil,
	"internal/whole":    nil,
	"internal/check": {"internal/quantity", "internal/catalog", "internal/site", "internal/takeoff", "internal/verdict",
		"internal/way", "wind", "statics", "statics/fastener", "electrical"},
	"internal/drawing": {"internal/quantity", "internal/site", "internal/verdict", "codeberg.org/go-pdf/fpdf", "golang.org/x/image"},
	"internal/sheet": {"internal/quantity", "internal/site", "internal/verdict", "internal/drawing",
		"github.com/olekukonko/tablewriter", "codeberg.org/go-pdf/fpdf", "github.com/xuri/excelize/v2"},
	"testdata/sites":            nil,
	"internal/tools/fairground": nil,
	"internal/tools/bigsite":    {"internal/tools/fairground"},
	"internal/tools/licences":   nil,
	"cmd/galefast": {"internal/quantity", "internal/catalog", "internal/site", "internal/takeoff", "internal/verdict",
		"internal/check", "internal/drawing", "internal/sheet", "internal/starter", "internal/watch", "testdata/sites",
		"github.com/spf13/cobra", "github.com/mattn/go-isatty"},
}

func TestImports(t *testing.T) {
	root := filepath.Join("..", "..")
	seen := map[string]bool{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || !d.IsDir() {
			return err
		}
		if name := d.Name(); path != root && strings.HasPrefix(name, ".") {
			return filepath.SkipDir
		}
		p, err := build.ImportDir(path, 0)
		if err != nil {
			if _, empty := err.(*build.NoGoError); empty {
				return nil
			}
			return err
		}
		folder, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		folder = filepath.ToSlash(folder)
		allowed, known := arrows[folder]
		if !known {
			t.Errorf("package %s has no arrows; add it here and to DEVELOPERS.md", folder)
		}
		seen[folder] = true
		for _, from := range p.Imports {
			name, ours := strings.CutPrefix(from, "galefast/")
			if !ours && !strings.Contains(strings.Split(from, "/")[0], ".") {
				continue // the standard library
			}
			if !slices.ContainsFunc(allowed, func(a string) bool {
				return name == a || !ours && strings.HasPrefix(from, a+"/")
			}) {
				t.Errorf("package %s imports %s; it may import %v", folder, from, allowed)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for folder := range arrows {
		if !seen[folder] {
			t.Errorf("the arrows name %s, which has no package", folder)
		}
	}
}
