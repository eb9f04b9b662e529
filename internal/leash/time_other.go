//go:build !unix

package leash

import "time"

var began = time.Now()

// processorTime is the time on the clock where the system's is not asked.
func processorTime() time.Duration { return time.Since(began) }
