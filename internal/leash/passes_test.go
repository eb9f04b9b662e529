package leash

import (
	"testing"
	"time"
)

// TestShortWorkPasses: what waits for a few looks and allocates little is let go, in this process.
func TestShortWorkPasses(t *testing.T) {
	asked := false
	done := Hold(func() string { asked = true; return "the input" })
	time.Sleep(5 * between)
	done()
	if asked {
		t.Error("the input was asked for without need")
	}
}
