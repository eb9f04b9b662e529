package check_test

import (
	"encoding/json"
	"runtime"
	"testing"

	"github.com/google/go-cmp/cmp"

	"galefast/internal/tools/fairground"
)

// TestCores runs a site of thirty pieces on one processor and on many: the same record to the
// last byte, rows in the same order.
func TestCores(t *testing.T) {
	src := fairground.Site(30, 0.25, 1)
	record := func(cores int) string {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		text, err := json.MarshalIndent(runSite(t, src), "", " ")
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	if diff := cmp.Diff(record(1), record(8)); diff != "" {
		t.Errorf("one processor and eight, what differs:\n%s", diff)
	}
}
