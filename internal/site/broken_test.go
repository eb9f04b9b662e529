package site_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"galefast/internal/site"
	"galefast/internal/takeoff"
)

// brokenFiles are descriptions with a builder's slips, each beside the text that the
// command prints for it.
func brokenFiles(t testing.TB) []string {
	files, err := filepath.Glob("../../testdata/broken/*.toml")
	if err != nil || len(files) < 30 {
		t.Fatalf("%d broken files, %v", len(files), err)
	}
	return files
}

// complaints are the problems of a description as the command prints them.
func complaints(t testing.TB, name string, src []byte) (string, site.Problems) {
	f, problems := site.Load(name, src)
	if f != nil {
		_, more := takeoff.Take(f)
		problems = append(problems, more...)
		problems.Sort()
	}
	var b bytes.Buffer
	if err := problems.Write(&b, src, false); err != nil {
		t.Fatal(err)
	}
	return b.String(), problems
}

func TestBrokenFiles(t *testing.T) {
	for _, file := range brokenFiles(t) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			src, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			got, problems := complaints(t, filepath.Base(file), src)
			if !problems.Fatal() {
				t.Error("the file was accepted")
			}
			golden := strings.TrimSuffix(file, ".toml") + ".txt"
			if os.Getenv("UPDATE_GOLDEN") != "" {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), got); diff != "" {
				t.Errorf("problems changed; UPDATE_GOLDEN=1 accepts them (-want +got):\n%s", diff)
			}
		})
	}
}
