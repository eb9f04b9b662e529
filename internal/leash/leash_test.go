package leash

import (
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
)

// kept is what the heap is filled with.
var kept [][]byte

// What takes too much ends the process with the input in its words; a short work passes.
func TestHold(t *testing.T) {
	if work := os.Getenv("LEASH_WORK"); work != "" {
		mostTime, mostMemory = 200*time.Millisecond, 50<<20
		done := Hold(func() string { return "the input" })
		for work == "long" || work == "large" && len(kept) < 1000 {
			if work == "large" {
				kept = append(kept, make([]byte, 1<<20))
			}
		}
		done()
		return
	}
	for work, want := range map[string]string{"short": "PASS", "long": "the input", "large": "the input"} {
		cmd := exec.Command(os.Args[0], "-test.run=^TestHold$")
		cmd.Env = append(os.Environ(), "LEASH_WORK="+work)
		out, err := cmd.CombinedOutput()
		if !strings.Contains(string(out), want) || (err == nil) != (work == "short") {
			t.Errorf("%s work: %v\n%.500s", work, err, out)
		}
	}
}
